//! A logbook's entries as the facts that plumbing judges.

use plumbing::proving::{Fact, Noted};
use records::logbook::Entry;

/// What a logbook says of plumbing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Entries that say something of it, oldest first, without what was struck.
    pub noted: Vec<Noted>,
    /// Entries that mean to and cannot be read: number and why.
    pub not_read: Vec<(i64, String)>,
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
