//! `lines`: what comes out, what to buy, how long to cut, what is screwed into what.

use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;
use plumbing::Plumbing;
use questions::answers::lines::{Outcome, prices, pull_of, unlisted};
use questions::assess as assessment;
use questions::{Stop as Refused, Wrong};
use records::{Mark, Output};

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, FolderOption, IdleDraws, IdleFoot, IdleStrict, OutputOptions, SheetOptions, SpeedOption,
    StateOptions, SvgOption, help,
};
use crate::picture::write_files;
use crate::print;
use crate::print::lines::CsvTable;
use crate::views::lines::{LinesView, NAME, SeatsView};
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// What comes out, what to buy, how long to cut it
///
/// Parts with their specification in trade terms, lengths to cut and to order, every joint with its thread, seat and
/// torque band, what does not mate and the adapter that joins it; the layouts side by side, and what is left of the
/// brakes when any one run leaks.
#[derive(Args, Debug)]
#[command(after_long_help = help::LINES)]
pub(crate) struct LinesVerb {
    /// Name in the cars folder, or path to a sheet
    ///
    /// Whatever holds a path separator or ends in `.toml` is taken as a path.
    #[arg(value_name = "CAR", required_unless_present = "seats")]
    car: Option<String>,
    #[command(flatten)]
    folder: FolderOption,
    /// List the threads and seats that are known, how to tell them apart, and their traps
    #[arg(long, conflicts_with_all = ["car", "csv", "svg"])]
    seats: bool,
    /// Write parts.csv, cuts.csv, joints.csv, layouts.csv and comes-out.csv into this folder
    #[arg(long, value_name = "DIR")]
    csv: Option<PathBuf>,
    /// The driver's pull, in place of the sheet's hand_pull: "200 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    hand: Option<String>,
    #[command(flatten)]
    speed: SpeedOption,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    svg: SvgOption,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    draws: IdleDraws,
    #[command(flatten)]
    foot: IdleFoot,
    #[command(flatten)]
    strict: IdleStrict,
}

impl LinesVerb {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let Some(car) = self.car.as_ref().filter(|_| !self.seats) else {
            return self.list_seats(voice);
        };
        let car = CarOption {
            car: car.clone(),
            folder: FolderOption {
                cars: self.folder.cars.clone(),
            },
        };
        let mut wrong = Wrong::default();
        let hand = wrong.note(self.hand.as_deref().map(questions::hand).transpose());
        let speed = wrong.note(questions::speed(self.speed.speed.as_deref()));
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &car, &self.changes, &self.state)?;
        let prices = prices(&self.folder.cars, &mut wrong)?;
        let (Some(hand), Some(speed), Some(units), Some(mut opened)) = (hand, speed, units, opened) else {
            return Err(wrong.into());
        };
        for option in self
            .draws
            .given()
            .chain(self.foot.given())
            .chain(self.strict.given())
        {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        wrong.add(unlisted(&opened, &Plumbing::of(opened.car())));
        if !wrong.is_empty() {
            return Err(wrong.into());
        }
        let outcome = Outcome::of(&opened, pull_of(&opened, hand, speed), prices);
        let assessed = assessment::Outcome::briefly(&opened, speed, 0, &units)?.assessment;
        if let Some(said) = outcome.idle_prices() {
            opened.warn("prices", said);
        }
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, &opened, &units, |look| {
                questions::picture::lines(&opened, look, &outcome.plumbing)
            })?;
        }
        if let Some(folder) = &self.csv {
            write_tables(folder, &print::lines::tables(&outcome, &assessed))?;
        }
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: LinesView::of(&outcome, &assessed),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::lines::page(&opened, &outcome, &assessed, &units))?;
        }
        Ok(Ending::Fine)
    }

    fn list_seats(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        if self.output.json.json {
            voice.say_json(&views::to_json(&SeatsView::all())?)?;
        } else {
            voice.say(&print::lines::seats())?;
        }
        Ok(Ending::Fine)
    }
}

/// Writes tables into a folder, each in the place of an older one with the same head; all of them, or none.
pub(crate) fn write_tables(folder: &Path, tables: &[CsvTable]) -> Result<(), Stop> {
    let outputs = tables
        .iter()
        .map(|table| output(folder, table))
        .collect::<Result<Vec<_>, _>>()?;
    fs::create_dir_all(folder).map_err(|source| Refused::file(folder, "made", &source))?;
    write_files(&outputs)
}

fn output(folder: &Path, table: &CsvTable) -> Result<Output, Stop> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let written = writer
        .write_record(&table.head)
        .and_then(|()| table.rows.iter().try_for_each(|row| writer.write_record(row)));
    let bytes = written
        .map_err(std::io::Error::from)
        .and_then(|()| {
            writer
                .into_inner()
                .map_err(|error| std::io::Error::other(error.to_string()))
        })
        .map_err(Stop::Output)?;
    Ok(Output {
        path: folder.join(table.name),
        mark: Mark::first_line_of(&bytes),
        bytes,
    })
}
