//! A manuscript's values as the typesetter's. A text becomes a string value, which the template prints as it is.

use manuscript::{Breaks, Value};
use typst::foundations::{Bytes, Dict, Str, Symbol, Value as Set};

use crate::legible::legible;
use crate::world::can_be_set;

/// Letters of a word after which it may be broken: so many of the widest fit beside a name, and into a head.
const LINE: usize = 28;
/// The same where a machine reads it: the digest of a file stands in a line.
const CODE: usize = 64;
/// The same in a column of a table.
const COLUMN: usize = 24;

/// Everything that the template prints. `pictures_flow`: in how many parts a picture may head the next page.
pub(crate) fn inputs(book: &Value, pictures_flow: usize) -> Dict {
    let mut inputs = Dict::new();
    inputs.insert("book".into(), set(book));
    let pictures_flow = i64::try_from(pictures_flow).unwrap_or(i64::MAX);
    inputs.insert("pictures-flow".into(), Set::Int(pictures_flow));
    inputs
}

fn set(value: &Value) -> Set {
    match value {
        Value::Nothing => Set::None,
        Value::Whether(so) => Set::Bool(*so),
        Value::Whole(number) => Set::Int(*number),
        Value::Number(number) => Set::Float(*number),
        Value::Text(said, breaks) => Set::Str(Str::from(legible(said, longest(*breaks), can_be_set))),
        Value::Sign(letter) => Set::Symbol(Symbol::runtime_char(*letter)),
        Value::Drawing(svg) => Set::Bytes(Bytes::new(svg.clone().into_bytes())),
        Value::List(values) => Set::Array(values.iter().map(set).collect()),
        Value::Group(named) => Set::Dict(
            named
                .iter()
                .map(|(name, value)| (name.as_str().into(), set(value)))
                .collect(),
        ),
    }
}

const fn longest(breaks: Breaks) -> usize {
    match breaks {
        Breaks::InALine => LINE,
        Breaks::AsCode => CODE,
        Breaks::InAColumn => COLUMN,
        Breaks::Never => usize::MAX,
    }
}
