//! A formula as it is written: signs or numbers in their places, and brackets where they are needed. A line of text, a page
//! and paper draw what stands here; none of them has a rule of its own for brackets.

use core::fmt;

use super::{Expr, Symbol};

/// Between a number and its unit, in what says a quantity.
pub const BEFORE_UNIT: char = '\u{a0}';

/// How quantities are written.
#[derive(Clone, Copy)]
pub enum Quantities<'a> {
    /// As signs.
    Signs,
    /// As numbers, by a rule of the caller's; a unit stands behind [`BEFORE_UNIT`].
    Numbers(&'a dyn Fn(&Symbol) -> String),
}

/// A number as it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Numeral {
    /// All of it, or what stands before the power of ten.
    pub digits: String,
    /// Of ten, where it is written with one.
    pub power: Option<String>,
}

/// What stands between the members of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    /// They are added.
    Plus,
    /// The second is taken from the first.
    Less,
    /// Signs are multiplied.
    Dot,
    /// Numbers are multiplied.
    Times,
    /// The first is divided by the second, on one line.
    Slash,
}

/// A formula, or a part of one, as it is written.
#[derive(Clone, Debug, PartialEq)]
pub enum Notation {
    /// A bare number.
    Number(Numeral),
    /// A number with its unit.
    Quantity(Numeral, String),
    /// A sign: the part behind an underscore is an index.
    Sign(&'static str),
    /// One behind the other.
    Row(Operator, Vec<Notation>),
    /// The first over the second, with a stroke between them.
    Over(Box<Notation>, Box<Notation>),
    /// To a power.
    Power(Box<Notation>, Numeral),
    /// The square root.
    Root(Box<Notation>),
    /// A function of several.
    Of(&'static str, Vec<Notation>),
    /// What would not hold together without.
    Brackets(Box<Notation>),
}

/// Digits that give back a value exactly.
const EXACT: usize = 17;

/// How strongly something holds together: what stands in it more loosely is put in brackets.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Holds {
    Nothing,
    Sum,
    Product,
    Power,
    Alone,
}

/// As mathematics, with strokes and powers of ten, or on one line of text.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Mathematics,
    Text,
}

impl Expr {
    /// In symbols, as text: `F_hand = p_own * A / (i * eta)` without the left side.
    #[must_use]
    pub fn in_symbols(&self) -> String {
        self.laid_out(Form::Text, Quantities::Signs).to_string()
    }

    /// With the numbers in, as text, to so many significant digits; 17 give back the value exactly.
    #[must_use]
    pub fn with_numbers(&self, digits: usize) -> String {
        self.with_said(&|symbol| number(symbol.value, digits))
    }

    /// With each quantity as `said` writes it, as text, such as `41.3 bar`.
    #[must_use]
    pub fn with_said(&self, said: &dyn Fn(&Symbol) -> String) -> String {
        self.laid_out(Form::Text, Quantities::Numbers(said)).to_string()
    }

    /// As mathematics.
    #[must_use]
    pub fn written(&self, quantities: Quantities<'_>) -> Notation {
        self.laid_out(Form::Mathematics, quantities)
    }

    fn laid_out(&self, form: Form, quantities: Quantities<'_>) -> Notation {
        let inside = |part: &Self, around: Holds| part.laid_out(form, quantities).within(around);
        let row = |between: Operator, parts: &[Self], first: Holds, others: Holds| {
            let parts = parts.iter().enumerate();
            Notation::Row(
                between,
                parts
                    .map(|(place, part)| inside(part, if place == 0 { first } else { others }))
                    .collect(),
            )
        };
        let of = |name, parts: &[Self]| {
            Notation::Of(
                name,
                parts.iter().map(|part| inside(part, Holds::Nothing)).collect(),
            )
        };
        match self {
            Self::Number(number) => Notation::Number(Numeral::exact(*number, form)),
            Self::Symbol(symbol) => match quantities {
                Quantities::Signs => Notation::Sign(symbol.sign),
                Quantities::Numbers(said) => {
                    let said = said(symbol);
                    match said.split_once(BEFORE_UNIT) {
                        Some((number, unit)) => {
                            Notation::Quantity(Numeral::of(number, form), unit.to_owned())
                        }
                        None => Notation::Number(Numeral::of(&said, form)),
                    }
                }
            },
            Self::Sum(parts) => row(Operator::Plus, parts, Holds::Sum, Holds::Product),
            Self::Product(parts) => {
                let between = match quantities {
                    Quantities::Signs => Operator::Dot,
                    Quantities::Numbers(_) => Operator::Times,
                };
                row(between, parts, Holds::Product, Holds::Power)
            }
            Self::Difference(from, less) => Notation::Row(
                Operator::Less,
                vec![inside(from, Holds::Sum), inside(less, Holds::Product)],
            ),
            Self::Quotient(above, below) => match form {
                Form::Mathematics => {
                    let [above, below] = [above, below].map(|part| Box::new(inside(part, Holds::Nothing)));
                    Notation::Over(above, below)
                }
                Form::Text => Notation::Row(
                    Operator::Slash,
                    vec![inside(above, Holds::Product), inside(below, Holds::Power)],
                ),
            },
            Self::Power(base, power) => {
                Notation::Power(Box::new(inside(base, Holds::Alone)), Numeral::exact(*power, form))
            }
            Self::Largest(parts) => of("max", parts),
            Self::Smallest(parts) => of("min", parts),
            Self::SquareRoot(inner) => Notation::Root(Box::new(inside(inner, Holds::Nothing))),
        }
    }
}

