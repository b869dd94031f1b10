//! A manuscript's values as the typesetter's. A text becomes a string value, which the template prints as it is.

use manuscript::{Matter, WordBreaks};
use typst::foundations::{Bytes, Dict, Str, Symbol, Value};

use crate::legible::legible;
use crate::world::can_be_set;

/// Letters of a word after which it may be broken: so many of the widest fit beside a name, and into a head.
const LINE: usize = 28;
/// The same where a machine reads it: the digest of a file stands in a line.
const CODE: usize = 64;
/// The same in a column of a table.
const COLUMN: usize = 24;

/// Everything that the template prints. `pictures_flow`: in how many parts a picture may head the next page.
pub(crate) fn inputs(book: &Matter, pictures_flow: usize) -> Dict {
    let mut inputs = Dict::new();
    inputs.insert("book".into(), set(book));
    let pictures_flow = i64::try_from(pictures_flow).unwrap_or(i64::MAX);
    inputs.insert("pictures-flow".into(), Value::Int(pictures_flow));
    inputs
}

fn set(value: &Matter) -> Value {
    match value {
        Matter::Nothing => Value::None,
        Matter::Whether(so) => Value::Bool(*so),
        Matter::Whole(number) => Value::Int(*number),
        Matter::Number(number) => Value::Float(*number),
        Matter::Text(said, breaks) => Value::Str(Str::from(legible(said, longest(*breaks), can_be_set))),
        Matter::Sign(letter) => Value::Symbol(Symbol::runtime_char(*letter)),
        Matter::Drawing(svg) => Value::Bytes(Bytes::new(svg.clone().into_bytes())),
        Matter::List(values) => Value::Array(values.iter().map(set).collect()),
        Matter::Group(named) => Value::Dict(
            named
                .iter()
                .map(|(name, value)| (name.as_str().into(), set(value)))
                .collect(),
        ),
    }
}

const fn longest(breaks: WordBreaks) -> usize {
    match breaks {
        WordBreaks::InALine => LINE,
        WordBreaks::AsCode => CODE,
        WordBreaks::InAColumn => COLUMN,
        WordBreaks::Never => usize::MAX,
    }
}
