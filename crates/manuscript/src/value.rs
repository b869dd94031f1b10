//! Texts, figures and groups of them, as the template prints them.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// What the template prints.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Value {
    /// Nothing stands there.
    Nothing,
    /// Whether something is so.
    Whether(bool),
    /// A whole number.
    Whole(i64),
    /// A number, as a bar is drawn with it.
    Number(f64),
    /// A text, and where a long word of it may be broken.
    Text(String, Breaks),
    /// One letter that stands for a quantity in a formula.
    Sign(char),
    /// A drawing, as SVG.
    Drawing(String),
    /// Several.
    List(Vec<Value>),
    /// Several by their names.
    Group(BTreeMap<String, Value>),
}

/// After how many letters a word may be broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Breaks {
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
pub fn group<const N: usize>(pairs: [(&str, Value); N]) -> Value {
    let named = pairs.into_iter().map(|(name, value)| (name.to_owned(), value));
    Value::Group(named.collect())
}

/// Several values.
#[must_use]
pub fn list(values: impl IntoIterator<Item = Value>) -> Value {
    Value::List(values.into_iter().collect())
}

/// A text.
#[must_use]
pub fn text(said: &str) -> Value {
    Value::Text(said.to_owned(), Breaks::InALine)
}

/// What a machine reads, in narrow letters.
#[must_use]
pub fn code(said: &str) -> Value {
    group([("code", Value::Text(said.to_owned(), Breaks::AsCode))])
}

/// A text for the properties of the file, where nothing is set in lines.
#[must_use]
pub fn unset(said: &str) -> Value {
    Value::Text(said.to_owned(), Breaks::Never)
}

/// A text in a column of a table, which has less room for a long word.
#[must_use]
pub fn in_a_column(said: &str) -> Value {
    list([Value::Text(said.to_owned(), Breaks::InAColumn)])
}
