//! Whether a logbook is whole.

use core::fmt;
use core::str::FromStr;
use std::collections::HashMap;
use std::path::Path;
use std::time::Duration;

use rusqlite::Connection;
use serde::Serialize;
use serde::ser::{SerializeStruct as _, Serializer};

use super::chain::{self, FIRST, Row};
use super::{Entry, file};
use crate::kind::EntryKind;
use crate::{Digest, Fault, fault};

/// The most flaws that are told: after that the book is no better known by more of them.
const MOST_FLAWS: usize = 20;

/// The hash of an entry that was noted elsewhere, or its beginning: 8 to 64 hexadecimal digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeadMark(String);

impl FromStr for HeadMark {
    type Err = Fault;

    fn from_str(given: &str) -> Result<Self, Fault> {
        let digits = given.trim();
        if (8..=64).contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            Ok(Self(digits.to_ascii_lowercase()))
        } else {
            Err(Fault::NotAMark {
                given: fault::cut(given),
            })
        }
    }
}

impl fmt::Display for HeadMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<Digest> for HeadMark {
    fn from(digest: Digest) -> Self {
        Self(digest.to_string())
    }
}

/// Something that is wrong with a logbook.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Flaw {
    /// It cannot be opened as a logbook at all.
    #[error("{0}")]
    Unopenable(String),
    /// SQLite's own check of the file's pages, indexes and types failed.
    #[error("the file does not hold together: {0}")]
    Integrity(String),
    /// An entry that cannot be read.
    #[error("entry {entry} cannot be read: {why}")]
    Unreadable {
        /// The entry.
        entry: i64,
        /// Why.
        why: String,
    },
    /// Entries that are missing.
    #[error("entry {entry} is missing")]
    Gap {
        /// The first that is missing.
        entry: i64,
    },
    /// The hash of an entry does not follow from what it says and from the entry before.
    #[error("the hash of entry {entry} does not fit what it says and what comes before")]
    Hash {
        /// The entry.
        entry: i64,
    },
    /// An entry that strikes one that cannot be struck, or that was struck before.
    #[error("entry {entry} strikes what cannot be struck")]
    Strike {
        /// The striking entry.
        entry: i64,
    },
    /// No entry has the hash that was noted: the tail was cut off, or this is another book.
    #[error("no entry has the hash {0}: newer entries were lost, or this is another logbook")]
    MarkMissing(HeadMark),
}

impl Flaw {
    /// The entry that it is about.
    pub fn entry(&self) -> Option<i64> {
        match self {
            Self::Unreadable { entry, .. }
            | Self::Gap { entry }
            | Self::Hash { entry }
            | Self::Strike { entry } => Some(*entry),
            Self::Unopenable(_) | Self::Integrity(_) | Self::MarkMissing(_) => None,
        }
    }
}

/// What became of a verification.
///
/// Serialised: `ok`, `entries`, `head`, `first_bad`, `flaws` (sentences).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verified {
    /// How many entries could be read.
    pub entries: i64,
    /// The hash of the newest entry that could be read, as it is stored.
    pub head: Option<Digest>,
    /// The first entry that is wrong or missing.
    pub first_bad: Option<i64>,
    /// The entry whose hash was noted elsewhere, where one was given and found.
    pub marked: Option<i64>,
    /// What is wrong; at most the first twenty flaws.
    pub flaws: Vec<Flaw>,
}

impl Verified {
    /// Whether nothing is wrong.
    pub fn ok(&self) -> bool {
        self.flaws.is_empty()
    }

    fn add(&mut self, flaw: Flaw) {
        self.first_bad = match (self.first_bad, flaw.entry()) {
            (Some(first), Some(entry)) => Some(first.min(entry)),
            (first, entry) => first.or(entry),
        };
        if self.flaws.len() < MOST_FLAWS {
            self.flaws.push(flaw);
        }
    }
}

impl Serialize for Verified {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut object = serializer.serialize_struct("Verified", 5)?;
        object.serialize_field("ok", &self.ok())?;
        object.serialize_field("entries", &self.entries)?;
        object.serialize_field("head", &self.head)?;
        object.serialize_field("first_bad", &self.first_bad)?;
        object.serialize_field(
            "flaws",
            &self.flaws.iter().map(ToString::to_string).collect::<Vec<_>>(),
        )?;
        object.end()
    }
}

/// Checks a logbook from end to end: that it is built as a logbook, that SQLite finds its pages and indexes sound,
/// that no entry is missing and that every hash follows from the entry and the one before. With `mark`, also that an
/// entry with that hash is there; later entries may have come since.
///
/// Any change of the file's bytes that would change what an entry says is found. What holds together in itself is not
/// told from the true book without a mark: an older copy, a book whose last entries were taken off. It shows accident,
/// not forgery: see [`logbook`](super). Where there is no file, a book without entries is meant, and nothing is wrong
/// with it.
///
/// # Errors
/// Only what keeps the check from being made: no permission, a newer format, in use for longer than `wait`, a failing
/// disk. Whatever the check finds is in the [`Verified`].
pub fn verify(path: &Path, wait: Duration, mark: Option<&HeadMark>) -> Result<Verified, Fault> {
    let mut verdict = Verified::default();
    match checked(path, wait, mark, &mut verdict) {
        Ok(()) => {}
        Err(
            found @ (Fault::NotADatabase { .. }
            | Fault::EmptyFile { .. }
            | Fault::NotALogbook { .. }
            | Fault::WrongBuild { .. }
            | Fault::StrayJournal { .. }),
        ) => verdict.add(Flaw::Unopenable(found.to_string())),
        Err(Fault::Damaged { why, .. }) => verdict.add(Flaw::Integrity(why)),
        Err(fault) => return Err(fault),
    }
    if let (Some(mark), None) = (mark, verdict.marked) {
        verdict.add(Flaw::MarkMissing(mark.clone()));
    }
    Ok(verdict)
}

