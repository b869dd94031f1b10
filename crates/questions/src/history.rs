//! A logbook's entries as the facts that plumbing judges.

use proving::{Fact, Noted};
use records::logbook::{Entry, Filter, Logbook, WAIT};
use records::{CarFolder as Folder, Fault};

use crate::trouble::{Stop, of_records};

/// What a logbook says of plumbing.
#[derive(Clone, Debug, Default)]
pub struct History {
    /// Entries that say something of it, oldest first, without what was struck.
    pub noted: Vec<Noted>,
    /// Entries that mean to and cannot be read: number and why.
    pub not_read: Vec<(i64, String)>,
    /// Why the logbook does not read, where it does not: there is nothing else here then, and whatever leans on this
    /// says so first.
    pub lost: Option<Stop>,
}

impl History {
    /// What the logbook in a car's folder says; nothing where there is none, and why not where it does not read.
    #[must_use]
    pub fn of(folder: &Folder) -> Self {
        let path = folder.logbook();
        let read = Logbook::open_if_there(&path, WAIT).and_then(|book| match book {
            Some(book) => book.list(&Filter::default()),
            None => Ok(Vec::new()),
        });
        match read {
            Ok(entries) => history(&entries),
            Err(fault) => Self::unread(folder, &fault),
        }
    }

    /// Nothing, and why: the logbook in that folder does not read.
    #[must_use]
    pub fn unread(folder: &Folder, fault: &Fault) -> Self {
        let path = folder.logbook();
        Self {
            lost: Some(of_records(&path.display().to_string(), fault, None)),
            ..Self::default()
        }
    }

    /// The history, for whoever cannot go on without it.
    ///
    /// # Errors
    /// A logbook that does not read.
    pub fn whole(&self) -> Result<&Self, &Stop> {
        self.lost.as_ref().map_or(Ok(self), Err)
    }

    /// The sentence that stands before everything that leans on a logbook that does not read, and what to do.
    #[must_use]
    pub fn stop(&self) -> Option<(String, String)> {
        let (Stop::Wrong(wrong) | Stop::File(wrong)) = self.lost.as_ref()?;
        let trouble = wrong.troubles.first()?;
        Some((
            format!("the logbook does not read: {}", trouble.text),
            trouble.remedy.clone(),
        ))
    }
}

/// Reads entries; the day of each is the civil day where it was written.
#[must_use]
pub fn history(entries: &[Entry]) -> History {
    let mut history = History::default();
    for entry in entries.iter().filter(|entry| entry.struck_by.is_none()) {
        match Fact::read(entry.kind.as_str(), &entry.data.value()) {
            Ok(Some(fact)) => history.noted.push(Noted {
                id: entry.id,
                day: entry.offset.to_datetime(entry.at).date(),
                fact,
            }),
            Ok(None) => {}
            Err(why) => history.not_read.push((entry.id, why.to_string())),
        }
    }
    history
}
