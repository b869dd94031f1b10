//! How the two programs speak: a manuscript goes in as JSON; a line with the number of pages comes out, then the PDF. A
//! press that refuses writes nothing out, and says why in one line of JSON where a program tells its faults.

use std::io::{self, BufRead, BufReader, Read, Write};

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::Manuscript;

/// A PDF has no more pages than this has digits.
const MOST_DIGITS: u64 = 20;

/// A book that was set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}

/// Why a press set nothing.
#[derive(Clone, Debug, PartialEq, Eq, Error, Serialize, Deserialize)]
pub enum Refused {
    /// The press is of another version than what wrote the manuscript.
    #[error("the press is of version {press}, the program of {program}")]
    OtherVersion {
        /// The press's version.
        press: String,
        /// The version that wrote the manuscript.
        program: String,
    },
    /// What came in is no manuscript.
    #[error("what the press was handed is no manuscript: {0}")]
    NoManuscript(String),
    /// The typesetter refused: a fault of this program, never of a sheet.
    #[error("the book could not be set: {0}")]
    NotSet(String),
}

/// What came out of a press is no book.
#[derive(Debug, Error)]
pub enum NotHanded {
    /// The number of pages is missing.
    #[error("the press ended before the book did")]
    Short,
    /// It could not be read or written.
    #[error(transparent)]
    Broken(#[from] io::Error),
}

impl Manuscript {
    /// Writes it for a press.
    ///
    /// # Errors
    /// It could not be written.
    pub fn hand_over(&self, to: impl Write) -> io::Result<()> {
        Ok(serde_json::to_writer(to, self)?)
    }

    /// Reads what a press was handed.
    ///
    /// # Errors
    /// It is no manuscript, or could not be read.
    pub fn taken(from: impl Read) -> Result<Self, Refused> {
        serde_json::from_reader(BufReader::new(from))
            .map_err(|fault| Refused::NoManuscript(fault.to_string()))
    }
}

impl Printed {
    /// Writes it for whoever asked.
    ///
    /// # Errors
    /// It could not be written.
    pub fn hand_back(&self, mut to: impl Write) -> io::Result<()> {
        writeln!(to, "{}", self.pages)?;
        to.write_all(&self.bytes)?;
        to.flush()
    }

    /// Reads what a press handed back.
    ///
    /// # Errors
    /// It is no book, or could not be read.
    pub fn taken(from: impl Read) -> Result<Self, NotHanded> {
        let mut from = BufReader::new(from);
        let mut pages = String::new();
        from.by_ref().take(MOST_DIGITS + 1).read_line(&mut pages)?;
        let pages = pages
            .strip_suffix('\n')
            .and_then(|pages| pages.parse().ok())
            .ok_or(NotHanded::Short)?;
        let mut bytes = Vec::new();
        from.read_to_end(&mut bytes)?;
        Ok(Self { bytes, pages })
    }
}

impl Refused {
    /// As one line of JSON.
    #[must_use]
    pub fn line(&self) -> String {
        serde_json::to_string(self).unwrap_or_else(|_| self.to_string())
    }

    /// Finds that line among what a press told.
    #[must_use]
    pub fn told(text: &str) -> Option<Self> {
        text.lines()
            .rev()
            .find_map(|line| serde_json::from_str(line).ok())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Matter, code, group, in_a_column, list, text, unset};

    fn manuscript() -> Manuscript {
        Manuscript {
            version: "0".to_owned(),
            maker: "test".to_owned(),
            identity: "this".to_owned(),
            template: "#let book = 1".to_owned(),
            book: group([
                (
                    "words",
                    list([
                        text("a \"b\" \\ \u{202e}"),
                        code("x"),
                        in_a_column("y"),
                        unset("z"),
                    ]),
                ),
                ("bar", Matter::Number(0.1 + 0.2)),
                ("whole", Matter::Whole(i64::MIN)),
                ("sign", Matter::Sign('µ')),
                ("drawing", Matter::Drawing("<svg/>".to_owned())),
                ("so", Matter::Whether(true)),
                ("none", Matter::Nothing),
            ]),
        }
    }

    #[test]
    fn a_manuscript_arrives_as_it_left() {
        let mut handed = Vec::new();
        manuscript().hand_over(&mut handed).unwrap();
        assert_eq!(Manuscript::taken(handed.as_slice()), Ok(manuscript()));
        let cut = &handed[..handed.len() - 1];
        assert!(matches!(Manuscript::taken(cut), Err(Refused::NoManuscript(_))));
    }

    #[test]
    fn a_book_arrives_as_it_left_and_half_a_line_is_none() {
        let printed = Printed {
            bytes: b"%PDF-1.7\n41\n\0\xff".to_vec(),
            pages: 41,
        };
        let mut handed = Vec::new();
        printed.hand_back(&mut handed).unwrap();
        assert_eq!(Printed::taken(handed.as_slice()).unwrap(), printed);
        for short in [&b""[..], b"4", b"four\n%PDF", b"-1\n"] {
            assert!(
                matches!(Printed::taken(short), Err(NotHanded::Short)),
                "{short:?}"
            );
        }
    }

    #[test]
    fn a_refusal_is_found_behind_what_else_was_told() {
        let refused = Refused::NotSet("book.typ:3: no \"such\" thing".to_owned());
        let told = format!("something else\n{}\n", refused.line());
        assert_eq!(Refused::told(&told), Some(refused));
        assert_eq!(Refused::told("thread panicked"), None);
    }
}
