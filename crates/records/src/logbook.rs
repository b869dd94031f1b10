//! The logbook of a car: dated entries that can be struck, but not altered or removed.
//!
//! It is an SQLite file. Each entry carries the SHA-256 hash of its own fields and of the entry before it, so the hash
//! of the newest entry, the *head*, stands for the whole book. Copied to paper, it tells later whether that book is
//! still the same up to there.
//!
//! # What is promised
//! - When [`Logbook::append`] returns, the entry is on the disk and outlives a power cut, as far as the disk itself
//!   keeps its word: the rollback journal and the file are flushed, and so is the folder once the journal is gone.
//! - A process that is killed at any moment leaves a book in which the last entry is there whole, or not at all.
//! - An entry that a device sends twice under one id is written once.
//! - Triggers in the file refuse every change and every removal, whatever program asks.
//! - [`verify`] finds any flipped bit, torn page or lost sector that would change what an entry says.
//!
//! # What is not
//! The chain shows *accidents*: a torn copy, a bad sector, a program that wrote where it should not; with a noted head
//! also an old file put in the place of a newer one. It does not show *forgery*. Whoever can write the file can drop the triggers, write other entries and compute every hash anew;
//! there is no key in it. Only a head that was noted elsewhere tells such a book from the old one, and a book whose
//! tail was cut off.
//!
//! ```
//! use core::str::FromStr as _;
//! use records::logbook::{self, Data, Draft, Filter, EntryKind, Logbook, Stamp};
//!
//! # let folder = tempfile::tempdir()?;
//! # let path = folder.path().join("logbook.db");
//! let at = jiff::Timestamp::from_str("2026-05-01T07:30:00Z")?;
//! let stamp = |id: &str| Stamp::new(at, jiff::tz::Offset::constant(2), "bench", id);
//!
//! let mut book = Logbook::open_or_create(&path, logbook::WAIT)?;
//! let note = Draft { stamp: stamp("1")?, kind: EntryKind::Fluid, data: Data::with_text("changed, both circuits", None)? };
//! let entry = book.append(&note)?.entry;
//! assert_eq!(entry.id, 1);
//!
//! book.strike(1, "front circuit only", &stamp("2")?)?;
//! assert_eq!(book.list(&Filter::default())?[0].struck_by, Some(2));
//! assert!(logbook::verify(&path, logbook::WAIT, None)?.ok());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod chain;
mod data;
mod entry;
mod export;
mod file;
mod schema;
mod verify;

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OptionalExtension as _, Transaction, TransactionBehavior, params};

pub use crate::kind::{EntryKind, KindFault};
pub use data::{Data, LARGEST_DATA};
pub use entry::{Entry, Stamp};
pub use export::{write_csv, write_json};
pub use schema::newest as newest_format;
use verify::sound_entries;
pub use verify::{Flaw, HeadMark, Verified, verify};

use crate::save::{Target, flush_folder};
use crate::{Digest, Fault};
use chain::{FIRST, Row};

/// How long it is usually right to wait for another writer.
pub const WAIT: Duration = Duration::from_secs(5);

/// What is to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// When, where and by which device.
    pub stamp: Stamp,
    /// What kind of entry.
    pub kind: EntryKind,
    /// What it says.
    pub data: Data,
}

/// An entry that is on the disk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Appended {
    /// The entry.
    pub entry: Entry,
    /// Whether it was written now; otherwise the device had sent it before.
    pub fresh: bool,
}

/// Which entries are wanted. The default wants all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Filter {
    /// Only these kinds; all if there are none.
    pub kinds: Vec<EntryKind>,
    /// Only from this instant on.
    pub from: Option<jiff::Timestamp>,
    /// Only before this instant.
    pub before: Option<jiff::Timestamp>,
    /// Without those that were struck.
    pub hide_struck: bool,
    /// Only the newest so many of what is left.
    pub newest: Option<usize>,
}

