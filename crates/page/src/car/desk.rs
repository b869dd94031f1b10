//! What every request is answered from: the cars folder, the person's choices, who is paired, what day it is.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

use core::time::Duration;

use axum::response::Response;
use engine::car::Date;
use questions::{History, Precisions, Sheet, Stop};
use records::logbook::Stamp;
use records::{CarFolder, Cars, Fault, LeftOut};
use sha2::{Digest as _, Sha256};
use wording::Units;

use super::board::Board;
use super::books::Books;
use super::glances::Glances;
use super::preferences::Preferences;
use super::row::MadeFor;
use super::sheets::Sheets;
use super::studies::Studies;
use crate::shell::trouble;
use crate::web::guard::{Gate, Reach};
use crate::web::lanes::{Lanes, Lost};
use crate::web::pairing::hex;
use crate::web::socket::ServerLimits;

/// What is served, and for whom.
pub struct Workshop {
    /// The cars folder.
    pub cars: PathBuf,
    /// Units that go before those that the person has chosen on the page.
    pub units: Option<Units>,
    /// Who may reach it.
    pub reach: Reach,
    /// How much anybody may take.
    pub limits: ServerLimits,
    /// The day, asked anew for every page.
    pub today: fn() -> Date,
    /// The instant now, for an entry of the logbook that a device gave an id: device, id.
    pub stamp: fn(&str, &str) -> Result<Stamp, Fault>,
    /// Which build of the program this is: what another one has computed is computed anew.
    pub build: String,
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
    build: String,
    /// How much is computed at once.
    pub(crate) lanes: Arc<Lanes>,
    /// What is known of every car.
    pub(crate) board: Board,
    /// What takes so long that no page waits for it.
    pub(crate) studies: Studies,
    /// Logbooks as they were read.
    pub(crate) books: Books,
    /// Sheets as they were read.
    sheets: Sheets,
    /// Digits that were decided.
    pub(crate) precisions: Arc<Precisions>,
    /// What stands beside the answers of a car.
    pub(crate) glances: Glances,
    /// What was done for requests.
    pub(crate) counts: Counts,
    /// The list as it was last read, for whoever asks again and again whether it is still so.
    listed: Mutex<Option<(Instant, Arc<Listed>)>>,
}

/// What was done for requests: tests hold it against what is allowed.
#[derive(Debug, Default)]
pub(crate) struct Counts {
    opened: AtomicUsize,
    books_read: AtomicUsize,
    entries_read: AtomicUsize,
}

impl Counts {
    /// A car was opened.
    pub(crate) fn opened(&self) {
        self.opened.fetch_add(1, Ordering::Relaxed);
    }

    /// A logbook was read, all of it.
    pub(crate) fn book_read(&self) {
        self.books_read.fetch_add(1, Ordering::Relaxed);
    }

    /// Entries of a logbook were read by themselves.
    pub(crate) fn entries_read(&self, many: usize) {
        self.entries_read.fetch_add(many, Ordering::Relaxed);
    }

    /// How many cars were opened, logbooks read whole, and entries read by themselves.
    #[cfg(test)]
    pub(crate) fn all(&self) -> (usize, usize, usize) {
        let of = |count: &AtomicUsize| count.load(Ordering::Relaxed);
        (of(&self.opened), of(&self.books_read), of(&self.entries_read))
    }
}

/// The cars of the folder, each with its key: a few digits that stand for its name in an address.
#[derive(Debug)]
pub(crate) struct Listed {
    pub(crate) cars: Vec<(CarFolder, String)>,
    pub(crate) left_out: Vec<LeftOut>,
}

