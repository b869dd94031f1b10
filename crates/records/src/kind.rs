//! The kinds of entry in a logbook.

use core::fmt;
use core::str::FromStr;

use nearest::nearest_one;

/// The kinds of entry. The logbook does not read what they say; other rooms do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum EntryKind {
    /// Anything worth writing down.
    Note,
    /// The state of a joint.
    Joint,
    /// Something measured.
    Reading,
    /// A valve or bar setting.
    Setting,
    /// Fluid filled, changed or tested.
    Fluid,
    /// Pads fitted or measured.
    Pads,
    /// Something that went wrong.
    Fault,
    /// A signature.
    Signoff,
    /// Strikes an earlier entry. Written by [`Logbook::strike`](crate::logbook::Logbook::strike) only.
    Strike,
    /// Where a copied car came from. Written by [`Cars::copy`](crate::Cars::copy) only.
    Copied,
}

impl EntryKind {
    /// The kinds that are written on request.
    pub const WRITTEN: [Self; 8] = [
        Self::Note,
        Self::Joint,
        Self::Reading,
        Self::Setting,
        Self::Fluid,
        Self::Pads,
        Self::Fault,
        Self::Signoff,
    ];

    /// The kind as it is written in the file.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Joint => "joint",
            Self::Reading => "reading",
            Self::Setting => "setting",
            Self::Fluid => "fluid",
            Self::Pads => "pads",
            Self::Fault => "fault",
            Self::Signoff => "signoff",
            Self::Strike => "strike",
            Self::Copied => "copied",
        }
    }
}

impl fmt::Display for EntryKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// A word that is no kind of entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KindFault {
    /// As it was given.
    pub given: String,
    /// The kind that was most likely meant.
    pub nearest: Option<&'static str>,
}

impl FromStr for EntryKind {
    type Err = KindFault;

    fn from_str(given: &str) -> Result<Self, KindFault> {
        let all = Self::WRITTEN.into_iter().chain([Self::Strike, Self::Copied]);
        all.into_iter()
            .find(|kind| kind.as_str() == given)
            .ok_or_else(|| KindFault {
                given: given.to_owned(),
                nearest: nearest_one(given, Self::WRITTEN.iter().map(|kind| kind.as_str())),
            })
    }
}
