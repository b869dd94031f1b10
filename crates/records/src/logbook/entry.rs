//! What an entry is.

use jiff::Timestamp;
use jiff::tz::Offset;
use serde::Serialize;
use serde::ser::{SerializeStruct as _, Serializer};

use super::Data;
use crate::kind::EntryKind;
use crate::{Digest, Fault, fault};

/// When an entry was made, and by which device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    at: Timestamp,
    offset: Offset,
    device: String,
    device_entry: String,
}

impl Stamp {
    /// The instant, the writer's offset from UTC, the device's id and the id that the device gave the entry. A device
    /// that is not sure whether an entry arrived sends it again under the same id.
    ///
    /// # Errors
    /// [`Fault::Id`] if an id is not 1 to 64 of `A-Z a-z 0-9 . _ : -`.
    pub fn new(at: Timestamp, offset: Offset, device: &str, device_entry: &str) -> Result<Self, Fault> {
        let checked = |given: &str, what| {
            let fits = |byte: u8| byte.is_ascii_alphanumeric() || b"._:-".contains(&byte);
            if (1..=64).contains(&given.len()) && given.bytes().all(fits) {
                Ok(given.to_owned())
            } else {
                Err(Fault::Id {
                    given: fault::cut(given),
                    what,
                })
            }
        };
        Ok(Self {
            at,
            offset,
            device: checked(device, "a device's id")?,
            device_entry: checked(device_entry, "an entry's id")?,
        })
    }

    /// The instant.
    pub fn at(&self) -> Timestamp {
        self.at
    }

    /// The writer's offset from UTC.
    pub fn offset(&self) -> Offset {
        self.offset
    }

    /// The device's id.
    pub fn device(&self) -> &str {
        &self.device
    }

    /// The id that the device gave the entry.
    pub fn device_entry(&self) -> &str {
        &self.device_entry
    }
}

/// An entry of the logbook.
///
/// Serialised, it is the object that programs read: `id`, `at` (RFC 3339, UTC), `zone` (`+02:00`), `kind`, `data`,
/// `strikes`, `struck_by`, `device`, `device_entry`, `hash`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its number, from 1 without a gap.
    pub id: i64,
    /// The instant.
    pub at: Timestamp,
    /// The writer's offset from UTC.
    pub offset: Offset,
    /// What kind of entry.
    pub kind: EntryKind,
    /// What it says.
    pub data: Data,
    /// The entry that this one strikes.
    pub strikes: Option<i64>,
    /// The later entry that strikes this one. Not stored: it follows from the other.
    pub struck_by: Option<i64>,
    /// The device that wrote it.
    pub device: String,
    /// The id that the device gave it.
    pub device_entry: String,
    /// The SHA-256 hash of all that is stored of it and of the hash before.
    pub hash: Digest,
}

impl Entry {
    /// The writer's offset as it is written: `+02:00`.
    pub fn zone(&self) -> String {
        zone(self.offset)
    }
}

impl Serialize for Entry {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut object = serializer.serialize_struct("Entry", 10)?;
        object.serialize_field("id", &self.id)?;
        object.serialize_field("at", &self.at.to_string())?;
        object.serialize_field("zone", &self.zone())?;
        object.serialize_field("kind", self.kind.as_str())?;
        object.serialize_field("data", &self.data)?;
        object.serialize_field("strikes", &self.strikes)?;
        object.serialize_field("struck_by", &self.struck_by)?;
        object.serialize_field("device", &self.device)?;
        object.serialize_field("device_entry", &self.device_entry)?;
        object.serialize_field("hash", &self.hash)?;
        object.end()
    }
}

/// An offset as it is written: sign, hours and minutes, and seconds where there are any.
pub(super) fn zone(offset: Offset) -> String {
    let sign = if offset.seconds() < 0 { '-' } else { '+' };
    let seconds = offset.seconds().unsigned_abs();
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match seconds {
        0 => format!("{sign}{hours:02}:{minutes:02}"),
        _ => format!("{sign}{hours:02}:{minutes:02}:{seconds:02}"),
    }
}

/// The offset that was written so, and in no other way.
pub(super) fn offset(zone_text: &str) -> Option<Offset> {
    let (sign, rest) = match zone_text.split_at_checked(1)? {
        ("+", rest) => (1, rest),
        ("-", rest) => (-1, rest),
        _ => return None,
    };
    let mut seconds = 0;
    let mut worth = 3600;
    for part in rest.split(':') {
        seconds += worth * part.parse::<i32>().ok().filter(|part| (0..60).contains(part))?;
        worth /= 60;
    }
    Offset::from_seconds(sign * seconds)
        .ok()
        .filter(|&offset| zone(offset) == zone_text)
}