/// For so long the list of cars is not read again for one who asks whether it has changed.
const LISTED_FOR: Duration = Duration::from_millis(900);

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
            build: workshop.build,
            lanes: Arc::new(Lanes::new()),
            board: Board::default(),
            studies: Studies::default(),
            books: Books::default(),
            sheets: Sheets::default(),
            precisions: Arc::default(),
            glances: Glances::default(),
            counts: Counts::default(),
            listed: Mutex::default(),
        }
    }

    /// Units, build and day that answers of the list are made for.
    pub(crate) fn made_for(&self) -> MadeFor {
        MadeFor::of(self.units(), &self.build, self.today())
    }

    /// The cars of the folder as they are now.
    pub(crate) fn list(&self) -> Result<Arc<Listed>, Stop> {
        let refused = |fault| questions::of_records(&self.folder.display().to_string(), &fault, None);
        let listing = self.cars()?.list().map_err(refused)?;
        let keyed = |car: CarFolder| {
            let key = hex(&Sha256::digest(car.name().as_bytes())[..6]);
            (car, key)
        };
        let listed = Arc::new(Listed {
            cars: listing.found.into_iter().map(keyed).collect(),
            left_out: listing.left_out,
        });
        *self.listed.lock().unwrap_or_else(PoisonError::into_inner) =
            Some((Instant::now(), Arc::clone(&listed)));
        Ok(listed)
    }

    /// What a car's logbook says.
    pub(crate) fn history(&self, car: &CarFolder) -> Arc<History> {
        let (history, read) = self.books.of(car);
        if read {
            self.counts.book_read();
        }
        history
    }

    /// A car's sheet, read anew where another text lies there.
    pub(crate) fn sheet(&self, car: CarFolder) -> Result<Sheet, Stop> {
        self.sheets.of(car)
    }

    /// Whether a car's valve is set in turns.
    pub(crate) fn counts_turns(&self, sheet: &Sheet) -> bool {
        self.sheets.counts_turns(sheet)
    }

    /// The list, or as it was less than a second ago: for what every open page asks again and again.
    pub(crate) fn list_of_late(&self) -> Result<Arc<Listed>, Stop> {
        let listed = self.listed.lock().unwrap_or_else(PoisonError::into_inner).clone();
        match listed {
            Some((read, listed)) if read.elapsed() < LISTED_FOR => Ok(listed),
            _ => self.list(),
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

/// Does something short away from the threads that serve: reads a file, writes one, makes a form. What it does not survive
/// is told and answered with 500; the server goes on.
pub(crate) async fn answered(
    desk: Arc<Desk>,
    work: impl FnOnce(&Desk) -> Response + Send + 'static,
) -> Response {
    let at_work = Arc::clone(&desk);
    let done = tokio::task::spawn_blocking(move || work(&at_work)).await;
    done.unwrap_or_else(|fault| fell(&desk, &fault.to_string()))
}

/// The same of a handle that moves: it waits for nothing but other handles.
pub(crate) async fn answered_at_once(
    desk: Arc<Desk>,
    work: impl FnOnce(&Desk) -> Response + Send + 'static,
) -> Response {
    let at_work = Arc::clone(&desk);
    let done = desk.lanes.at_once(move || work(&at_work)).await;
    done.unwrap_or_else(|lost| nothing_for(&desk, lost))
}

/// The same of the list.
pub(crate) async fn answered_listed(
    desk: Arc<Desk>,
    work: impl FnOnce(&Desk) -> Response + Send + 'static,
) -> Response {
    let at_work = Arc::clone(&desk);
    let done = desk.lanes.listed(move || work(&at_work)).await;
    done.unwrap_or_else(|lost| nothing_for(&desk, lost))
}

/// The same of what takes long: draws, maps, a book. It waits its turn, and is called off with its request.
pub(crate) async fn answered_in_turn(
    desk: Arc<Desk>,
    work: impl FnOnce(&Desk) -> Response + Send + 'static,
) -> Response {
    let at_work = Arc::clone(&desk);
    let done = desk.lanes.in_turn(move || work(&at_work)).await;
    done.unwrap_or_else(|lost| nothing_for(&desk, lost))
}

fn nothing_for(desk: &Desk, lost: Lost) -> Response {
    match lost {
        Lost::Fault(fault) => fell(desk, &fault),
        // Nobody reads it.
        Lost::CalledOff => trouble::of_ours(),
    }
}

fn fell(desk: &Desk, fault: &str) -> Response {
    desk.tell(&format!("a page could not be made: {fault}"));
    trouble::of_ours()
}
