//! A log found, read and held against its car.

use std::io::Read as _;
use std::path::{Path, PathBuf};

use ::logger::demonstration::{Truth, write_log};
use ::logger::{
    Examined, Is, Log, NamedColumn, Progress, StopTrace, examine, hardest_stop, named_columns, read,
};
use records::{Shelf, TextFile};
use sheet::{ColumnMap, column_map};

use crate::measured::without;
use crate::opened::Opened;
use crate::options::{DEMONSTRATION, FILE, SEED};
use crate::question::Case;
use crate::trouble::{Stop, Trouble, Wrong, of_records};

/// The largest map of columns.
const MAP_BYTES: u64 = 1 << 18;
/// As much of a file as is looked at for the heads of its columns.
const LOOKED_AT: u64 = 1 << 16;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// What was read; `None`: the car has no log.
    pub read: Option<Box<LogRead>>,
}

/// A log and what was found in it.
#[derive(Debug)]
pub struct LogRead {
    /// What it is called.
    pub name: String,
    /// The log.
    pub log: Log,
    /// What was found.
    pub found: Examined,
    /// The hardest stop by the foot, row by row.
    pub hardest: Option<StopTrace>,
    /// Where it was made by simulation, what was hidden in it.
    pub truth: Option<Truth>,
}

/// The car's logs, by name.
#[must_use]
pub fn on_shelf(case: &Case<'_>) -> Vec<String> {
    let shelf = case.opened.sheet.folder.shelf(Shelf::Logs);
    shelf.map(|listing| listing.found).unwrap_or_default()
}

/// The log that is asked for, or the last on the shelf.
#[must_use]
pub fn asked(case: &Case<'_>) -> Option<String> {
    let said = case.said.text(&FILE).map(str::trim);
    said.filter(|said| !said.is_empty())
        .map(str::to_owned)
        .or_else(|| on_shelf(case).pop())
}

/// What the columns of the log that is asked for are taken for; nothing where it cannot be looked into.
#[must_use]
pub fn columns(case: &Case<'_>) -> Vec<NamedColumn> {
    let looked_at = || {
        let path = path(case, &asked(case)?).ok()?;
        let mut sample = Vec::new();
        let file = TextFile::at(path).open().ok()?;
        file.take(LOOKED_AT).read_to_end(&mut sample).ok()?;
        Some(named_columns(&sample, &map(case.opened).ok()?))
    };
    looked_at().unwrap_or_default()
}

/// What a person says that a column is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Its head, as the file has it.
    pub head: String,
    /// What it is.
    pub is: Is,
    /// Its unit; a time without one is in seconds.
    pub unit: String,
}

/// Writes into the car's map of columns what a person says that they are. When this returns, it is on the disk; `false`: it
/// said so already.
///
/// # Errors
/// A unit that is none of its kind; no unit; a map that does not read or cannot be written.
pub fn name_columns(opened: &Opened, columns: &[Named]) -> Result<bool, Stop> {
    let mut faults = Wrong::default();
    for Named { head, is, unit } in columns {
        let what = match (is, unit.as_str()) {
            (Is::Nothing | Is::Time, "") => continue,
            (_, "") => format!("`{head}`: its unit is not said"),
            (is, unit) if !is.takes(unit) => format!("`{head}`: `{unit}` is no unit of {}", is.name()),
            _ => continue,
        };
        let remedy = "type its unit, such as bar, km/h, g, C or s".to_owned();
        faults.add(Wrong::plain("columns.toml", "unit", what, remedy));
    }
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let folder = &opened.sheet.folder;
    let of = |fault: &records::Fault| of_records("columns.toml", fault, None);
    folder.make_shelf(Shelf::Logs).map_err(|fault| of(&fault))?;
    let file = folder.columns().map_err(|fault| of(&fault))?;
    let there = file.read_if_there(MAP_BYTES).map_err(|fault| of(&fault))?;
    let digest = there.as_ref().map(|there| there.digest);
    let before = there.map(|there| there.text).unwrap_or_default();
    let mut text = before.trim_start_matches('\u{feff}').to_owned();
    for Named { head, is, unit } in columns {
        text = sheet::with_column(
            &text,
            head,
            is.name(),
            Some(unit.as_str()).filter(|unit| !unit.is_empty()),
        )
        .map_err(|faults| of_map(&file.path().display().to_string(), faults))?;
    }
    if text == before.trim_start_matches('\u{feff}') {
        return Ok(false);
    }
    file.save(digest, &text, MAP_BYTES).map_err(|fault| of(&fault))?;
    Ok(true)
}

