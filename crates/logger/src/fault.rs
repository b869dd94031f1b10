//! What keeps a log from being read.

use std::io;

use thiserror::Error;

/// The largest file that is read.
pub const MAX_BYTES: u64 = 1 << 30;
/// The most rows: two days at 100 a second.
pub const MAX_ROWS: usize = 17_280_000;
/// The longest line: a logger with a thousand channels stays far below.
pub(crate) const MAX_LINE: usize = 1 << 16;

/// What keeps a file from being read.
#[derive(Debug, Error)]
pub enum Fault {
    /// The file itself.
    #[error("the file stopped giving bytes: {0}")]
    File(#[from] io::Error),
    /// Nothing in it.
    #[error("the file is empty")]
    Empty,
    /// Two bytes a letter.
    #[error("the text is UTF-16; save it as UTF-8 or as plain CSV")]
    Utf16,
    /// No text at all.
    #[error("this is no text: byte 0 stands in it")]
    Binary,
    /// No column of time.
    #[error("no line names a column of time; the first with columns says: {}", .heads.join(", "))]
    NoTime {
        /// The first line's fields.
        heads: Vec<String>,
    },
    /// Nothing that could be asked.
    #[error("no column is of pressure, speed, acceleration or temperature with its unit: {}", .heads.join(", "))]
    NoColumns {
        /// The columns there are.
        heads: Vec<String>,
    },
    /// A unit that is none of its kind.
    #[error("column `{head}`: `{unit}` is no unit of {wanted}")]
    Unit {
        /// The column.
        head: String,
        /// As it is written.
        unit: String,
        /// What is wanted.
        wanted: &'static str,
    },
    /// The map names a channel that there is none of.
    #[error("the map says that `{head}` is `{said}`, which is none of the columns that are looked for")]
    NoChannel {
        /// The column.
        head: String,
        /// As it is written.
        said: String,
    },
    /// Too large.
    #[error("the file is larger than {} MB", MAX_BYTES >> 20)]
    TooLarge,
    /// Too many rows.
    #[error("the file has more than {MAX_ROWS} rows; cut it")]
    TooManyRows,
    /// A line without end.
    #[error("a line is longer than {} kB: is it a table of rows?", MAX_LINE >> 10)]
    LongLine,
    /// Names, and nothing below.
    #[error("below the names of the columns there are no figures")]
    NoRows,
}
