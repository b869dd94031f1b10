//! `symptom`: what a test came to is written down before the answer.

use clap::{Arg, ArgAction, ArgMatches, Command};
use questions::Opened;
use questions::options::{FOUND, SAYS};

use crate::ending::Stop;
use crate::verbs::prove::write;

const WRITE_DOWN: &str = "write-down";
const RIGHT: &str = "right";

/// With its own options.
pub(crate) fn with_options(command: Command) -> Command {
    let flag = |name: &'static str, help: &'static str| {
        Arg::new(name)
            .long(name)
            .action(ArgAction::SetTrue)
            .requires(SAYS.name)
            .help(help)
    };
    command
        .arg(flag(
            WRITE_DOWN,
            "Write what --found says into the logbook, where it counts from now on",
        ))
        .arg(flag(
            RIGHT,
            "Write down that it is put right: what was tried before counts no longer",
        ))
}

/// Writes down what tests came to.
pub(crate) fn write_down(matches: &ArgMatches, opened: &Opened) -> Result<(), Stop> {
    let right = matches.get_flag(RIGHT);
    if !(right || matches.get_flag(WRITE_DOWN)) {
        return Ok(());
    }
    let says = matches.get_one::<String>(SAYS.name).map_or("", String::as_str);
    let found = matches.get_many::<String>(FOUND.name).into_iter().flatten();
    let facts = questions::symptom::facts(says, found.map(String::as_str), right)?;
    write(opened, &facts)
}
