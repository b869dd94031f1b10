//! A formula as mathematics: MathML made from the engine's own formula, so that no second copy of it is kept.
//!
//! Browsers break no line inside mathematics. So a sum or a product is written as several pieces, each mathematics of its
//! own, between which a line may end; what is still too wide is pushed aside under the finger, and nothing is cut.

use engine::working::{Expr, Symbol};
use maud::{Markup, html};

/// How strongly a formula holds together: what stands in it more loosely is put in brackets.
const SUM: u8 = 1;
const PRODUCT: u8 = 2;
const POWER: u8 = 3;
const ALONE: u8 = 4;

/// Characters that a line of a phone holds.
const LINE: usize = 32;
/// Between a number and its unit.
const BEFORE_UNIT: char = '\u{a0}';

/// How quantities are written.
#[derive(Clone, Copy)]
pub(crate) enum Written<'a> {
    /// As signs.
    Signs,
    /// As numbers, each with its unit, by a rule of the caller's.
    Numbers(&'a dyn Fn(&Symbol) -> String),
}

/// A sign alone, as it stands in a formula: `p_own` is a p with an index.
pub(crate) fn sign(written: &str) -> Markup {
    html! { math { (index(written)) } }
}

/// A formula behind an equals sign, in pieces between which a line may end.
pub(crate) fn behind_equals(formula: &Expr, written: Written<'_>) -> Markup {
    html! {
        @for (place, piece) in pieces(formula, written).into_iter().enumerate() {
            @if place > 0 { " " }
            math displaystyle="true" { @if place == 0 { mo { "=" } } (piece) }
        }
    }
}

fn pieces(formula: &Expr, written: Written<'_>) -> Vec<Markup> {
    match formula {
        Expr::Sum(parts) => joined("+", parts, written, PRODUCT),
        Expr::Product(parts) => joined(times(written), parts, written, POWER),
        Expr::Difference(from, less) => vec![
            html! { (inside(from, written, SUM)) },
            html! { mo { "−" } (inside(less, written, PRODUCT)) },
        ],
        // Over a stroke nothing breaks: what is too long for a line stands before a slash.
        Expr::Quotient(above, below) if is_long(above, written) => {
            let mut all = pieces(above, written);
            if !matches!(**above, Expr::Product(_)) {
                all = in_brackets(all);
            }
            all.push(html! { mo { "/" } (inside(below, written, POWER)) });
            all
        }
        Expr::Largest(parts) if is_long(formula, written) => listed("max", parts, written),
        Expr::Smallest(parts) if is_long(formula, written) => listed("min", parts, written),
        other => vec![inside(other, written, 0)],
    }
}

/// Whether a formula of several parts is longer than a line of a phone.
fn is_long(formula: &Expr, written: Written<'_>) -> bool {
    let parts = matches!(
        formula,
        Expr::Sum(_) | Expr::Product(_) | Expr::Difference(..) | Expr::Largest(_) | Expr::Smallest(_)
    );
    let long = match written {
        Written::Signs => formula.in_symbols().chars().count() > 2 * LINE,
        Written::Numbers(of) => formula.with_said(of).chars().count() > LINE,
    };
    parts && long
}

/// The members of a function, a piece each; one of several parts in as many.
fn listed(name: &str, parts: &[Expr], written: Written<'_>) -> Vec<Markup> {
    let mut all: Vec<Markup> = Vec::new();
    for (place, part) in parts.iter().enumerate() {
        let mut own = pieces(part, written);
        if let (0, Some(first)) = (place, own.first_mut()) {
            *first = html! { mi { (name) } mo { "(" } (first) };
        }
        let end = if place + 1 == parts.len() { ")" } else { "," };
        if let Some(last) = own.last_mut() {
            *last = html! { (last) mo { (end) } };
        }
        all.extend(own);
    }
    all
}

