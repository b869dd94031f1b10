//! A formula as the template's mathematics: what the engine writes, part by part, so that no second rule for brackets is
//! kept.

use engine::working::{Notation, Numeral, Operator};
use manuscript::{Matter, group, list, text};

/// A sign alone: `p_own` is a p with an index.
pub(crate) fn sign(written: &str) -> Matter {
    let sign = wording::sign(written);
    let mut letters = sign.base.chars();
    let base = match (letters.next(), letters.next()) {
        // One letter leans, as quantities do; a word does not.
        (Some(one), None) => Matter::Sign(one),
        _ => text(sign.base),
    };
    let below = sign.index.map_or(Matter::Nothing, |index| text(&index));
    group([("kind", text("sign")), ("base", base), ("below", below)])
}

/// A formula.
pub(crate) fn formula(formula: &Notation) -> Matter {
    let all = |parts: &[Notation]| list(parts.iter().map(self::formula));
    match formula {
        Notation::Number(figure) => number(figure),
        Notation::Quantity(figure, unit) => group([
            ("kind", text("quantity")),
            ("number", number(figure)),
            ("unit", text(unit)),
        ]),
        Notation::Sign(written) => sign(written),
        Notation::Row(between, parts) => group([
            ("kind", text("row")),
            ("by", text(operator(*between))),
            ("parts", all(parts)),
        ]),
        Notation::Over(above, below) => group([
            ("kind", text("over")),
            ("above", self::formula(above)),
            ("under", self::formula(below)),
        ]),
        Notation::Power(base, to) => group([
            ("kind", text("power")),
            ("base", self::formula(base)),
            ("to", number(to)),
        ]),
        Notation::Root(inner) => group([("kind", text("root")), ("inner", self::formula(inner))]),
        Notation::Of(name, parts) => {
            group([("kind", text("of")), ("name", text(name)), ("parts", all(parts))])
        }
        Notation::Brackets(inner) => group([("kind", text("brackets")), ("inner", self::formula(inner))]),
    }
}

/// As the template names it.
const fn operator(between: Operator) -> &'static str {
    match between {
        Operator::Plus => "sum",
        Operator::Less => "less",
        Operator::Dot => "product",
        Operator::Times => "times",
        Operator::Slash => "slash",
    }
}

fn number(figure: &Numeral) -> Matter {
    let power = figure.power.as_deref().map_or(Matter::Nothing, text);
    group([
        ("kind", text("number")),
        ("text", text(&figure.digits)),
        ("power", power),
    ])
}
