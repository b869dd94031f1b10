//! What every request is answered from: the cars folder, the person's choices, who is paired, what day it is.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::response::Response;
use engine::car::Date;
use questions::Stop;
use records::logbook::Stamp;
use records::{CarFolder, Cars, Fault};
use wording::Units;

use super::preferences::Preferences;
use crate::shell::trouble;
use crate::web::guard::{Gate, Reach};
use crate::web::socket::Limits;

/// What is served, and for whom.
pub struct Workshop {
    /// The cars folder.
    pub cars: PathBuf,
    /// Units that go before those that the person has chosen on the page.
    pub units: Option<Units>,
    /// Who may reach it.
    pub reach: Reach,
    /// How much anybody may take.
    pub limits: Limits,
    /// The day, asked anew for every page.
    pub today: fn() -> Date,
    /// The instant now, for an entry of the logbook that a device gave an id: device, id.
    pub stamp: fn(&str, &str) -> Result<Stamp, Fault>,
    /// What prints a build book; without it no key for one is shown.
    pub press: Option<Press>,
    /// Takes what has to be said where the server was started: pairing codes, faults. Text of a line or more, without
    /// a line's end.
    pub tell: Box<dyn Fn(&str) + Send + Sync>,
}

/// Prints build books. The page knows none of it but these two.
#[derive(Clone, Copy, Debug)]
pub struct Press {
    /// Prints the book of a car, in a cars folder, into the car's own folder.
    pub print: fn(cars: &Path, car: &CarFolder, day: Date, units: Units) -> Result<(), Stop>,
    /// The digest of the sheet that a book was made of, by the end of its bytes.
    pub sheet_of: fn(&[u8]) -> Option<String>,
}

impl core::fmt::Debug for Workshop {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Workshop")
            .field("cars", &self.cars)
            .field("reach", &self.reach)
            .finish_non_exhaustive()
    }
}

/// Shared by all requests.
pub(crate) struct Desk {
    pub(crate) folder: PathBuf,
    /// Units of the command line, which go before those remembered.
    units: Option<Units>,
    /// Who is let in.
    pub(crate) gate: Arc<Gate>,
    today: fn() -> Date,
    stamp: fn(&str, &str) -> Result<Stamp, Fault>,
    /// What prints build books.
    pub(crate) press: Option<Press>,
    tell: Box<dyn Fn(&str) + Send + Sync>,
}

impl Desk {
    pub(crate) fn new(workshop: Workshop, gate: Gate) -> Self {
        Self {
            folder: workshop.cars,
            units: workshop.units,
            gate: Arc::new(gate),
            today: workshop.today,
            stamp: workshop.stamp,
            press: workshop.press,
            tell: workshop.tell,
        }
    }

    pub(crate) fn today(&self) -> Date {
        (self.today)()
    }

    /// The stamp of an entry that a device gave an id.
    pub(crate) fn stamp(&self, device: &str, entry: &str) -> Result<Stamp, Fault> {
        (self.stamp)(device, entry)
    }

    /// Says something where the server was started.
    pub(crate) fn tell(&self, text: &str) {
        (self.tell)(text);
    }

    pub(crate) fn cars(&self) -> Result<Cars, Stop> {
        Cars::open(&self.folder)
            .map_err(|fault| questions::of_records(&self.folder.display().to_string(), &fault, None))
    }

    /// The person's choices as they are kept; the usual ones where none are, or where they cannot be read.
    pub(crate) fn preferences(&self) -> Preferences {
        self.cars()
            .ok()
            .and_then(|cars| Preferences::read(&cars).ok())
            .unwrap_or_default()
    }

    /// In which units figures are shown.
    pub(crate) fn units(&self) -> Units {
        self.units.unwrap_or_else(|| self.preferences().units())
    }

    /// Whether the command line said which units, so that choosing others has no effect.
    pub(crate) const fn units_are_given(&self) -> bool {
        self.units.is_some()
    }
}

/// Does something that computes or reads files, away from the threads that serve. What it does not survive is told and
/// answered with 500; the server goes on.
pub(crate) async fn answered(
    desk: Arc<Desk>,
    work: impl FnOnce(&Desk) -> Response + Send + 'static,
) -> Response {
    let at_work = Arc::clone(&desk);
    match tokio::task::spawn_blocking(move || work(&at_work)).await {
        Ok(response) => response,
        Err(fault) => {
            desk.tell(&format!("a page could not be made: {fault}"));
            trouble::of_ours()
        }
    }
}
