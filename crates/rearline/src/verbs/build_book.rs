//! `build-book`: everything that was answered of a car, as a PDF beside its sheet.

use std::path::{Path, PathBuf};

use book::{Edition, Paper};
use clap::Args;
use engine::car::Date;
use manuscript::Printed;
use questions::Wrong;
use records::{Cars, Mark, Output};
use wording::Units;

use crate::ending::{Ending, Stop};
use crate::options::{CarOption, JsonOption, help, today};
use crate::press;
use crate::views::{self, book::BookView};
use crate::voice::{self, Voice};

/// Name of the verb.
pub(crate) const NAME: &str = "build-book";
/// What the books of this build say that they were made by.
const MAKER: &str = concat!("rearline ", env!("CARGO_PKG_VERSION"));
/// The most bytes of the preferences that are read.
const LARGEST_PREFERENCES: u64 = 64 * 1024;

/// The build book as PDF, with the dash card
///
/// Everything that was answered of a car, on paper: the pages that a scrutineer asks for, the answers with their
/// pictures, parts and joints, sheets to fill in by hand, the logbook's extract, every figure's working, what it all
/// rests on, a letter for the driver, and the card for the dash. Written as book.pdf beside the sheet.
#[derive(Args, Debug)]
#[command(after_long_help = help::BUILD_BOOK)]
pub(crate) struct BuildBook {
    #[command(flatten)]
    car: CarOption,
    /// Write it here, in place of book.pdf beside the sheet
    #[arg(long, value_name = "FILE", help_heading = "What comes out")]
    out: Option<PathBuf>,
    /// A4 or Letter [default: the preferences' `paper`, or A4]
    #[arg(long, value_name = "PAPER", help_heading = "What comes out")]
    paper: Option<String>,
    /// Units to print, commas between [default: the preferences', or bar,mm,N]
    #[arg(long = "units", value_name = "LIST", help_heading = "What comes out")]
    units: Option<String>,
    /// The day that it is printed on [default: today]
    #[arg(long, value_name = "YYYY-MM-DD", help_heading = "The state of the car")]
    on: Option<String>,
    #[command(flatten)]
    json: JsonOption,
}

impl BuildBook {
    /// Prints it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let (cars, car) = (&self.car.folder.cars, &self.car.car);
        let mut wrong = Wrong::default();
        let preferred = Preferred::read(cars)?;
        let paper = wrong.note(paper(self.paper.as_deref().or(preferred.paper.as_deref())));
        let units = wrong.note(questions::units(
            self.units.as_deref().or(preferred.units.as_deref()),
        ));
        let day = wrong.note(self.on.as_deref().map_or_else(|| Ok(today()), questions::day));
        let (Some(paper), Some(units), Some(day)) = (paper, units, day) else {
            return Err(wrong.into());
        };
        let folder = questions::find(cars, car)?;
        let path = self.out.clone().unwrap_or_else(|| folder.book());
        let straight = voice::is_standard_output(&path);
        if !straight {
            is_replaceable(&path)?;
        }
        let book = book_of(cars, car, day, units, paper)?;
        if straight {
            voice::straight_out(&book.bytes)?;
            return Ok(Ending::Fine);
        }
        put(&path, &book)?;
        if self.json.json {
            let view = BookView::of(NAME, folder.name(), &path, &book, paper);
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            let pages = wording::counted(book.pages, "page", "pages");
            voice.say(&format!(
                "{}: {} {pages}, {}\n",
                path.display(),
                book.pages,
                paper.name()
            ))?;
        }
        Ok(Ending::Fine)
    }
}

/// Prints the book of a car of the page beside its sheet, on the person's own paper.
pub(crate) fn beside_the_sheet(
    cars: &Path,
    car: &records::CarFolder,
    day: Date,
    units: Units,
) -> Result<(), questions::Stop> {
    let preferred = Preferred::read(cars)?;
    let paper = paper(preferred.paper.as_deref())?;
    let sheet = car.sheet().path().display().to_string();
    is_replaceable(&car.book())?;
    let book = book_of(cars, &sheet, day, units, paper)?;
    put(&car.book(), &book)
}

fn book_of(
    cars: &Path,
    car: &str,
    day: Date,
    units: Units,
    paper: Paper,
) -> Result<Printed, questions::Stop> {
    press::print(&Edition {
        cars,
        car,
        day,
        units,
        paper,
        maker: MAKER,
    })
}

/// What an older book carries that this program printed.
const MARK: Mark = Mark::SaysAtItsEnd(book::is_ours);

/// Before anything is asked of the car: what lies there and is no book of ours would be kept anyway.
fn is_replaceable(path: &Path) -> Result<(), questions::Stop> {
    records::look_before_writing(path, &MARK).map_err(|fault| refused(&fault))
}

/// Writes a book in the place of an older one that this program printed.
fn put(path: &Path, book: &Printed) -> Result<(), questions::Stop> {
    let output = Output {
        path: path.to_owned(),
        bytes: book.bytes.clone(),
        mark: MARK,
    };
    records::write(&[output]).map_err(|fault| refused(&fault))
}

/// The fault names the file.
fn refused(fault: &records::Fault) -> questions::Stop {
    questions::of_records("build book", fault, None)
}

/// What the person chose once and for all.
#[derive(Default)]
struct Preferred {
    paper: Option<String>,
    units: Option<String>,
}

impl Preferred {
    /// From the preferences beside the cars, which need not be there.
    fn read(folder: &Path) -> Result<Self, questions::Stop> {
        let Ok(cars) = Cars::open(folder) else {
            return Ok(Self::default());
        };
        let file = cars.preferences();
        let shown = file.path().display().to_string();
        let kept = file
            .read_if_there(LARGEST_PREFERENCES)
            .map_err(|fault| questions::of_records(&shown, &fault, None))?;
        let Some(kept) = kept else {
            return Ok(Self::default());
        };
        let chosen = |key| {
            sheet::preference(&kept.text, key).map_err(|text| {
                let remedy = "put that line right, or give --paper and --units".to_owned();
                Wrong::plain(&shown, "preferences", text, remedy)
            })
        };
        Ok(Self {
            paper: chosen("paper")?,
            units: chosen("units")?,
        })
    }
}

fn paper(said: Option<&str>) -> Result<Paper, Wrong> {
    let Some(said) = said else {
        return Ok(Paper::default());
    };
    Paper::named(said).ok_or_else(|| {
        let what = format!("`{said}` is no paper that is printed on");
        let remedy = "there are: A4, Letter".to_owned();
        Wrong::option("--paper", said, 0..said.len(), "unknown-paper", what, remedy)
    })
}
