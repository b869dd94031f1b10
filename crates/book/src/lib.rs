//! The build book: everything that was answered of a car, printed on one day, as a PDF that stands alone. With it the dash
//! card, the two pages that a scrutineer asks for first, and the sheets that are filled in by hand.
//!
//! It computes nothing and says nothing of its own that another room says: it asks the questions and prints their
//! [`Report`](questions::report::Report)s. `contents` decides what stands where, as plain data; `typeset` makes a PDF
//! of that. What people wrote reaches the typesetter as values, never as markup.
//!
//! The same sheet, logbook, day, units, paper and build give the same bytes on one machine: nothing here reads a clock, a
//! file of its own, or a font that is not in the program.

mod contents;
mod document;
mod typeset;

use std::path::Path;

use engine::car::Date;
use questions::Stop;
use thiserror::Error;
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

/// A printed book.
#[derive(Clone, Debug)]
pub struct Book {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}

/// What begins the name of the program that made a book.
pub const MARK: &str = "rearline ";

/// How that stands among the properties of a PDF: a file that carries it may be replaced.
const CREATOR: &str = "/Creator(rearline ";

/// What begins the word in a book's properties that names its sheet; the digest follows.
const OF_SHEET: &str = "sheet-sha256:";

/// The typesetter refused: a fault of this program, never of a sheet.
#[derive(Debug, Error)]
#[error("the book could not be set: {0}")]
pub struct NotPrinted(String);

/// Why there is no book.
#[derive(Debug, Error)]
pub enum Unprinted {
    /// The car cannot be opened.
    #[error("the car cannot be opened")]
    Car(Stop),
    /// A fault of this program.
    #[error(transparent)]
    Typesetter(#[from] NotPrinted),
}

/// Prints the book of a car as its sheet has it.
///
/// # Errors
/// The car is not there or its sheet does not read; or, which is a fault of this program, the typesetter refused.
pub fn print(edition: &Edition<'_>) -> Result<Book, Unprinted> {
    let document = contents::of(edition).map_err(Unprinted::Car)?;
    Ok(typeset::pdf(&document, edition.maker)?)
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
