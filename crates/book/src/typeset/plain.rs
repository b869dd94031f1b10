//! Texts and groups of them as the typesetter's values.

use typst::foundations::{Str, Value};

use super::legible::legible;
use super::world::can_be_set;

/// Letters of a word after which it may be broken: so many of the widest fit beside a name, and into a head.
const LINE: usize = 28;
/// The same where a machine reads it: the digest of a file stands in a line.
const CODE: usize = 64;
/// The same in a column of a table.
const COLUMN: usize = 24;

/// Values by their names.
pub(super) fn dict<const N: usize>(pairs: [(&str, Value); N]) -> Value {
    Value::Dict(
        pairs
            .into_iter()
            .map(|(key, value)| (key.into(), value))
            .collect(),
    )
}

/// A text as a string value.
pub(super) fn text(said: &str) -> Value {
    Value::Str(Str::from(legible(said, LINE, can_be_set)))
}

/// What a machine reads, in narrow letters.
pub(super) fn code(said: &str) -> Value {
    dict([("code", Value::Str(Str::from(legible(said, CODE, can_be_set))))])
}

/// A text for the properties of the file, where nothing is set in lines.
pub(super) fn unset(said: &str) -> Value {
    Value::Str(Str::from(legible(said, usize::MAX, can_be_set)))
}

/// A text in a column of a table, which has less room for a long word.
pub(super) fn in_a_column(said: &str) -> Value {
    list([Value::Str(Str::from(legible(said, COLUMN, can_be_set)))])
}

/// Several values.
pub(super) fn list(values: impl IntoIterator<Item = Value>) -> Value {
    Value::Array(values.into_iter().collect())
}
