//! `logbook`: what was done, when, and what came of it.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use jiff::ZonedDateTime;
use plumbing::Plumbing;
use questions::due;
use questions::writing::{entry, write};
use questions::{Case, Opened, Question as _, Sheet, Stop as Refused, Wrong};
use records::logbook::{
    Entry, EntryKind, Filter, HeadMark, Logbook, Stamp, WAIT, verify, write_csv, write_json,
};
use records::{Mark as FileMark, Output};

use crate::ending::{Ending, Stop};
use crate::options::{self, COMMAND_LINE, CarOption, JsonOption, SheetOptions, StateOptions, help};
use crate::picture::write_files;
use crate::print;
use crate::views::logbook::{EntriesView, VerdictView};
use crate::views::{self, entry_json};
use crate::voice::{self, Voice};

/// Device that the terminal's entries are written under.
const DEVICE: &str = "terminal";

/// What was done, when, and what came of it
///
/// Entries are added and struck, never altered or deleted: each carries the hash of the one before, so that a damaged
/// file is noticed. That shows accident, not forgery.
#[derive(Args, Debug)]
#[command(after_long_help = help::LOGBOOK)]
pub(crate) struct LogbookVerb {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand, Debug)]
enum What {
    Add(Add),
    List(List),
    Due(Due),
    Strike(Strike),
    Verify(Verify),
    Export(Export),
}

/// Write an entry; once it is printed, it is on the disk
#[derive(Args, Debug)]
struct Add {
    #[command(flatten)]
    car: CarOption,
    /// note, joint, reading, setting, fluid, pads, fault or signoff
    #[arg(long, value_name = "KIND")]
    kind: String,
    /// What there is to say
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    text: String,
    /// More, as a JSON object
    #[arg(long, value_name = "JSON")]
    data: Option<String>,
    /// A name of your own for the entry: sent again under the same name, it is written once
    #[arg(long, value_name = "ID")]
    id: Option<String>,
    /// Takes --json like every verb; an entry is printed as JSON either way
    #[arg(long, hide = true)]
    json: bool,
}

/// Show entries
#[derive(Args, Debug)]
struct List {
    #[command(flatten)]
    car: CarOption,
    /// Only this kind; may be given again
    #[arg(long, value_name = "KIND")]
    kind: Vec<String>,
    /// Only the newest so many
    #[arg(long, value_name = "N")]
    newest: Option<usize>,
    /// Leave out what was struck
    #[arg(long)]
    hide_struck: bool,
    #[command(flatten)]
    json: JsonOption,
}

/// Show what falls due, and why: fluid, pads, hoses, joints
#[derive(Args, Debug)]
struct Due {
    #[command(flatten)]
    car: CarOption,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    json: JsonOption,
}

/// Strike an entry by a later one
#[derive(Args, Debug)]
struct Strike {
    #[command(flatten)]
    car: CarOption,
    /// Number of the entry
    #[arg(value_name = "ENTRY")]
    entry: i64,
    /// Why
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    why: String,
    /// Takes --json like every verb; the striking entry is printed as JSON either way
    #[arg(long, hide = true)]
    json: bool,
}

/// Look whether the file is whole
#[derive(Args, Debug)]
struct Verify {
    #[command(flatten)]
    car: CarOption,
    /// A head that was noted before: finds a tail that was cut off
    #[arg(long, value_name = "HASH")]
    head: Option<String>,
    #[command(flatten)]
    json: JsonOption,
}

/// Write all entries to a file, or to standard output
#[derive(Args, Debug)]
struct Export {
    #[command(flatten)]
    car: CarOption,
    /// csv or json
    #[arg(long, value_name = "FORMAT", default_value = "csv")]
    format: Format,
    /// Where to; left out: standard output. Of what is there already only such a table is replaced
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
enum Format {
    /// A line an entry, for a table
    Csv,
    /// One JSON object
    Json,
}

impl LogbookVerb {
    /// Does it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        match &self.what {
            What::Add(add) => add.run(voice),
            What::List(list) => list.run(voice),
            What::Due(due) => due.run(voice),
            What::Strike(strike) => strike.run(voice),
            What::Verify(verify) => verify.run(voice),
            What::Export(export) => export.run(),
        }
    }
}

/// Where a car's logbook is, and what to call it in messages.
fn book(car: &CarOption) -> Result<(PathBuf, String), Stop> {
    let folder = questions::find(&car.folder.cars, &car.car)?;
    let path = folder.logbook();
    let shown = path.display().to_string();
    Ok((path, shown))
}

fn refused(subject: &str, fault: &records::Fault) -> Stop {
    questions::of_records(subject, fault, None).into()
}

/// The stamp of one of several entries that are written together.
pub(crate) fn stamp_numbered(number: usize) -> Result<Stamp, records::Fault> {
    let now = ZonedDateTime::now().timestamp().as_nanosecond();
    stamp_of(DEVICE, &format!("{now}-{}-{number}", std::process::id()))
}

/// The stamp of an entry that a device gave an id.
pub(crate) fn stamp_of(device: &str, id: &str) -> Result<Stamp, records::Fault> {
    let now = ZonedDateTime::now();
    Stamp::new(now.timestamp(), now.offset(), device, id)
}

/// The instant, the offset and an id that no other entry of this device has.
fn stamp(id: Option<&str>, subject: &str) -> Result<Stamp, Stop> {
    id.map_or_else(|| stamp_numbered(0), |id| stamp_of(DEVICE, id))
        .map_err(|fault| refused(subject, &fault))
}

