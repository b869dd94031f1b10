//! `plan`: what is done is written down before the answer.

use clap::{Arg, ArgAction, ArgMatches, Command};
use proving::Fact;
use questions::{Opened, Wrong};

use crate::ending::Stop;
use crate::verbs::prove::{unknown, write};

const DONE: &str = "done";

/// With its own option.
pub(crate) fn with_options(command: Command) -> Command {
    command.arg(
        Arg::new(DONE)
            .long(DONE)
            .value_name("STEP")
            .action(ArgAction::Append)
            .help("Write down that a step is done; may be given again"),
    )
}

/// Writes down which steps are done.
pub(crate) fn write_down(matches: &ArgMatches, opened: &Opened) -> Result<(), Stop> {
    let mut wrong = Wrong::default();
    let steps = questions::plan::steps(opened);
    let mut facts = Vec::new();
    for step in matches.get_many::<String>(DONE).into_iter().flatten() {
        match steps.iter().find(|known| **known == step.trim()) {
            Some(known) => facts.push(Fact::Step {
                step: (*known).to_owned(),
            }),
            None => wrong.add(unknown("--done", step, "step", steps.iter().copied())),
        }
    }
    if wrong.is_empty() {
        write(opened, &facts)
    } else {
        Err(wrong.into())
    }
}