fn checked(
    path: &Path,
    wait: Duration,
    mark: Option<&HeadMark>,
    verdict: &mut Verified,
) -> Result<(), Fault> {
    match file::open(path, wait)? {
        Some(connection) => look(&connection, path, mark, verdict).map(|_| ()),
        None => Ok(()),
    }
}

/// Every entry in order, each with the one that strikes it, of a book in which nothing is wrong.
///
/// Whoever reads entries reads all of them and looks at all of them: a flipped bit may have changed one, and a broken
/// page may have swallowed some.
pub(super) fn sound_entries(connection: &Connection, path: &Path) -> Result<Vec<Entry>, Fault> {
    let mut verdict = Verified::default();
    let entries = look(connection, path, None, &mut verdict)?;
    match verdict.flaws.first() {
        None => Ok(entries),
        Some(flaw) => Err(Fault::Damaged {
            path: path.to_path_buf(),
            entry: verdict.first_bad,
            why: flaw.to_string(),
        }),
    }
}

/// Reads every entry, follows the chain, and lets SQLite look at its pages.
fn look(
    connection: &Connection,
    path: &Path,
    mark: Option<&HeadMark>,
    verdict: &mut Verified,
) -> Result<Vec<Entry>, Fault> {
    let said = |source| file::fault("read", path, source);
    // One state of the book, however many write to it meanwhile. Whoever writes has begun one already.
    let begun = if connection.is_autocommit() {
        Some(connection.unchecked_transaction().map_err(said)?)
    } else {
        None
    };
    let mut entries = walk(connection, path, mark, verdict)?;
    let struck: HashMap<i64, i64> = entries
        .iter()
        .filter_map(|entry| Some((entry.strikes?, entry.id)))
        .collect();
    for entry in &mut entries {
        entry.struck_by = struck.get(&entry.id).copied();
    }
    let flaws = integrity(connection).map_err(said)?;
    flaws
        .into_iter()
        .for_each(|flaw| verdict.add(Flaw::Integrity(flaw)));
    drop(begun);
    Ok(entries)
}

/// Reads every entry and follows the chain.
fn walk(
    connection: &Connection,
    path: &Path,
    mark: Option<&HeadMark>,
    verdict: &mut Verified,
) -> Result<Vec<Entry>, Fault> {
    let said = |source| file::fault("read", path, source);
    let mut query = connection
        .prepare(&format!("{} ORDER BY id", chain::SELECT))
        .map_err(said)?;
    let mut rows = query.query([]).map_err(said)?;
    let mut before = Some(FIRST);
    let mut last = 0;
    let mut kinds = HashMap::new();
    let mut entries = Vec::new();
    loop {
        let row = match rows.next() {
            Ok(Some(row)) => row,
            Ok(None) => return Ok(entries),
            Err(source) => match file::fault("read", path, source) {
                Fault::Damaged { why, .. } => {
                    verdict.add(Flaw::Unreadable { entry: last + 1, why });
                    return Ok(entries);
                }
                fault => return Err(fault),
            },
        };
        let id: i64 = row.get(0).map_err(said)?;
        if id != last + 1 {
            verdict.add(Flaw::Gap { entry: last + 1 });
        }
        last = id;
        let row = match Row::read(row) {
            Ok(row) => row,
            Err(source) => {
                verdict.add(Flaw::Unreadable {
                    entry: id,
                    why: source.to_string(),
                });
                before = None;
                continue;
            }
        };
        verdict.entries += 1;
        verdict.head = Some(row.hash);
        // After an entry that could not be read there is nothing to compare the next one with.
        if before.is_some_and(|before| row.hash_after(before) != row.hash) {
            verdict.add(Flaw::Hash { entry: id });
        }
        before = Some(row.hash);
        match row.entry() {
            Ok(entry) => {
                if entry
                    .strikes
                    .is_some_and(|struck| !strikeable(&mut kinds, struck))
                {
                    verdict.add(Flaw::Strike { entry: id });
                }
                kinds.insert(id, entry.kind);
                entries.push(entry);
            }
            Err(why) => verdict.add(Flaw::Unreadable { entry: id, why }),
        }
        if mark.is_some_and(|mark| row.hash.to_string().starts_with(&mark.0)) {
            verdict.marked = Some(id);
        }
    }
}

/// Whether there is such an entry before, of a kind that can be struck; it then can be no more.
fn strikeable(kinds: &mut HashMap<i64, EntryKind>, id: i64) -> bool {
    kinds
        .remove(&id)
        .is_some_and(|kind| EntryKind::WRITTEN.contains(&kind))
}

/// SQLite's own check. Its answer is one row, `ok`, or a row for each problem.
fn integrity(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut query = connection.prepare("PRAGMA integrity_check(20)")?;
    let lines: Vec<String> = query
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    Ok(lines.into_iter().filter(|line| line != "ok").collect())
}
