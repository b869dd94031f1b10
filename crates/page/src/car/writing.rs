//! An entry on its way into a car's logbook, whether the car's sheet reads or not.

use engine::car::Date;
use proving::{Fact, NewEntry as CheckFound, SheetChange};
use questions::onto_sheet::Leaves;
use questions::writing::{entries_of, write};
use questions::{Stop, Wrong, onto_sheet};
use records::CarFolder;
use records::logbook::{Data, Entry, Filter, Logbook, Stamp, WAIT};

use super::desk::Desk;
use super::visit::Visit;
use crate::web::guard::{Caller, Sent};

/// What a form of a room sends, and where it goes.
pub(crate) struct Writing<'a> {
    desk: &'a Desk,
    caller: &'a Caller,
    folder: &'a CarFolder,
    visit: Option<&'a Visit<'a>>,
    pub(crate) sent: &'a Sent,
    /// Entries that were written under the same id before.
    there: Vec<Entry>,
}

impl<'a> Writing<'a> {
    /// `visit`: the car, where its sheet reads.
    ///
    /// # Errors
    /// What was sent has no id; the logbook does not read.
    pub(crate) fn begin(
        desk: &'a Desk,
        caller: &'a Caller,
        folder: &'a CarFolder,
        visit: Option<&'a Visit<'a>>,
        sent: &'a Sent,
    ) -> Result<Self, Stop> {
        let mut writing = Self {
            desk,
            caller,
            folder,
            visit,
            sent,
            there: Vec::new(),
        };
        let id = writing.id();
        if id.is_empty() || id.len() > 60 {
            let what = "what was sent has no id of its own".to_owned();
            return Err(Wrong::plain("form", "no-id", what, "load the page again".to_owned()).into());
        }
        // Its id is chance and long: whichever device brings it, it is the same entry.
        let more = format!("{id}.");
        if let Some(book) = writing.found(|path| Logbook::open_if_there(path, WAIT))? {
            writing.there = writing
                .found(|_| book.list(&Filter::default()))?
                .into_iter()
                .filter(|entry| entry.device_entry == id || entry.device_entry.starts_with(&more))
                .collect();
        }
        Ok(writing)
    }

    /// The car, where its sheet reads.
    pub(crate) const fn visit(&self) -> Option<&'a Visit<'a>> {
        self.visit
    }

    /// The car's folder.
    pub(crate) const fn folder(&self) -> &'a CarFolder {
        self.folder
    }

    /// Whether it was written before: then nothing that changed meanwhile speaks against it.
    pub(crate) fn is_again(&self) -> bool {
        !self.there.is_empty()
    }

    /// The id that the device gave what it sends.
    fn id(&self) -> &'a str {
        self.sent.get("entry")
    }

    /// Writes facts, once however often they arrive; the numbers of their entries.
    ///
    /// # Errors
    /// What would not count; a logbook that cannot be written.
    pub(crate) fn note(&self, facts: &[Fact]) -> Result<Vec<i64>, Stop> {
        self.keep(&entries_of("form", facts)?)
    }

    /// Writes entries, once however often they arrive. Of a car whose sheet does not read they are written as they were
    /// said: whether they count is seen once it reads.
    ///
    /// # Errors
    /// What would not count; a logbook that cannot be written.
    pub(crate) fn keep(&self, entries: &[CheckFound]) -> Result<Vec<i64>, Stop> {
        if self.is_again() {
            let same = self.there.iter().zip(entries).all(|(there, said)| {
                there.kind.as_str() == said.kind()
                    && Data::parse(said.data()).is_ok_and(|data| data == there.data)
            });
            if !same || self.there.len() > entries.len() {
                return Err(self.used());
            }
            if self.there.len() == entries.len() {
                return Ok(self.there.iter().map(|entry| entry.id).collect());
            }
            // An earlier sending was cut off: the rest is written now.
        }
        let stamp = |number: usize| {
            let id = if number == 0 {
                self.id().to_owned()
            } else {
                format!("{}.{number}", self.id())
            };
            self.desk.stamp(&self.caller.device, &id)
        };
        let opened = self.visit.map(|visit| &visit.opened);
        let written = write(self.folder, opened, entries, self.desk.today(), stamp)?;
        Ok(written.iter().map(|appended| appended.entry.id).collect())
    }

    /// Puts changes onto the car's sheet, and notes them in its logbook, so that they can be put back. What stands there
    /// already is not written again.
    ///
    /// # Errors
    /// A value that cannot stand there; a key that says something else by now; a sheet or logbook that cannot be written.
    pub(crate) fn put_on(&self, changes: &[SheetChange]) -> Result<Vec<i64>, Stop> {
        self.put_on_and(Leaves::Whole, changes)
    }

    /// The same, of which is said whether more may be left to fill in.
    ///
    /// # Errors
    /// As [`Writing::put_on`].
    pub(crate) fn put_on_and(&self, leaves: Leaves, changes: &[SheetChange]) -> Result<Vec<i64>, Stop> {
        if self.is_again() || changes.is_empty() {
            return Ok(self.there.iter().map(|entry| entry.id).collect());
        }
        if !onto_sheet::put_on_and(leaves, self.folder, changes)? {
            return Ok(Vec::new());
        }
        let noted = Fact::Sheet {
            changes: changes.to_vec(),
        };
        self.keep(&entries_of("form", &[noted])?)
    }

    /// The day.
    pub(crate) fn today(&self) -> Date {
        self.desk.today()
    }

    /// Strikes an entry, once however often it arrives.
    ///
    /// # Errors
    /// It cannot be struck; a logbook that cannot be written.
    pub(crate) fn strike(&self, id: i64, why: &str) -> Result<Vec<i64>, Stop> {
        if let Some(there) = self.there.first() {
            if there.strikes == Some(id) {
                return Ok(vec![there.id]);
            }
            return Err(self.used());
        }
        let stamp = self.stamp()?;
        let mut book = self.found(|path| Logbook::open_or_create(path, WAIT))?;
        let struck = self.found(|_| book.strike(id, why, &stamp))?;
        Ok(vec![struck.entry.id])
    }

    fn used(&self) -> Stop {
        let what = format!(
            "this form was sent before with something else in it, which is entry {}",
            self.there[0].id
        );
        Wrong::plain("form", "id-used", what, "load the page again".to_owned()).into()
    }

    fn stamp(&self) -> Result<Stamp, Stop> {
        self.found(|_| self.desk.stamp(&self.caller.device, self.id()))
    }

    /// Does something with the logbook; what goes wrong is told of its file.
    fn found<T>(&self, work: impl FnOnce(&std::path::Path) -> Result<T, records::Fault>) -> Result<T, Stop> {
        work(&self.folder.logbook()).map_err(|fault| self.refused(&fault))
    }

    fn refused(&self, fault: &records::Fault) -> Stop {
        questions::of_records(&self.folder.logbook().display().to_string(), fault, None)
    }
}
