//! The build book: everything that was answered of a car on one day, for a press that makes one PDF of it. With it the dash
//! card, the two pages that a scrutineer asks for first, and the sheets that are filled in by hand.
//!
//! It computes nothing and says nothing of its own that another room says: it asks the questions and prints their
//! [`Report`](questions::report::Report)s. `contents` decides what stands where, as plain data; `written` names that as the
//! press's template knows it. What people wrote reaches the press as values, never as markup.
//!
//! The same sheet, logbook, day, units, paper and build give the same bytes on one machine: nothing here reads a clock, a
//! file of its own, or a font that is not in the program.

mod contents;
mod document;
mod written;

use std::path::Path;

use engine::car::Date;
use manuscript::Manuscript;
use questions::Stop;
use wording::Units;

pub use document::Paper;

/// What is to be printed.
#[derive(Clone, Copy, Debug)]
pub struct Edition<'a> {
    /// The cars folder.
    pub cars: &'a Path,
    /// The car: its name there, or the path of a sheet.
    pub car: &'a str,
    /// The day that it is printed on: fluid ages, and things fall due.
    pub day: Date,
    /// The units that the person reads in.
    pub units: Units,
    /// On what.
    pub paper: Paper,
    /// The program with its build, as the PDF's properties name it: it begins with [`MARK`].
    pub maker: &'a str,
}

/// What begins the name of the program that made a book.
pub const MARK: &str = "rearline ";

/// How that stands among the properties of a PDF: a file that carries it may be replaced.
const CREATOR: &str = "/Creator(rearline ";

/// What begins the word in a book's properties that names its sheet; the digest follows.
const OF_SHEET: &str = "sheet-sha256:";

/// The book of a car as its sheet has it, for the press.
///
/// # Errors
/// The car is not there, or its sheet does not read.
pub fn manuscript(edition: &Edition<'_>) -> Result<Manuscript, Stop> {
    Ok(written::of(&contents::of(edition)?, edition.maker))
}

/// Whether a file is a book that this program printed, by the end of it: there a PDF has its properties.
#[must_use]
pub fn is_ours(end: &[u8]) -> bool {
    find(end, CREATOR.as_bytes()).is_some()
}

/// The digest of the sheet that a printed book was made of, in hexadecimal, by the end of it.
#[must_use]
pub fn sheet_of(end: &[u8]) -> Option<String> {
    let at = find(end, OF_SHEET.as_bytes())? + OF_SHEET.len();
    let digits = end[at..].iter().take_while(|byte| byte.is_ascii_hexdigit());
    let digest: String = digits.map(|byte| char::from(*byte)).collect();
    (digest.len() == 64).then_some(digest)
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|window| window == wanted)
}