/// A stretch of a logbook, from newer to older.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// The entries, the newest first.
    pub entries: Vec<Entry>,
    /// Whether older ones are wanted too.
    pub more: bool,
    /// How many entries were read for it.
    pub read: usize,
}

/// How far a logbook has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChainHead {
    /// How many entries there are.
    pub entries: i64,
    /// The newest one's hash; none while there is no entry.
    pub hash: Option<Digest>,
}

/// Waits for whoever writes in a logbook, and lets nobody begin until what is handed back is dropped; `None`: there is none.
/// Its folder may be moved meanwhile: SQLite names its journal by the path that it was opened under.
///
/// # Errors
/// As [`Logbook::open_if_there`]; somebody writes for longer than the wait.
pub(crate) fn held_still(path: &Path, wait: Duration) -> Result<Option<Connection>, Fault> {
    let Some(connection) = file::open(path, wait)? else {
        return Ok(None);
    };
    connection
        .execute_batch("BEGIN IMMEDIATE")
        .map_err(|source| file::fault("write to", path, source))?;
    Ok(Some(connection))
}

/// The newest entry's number and hash, looked at without the entries before it but the last: two books that have it in
/// common have all before it in common, as far as both are whole. Where there is no file, there is no entry.
///
/// # Errors
/// As [`Logbook::open_if_there`]; the newest entry does not follow from the one before.
pub fn newest(path: &Path, wait: Duration) -> Result<ChainHead, Fault> {
    let Some(connection) = file::open(path, wait)? else {
        return Ok(ChainHead {
            entries: 0,
            hash: None,
        });
    };
    let (entries, hash) = sound_end(&connection, path)?;
    Ok(ChainHead {
        entries,
        hash: (entries > 0).then_some(hash),
    })
}

/// An open logbook.
#[derive(Debug)]
pub struct Logbook {
    connection: Connection,
    path: PathBuf,
}

impl Logbook {
    /// Opens the logbook, or makes an empty one where there is none. It waits for other writers up to `wait`.
    ///
    /// # Errors
    /// It cannot be made or read; it is empty, no database, no logbook, of a newer format or damaged; its journal lies
    /// there without it.
    pub fn open_or_create(path: &Path, wait: Duration) -> Result<Self, Fault> {
        match Self::open_if_there(path, wait)? {
            Some(logbook) => Ok(logbook),
            None => {
                file::create(path)?;
                Self::open_if_there(path, wait)?.ok_or_else(|| Fault::Missing {
                    path: path.to_path_buf(),
                })
            }
        }
    }

