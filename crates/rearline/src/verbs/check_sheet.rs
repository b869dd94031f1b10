//! `check-sheet`: only what is wrong or unusual on a sheet.

use clap::Args;
use questions::{Sheet, Wrong};

use crate::ending::{Ending, Stop};
use crate::options::{CarOption, JsonOption, help};
use crate::print;
use crate::views::{self, errors::FineView};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "check-sheet";

/// Only what is wrong or unusual on a sheet
///
/// Reads the sheet, puts the car together and says everything that is wrong, all at once.
#[derive(Args, Debug)]
#[command(after_long_help = help::CHECK_SHEET)]
pub(crate) struct CheckSheet {
    #[command(flatten)]
    car: CarOption,
    /// Show what has to change in a sheet of an older format, and change nothing
    #[arg(long, conflicts_with = "json")]
    upgrade: bool,
    #[command(flatten)]
    json: JsonOption,
}

impl CheckSheet {
    /// Checks it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let sheet = Sheet::of(&self.car.folder.cars, &self.car.car)?;
        if self.upgrade {
            let path = sheet.path();
            let upgrade = sheet::upgrade(sheet.read.text(), &path).map_err(Wrong::from)?;
            voice.say(&print::check_sheet::upgrade(&path, &upgrade))?;
            return Ok(Ending::Fine);
        }
        let mut assembled = sheet.read.assemble().map_err(Wrong::from)?;
        // Wrong for `lines` and `prove` only: everything else is computed without them.
        for unlisted in plumbing::Plumbing::of(&assembled.car).unlisted {
            assembled.warnings.push(engine::car::Unusual {
                path: unlisted.key.to_owned(),
                text: format!("{}; {}", unlisted.fault, unlisted.fault.help()).into(),
            });
        }
        if self.json.json {
            voice.say_json(&views::to_json(&FineView::of(NAME, &sheet, &assembled))?)?;
        } else {
            voice.say(&print::check_sheet::page(&sheet, &assembled))?;
        }
        Ok(Ending::Fine)
    }
}
