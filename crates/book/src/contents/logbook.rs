//! The logbook's extract: its head, what falls due, the newest entries.

use plumbing::Plumbing;
use questions::logbook::{NOTHING_YET, told};
use questions::report::Detail;
use questions::{Opened, Wrong, due};
use records::logbook::{Entry, Filter, Logbook, WAIT};

use super::{Asked, reports};
use crate::document::{Begins, Part, Piece};

/// So many of the newest entries are printed.
const NEWEST: usize = 60;

/// What the logbook holds.
pub(super) struct Extract {
    entries: Vec<Entry>,
    /// What is said where it does not read.
    lost: Option<String>,
}

impl Extract {
    pub(super) fn of(opened: &Opened) -> Self {
        let read = Logbook::open_if_there(&opened.sheet.folder.logbook(), WAIT).and_then(|book| match book {
            Some(book) => book.list(&Filter::default()),
            None => Ok(Vec::new()),
        });
        match read {
            Ok(entries) => Self { entries, lost: None },
            Err(fault) => Self {
                entries: Vec::new(),
                lost: Some(format!("does not read: {fault}")),
            },
        }
    }

    /// The hash of the newest entry.
    pub(super) fn head(&self) -> String {
        match (&self.lost, self.entries.last()) {
            (Some(_), _) => "not-read".to_owned(),
            (None, Some(entry)) => entry.hash.to_string(),
            (None, None) => "empty".to_owned(),
        }
    }

    /// In words, for the cover.
    pub(super) fn said(&self) -> String {
        match (&self.lost, self.entries.last()) {
            (Some(lost), _) => lost.clone(),
            (None, Some(entry)) => {
                let count = self.entries.len();
                let entries = wording::counted(count, "entry", "entries");
                format!("{count} {entries}, head `{}`", entry.hash)
            }
            (None, None) => "without an entry".to_owned(),
        }
    }

    pub(super) fn part(&self, book: &Asked<'_>) -> Result<Part, Wrong> {
        let mut pieces = reports::Reported::of(&due::Ask, &book.case(&due::Ask)?).without_pictures();
        pieces.push(Piece::section("What was written down"));
        pieces.push(Piece::Text(format!("The logbook: {}.", self.said())));
        if self.entries.is_empty() && self.lost.is_none() {
            pieces.push(Piece::Text(NOTHING_YET.to_owned()));
        }
        let older = self.entries.len().saturating_sub(NEWEST);
        if older > 0 {
            pieces.push(Piece::Text(format!(
                "The newest {NEWEST} entries; {older} older ones are in the logbook itself."
            )));
        }
        let plumbing = Plumbing::of(book.opened.car());
        let facts: Vec<Detail> = self
            .entries
            .iter()
            .rev()
            .take(NEWEST)
            .map(|entry| {
                let told = told(entry, Some(&plumbing));
                let mut text = told.said;
                for more in told.more.into_iter().chain(told.struck) {
                    text.push_str("; ");
                    text.push_str(&more);
                }
                // Somebody's own words: a back quote in them marks nothing.
                Detail::new(
                    format!("{} {} {}", entry.id, told.at, told.kind),
                    text.replace('`', "'"),
                )
            })
            .collect();
        if !facts.is_empty() {
            pieces.push(Piece::Details(facts));
        }
        Ok(Part {
            title: "What was done?".to_owned(),
            begins: Begins::WhereThereIsRoom,
            pieces,
        })
    }
}
