//! A formula as mathematics: MathML of what the engine writes, so that no second rule for brackets is kept.
//!
//! Browsers break no line inside mathematics. So a sum or a product is written as several pieces, each mathematics of its
//! own, between which a line may end; what is still too wide is pushed aside under the finger, and nothing is cut.

use engine::working::{Notation, Numeral, Operator};
use maud::{Markup, html};

/// Characters of numbers that a line of a phone holds.
pub(crate) const NUMBERS: usize = 32;
/// The same of signs: half of what is written of one is its index.
pub(crate) const SIGNS: usize = 2 * NUMBERS;

/// A sign alone, as it stands in a formula: `p_own` is a p with an index.
pub(crate) fn sign(written: &str) -> Markup {
    html! { math { (index(written)) } }
}

/// A formula behind an equals sign, in pieces between which a line may end; a line holds so many characters.
pub(crate) fn behind_equals(formula: Notation, line: usize) -> Markup {
    html! {
        @for (place, piece) in pieces(formula, line).into_iter().enumerate() {
            @if place > 0 { " " }
            math displaystyle="true" { @if place == 0 { mo { "=" } } (piece) }
        }
    }
}

fn pieces(formula: Notation, line: usize) -> Vec<Markup> {
    let long = is_long(&formula, line);
    match formula {
        Notation::Row(between, parts) => joined(between, parts, line),
        // Over a stroke nothing breaks: what is too long for a line stands before a slash.
        Notation::Over(above, below) if is_long(&above, line) => {
            let mut all = match above.before_a_slash() {
                Notation::Brackets(inner) => in_brackets(pieces(*inner, line)),
                bare => pieces(bare, line),
            };
            all.push(html! { (operator(Operator::Slash)) (set(&below.behind_a_slash())) });
            all
        }
        Notation::Of(name, parts) if long => listed(name, parts, line),
        other => vec![set(&other)],
    }
}

/// Whether a formula of several parts is longer than a line.
fn is_long(formula: &Notation, line: usize) -> bool {
    matches!(formula, Notation::Row(..) | Notation::Of(..)) && formula.to_string().chars().count() > line
}

/// The members of a function, a piece each; one of several parts in as many.
fn listed(name: &str, parts: Vec<Notation>, line: usize) -> Vec<Markup> {
    let mut all: Vec<Markup> = Vec::new();
    let last = parts.len().saturating_sub(1);
    for (place, part) in parts.into_iter().enumerate() {
        let mut own = pieces(part, line);
        if let (0, Some(first)) = (place, own.first_mut()) {
            *first = html! { mi { (name) } mo { "(" } (first) };
        }
        if let Some(end) = own.last_mut() {
            *end = html! { (end) mo { @if place == last { ")" } @else { "," } } };
        }
        all.extend(own);
    }
    all
}

