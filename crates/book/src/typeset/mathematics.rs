//! A formula as the typesetter's mathematics: what the engine writes, part by part, so that no second rule for brackets is
//! kept.

use engine::working::{Between, Figure, Written};
use typst::foundations::{Symbol, Value};

use super::plain::{dict, list, text};

/// A sign alone: `p_own` is a p with an index.
pub(crate) fn sign(written: &str) -> Value {
    let sign = wording::sign(written);
    let mut letters = sign.base.chars();
    let base = match (letters.next(), letters.next()) {
        // One letter leans, as quantities do; a word does not.
        (Some(one), None) => Value::Symbol(Symbol::runtime_char(one)),
        _ => text(sign.base),
    };
    let below = sign.index.map_or(Value::None, |index| text(&index));
    dict([("kind", text("sign")), ("base", base), ("below", below)])
}

/// A formula.
pub(crate) fn formula(formula: &Written) -> Value {
    let all = |parts: &[Written]| list(parts.iter().map(self::formula));
    match formula {
        Written::Number(figure) => number(figure),
        Written::Quantity(figure, unit) => dict([
            ("kind", text("quantity")),
            ("number", number(figure)),
            ("unit", text(unit)),
        ]),
        Written::Sign(written) => sign(written),
        Written::Row(between, parts) => dict([
            ("kind", text("row")),
            ("by", text(operator(*between))),
            ("parts", all(parts)),
        ]),
        Written::Over(above, below) => dict([
            ("kind", text("over")),
            ("above", self::formula(above)),
            ("under", self::formula(below)),
        ]),
        Written::Power(base, to) => dict([
            ("kind", text("power")),
            ("base", self::formula(base)),
            ("to", number(to)),
        ]),
        Written::Root(inner) => dict([("kind", text("root")), ("inner", self::formula(inner))]),
        Written::Of(name, parts) => dict([("kind", text("of")), ("name", text(name)), ("parts", all(parts))]),
        Written::Brackets(inner) => dict([("kind", text("brackets")), ("inner", self::formula(inner))]),
    }
}

/// As the template names it.
const fn operator(between: Between) -> &'static str {
    match between {
        Between::Plus => "sum",
        Between::Less => "less",
        Between::Dot => "product",
        Between::Times => "times",
        Between::Slash => "slash",
    }
}

fn number(figure: &Figure) -> Value {
    let power = figure.power.as_deref().map_or(Value::None, text);
    dict([
        ("kind", text("number")),
        ("text", text(&figure.digits)),
        ("power", power),
    ])
}
