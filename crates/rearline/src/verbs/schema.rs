//! `schema`: the JSON Schema of a verb's result, or of the sheet.

use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::{Args, ValueEnum};
use questions::{Question as _, Wrong};
use serde_json::Value;

use super::build_book;
use super::{check_sheet, how, working};
use crate::ending::{Ending, Stop};
use crate::options::help;
use crate::views::book::BookView;
use crate::views::errors::{ErrorsView, FineView};
use crate::views::how::HowView;
use crate::views::proposals::ProposalsView;
use crate::views::seats::SeatsView;
use crate::views::working::WorkingView;
use crate::views::{Headed, schema_of};
use crate::voice::Voice;

/// The shape of a verb's JSON result
///
/// Prints the JSON Schema of what a verb writes with --json, of the sheet, or of the errors.
#[derive(Args, Debug)]
#[command(after_long_help = help::SCHEMA)]
pub(crate) struct SchemaOf {
    /// What to describe
    #[arg(value_name = "VERB", value_parser = described())]
    of: String,
}

/// What has a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Described {
    /// The threads and seats of `lines --seats`
    Seats,
    /// What falls due, as `logbook due` says it
    Due,
    /// Proposals, as `proposal` says them
    Proposal,
    /// How one figure came about
    Working,
    /// How a figure is measured
    How,
    /// A build book that was printed
    BuildBook,
    /// A sheet without errors
    CheckSheet,
    /// What is wrong
    Errors,
    /// The sheet, car.toml
    Sheet,
}

/// Everything that has a schema: what is listed here, and every question.
fn described() -> PossibleValuesParser {
    let listed = Described::value_variants()
        .iter()
        .filter_map(ValueEnum::to_possible_value);
    let questions = questions::ALL
        .iter()
        .map(|question| PossibleValue::new(question.name()).help(question.help().about));
    PossibleValuesParser::new(questions.chain(listed))
}

impl Described {
    fn schema(self) -> Result<Value, Stop> {
        Ok(match self {
            Self::Seats => schema_of::<SeatsView>("lines --seats"),
            Self::Due => questions::due::Ask.schema(),
            Self::Proposal => schema_of::<ProposalsView>("proposal"),
            Self::Working => schema_of::<Headed<WorkingView>>(working::NAME),
            Self::How => schema_of::<HowView>(how::NAME),
            Self::BuildBook => schema_of::<BookView>(build_book::NAME),
            Self::CheckSheet => schema_of::<FineView>(check_sheet::NAME),
            Self::Errors => schema_of::<ErrorsView>("errors"),
            Self::Sheet => sheet::json_schema(),
        })
    }
}

impl SchemaOf {
    /// Prints it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let schema = match questions::named(&self.of) {
            Some(question) => question.schema(),
            // The parser has let nothing else through.
            None => Described::from_str(&self.of, false)
                .map_err(|what| Wrong::plain("VERB", "unknown-verb", what, String::new()))?
                .schema()?,
        };
        voice.say(&format!("{schema:#}\n"))?;
        Ok(Ending::Fine)
    }
}
