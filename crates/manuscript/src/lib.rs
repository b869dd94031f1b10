//! What the press of the build book is handed, and what it hands back.
//!
//! The press (`rearline-press`) is a program of its own, because its typesetter takes longer to build than everything else
//! together: whoever asks a question waits for none of it. It knows nothing of cars. A book reaches it as values under names,
//! which its template prints; a text is a value, never markup.

mod handed;
mod matter;

pub use handed::{NotHanded, Printed, Refused};
pub use matter::{Matter, WordBreaks, code, group, in_a_column, list, text, unset};

use serde::{Deserialize, Serialize};

/// The press's program, which lies beside that of the terminal and the page.
pub const PROGRAM: &str = "rearline-press";

/// The families of the fonts that the press has, with the terms of each as people name them.
pub const FAMILIES: [(&str, &str); 3] = [
    ("Libertinus Serif", "SIL Open Font License, version 1.1"),
    (
        "DejaVu Sans Mono",
        "the terms of Bitstream Vera and Arev; the changes to them are free of any",
    ),
    ("New Computer Modern Math", "GUST Font License, version 1.0"),
];

/// A book before it is set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Manuscript {
    /// Version of the program that wrote it: a press of another one may not read it as it is meant, and refuses.
    pub version: String,
    /// The program with its build, as the PDF's properties name it.
    pub maker: String,
    /// What tells it from every other book: its PDF's identity is made of that.
    pub identity: String,
    /// How it looks: the only text that the typesetter reads as markup. It comes with the book, so that no press has an older
    /// one.
    pub template: String,
    /// What the template prints.
    pub book: Matter,
}

impl Manuscript {
    /// How many parts the book has.
    #[must_use]
    pub fn parts(&self) -> usize {
        match &self.book {
            Matter::Group(named) => match named.get("parts") {
                Some(Matter::List(parts)) => parts.len(),
                _ => 0,
            },
            _ => 0,
        }
    }
}