impl Outcome {
    /// Of the log that was asked for, or the last on the shelf.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub(crate) fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        // Readings of gauges say where the valve is thought to be; the log is held against the sheet's own figures.
        let car = without(case.opened, "measured.valve");
        let laden = &case.opened.state.laden;
        let radius = Some([car.tyres.front_radius, car.tyres.rear_radius]);
        if case.said.has(&DEMONSTRATION) {
            let truth = Truth::default();
            let seed = case
                .said
                .text(&SEED)
                .and_then(|text| text.trim().parse().ok())
                .unwrap_or(1);
            let mut bytes = Vec::new();
            let written = write_log(&car, truth, seed, &mut bytes);
            let log = written
                .map_err(|error| wrong("the simulation", &error.to_string()))
                .and_then(|_| {
                    read(&bytes[..], &ColumnMap::default(), radius, &mut |_| ())
                        .map_err(|fault| wrong("the simulation", &fault.to_string()))
                })?;
            return Ok(Self::held(
                "a log made by simulation of this car".to_owned(),
                log,
                &car,
                laden,
                Some(truth),
            ));
        }
        let Some(name) = asked(case) else {
            return Ok(Self { read: None });
        };
        let path = path(case, &name)?;
        let file = TextFile::at(path.clone()).open().map_err(|fault| {
            let what = fault.to_string();
            let there = on_shelf(case);
            let remedy = if there.is_empty() {
                "name a CSV file by its path, or put it into the car's logs folder".to_owned()
            } else {
                format!("this car's logs: {}", there.join(", "))
            };
            Wrong::plain(&path.display().to_string(), "no-log", what, remedy)
        })?;
        let map = map(case.opened)?;
        let bytes = file.metadata().map_or(0, |about| about.len());
        let mut far = |progress: Progress| {
            let share = progress.bytes as f64 / bytes.max(1) as f64;
            // Not yet whole while it is read: what follows takes its time too.
            crate::progress::tell("reading the log", share.min(0.99));
        };
        let log = read(file, &map, radius, &mut far)
            .map_err(|fault| wrong(&path.display().to_string(), &fault.to_string()))?;
        Ok(Self::held(name, log, &car, laden, None))
    }

    fn held(
        name: String,
        log: Log,
        car: &engine::car::Car,
        laden: &engine::loads::Laden,
        truth: Option<Truth>,
    ) -> Self {
        let found = examine(&log, car, laden);
        crate::progress::tell("reading the log", 1.0);
        let hardest = hardest_stop(&log, &found.events, car, laden);
        Self {
            read: Some(Box::new(LogRead {
                name,
                log,
                found,
                hardest,
                truth,
            })),
        }
    }
}

/// A path as it is where it holds a separator, else a name on the car's own shelf.
fn path(case: &Case<'_>, name: &str) -> Result<PathBuf, Wrong> {
    if name.contains(['/', '\\']) {
        return Ok(Path::new(name).to_path_buf());
    }
    case.opened
        .sheet
        .folder
        .on_shelf(Shelf::Logs, name)
        .map_err(|fault| wrong(name, &fault.to_string()))
}

/// The car's map of columns; none is no fault.
fn map(opened: &Opened) -> Result<ColumnMap, Wrong> {
    let file = opened.sheet.folder.columns();
    let file = file.map_err(|fault| wrong("columns.toml", &fault.to_string()))?;
    let name = file.path().display().to_string();
    let Some(text) = file
        .read_if_there(MAP_BYTES)
        .map_err(|fault| wrong(&name, &fault.to_string()))?
    else {
        return Ok(ColumnMap::default());
    };
    column_map(text.text.trim_start_matches('\u{feff}')).map_err(|faults| of_map(&name, faults))
}

fn of_map(name: &str, faults: Vec<sheet::PriceFault>) -> Wrong {
    let mut all = Wrong::default();
    for fault in faults {
        all.note::<(), Wrong>(Err(Wrong::from(Trouble {
            place: Some((fault.line, fault.column)),
            ..plain(name, "column-map", fault.text, fault.remedy)
        })));
    }
    all
}

fn plain(file: &str, slug: &str, what: String, remedy: &str) -> Trouble {
    Trouble {
        file: file.to_owned(),
        place: None,
        key: None,
        slug: slug.to_owned(),
        text: what,
        remedy: remedy.to_owned(),
        shown: crate::trouble::Quotation::Nothing,
    }
}

fn wrong(file: &str, what: &str) -> Wrong {
    let remedy = "heads such as `rear pressure [bar]` are understood; others are named in logs/columns.toml";
    plain(file, "not-a-log", what.to_owned(), remedy).into()
}
