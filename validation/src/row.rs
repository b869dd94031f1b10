use core::fmt;

use serde::Deserialize;

/// How far an expected figure can be trusted to be the source's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Status {
    /// Seen in a copy of the source.
    #[serde(rename = "read in the source")]
    Read,
    /// Recalled, not seen this time.
    #[serde(rename = "from memory")]
    Memory,
    /// Our own arithmetic from inputs of the source.
    #[serde(rename = "recomputed")]
    Recomputed,
    /// What the trade knows.
    #[serde(rename = "common practice, no source")]
    Trade,
}

impl Status {
    /// All of them, the most trusted first.
    pub const ALL: [Self; 4] = [Self::Read, Self::Recomputed, Self::Memory, Self::Trade];
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Read => "read",
            Self::Memory => "memory",
            Self::Recomputed => "recomputed",
            Self::Trade => "practice",
        })
    }
}

/// One figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What was looked at.
    pub quantity: String,
    /// How far the expected figure can be trusted.
    pub status: Status,
    /// What the source has, with its unit.
    pub expected: String,
    /// What our code has.
    pub got: String,
    /// The difference.
    pub off_by: String,
    /// What the difference may be.
    pub allowed: String,
    /// Why so much is allowed.
    pub because: String,
    /// Whether it is no more.
    pub passed: bool,
    /// Why it can hardly fail, where it cannot: it restates what was put in, bounds on one side alone, or looks at the
    /// check's own means. Such a row is shown and not counted.
    pub definition: Option<String>,
    /// Why it is known to be off, where it is; such a row passes only while it is.
    pub known_failure: Option<String>,
}

impl Row {
    /// Whether it is counted: it can fail.
    #[must_use]
    pub const fn counts(&self) -> bool {
        self.definition.is_none()
    }

    /// Whether the run may end well: it agrees, or is known not to.
    #[must_use]
    pub const fn holds(&self) -> bool {
        self.passed != self.known_failure.is_some()
    }
}

/// All figures of one source.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Folder of the source.
    pub folder: &'static str,
    /// The source, as cited.
    pub source: String,
    /// How far what was put in is the source's own.
    pub inputs_are: Option<Status>,
    /// What else should be known.
    pub note: Option<String>,
    /// Its figures.
    pub rows: Vec<Row>,
}
