//! "What did the logger show?": a logger's file held against the sheet, and what the sheet might take over from it.

mod outcome;
mod report;
mod result;

use serde_json::Value;

pub use outcome::{Named, Outcome, asked, columns, name_columns, on_shelf};

pub use ::logger::{Channel, Is, MAX_BYTES, NamedColumn};

use crate::answered::{Answered, Tells};
use crate::options::{DEMONSTRATION, FILE, FUEL, GRIP, NO_CREW, ON, Row, SEED, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "logger";

static TAKES: &[&Row] = &[
    &FILE,
    &DEMONSTRATION,
    &SEED,
    &FUEL,
    &NO_CREW,
    &VALVE,
    &SURFACE,
    &GRIP,
    &WITH,
    &ON,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What did the logger show?"
    }

    fn help(&self) -> Help {
        Help {
            about: "A logger's file held against the sheet",
            more: "Stops and pulls, the bias valve as it really works, which wheels locked and at what pressure, pad friction, \
                   heat; and what the sheet might take over, one by one. Without a file the last of the car's logs is read.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        vec![&NO_CREW, &FUEL]
    }

    fn short(&self, case: &Case<'_>) -> String {
        match on_shelf(case).len() {
            0 => "no log here".to_owned(),
            1 => "1 log".to_owned(),
            count => format!("{count} logs"),
        }
    }

    fn unanswered(&self) -> &'static str {
        "Log does not read"
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::LoggerView::of(outcome),
            picture: |case, outcome, look| {
                let hardest = outcome.read.as_ref().and_then(|held| held.hardest.as_ref());
                match hardest {
                    Some(stop) => crate::picture::logged_stop(look, stop),
                    None => crate::picture::settings(case.opened, look),
                }
            },
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case)?, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::LoggerView>>(NAME)
    }
}
