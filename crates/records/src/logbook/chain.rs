//! An entry as it is stored, and the hash that chains it to the one before.
//!
//! The hash is SHA-256 over, in this order: the 32 bytes of the hash before (zeros before the first entry), the
//! number of the entry as 8 bytes, big end first; then `at`, `zone`, `kind`, `data`, `device` and `device_entry`, each
//! as its length in bytes (8 bytes, big end first) and its UTF-8; then one byte 0, or one byte 1 and the 8 bytes of
//! the number of the entry that it strikes. The lengths keep two entries from having the same bytes.

use std::path::Path;

use jiff::Timestamp;
use rusqlite::{Connection, Row as SqlRow};
use sha2::{Digest as _, Sha256};

use super::entry::{self, Entry, Stamp};
use super::{Data, file};
use crate::kind::EntryKind;
use crate::{Digest, Fault};

/// What stands before the first entry.
pub(super) const FIRST: Digest = Digest::from_bytes([0; 32]);

/// The columns that [`Row::read`] reads.
pub(super) const SELECT: &str =
    "SELECT id, at, zone, kind, data, strikes, device, device_entry, hash FROM entry";

/// The same backwards, with the hash of the entry before and the one that strikes it: entries before ?1, of the kind ?2 or of
/// all.
pub(super) const BACKWARDS: &str = "SELECT id, at, zone, kind, data, strikes, device, device_entry, hash,
    (SELECT earlier.hash FROM entry AS earlier WHERE earlier.id = entry.id - 1),
    (SELECT later.id FROM entry AS later WHERE later.strikes = entry.id)
    FROM entry WHERE id < ?1 AND (?2 IS NULL OR kind = ?2) ORDER BY id DESC";

/// Column of [`BACKWARDS`] with the hash of the entry before.
pub(super) const HASH_BEFORE: usize = 9;
/// Column of [`BACKWARDS`] with the number of the entry that strikes it.
pub(super) const STRUCK_BY: usize = 10;

/// An entry as it is stored.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) id: i64,
    pub(super) at: String,
    pub(super) zone: String,
    pub(super) kind: String,
    pub(super) data: String,
    pub(super) strikes: Option<i64>,
    pub(super) device: String,
    pub(super) device_entry: String,
    pub(super) hash: Digest,
}

impl Row {
    /// A new row, whose hash is still to be computed.
    pub(super) fn new(id: i64, stamp: &Stamp, kind: EntryKind, data: &Data, strikes: Option<i64>) -> Self {
        Self {
            id,
            at: stamp.at().to_string(),
            zone: entry::zone(stamp.offset()),
            kind: kind.as_str().to_owned(),
            data: data.as_str().to_owned(),
            strikes,
            device: stamp.device().to_owned(),
            device_entry: stamp.device_entry().to_owned(),
            hash: FIRST,
        }
    }

    pub(super) fn read(row: &SqlRow<'_>) -> rusqlite::Result<Self> {
        Ok(Self {
            id: row.get(0)?,
            at: row.get(1)?,
            zone: row.get(2)?,
            kind: row.get(3)?,
            data: row.get(4)?,
            strikes: row.get(5)?,
            device: row.get(6)?,
            device_entry: row.get(7)?,
            hash: Digest::from_bytes(row.get(8)?),
        })
    }

    /// The hash that the row must have after one with the hash `before`.
    pub(super) fn hash_after(&self, before: Digest) -> Digest {
        let mut hasher = Sha256::new();
        hasher.update(before.as_bytes());
        hasher.update(self.id.to_be_bytes());
        for text in [
            &self.at,
            &self.zone,
            &self.kind,
            &self.data,
            &self.device,
            &self.device_entry,
        ] {
            // A length in memory always fits: nothing is cut.
            hasher.update(u64::try_from(text.len()).unwrap_or(u64::MAX).to_be_bytes());
            hasher.update(text);
        }
        match self.strikes {
            None => hasher.update([0]),
            Some(id) => {
                hasher.update([1]);
                hasher.update(id.to_be_bytes());
            }
        }
        Digest::from_bytes(hasher.finalize().into())
    }

    /// The entry, but for who strikes it; or what in the row makes no sense.
    pub(super) fn entry(&self) -> Result<Entry, String> {
        let wrong = |what: &str| format!("its {what} makes no sense");
        let at: Timestamp = self.at.parse().map_err(|_| wrong("instant"))?;
        if at.to_string() != self.at {
            return Err(wrong("instant"));
        }
        let kind: EntryKind = self.kind.parse().map_err(|_| wrong("kind"))?;
        if (kind == EntryKind::Strike) != self.strikes.is_some() {
            return Err(wrong("strike"));
        }
        Ok(Entry {
            id: self.id,
            at,
            offset: entry::offset(&self.zone).ok_or_else(|| wrong("zone"))?,
            kind,
            data: Data::parse(&self.data).map_err(|_| wrong("data"))?,
            strikes: self.strikes,
            struck_by: None,
            device: self.device.clone(),
            device_entry: self.device_entry.clone(),
            hash: self.hash,
        })
    }
}

/// The newest so many rows, the newest first.
pub(super) fn newest(connection: &Connection, path: &Path, many: u8) -> Result<Vec<Row>, Fault> {
    let fault = |source| file::fault("read", path, source);
    let mut query = connection
        .prepare(&format!("{SELECT} ORDER BY id DESC LIMIT ?1"))
        .map_err(fault)?;
    let rows = query.query_map([many], Row::read).map_err(fault)?;
    rows.collect::<rusqlite::Result<_>>().map_err(fault)
}
