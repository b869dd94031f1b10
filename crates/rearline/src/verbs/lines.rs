//! `lines --seats`: the threads and seats that are known, whatever the car.

use clap::{Arg, ArgAction, ArgMatches, Command};

use crate::ending::{Ending, Stop};
use crate::options::CAR;
use crate::print;
use crate::views::{self, seats::SeatsView};
use crate::voice::Voice;

const SEATS: &str = "seats";

/// With its own option, which needs no car.
pub(crate) fn with_options(command: Command) -> Command {
    command
        .mut_arg(CAR, |car| car.required(false).required_unless_present(SEATS))
        .arg(
            Arg::new(SEATS)
                .long(SEATS)
                .action(ArgAction::SetTrue)
                .conflicts_with_all([CAR, "csv", "svg"])
                .help("List the threads and seats that are known, how to tell them apart, and their traps"),
        )
}

/// The listing, where it is asked for in place of a car.
pub(crate) fn instead(matches: &ArgMatches, voice: &mut Voice<'_>) -> Result<Option<Ending>, Stop> {
    if !matches.get_flag(SEATS) {
        return Ok(None);
    }
    if matches.get_flag("json") {
        voice.say_json(&views::to_json(&SeatsView::all())?)?;
    } else {
        voice.say(&print::seats::seats())?;
    }
    Ok(Some(Ending::Fine))
}