fn joined(operator: &str, parts: &[Expr], written: Written<'_>, around: u8) -> Vec<Markup> {
    let mut all: Vec<Markup> = Vec::new();
    for (place, part) in parts.iter().enumerate() {
        let around = if place == 0 { around - 1 } else { around };
        let mut own = if is_long(part, written) && binding(part, written) < around {
            in_brackets(pieces(part, written))
        } else {
            vec![inside(part, written, around)]
        };
        if let (1.., Some(first)) = (place, own.first_mut()) {
            *first = html! { mo { (operator) } (first) };
        }
        all.extend(own);
    }
    all
}

fn in_brackets(mut pieces: Vec<Markup>) -> Vec<Markup> {
    if let Some(first) = pieces.first_mut() {
        *first = html! { mo { "(" } (first) };
    }
    if let Some(last) = pieces.last_mut() {
        *last = html! { (last) mo { ")" } };
    }
    pieces
}

const fn times(written: Written<'_>) -> &'static str {
    match written {
        Written::Signs => "·",
        Written::Numbers(_) => "×",
    }
}

/// How strongly a formula holds together as it is written.
fn binding(formula: &Expr, written: Written<'_>) -> u8 {
    match formula {
        Expr::Sum(_) | Expr::Difference(..) => SUM,
        Expr::Product(_) => PRODUCT,
        Expr::Power(..) => POWER,
        Expr::Number(number) if *number < 0.0 => SUM,
        Expr::Symbol(symbol) if matches!(written, Written::Numbers(_)) && symbol.value < 0.0 => SUM,
        Expr::Symbol(symbol) if matches!(written, Written::Numbers(of) if has_power(&of(symbol))) => PRODUCT,
        Expr::Symbol(symbol) if matches!(written, Written::Numbers(of) if of(symbol).contains(BEFORE_UNIT)) => {
            POWER
        }
        _ => ALONE,
    }
}

fn inside(formula: &Expr, written: Written<'_>, around: u8) -> Markup {
    // A stroke, a root and a function hold together by themselves; under a power a stroke does not.
    let holds = match formula {
        Expr::Quotient(..) if around == ALONE => SUM,
        other => binding(other, written),
    };
    let bare = bare(formula, written);
    html! { @if holds < around { mrow { mo { "(" } (bare) mo { ")" } } } @else { (bare) } }
}

fn bare(formula: &Expr, written: Written<'_>) -> Markup {
    let list = |name: &str, parts: &[Expr]| {
        html! {
            mrow {
                mi { (name) } mo { "(" }
                @for (place, part) in parts.iter().enumerate() {
                    @if place > 0 { mo { "," } }
                    (inside(part, written, 0))
                }
                mo { ")" }
            }
        }
    };
    match formula {
        Expr::Number(value) => number(&Expr::Number(*value).in_symbols()),
        Expr::Symbol(symbol) => match written {
            Written::Signs => index(symbol.sign),
            Written::Numbers(of) => quantity(&of(symbol)),
        },
        Expr::Sum(parts) => html! { mrow { @for piece in joined("+", parts, written, PRODUCT) { (piece) } } },
        Expr::Product(parts) => {
            html! { mrow { @for piece in joined(times(written), parts, written, POWER) { (piece) } } }
        }
        Expr::Difference(from, less) => html! {
            mrow { (inside(from, written, SUM)) mo { "−" } (inside(less, written, PRODUCT)) }
        },
        Expr::Quotient(above, below) => html! {
            mfrac { mrow { (inside(above, written, 0)) } mrow { (inside(below, written, 0)) } }
        },
        Expr::Power(base, power) => html! {
            msup { mrow { (inside(base, written, ALONE)) } (number(&Expr::Number(*power).in_symbols())) }
        },
        Expr::Largest(parts) => list("max", parts),
        Expr::Smallest(parts) => list("min", parts),
        Expr::SquareRoot(inner) => html! { msqrt { (inside(inner, written, 0)) } },
    }
}

/// Whether a number is written with a power of ten.
fn has_power(written: &str) -> bool {
    written
        .split(BEFORE_UNIT)
        .next()
        .is_some_and(|number| number.contains('e'))
}

/// A number with its unit behind it.
fn quantity(written: &str) -> Markup {
    match written.split_once(BEFORE_UNIT) {
        Some((figure, unit)) => html! {
            mrow { (number(figure)) mspace width="0.25em" {} mtext { (unit) } }
        },
        None => number(written),
    }
}

/// A number; one with an exponent as a power of ten.
fn number(written: &str) -> Markup {
    let minus = |text: &str| text.replace('-', "−");
    match written.split_once('e') {
        Some((mantissa, exponent)) => html! {
            mrow { mn { (minus(mantissa)) } mo { "×" } msup { mn { "10" } mn { (minus(exponent)) } } }
        },
        None => html! { mn { (minus(written)) } },
    }
}

/// A sign with its index; letters of the Greek alphabet by their names.
fn index(written: &str) -> Markup {
    match written.split_once('_') {
        Some((base, below)) => {
            html! { msub { mi { (wording::letter(base)) } mtext { (below.replace('_', " ")) } } }
        }
        None => html! { mi { (wording::letter(written)) } },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(sign: &'static str, value: f64) -> Expr {
        Expr::from(Symbol::computed(sign, "", value, ""))
    }

    fn shown(formula: &Expr, written: Written<'_>) -> String {
        behind_equals(formula, written).into_string()
    }

    #[test]
    fn a_formula_is_set_as_mathematics() {
        let formula = of("p_own", 41.3) * of("A", 2.0) / (of("i", 7.0) + of("eta", 0.9));
        assert_eq!(
            shown(&formula, Written::Signs),
            "<math displaystyle=\"true\"><mo>=</mo><mfrac><mrow><mrow><msub><mi>p</mi><mtext>own</mtext></msub><mo>·</mo><mi>A</mi></mrow></mrow>\
             <mrow><mrow><mi>i</mi><mo>+</mo><mi>η</mi></mrow></mrow></mfrac></math>"
        );
    }

    #[test]
    fn brackets_stand_where_they_are_needed() {
        let formula = (of("a", 1.0) + of("b", -2.0)) * of("c", 3.0);
        let text = |written| {
            let mut plain = String::new();
            let mut inside = false;
            for character in shown(&formula, written).chars() {
                match character {
                    '<' => inside = true,
                    '>' => inside = false,
                    other if !inside => plain.push(other),
                    _ => {}
                }
            }
            plain
        };
        assert_eq!(text(Written::Signs), "=(a+b) ·c");
        assert_eq!(
            text(Written::Numbers(&|symbol| format!("{}", symbol.value))),
            "=(1+(−2)) ×3"
        );
    }

    #[test]
    fn a_long_quotient_may_break() {
        let sum = Expr::Sum(vec![of("a", 1.0), of("b", 2.0)]);
        let formula = sum / of("c", 3.0);
        let short = Written::Numbers(&|_| "1\u{a0}m".to_owned());
        assert_eq!(shown(&formula, short).matches("<math").count(), 1);
        let long = Written::Numbers(&|_| "1234.5678901\u{a0}kg".to_owned());
        let broken = shown(&formula, long);
        assert_eq!(broken.matches("<math").count(), 3, "{broken}");
        assert!(
            broken.contains("<mo>(</mo>") && broken.contains("<mo>)</mo>") && broken.contains("<mo>/</mo>"),
            "{broken}"
        );
    }

    #[test]
    fn a_number_carries_its_unit() {
        let bore = of("d", 15.875);
        let squared = Expr::Power(Box::new(bore), 2.0);
        let written = Written::Numbers(&|_| "15.875\u{a0}mm".to_owned());
        assert_eq!(
            shown(&squared, written),
            "<math displaystyle=\"true\"><mo>=</mo><msup><mrow><mrow><mo>(</mo><mrow><mn>15.875</mn><mspace width=\"0.25em\"></mspace>\
             <mtext>mm</mtext></mrow><mo>)</mo></mrow></mrow><mn>2</mn></msup></math>"
        );
    }

    #[test]
    fn a_power_of_ten_is_one() {
        let written = Written::Numbers(&|_| "4.13e-7".to_owned());
        assert_eq!(
            shown(&of("k", 4.13e-7), written),
            "<math displaystyle=\"true\"><mo>=</mo><mrow><mn>4.13</mn><mo>×</mo><msup><mn>10</mn><mn>−7</mn></msup></mrow></math>"
        );
    }
}