impl Numeral {
    /// A number that belongs to the formula, with all its digits.
    fn exact(number: f64, form: Form) -> Self {
        Self::of(&self::number(number, EXACT), form)
    }

    /// A number as it was said, `-4.13e-7`.
    fn of(said: &str, form: Form) -> Self {
        if form == Form::Text {
            return Self {
                digits: said.to_owned(),
                power: None,
            };
        }
        let minus = |part: &str| part.replace('-', "−");
        let (digits, power) = said
            .split_once('e')
            .map_or((said, None), |(digits, power)| (digits, Some(power)));
        Self {
            digits: minus(digits),
            power: power.map(minus),
        }
    }

    fn is_below_zero(&self) -> bool {
        self.digits.starts_with(['-', '−'])
    }
}

impl Notation {
    /// In brackets where it would not hold together before a slash, on one line with what it is divided by.
    #[must_use]
    pub fn before_a_slash(self) -> Self {
        self.within(Holds::Product)
    }

    /// In brackets where it would not hold together behind a slash, on one line with what is divided by it.
    #[must_use]
    pub fn behind_a_slash(self) -> Self {
        self.within(Holds::Power)
    }

    fn within(self, around: Holds) -> Self {
        let holds = match self {
            // A stroke holds together by itself; under a power it does not.
            Self::Over(..) if around == Holds::Alone => Holds::Sum,
            _ => self.holds(),
        };
        if holds < around {
            Self::Brackets(Box::new(self))
        } else {
            self
        }
    }

    fn holds(&self) -> Holds {
        match self {
            Self::Row(Operator::Plus | Operator::Less, _) => Holds::Sum,
            Self::Number(figure) | Self::Quantity(figure, _) if figure.is_below_zero() => Holds::Sum,
            Self::Row(Operator::Dot | Operator::Times | Operator::Slash, _) => Holds::Product,
            Self::Number(figure) | Self::Quantity(figure, _) if figure.power.is_some() => Holds::Product,
            // A number with its unit holds together but under a power.
            Self::Power(..) | Self::Quantity(..) => Holds::Power,
            Self::Number(_)
            | Self::Sign(_)
            | Self::Over(..)
            | Self::Root(_)
            | Self::Of(..)
            | Self::Brackets(_) => Holds::Alone,
        }
    }
}

impl fmt::Display for Numeral {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.digits)?;
        self.power.iter().try_for_each(|power| write!(out, "e{power}"))
    }
}

/// On one line: `p_own * A / (i * eta)`.
impl fmt::Display for Notation {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(figure) => write!(out, "{figure}"),
            Self::Quantity(figure, unit) => write!(out, "{figure}{BEFORE_UNIT}{unit}"),
            Self::Sign(sign) => out.write_str(sign),
            Self::Row(between, parts) => list(
                out,
                parts,
                match between {
                    Operator::Plus => " + ",
                    Operator::Less => " - ",
                    Operator::Dot | Operator::Times => " * ",
                    Operator::Slash => " / ",
                },
            ),
            Self::Over(above, below) => write!(out, "{above} / {below}"),
            Self::Power(base, to) => write!(out, "{base}^{to}"),
            Self::Root(inner) => write!(out, "sqrt({inner})"),
            Self::Of(name, parts) => {
                write!(out, "{name}(")?;
                list(out, parts, ", ")?;
                out.write_str(")")
            }
            Self::Brackets(inner) => write!(out, "({inner})"),
        }
    }
}

fn list(out: &mut fmt::Formatter<'_>, parts: &[Notation], between: &str) -> fmt::Result {
    for (place, part) in parts.iter().enumerate() {
        if place > 0 {
            out.write_str(between)?;
        }
        write!(out, "{part}")?;
    }
    Ok(())
}

/// A number to so many significant digits, without needless zeros; very large and small ones with an exponent.
fn number(number: f64, digits: usize) -> String {
    if digits >= EXACT {
        // The shortest text that reads back as the same number.
        let plain = format!("{number}");
        return if plain.len() > 18 {
            format!("{number:e}")
        } else {
            plain
        };
    }
    let rounded = format!("{number:.*e}", digits.saturating_sub(1));
    let exponent: i32 = rounded
        .rsplit_once('e')
        .and_then(|(_, exponent)| exponent.parse().ok())
        .unwrap_or(0);
    if !(-4..=6).contains(&exponent) {
        let (mantissa, _) = rounded.rsplit_once('e').unwrap_or((&rounded, "0"));
        let mantissa = if mantissa.contains('.') {
            mantissa.trim_end_matches('0').trim_end_matches('.')
        } else {
            mantissa
        };
        return format!("{mantissa}e{exponent}");
    }
    let places = usize::try_from(i32::try_from(digits).unwrap_or(17) - 1 - exponent).unwrap_or(0);
    let plain = format!("{number:.places$}");
    if plain.contains('.') {
        plain.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        plain
    }
}