    /// Opens the logbook if there is one: a car that nobody has written about has none.
    ///
    /// # Errors
    /// As [`open_or_create`](Self::open_or_create).
    pub fn open_if_there(path: &Path, wait: Duration) -> Result<Option<Self>, Fault> {
        let connection = file::open(path, wait)?;
        Ok(connection.map(|connection| Self {
            connection,
            path: path.to_path_buf(),
        }))
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes an entry. When this returns, it is on the disk.
    ///
    /// What the device has sent before, under the same id and with the same kind and data, is not written again: the
    /// entry that is there is handed back.
    ///
    /// # Errors
    /// The kind is one that the logbook writes itself; the device has used the id for something else; the newest
    /// entry is damaged; another writer for longer than the wait; no permission; disk full. Nothing is written then.
    pub fn append(&mut self, draft: &Draft) -> Result<Appended, Fault> {
        if !EntryKind::WRITTEN.contains(&draft.kind) {
            return Err(Fault::OwnKind { kind: draft.kind });
        }
        self.write(&draft.stamp, draft.kind, &draft.data, None)
    }

    /// Strikes entry `id`, saying why. It stays in the book, marked as struck by the entry that this writes.
    ///
    /// # Errors
    /// No reason; no such entry; struck before; a kind that cannot be struck; and as for [`append`](Self::append).
    pub fn strike(&mut self, id: i64, why: &str, stamp: &Stamp) -> Result<Appended, Fault> {
        if why.trim().is_empty() {
            return Err(Fault::NoReason);
        }
        self.write(
            stamp,
            EntryKind::Strike,
            &Data::with_text(why.trim(), None)?,
            Some(id),
        )
    }

    /// The first entry of a copied car's logbook.
    pub(crate) fn append_copied(&mut self, stamp: &Stamp, data: Data) -> Result<(), Fault> {
        self.write(stamp, EntryKind::Copied, &data, None).map(|_| ())
    }

    fn write(
        &mut self,
        stamp: &Stamp,
        kind: EntryKind,
        data: &Data,
        strikes: Option<i64>,
    ) -> Result<Appended, Fault> {
        let path = self.path.clone();
        let fault = |source| file::fault("write to", &path, source);
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(fault)?;
        if let Some(there) = sent_before(&transaction, &path, stamp)? {
            let same = (there.kind, &there.data, there.strikes) == (kind, data, strikes);
            drop(transaction);
            if !same {
                let (device, device_entry) = (there.device, there.device_entry);
                return Err(Fault::IdUsed {
                    device,
                    device_entry,
                    id: there.id,
                });
            }
            // Whoever wrote it may have been killed before the folder was flushed; the answer given now must hold.
            let folder = Target::of(&path)?;
            flush_folder(folder.folder()).map_err(|source| Fault::io("write to", &path, source))?;
            return Ok(Appended {
                entry: there,
                fresh: false,
            });
        }
        if let Some(id) = strikes {
            may_strike(&sound_entries(&transaction, &path)?, id)?;
        }
        let (last, before) = sound_end(&transaction, &path)?;
        let mut row = Row::new(last + 1, stamp, kind, data, strikes);
        row.hash = row.hash_after(before);
        transaction
            .execute(
                "INSERT INTO entry (id, at, zone, kind, data, strikes, device, device_entry, hash)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
                params![
                    row.id,
                    row.at,
                    row.zone,
                    row.kind,
                    row.data,
                    row.strikes,
                    row.device,
                    row.device_entry,
                    row.hash.as_bytes()
                ],
            )
            .map_err(fault)?;
        let entry = row.entry().map_err(|why| Fault::Damaged {
            path: path.clone(),
            entry: Some(row.id),
            why: format!("entry {}: {why}", row.id),
        })?;
        transaction.commit().map_err(fault)?;
        Ok(Appended { entry, fresh: true })
    }

    /// The entries that are wanted, in the order in which they were written.
    ///
    /// # Errors
    /// The file cannot be read, or something in it is damaged, wherever that is: all of it is looked at as [`verify`]
    /// looks at it.
    pub fn list(&self, filter: &Filter) -> Result<Vec<Entry>, Fault> {
        let mut entries = sound_entries(&self.connection, &self.path)?;
        entries.retain(|entry| {
            (filter.kinds.is_empty() || filter.kinds.contains(&entry.kind))
                && filter.from.is_none_or(|from| entry.at >= from)
                && filter.before.is_none_or(|before| entry.at < before)
                && !(filter.hide_struck && entry.struck_by.is_some())
        });
        if let Some(newest) = filter.newest {
            entries.drain(..entries.len().saturating_sub(newest));
        }
        Ok(entries)
    }

    /// At most so many entries of a kind, or of all, that are `wanted`, from the newest or from the one before `before`
    /// back. Each of them is held against its hash and the entry before it; the rest of the book is not read: whoever wants
    /// to be sure of all of it asks [`list`](Self::list) or [`verify`] first.
    ///
    /// # Errors
    /// The file cannot be read, or an entry that is wanted is damaged.
    pub fn stretch(
        &self,
        before: Option<i64>,
        kind: Option<EntryKind>,
        most: usize,
        wanted: &mut dyn FnMut(&Entry) -> bool,
    ) -> Result<Stretch, Fault> {
        let said = |source| file::fault("read", &self.path, source);
        let begun = self.connection.unchecked_transaction().map_err(said)?;
        let mut stretch = Stretch {
            entries: Vec::new(),
            more: false,
            read: 0,
        };
        let mut query = begun.prepare(chain::BACKWARDS).map_err(said)?;
        let mut rows = query
            .query(params![before.unwrap_or(i64::MAX), kind.map(EntryKind::as_str)])
            .map_err(said)?;
        while let Some(row) = rows.next().map_err(said)? {
            stretch.read += 1;
            let after: Option<[u8; 32]> = row.get(chain::HASH_BEFORE).map_err(said)?;
            let struck_by: Option<i64> = row.get(chain::STRUCK_BY).map_err(said)?;
            let row = Row::read(row).map_err(said)?;
            let after = after.map(Digest::from_bytes).or((row.id == 1).then_some(FIRST));
            let damaged = |why: String| Fault::Damaged {
                path: self.path.clone(),
                entry: Some(row.id),
                why,
            };
            if after.is_none_or(|after| row.hash_after(after) != row.hash) {
                return Err(damaged(Flaw::Hash { entry: row.id }.to_string()));
            }
            let entry = row
                .entry()
                .map_err(|why| damaged(format!("entry {}: {why}", row.id)))?;
            let entry = Entry { struck_by, ..entry };
            if wanted(&entry) {
                if stretch.entries.len() == most {
                    stretch.more = true;
                    break;
                }
                stretch.entries.push(entry);
            }
        }
        Ok(stretch)
    }

    /// How many entries there are, and the hash of the newest.
    ///
    /// # Errors
    /// As [`list`](Self::list).
    pub fn head(&self) -> Result<ChainHead, Fault> {
        let entries = sound_entries(&self.connection, &self.path)?;
        Ok(ChainHead {
            entries: entries.last().map_or(0, |entry| entry.id),
            hash: entries.last().map(|entry| entry.hash),
        })
    }
}

/// The entry that the device has sent under this id, if it has.
fn sent_before(transaction: &Transaction<'_>, path: &Path, stamp: &Stamp) -> Result<Option<Entry>, Fault> {
    let fault = |source| file::fault("read", path, source);
    let id = transaction
        .query_row(
            "SELECT id FROM entry WHERE device = ?1 AND device_entry = ?2",
            [stamp.device(), stamp.device_entry()],
            |row| row.get::<_, i64>(0),
        )
        .optional()
        .map_err(fault)?;
    let Some(id) = id else { return Ok(None) };
    // What is handed back as written has to be what was written.
    let entries = sound_entries(transaction, path)?;
    Ok(entries.into_iter().find(|entry| entry.id == id))
}

fn may_strike(entries: &[Entry], id: i64) -> Result<(), Fault> {
    let entry = entries
        .iter()
        .find(|entry| entry.id == id)
        .ok_or(Fault::NoSuchEntry { id })?;
    match entry.struck_by {
        _ if !EntryKind::WRITTEN.contains(&entry.kind) => Err(Fault::NotForStriking { id, kind: entry.kind }),
        Some(by) => Err(Fault::StruckBefore { id, by }),
        None => Ok(()),
    }
}

/// The newest entry's number and hash, once it is certain that it follows from the one before: a chain is not
/// continued from a damaged end.
fn sound_end(connection: &Connection, path: &Path) -> Result<(i64, Digest), Fault> {
    let newest = chain::newest(connection, path, 2)?;
    let Some(last) = newest.first() else {
        return Ok((0, FIRST));
    };
    let before = newest.get(1).map_or(FIRST, |row| row.hash);
    if last.hash_after(before) != last.hash {
        let why = Flaw::Hash { entry: last.id }.to_string();
        return Err(Fault::Damaged {
            path: path.to_path_buf(),
            entry: Some(last.id),
            why,
        });
    }
    Ok((last.id, last.hash))
}
