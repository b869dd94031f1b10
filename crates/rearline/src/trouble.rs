//! What is wrong with what was put in, or with a file: for a person, and in the shape that other programs read.

use core::ops::Range;

use unicode_width::UnicodeWidthStr;

use crate::ending::Stop;
use crate::print::ink;

/// What the command line is called where a file would be named.
pub(crate) const COMMAND_LINE: &str = "command line";

/// One thing that is wrong.
#[derive(Clone, Debug)]
pub(crate) struct Trouble {
    /// The file or the option that it stands in.
    pub(crate) file: String,
    /// Line and column, counted from 1; `None` where it concerns the whole.
    pub(crate) place: Option<(usize, usize)>,
    /// The key of the sheet that it concerns.
    pub(crate) key: Option<String>,
    /// Which fault it is, in a word that never changes.
    pub(crate) slug: String,
    /// What is wrong.
    pub(crate) text: String,
    /// What to do.
    pub(crate) remedy: String,
    /// All of that as a terminal shows it, with a line feed at its end.
    pub(crate) shown: String,
}

/// Everything that is wrong.
#[derive(Clone, Debug, Default)]
pub(crate) struct Wrong {
    /// What is told.
    pub(crate) troubles: Vec<Trouble>,
    /// How much more there is.
    pub(crate) more: usize,
}

impl Wrong {
    /// Something wrong with the text of an option; `span` is the part at fault, in bytes.
    pub(crate) fn option(
        option: &str,
        text: &str,
        span: Range<usize>,
        slug: &str,
        what: String,
        remedy: String,
    ) -> Self {
        let span = text.floor_char_boundary(span.start)..text.ceil_char_boundary(span.end);
        let (before, at) = (&text[..span.start], &text[span.clone()]);
        let quoted = printable(text);
        let column = before.chars().count() + 1;
        let carets =
            " ".repeat(printable(before).width()) + &ink::mark(&"^".repeat(printable(at).width().max(1)));
        let shown = format!(
            "{} {}\n{}\n{}\n      {}\n",
            ink::place(&format!("{option}:1:{column}:")),
            ink::heavy(&what),
            format_args!("{} {quoted}", ink::aside("    1 |")),
            format_args!("{} {carets}", ink::aside("      |")),
            ink::remedy(&remedy),
        );
        Trouble {
            file: option.to_owned(),
            place: Some((1, column)),
            key: None,
            slug: slug.to_owned(),
            text: what,
            remedy,
            shown,
        }
        .into()
    }

    /// An option whose quantity cannot be read.
    pub(crate) fn quantity(option: &str, text: &str, fault: &quantity::Fault) -> Self {
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
    pub(crate) fn plain(file: &str, slug: &str, what: String, remedy: String) -> Self {
        let shown = format!(
            "{} {}\n      {}\n",
            ink::place(&format!("{file}:")),
            ink::heavy(&what),
            ink::remedy(&remedy)
        );
        Trouble {
            file: file.to_owned(),
            place: None,
            key: None,
            slug: slug.to_owned(),
            text: what,
            remedy,
            shown,
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
    pub(crate) fn is_empty(&self) -> bool {
        self.troubles.is_empty()
    }

    /// Adds more.
    pub(crate) fn add(&mut self, other: Self) {
        self.troubles.extend(other.troubles);
        self.more += other.more;
    }

    /// Keeps what went well; notes what did not.
    pub(crate) fn note<T, W: Into<Self>>(&mut self, outcome: Result<T, W>) -> Option<T> {
        match outcome {
            Ok(value) => Some(value),
            Err(wrong) => {
                self.add(wrong.into());
                None
            }
        }
    }

    /// As a terminal shows it.
    pub(crate) fn shown(&self) -> String {
        let mut shown: String = self
            .troubles
            .iter()
            .map(|trouble| format!("{}\n", trouble.shown))
            .collect();
        if self.more > 0 {
            shown.push_str(&format!("and {} more\n", self.more));
        }
        shown.truncate(shown.trim_end().len());
        shown.push('\n');
        shown
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
            shown: format!("{}\n", problem.shown(sheet::Styles::coloured())),
        };
        Self {
            troubles: problems.shown().iter().map(trouble).collect(),
            more: problems.more(),
        }
    }
}

/// What the cars folder refused: wrong input or the disk's fault, as it says itself. `subject` is what was asked for.
pub(crate) fn of_records(subject: &str, fault: &records::Fault, remedy: Option<String>) -> Stop {
    let remedy = remedy.unwrap_or_else(|| fault.help());
    let trouble = Wrong::plain(subject, fault.slug(), fault.to_string(), remedy);
    if fault.is_wrong_input() {
        Stop::Wrong(trouble)
    } else {
        Stop::File(trouble)
    }
}

/// A text in which nothing moves the cursor.
fn printable(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { '␦' } else { c })
        .collect()
}
