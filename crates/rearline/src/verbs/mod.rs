//! The verbs: one module each, with its options, what it does and its help.

pub(crate) mod build_book;
pub(crate) mod check_sheet;
pub(crate) mod completions;
pub(crate) mod folders;
pub(crate) mod how;
pub(crate) mod lines;
pub(crate) mod logbook;
pub(crate) mod manual;
pub(crate) mod new;
pub(crate) mod overview;
pub(crate) mod plan;
pub(crate) mod proposal;
pub(crate) mod prove;
pub(crate) mod question;
pub(crate) mod schema;
pub(crate) mod symptom;
pub(crate) mod working;

use clap::{Command, Subcommand};

use crate::ending::{Ending, Stop};
use crate::voice::Voice;

/// What can be asked.
#[derive(Subcommand, Debug)]
pub(crate) enum Verb {
    Working(Box<working::WorkingVerb>),
    How(how::How),
    Proposal(proposal::ProposalVerb),
    Logbook(logbook::LogbookVerb),
    BuildBook(build_book::BuildBook),
    New(new::New),
    Copy(folders::Copy),
    Rename(folders::Rename),
    PutAway(folders::PutAway),
    CheckSheet(check_sheet::CheckSheet),
    Schema(schema::SchemaOf),
    Completions(completions::Completions),
    Manual(manual::Manual),
}

impl Verb {
    /// Does it. `command`: the whole command line.
    pub(crate) fn run(&self, voice: &mut Voice<'_>, command: fn() -> Command) -> Result<Ending, Stop> {
        match self {
            Self::Working(verb) => verb.run(voice),
            Self::How(verb) => verb.run(voice),
            Self::Proposal(verb) => verb.run(voice),
            Self::Logbook(verb) => verb.run(voice),
            Self::BuildBook(verb) => verb.run(voice),
            Self::New(verb) => verb.run(voice),
            Self::Copy(verb) => verb.run(voice),
            Self::Rename(verb) => verb.run(voice),
            Self::PutAway(verb) => verb.run(voice),
            Self::CheckSheet(verb) => verb.run(voice),
            Self::Schema(verb) => verb.run(voice),
            Self::Completions(verb) => verb.run(command()),
            Self::Manual(verb) => verb.run(voice, command()),
        }
    }
}
