//! What is wrong with what was put in, or with a file: for a person, and in the shape that other programs read.

use core::ops::Range;
use std::io;
use std::path::Path;

/// One thing that is wrong.
#[derive(Clone, Debug)]
pub struct Trouble {
    /// The file or the option that it stands in.
    pub file: String,
    /// Line and column, counted from 1; `None` where it concerns the whole.
    pub place: Option<(usize, usize)>,
    /// The key of the sheet that it concerns.
    pub key: Option<String>,
    /// Which fault it is, in a word that never changes.
    pub slug: String,
    /// What is wrong.
    pub text: String,
    /// What to do.
    pub remedy: String,
    /// What there is to show beside it.
    pub shown: Quotation,
}

/// What can be shown beside something that is wrong.
#[derive(Clone, Debug)]
pub enum Quotation {
    /// Nothing more.
    Nothing,
    /// The text of an option, and the part at fault in bytes.
    Option {
        /// The whole text.
        text: String,
        /// The part at fault.
        span: Range<usize>,
    },
    /// A place on a sheet.
    Sheet(Box<sheet::Problem>),
    /// Said by whoever found it, for a terminal.
    Said(String),
}

/// What keeps a question from being answered.
#[derive(Clone, Debug)]
pub enum Stop {
    /// Something that was put in is wrong.
    Wrong(Wrong),
    /// A file or the disk would not do.
    File(Wrong),
}

impl Stop {
    /// A file or folder, and what the system said while `doing` something with it.
    #[must_use]
    pub fn file(path: &Path, doing: &str, source: &io::Error) -> Self {
        let what = format!("it cannot be {doing}: {source}");
        let remedy = "look whether the path is right, and who may do that there".to_owned();
        Self::File(Wrong::plain(&path.display().to_string(), "disk", what, remedy))
    }
}

impl From<Wrong> for Stop {
    fn from(wrong: Wrong) -> Self {
        Self::Wrong(wrong)
    }
}

/// Everything that is wrong.
#[derive(Clone, Debug, Default)]
pub struct Wrong {
    /// What is told.
    pub troubles: Vec<Trouble>,
    /// How much more there is.
    pub more: usize,
}

impl Wrong {
    /// Something wrong with the text of an option; `span` is the part at fault, in bytes.
    #[must_use]
    pub fn option(
        option: &str,
        text: &str,
        span: Range<usize>,
        slug: &str,
        what: String,
        remedy: String,
    ) -> Self {
        let span = text.floor_char_boundary(span.start)..text.ceil_char_boundary(span.end);
        let column = text[..span.start].chars().count() + 1;
        Trouble {
            file: option.to_owned(),
            place: Some((1, column)),
            key: None,
            slug: slug.to_owned(),
            text: what,
            remedy,
            shown: Quotation::Option {
                text: text.to_owned(),
                span,
            },
        }
        .into()
    }

    /// An option whose quantity cannot be read.
    #[must_use]
    pub fn quantity(option: &str, text: &str, fault: &quantity::Fault) -> Self {
        Self::option(
            option,
            text,
            fault.span(),
            fault.slug(),
            fault.to_string(),
            fault.help(),
        )
    }

    /// Something wrong with no text to point at.
    #[must_use]
    pub fn plain(file: &str, slug: &str, what: String, remedy: String) -> Self {
        Trouble {
            file: file.to_owned(),
            place: None,
            key: None,
            slug: slug.to_owned(),
            text: what,
            remedy,
            shown: Quotation::Nothing,
        }
        .into()
    }
}

impl From<Trouble> for Wrong {
    fn from(trouble: Trouble) -> Self {
        Self {
            troubles: vec![trouble],
            more: 0,
        }
    }
}

impl Wrong {
    /// Whether nothing is.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.troubles.is_empty()
    }

    /// Adds more.
    pub fn add(&mut self, other: Self) {
        self.troubles.extend(other.troubles);
        self.more += other.more;
    }

    /// Adds what is not said yet.
    pub fn add_what_is_new(&mut self, other: Self) {
        for trouble in other.troubles {
            let said = |known: &Trouble| known.file == trouble.file && known.text == trouble.text;
            if !self.troubles.iter().any(said) {
                self.troubles.push(trouble);
            }
        }
        self.more += other.more;
    }

    /// Keeps what went well; notes what did not.
    pub fn note<T, W: Into<Self>>(&mut self, outcome: Result<T, W>) -> Option<T> {
        match outcome {
            Ok(value) => Some(value),
            Err(wrong) => {
                self.add(wrong.into());
                None
            }
        }
    }
}

impl From<sheet::Problem> for Wrong {
    fn from(problem: sheet::Problem) -> Self {
        Self::from(sheet::Problems::from(problem))
    }
}

impl From<sheet::Problems> for Wrong {
    fn from(problems: sheet::Problems) -> Self {
        let trouble = |problem: &sheet::Problem| Trouble {
            file: problem.file.to_string(),
            place: Some((problem.line, problem.column)),
            key: problem.key.clone(),
            slug: problem.slug().to_owned(),
            text: problem.text(),
            remedy: problem.remedy(),
            shown: Quotation::Sheet(Box::new(problem.clone())),
        };
        Self {
            troubles: problems.shown().iter().map(trouble).collect(),
            more: problems.more(),
        }
    }
}

/// What the cars folder refused: wrong input or the disk's fault, as it says itself. `subject` is what was asked for.
#[must_use]
pub fn of_records(subject: &str, fault: &records::Fault, remedy: Option<String>) -> Stop {
    let remedy = remedy.unwrap_or_else(|| fault.help());
    let trouble = Wrong::plain(subject, fault.slug(), fault.to_string(), remedy);
    if fault.is_wrong_input() {
        Stop::Wrong(trouble)
    } else {
        Stop::File(trouble)
    }
}