fn kinds(given: &[String]) -> Result<Vec<EntryKind>, Stop> {
    let mut wrong = Wrong::default();
    let kinds: Vec<EntryKind> = given
        .iter()
        .filter_map(|kind| {
            wrong.note(kind.parse::<EntryKind>().map_err(|word| {
                match questions::of_records("--kind", &word.into(), None) {
                    Refused::Wrong(wrong) | Refused::File(wrong) => wrong,
                }
            }))
        })
        .collect();
    if wrong.is_empty() {
        Ok(kinds)
    } else {
        Err(wrong.into())
    }
}

impl Add {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let entry = entry("--data", self.kind.trim(), &self.text, self.data.as_deref())?;
        let stamp = stamp(self.id.as_deref(), "--id")?;
        let sheet = Sheet::of(&self.car.folder.cars, &self.car.car)?;
        let folder = sheet.folder.clone();
        // A sheet with faults keeps nobody from writing down what was done.
        let opened = Opened::as_it_is(sheet, options::today()).ok();
        let written = write(&folder, opened.as_ref(), &[entry], options::today(), |_| {
            Ok(stamp.clone())
        })?;
        let Some(appended) = written.into_iter().next() else {
            return Ok(Ending::Fine);
        };
        say_entry(&appended.entry, voice)
    }
}

fn say_entry(entry: &Entry, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
    voice.say_json(&entry_json(entry)?)?;
    Ok(Ending::Fine)
}

impl Strike {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let (path, shown) = book(&self.car)?;
        let Some(mut book) = Logbook::open_if_there(&path, WAIT).map_err(|fault| refused(&shown, &fault))?
        else {
            let what = "this car has no logbook yet, so there is nothing to strike".to_owned();
            return Err(Wrong::plain(
                COMMAND_LINE,
                "no-logbook",
                what,
                "logbook list shows what there is".into(),
            )
            .into());
        };
        let struck = book
            .strike(self.entry, &self.why, &stamp(None, COMMAND_LINE)?)
            .map_err(|fault| refused(&shown, &fault))?;
        say_entry(&struck.entry, voice)
    }
}

/// Entries that are wanted; none where there is no logbook.
fn entries(car: &CarOption, filter: &Filter) -> Result<Vec<Entry>, Stop> {
    let (path, shown) = book(car)?;
    match Logbook::open_if_there(&path, WAIT).map_err(|fault| refused(&shown, &fault))? {
        Some(book) => book.list(filter).map_err(|fault| refused(&shown, &fault)),
        None => Ok(Vec::new()),
    }
}

/// What is on the car; `None` where its sheet has faults, which keep nobody from reading what was done.
fn plumbing(car: &CarOption) -> Option<Plumbing> {
    let sheet = Sheet::of(&car.folder.cars, &car.car).ok()?;
    let opened = Opened::as_it_is(sheet, options::today()).ok()?;
    Some(Plumbing::of(opened.car()))
}

impl List {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let filter = Filter {
            kinds: kinds(&self.kind)?,
            newest: self.newest,
            hide_struck: self.hide_struck,
            ..Filter::default()
        };
        let entries = entries(&self.car, &filter)?;
        if self.json.json {
            voice.say_json(&views::to_json(&EntriesView::of(&entries)?)?)?;
        } else {
            voice.say(&print::logbook::page(&entries, plumbing(&self.car).as_ref()))?;
        }
        Ok(Ending::Fine)
    }
}

impl Due {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let Some(mut opened) = opened.filter(|_| wrong.is_empty()) else {
            return Err(wrong.into());
        };
        opened.warn_of_the_logbook();
        let said = questions::options::Said::default();
        let case = Case {
            opened: &opened,
            said: &said,
            sampling: said.sampling(engine::ranges::DRAWS)?,
            units: questions::units(None)?,
            brief: false,
        };
        let answer = due::Ask.answer(&case)?;
        if self.json.json {
            voice.say_json(&answer.result().map_err(|error| Stop::Output(error.into()))?)?;
        } else {
            voice.say(&print::report::text(&answer.report()))?;
        }
        Ok(Ending::with_logbook(opened.history()))
    }
}

impl Verify {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mark = match &self.head {
            Some(text) => Some(text.parse::<HeadMark>().map_err(|flaw| {
                let remedy = "give the head that `logbook verify` printed before".to_owned();
                Wrong::option(
                    "--head",
                    text,
                    0..text.len(),
                    "not-a-head",
                    flaw.to_string(),
                    remedy,
                )
            })?),
            None => None,
        };
        let (path, shown) = book(&self.car)?;
        let verdict = verify(&path, WAIT, mark.as_ref()).map_err(|fault| refused(&shown, &fault))?;
        if self.json.json {
            voice.say_json(&views::to_json(&VerdictView::of(&verdict))?)?;
        } else {
            voice.say(&print::logbook::verdict(&shown, &verdict))?;
        }
        Ok(if verdict.ok() {
            Ending::Fine
        } else {
            Ending::Stopped
        })
    }
}

impl Export {
    fn run(&self) -> Result<Ending, Stop> {
        let entries = entries(&self.car, &Filter::default())?;
        let mut bytes = Vec::new();
        match self.format {
            Format::Csv => write_csv(&entries, &mut bytes),
            Format::Json => write_json(&entries, &mut bytes),
        }
        .map_err(Stop::Output)?;
        let Some(path) = self.out.as_ref().filter(|path| !voice::is_standard_output(path)) else {
            voice::straight_out(&bytes)?;
            return Ok(Ending::Fine);
        };
        write_files(&[Output {
            path: path.clone(),
            mark: match self.format {
                Format::Csv => FileMark::first_line_of(&bytes),
                Format::Json => FileMark::None,
            },
            bytes,
        }])?;
        Ok(Ending::Fine)
    }
}
