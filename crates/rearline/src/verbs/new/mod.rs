//! `new`: a sheet to fill in.

mod asking;

use std::io::{IsTerminal as _, stdin};
use std::path::Path;

use clap::Args;
use questions::Wrong;
use records::{CarName, Cars};
use sheet::Blank;

use crate::ending::{Ending, Stop};
use crate::options::{FolderOption, help};
use crate::print;
use crate::voice::Voice;

/// A sheet to fill in, for a new car
///
/// Writes a folder with a sheet, car.toml, of the keys that matter to that kind of car. On a terminal it asks six questions
/// first. Nothing that is there is ever overwritten.
#[derive(Args, Debug)]
#[command(after_long_help = help::NEW)]
pub(crate) struct New {
    /// Name of the car's folder
    #[arg(value_name = "NAME")]
    name: String,
    #[command(flatten)]
    folder: FolderOption,
    /// What kind of car it is; then nothing is asked
    ///
    /// May be given again and again. Keys: master.kind, master.split, lever.kind, front_brake.kind, rear_brake.kind,
    /// drivetrain.driven, pedal.booster, bias_valve.kind, rear_brake.caliper.parking_mechanism.
    #[arg(long, value_name = "KEY=WORD")]
    with: Vec<String>,
    /// Name every key there is, with its usual range, and how it is found out
    #[arg(long)]
    explain: bool,
}

impl New {
    /// Writes it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let refused =
            |subject: &Path, fault| questions::of_records(&subject.display().to_string(), &fault, None);
        let name = CarName::new(&self.name).map_err(|fault| refused(Path::new(&self.name), fault))?;
        let mut blank = self.blank(name.as_str())?;
        let folder = &self.folder.cars;
        let cars = Cars::make(folder).map_err(|fault| refused(folder, fault))?;
        let refused_name = |fault| refused(folder, fault);
        cars.free(&name).map_err(refused_name)?;
        if self.with.is_empty() && stdin().is_terminal() {
            blank = asking::asked(blank, &mut stdin().lock(), voice);
        }
        let text = blank.to_string();
        let car = cars.add(&name, &text).map_err(refused_name)?;
        voice.say(&print::new::page(&car, &name, &text, self.explain))?;
        Ok(Ending::Fine)
    }

    fn blank(&self, name: &str) -> Result<Blank, Wrong> {
        let mut wrong = Wrong::default();
        let mut blank = if self.explain {
            Blank::new(name).explained()
        } else {
            Blank::new(name)
        };
        for written in &self.with {
            let (key, word) = written.split_once('=').unwrap_or((written, ""));
            match blank.clone().choose(key.trim(), word.trim()) {
                Ok(chosen) => blank = chosen,
                Err(fault) => {
                    let span = if matches!(fault, sheet::Fault::UnknownWord { .. }) {
                        written.len() - word.len()..written.len()
                    } else {
                        0..key.len()
                    };
                    wrong.add(Wrong::option(
                        "--with",
                        written,
                        span,
                        fault.slug(),
                        fault.to_string(),
                        fault.remedy(),
                    ));
                }
            }
        }
        if wrong.is_empty() { Ok(blank) } else { Err(wrong) }
    }
}
