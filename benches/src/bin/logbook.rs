//! What it costs to read a logbook, all of it checked, as every answer does that leans on one.
//!
//! `logbook FOLDER` makes books of 1,000, 10,000 and 100,000 entries in a folder (a RAM disk spares an hour of
//! flushing), reads each ten times, and prints the median and what SQLite's own check takes of it.

#![allow(clippy::print_stdout, reason = "a program whose output is its purpose")]

use std::path::Path;
use std::time::{Duration, Instant};

use records::logbook::{Data, Draft, EntryKind, Filter, Logbook, Stamp, WAIT};

fn main() -> Result<(), Box<dyn core::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("which folder?")?;
    for count in [1_000, 10_000, 100_000] {
        let path = Path::new(&folder).join(format!("{count}.db"));
        fill(&path, count)?;
        let first = timed(|| read(&path))?;
        let book = Logbook::open_or_create(&path, WAIT)?;
        let mut all: Vec<Duration> = Vec::new();
        for _ in 0..10 {
            all.push(timed(|| Ok(book.list(&Filter::default()).map(|_| ())?))?);
        }
        all.sort();
        println!(
            "{count:>7} entries: opened and read {:.1} ms, read again {:.1} ms",
            first.as_secs_f64() * 1e3,
            all[all.len() / 2].as_secs_f64() * 1e3
        );
    }
    Ok(())
}

fn read(path: &Path) -> Result<(), Box<dyn core::error::Error>> {
    let book = Logbook::open_or_create(path, WAIT)?;
    book.list(&Filter::default())?;
    Ok(())
}

fn timed(
    mut work: impl FnMut() -> Result<(), Box<dyn core::error::Error>>,
) -> Result<Duration, Box<dyn core::error::Error>> {
    let begun = Instant::now();
    work()?;
    Ok(begun.elapsed())
}

/// Notes of a usual length, one a minute.
fn fill(path: &Path, count: u32) -> Result<(), Box<dyn core::error::Error>> {
    let mut book = Logbook::open_or_create(path, WAIT)?;
    for number in 0..count {
        let at = jiff::Timestamp::from_second(1_770_000_000 + 60 * i64::from(number))?;
        let text = format!("reading {number}: pedal firm, fluid clear, nothing wet at any joint");
        book.append(&Draft {
            stamp: Stamp::new(at, jiff::tz::Offset::UTC, "bench", &number.to_string())?,
            kind: EntryKind::Note,
            data: Data::with_text(&text, None)?,
        })?;
    }
    Ok(())
}
