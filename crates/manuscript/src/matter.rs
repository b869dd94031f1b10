//! Texts, figures and groups of them, as the template prints them.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// What the template prints.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Matter {
    /// Nothing stands there.
    Nothing,
    /// Whether something is so.
    Whether(bool),
    /// A whole number.
    Whole(i64),
    /// A number, as a bar is drawn with it.
    Number(f64),
    /// A text, and where a long word of it may be broken.
    Text(String, WordBreaks),
    /// One letter that stands for a quantity in a formula.
    Sign(char),
    /// A drawing, as SVG.
    Drawing(String),
    /// Several.
    List(Vec<Matter>),
    /// Several by their names.
    Group(BTreeMap<String, Matter>),
}

/// After how many letters a word may be broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum WordBreaks {
    /// So that it fits beside a name, and into a head.
    InALine,
    /// Where a machine reads it: the digest of a file stands in a line.
    AsCode,
    /// In a column of a table.
    InAColumn,
    /// Nowhere: it is set in no line.
    Never,
}

/// Values by their names.
#[must_use]
pub fn group<const N: usize>(pairs: [(&str, Matter); N]) -> Matter {
    let named = pairs.into_iter().map(|(name, value)| (name.to_owned(), value));
    Matter::Group(named.collect())
}

/// Several values.
#[must_use]
pub fn list(values: impl IntoIterator<Item = Matter>) -> Matter {
    Matter::List(values.into_iter().collect())
}

/// A text.
#[must_use]
pub fn text(said: &str) -> Matter {
    Matter::Text(said.to_owned(), WordBreaks::InALine)
}

/// What a machine reads, in narrow letters.
#[must_use]
pub fn code(said: &str) -> Matter {
    group([("code", Matter::Text(said.to_owned(), WordBreaks::AsCode))])
}

/// A text for the properties of the file, where nothing is set in lines.
#[must_use]
pub fn unset(said: &str) -> Matter {
    Matter::Text(said.to_owned(), WordBreaks::Never)
}

/// A text in a column of a table, which has less room for a long word.
#[must_use]
pub fn in_a_column(said: &str) -> Matter {
    list([Matter::Text(said.to_owned(), WordBreaks::InAColumn)])
}
