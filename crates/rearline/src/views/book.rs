//! What `build-book` printed, as other programs read it.

use std::path::Path;

use book::Paper;
use manuscript::Printed;
use records::Digest;
use schemars::JsonSchema;
use serde::Serialize;

use super::CONTRACT;

/// A book that was printed.
#[derive(Serialize, JsonSchema)]
pub(crate) struct BookView {
    /// Rises when a key changes its meaning.
    contract: u32,
    /// The program's version.
    rearline: &'static str,
    verb: &'static str,
    car: String,
    /// Where it is.
    path: String,
    pages: usize,
    /// A4 or Letter.
    paper: &'static str,
    /// Digest of the PDF.
    sha256: String,
    /// Digest of the sheet that it was made of.
    sheet_sha256: String,
}

impl BookView {
    pub(crate) fn of(verb: &'static str, car: &str, path: &Path, book: &Printed, paper: Paper) -> Self {
        Self {
            contract: CONTRACT,
            rearline: env!("CARGO_PKG_VERSION"),
            verb,
            car: car.to_owned(),
            path: path.display().to_string(),
            pages: book.pages,
            paper: paper.name(),
            sha256: Digest::of(&book.bytes).to_string(),
            sheet_sha256: book::sheet_of(&book.bytes).unwrap_or_default(),
        }
    }
}