/// The members of a row, a piece each; a long one in brackets in as many as it has.
fn joined(between: Operator, parts: Vec<Notation>, line: usize) -> Vec<Markup> {
    let mut all: Vec<Markup> = Vec::new();
    for (place, part) in parts.into_iter().enumerate() {
        let mut own = match part {
            Notation::Brackets(inner) if is_long(&inner, line) => in_brackets(pieces(*inner, line)),
            other => vec![set(&other)],
        };
        if let (1.., Some(first)) = (place, own.first_mut()) {
            *first = html! { (operator(between)) (first) };
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

fn operator(between: Operator) -> Markup {
    let sign = match between {
        Operator::Plus => "+",
        Operator::Less => "−",
        Operator::Dot => "·",
        Operator::Times => "×",
        Operator::Slash => "/",
    };
    html! { mo { (sign) } }
}

fn set(formula: &Notation) -> Markup {
    match formula {
        Notation::Number(figure) => number(figure),
        Notation::Quantity(figure, unit) => html! {
            mrow { (number(figure)) mspace width="0.25em" {} mtext { (unit) } }
        },
        Notation::Sign(sign) => index(sign),
        Notation::Row(between, parts) => html! {
            mrow {
                @for (place, part) in parts.iter().enumerate() {
                    @if place > 0 { (operator(*between)) }
                    (set(part))
                }
            }
        },
        Notation::Over(above, below) => html! { mfrac { mrow { (set(above)) } mrow { (set(below)) } } },
        Notation::Power(base, to) => html! { msup { mrow { (set(base)) } (number(to)) } },
        Notation::Root(inner) => html! { msqrt { (set(inner)) } },
        Notation::Of(name, parts) => html! {
            mrow {
                mi { (name) } mo { "(" }
                @for (place, part) in parts.iter().enumerate() {
                    @if place > 0 { mo { "," } }
                    (set(part))
                }
                mo { ")" }
            }
        },
        Notation::Brackets(inner) => html! { mrow { mo { "(" } (set(inner)) mo { ")" } } },
    }
}

/// A number; one with a power of ten has it behind.
fn number(figure: &Numeral) -> Markup {
    match &figure.power {
        Some(power) => html! {
            mrow { mn { (figure.digits) } mo { "×" } msup { mn { "10" } mn { (power) } } }
        },
        None => html! { mn { (figure.digits) } },
    }
}

/// A sign with its index.
fn index(written: &str) -> Markup {
    let sign = wording::sign(written);
    match sign.index {
        Some(below) => html! { msub { mi { (sign.base) } mtext { (below) } } },
        None => html! { mi { (sign.base) } },
    }
}

#[cfg(test)]
mod tests {
    use engine::working::{Expr, Quantities, Symbol};

    use super::*;

    fn of(sign: &'static str, value: f64) -> Expr {
        Expr::from(Symbol::computed(sign, "", value, ""))
    }

    fn shown(formula: &Expr, quantities: Quantities<'_>) -> String {
        let line = match quantities {
            Quantities::Signs => SIGNS,
            Quantities::Numbers(_) => NUMBERS,
        };
        behind_equals(formula.written(quantities), line).into_string()
    }

    #[test]
    fn a_formula_is_set_as_mathematics() {
        let formula = of("p_own", 41.3) * of("A", 2.0) / (of("i", 7.0) + of("eta", 0.9));
        assert_eq!(
            shown(&formula, Quantities::Signs),
            "<math displaystyle=\"true\"><mo>=</mo><mfrac><mrow><mrow><msub><mi>p</mi><mtext>own</mtext></msub><mo>·</mo><mi>A</mi></mrow></mrow>\
             <mrow><mrow><mi>i</mi><mo>+</mo><mi>η</mi></mrow></mrow></mfrac></math>"
        );
    }

    #[test]
    fn brackets_stand_where_they_are_needed() {
        let formula = (of("a", 1.0) + of("b", -2.0)) * of("c", 3.0);
        let text = |quantities| {
            let mut plain = String::new();
            let mut inside = false;
            for character in shown(&formula, quantities).chars() {
                match character {
                    '<' => inside = true,
                    '>' => inside = false,
                    other if !inside => plain.push(other),
                    _ => {}
                }
            }
            plain
        };
        assert_eq!(text(Quantities::Signs), "=(a+b) ·c");
        assert_eq!(
            text(Quantities::Numbers(&|symbol| format!("{}", symbol.value))),
            "=(1+(−2)) ×3"
        );
    }

    #[test]
    fn a_long_quotient_may_break() {
        let sum = Expr::Sum(vec![of("a", 1.0), of("b", 2.0)]);
        let formula = sum / of("c", 3.0);
        let short = Quantities::Numbers(&|_| "1\u{a0}m".to_owned());
        assert_eq!(shown(&formula, short).matches("<math").count(), 1);
        let long = Quantities::Numbers(&|_| "1234.5678901\u{a0}kg".to_owned());
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
        let written = Quantities::Numbers(&|_| "15.875\u{a0}mm".to_owned());
        assert_eq!(
            shown(&squared, written),
            "<math displaystyle=\"true\"><mo>=</mo><msup><mrow><mrow><mo>(</mo><mrow><mn>15.875</mn><mspace width=\"0.25em\"></mspace>\
             <mtext>mm</mtext></mrow><mo>)</mo></mrow></mrow><mn>2</mn></msup></math>"
        );
    }

    #[test]
    fn a_power_of_ten_is_one() {
        let written = Quantities::Numbers(&|_| "4.13e-7".to_owned());
        assert_eq!(
            shown(&of("k", 4.13e-7), written),
            "<math displaystyle=\"true\"><mo>=</mo><mrow><mn>4.13</mn><mo>×</mo><msup><mn>10</mn><mn>−7</mn></msup></mrow></math>"
        );
    }
}
