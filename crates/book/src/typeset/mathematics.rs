//! A formula as the typesetter's mathematics: the engine's own formula, part by part, so that no second copy of it is kept.

use engine::working::{Expr, Symbol as Quantity};
use typst::foundations::{Array, Dict, Symbol, Value};

use super::plain::{dict, text};

/// How strongly a formula holds together: what stands in it more loosely is put in brackets.
const SUM: u8 = 1;
const PRODUCT: u8 = 2;
const POWER: u8 = 3;
const ALONE: u8 = 4;

/// Between a number and its unit.
const BEFORE_UNIT: char = '\u{a0}';

/// How quantities are written.
#[derive(Clone, Copy)]
pub(crate) enum Written<'a> {
    /// As signs.
    Signs,
    /// As numbers, each with its unit, by a rule of the caller's.
    Numbers(&'a dyn Fn(&Quantity) -> String),
}

/// A sign alone: `p_own` is a p with an index.
pub(crate) fn sign(written: &str) -> Value {
    let (base, below) = written.split_once('_').unwrap_or((written, ""));
    let base = wording::letter(base);
    let mut letters = base.chars();
    let set = match (letters.next(), letters.next()) {
        // One letter leans, as quantities do; a word does not.
        (Some(one), None) => Value::Symbol(Symbol::runtime_char(one)),
        _ => text(base),
    };
    let below = if below.is_empty() {
        Value::None
    } else {
        text(&below.replace('_', " "))
    };
    dict([("kind", text("sign")), ("base", set), ("below", below)])
}

/// A formula.
pub(crate) fn formula(formula: &Expr, written: Written<'_>) -> Value {
    inside(formula, written, 0)
}

fn inside(formula: &Expr, written: Written<'_>, around: u8) -> Value {
    let holds = match formula {
        Expr::Sum(_) | Expr::Difference(..) => SUM,
        Expr::Product(_) => PRODUCT,
        Expr::Power(..) => POWER,
        Expr::Number(number) if *number < 0.0 => SUM,
        Expr::Symbol(symbol) if matches!(written, Written::Numbers(_)) && symbol.value < 0.0 => SUM,
        Expr::Symbol(symbol) if matches!(written, Written::Numbers(of) if has_power(&of(symbol))) => PRODUCT,
        Expr::Symbol(symbol) if matches!(written, Written::Numbers(of) if of(symbol).contains(BEFORE_UNIT)) => {
            POWER
        }
        // A stroke under a power does not hold together by itself.
        Expr::Quotient(..) if around == ALONE => SUM,
        _ => ALONE,
    };
    let bare = bare(formula, written);
    if holds < around {
        dict([("kind", text("brackets")), ("inner", bare)])
    } else {
        bare
    }
}

fn bare(formula: &Expr, written: Written<'_>) -> Value {
    let all = |parts: &[Expr], around: u8| -> Vec<Value> {
        let parts = parts.iter().enumerate();
        parts
            .map(|(place, part)| inside(part, written, if place == 0 { around - 1 } else { around }))
            .collect()
    };
    match formula {
        Expr::Number(value) => number(&Expr::Number(*value).in_symbols()),
        Expr::Symbol(symbol) => match written {
            Written::Signs => sign(symbol.sign),
            Written::Numbers(of) => quantity(&of(symbol)),
        },
        Expr::Sum(parts) => row("sum", all(parts, PRODUCT)),
        Expr::Product(parts) => {
            let by = match written {
                Written::Signs => "product",
                Written::Numbers(_) => "times",
            };
            row(by, all(parts, POWER))
        }
        Expr::Difference(from, less) => row(
            "less",
            vec![inside(from, written, SUM), inside(less, written, PRODUCT)],
        ),
        Expr::Quotient(above, below) => dict([
            ("kind", text("over")),
            ("above", inside(above, written, 0)),
            ("under", inside(below, written, 0)),
        ]),
        Expr::Power(base, power) => dict([
            ("kind", text("power")),
            ("base", inside(base, written, ALONE)),
            ("to", number(&Expr::Number(*power).in_symbols())),
        ]),
        Expr::Largest(parts) => function("max", parts, written),
        Expr::Smallest(parts) => function("min", parts, written),
        Expr::SquareRoot(inner) => dict([("kind", text("root")), ("inner", inside(inner, written, 0))]),
    }
}

fn row(by: &str, parts: Vec<Value>) -> Value {
    dict([
        ("kind", text("row")),
        ("by", text(by)),
        ("parts", Value::Array(Array::from_iter(parts))),
    ])
}

fn function(name: &str, parts: &[Expr], written: Written<'_>) -> Value {
    let parts = parts.iter().map(|part| inside(part, written, 0));
    dict([
        ("kind", text("of")),
        ("name", text(name)),
        ("parts", Value::Array(parts.collect())),
    ])
}

/// Whether a number is written with a power of ten.
fn has_power(written: &str) -> bool {
    written
        .split(BEFORE_UNIT)
        .next()
        .is_some_and(|number| number.contains('e'))
}

/// A number with its unit behind it.
fn quantity(written: &str) -> Value {
    match written.split_once(BEFORE_UNIT) {
        Some((figure, unit)) => dict([
            ("kind", text("quantity")),
            ("number", number(figure)),
            ("unit", text(unit)),
        ]),
        None => number(written),
    }
}

/// A number; one with an exponent as a power of ten.
fn number(written: &str) -> Value {
    let minus = |written: &str| text(&written.replace('-', "−"));
    let (digits, power) = match written.split_once('e') {
        Some((digits, power)) => (minus(digits), minus(power)),
        None => (minus(written), Value::None),
    };
    let mut number = Dict::new();
    number.insert("kind".into(), text("number"));
    number.insert("text".into(), digits);
    number.insert("power".into(), power);
    Value::Dict(number)
}
