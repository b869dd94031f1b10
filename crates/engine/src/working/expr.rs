//! A formula as a value: it can be evaluated, and written in symbols or with the numbers in.

use core::fmt::Write as _;

use crate::equations::Num;

/// Unit of a temperature, which people read in °C: where its zero falls out of the formula.
pub const TEMPERATURE: &str = "K";
/// Unit of a difference of two temperatures.
pub const TEMPERATURE_DIFFERENCE: &str = "K apart";
/// Unit of a temperature in a law that counts from absolute zero: it stays in kelvin.
pub const FROM_ABSOLUTE_ZERO: &str = "K from zero";

/// A quantity in a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// As it is written, `p_own`: the part behind the underscore is an index.
    pub sign: &'static str,
    /// What it is, in a few words.
    pub meaning: &'static str,
    /// Its value, in `unit`.
    pub value: f64,
    /// SI unit, or one of the kinds of kelvin; empty for a bare number.
    pub unit: &'static str,
    /// The sheet's key that gave it, if one did.
    pub key: Option<&'static str>,
}

impl Symbol {
    /// A quantity that was computed.
    #[must_use]
    pub const fn computed(sign: &'static str, meaning: &'static str, value: f64, unit: &'static str) -> Self {
        Self {
            sign,
            meaning,
            value,
            unit,
            key: None,
        }
    }

    /// A quantity from the sheet, or its default.
    #[must_use]
    pub const fn of_key(
        sign: &'static str,
        meaning: &'static str,
        value: f64,
        unit: &'static str,
        key: &'static str,
    ) -> Self {
        Self {
            sign,
            meaning,
            value,
            unit,
            key: Some(key),
        }
    }

    /// The SI unit of its value, as programs read it: both kinds of kelvin are one.
    #[must_use]
    pub fn si_unit(&self) -> &'static str {
        match self.unit {
            TEMPERATURE_DIFFERENCE | FROM_ABSOLUTE_ZERO => TEMPERATURE,
            other => other,
        }
    }
}

/// A formula.
#[derive(Clone, Debug, PartialEq)]
pub enum Expr {
    /// A bare number that belongs to the formula.
    Number(f64),
    /// A quantity.
    Symbol(Symbol),
    /// All together.
    Sum(Vec<Expr>),
    /// The first less the second.
    Difference(Box<Expr>, Box<Expr>),
    /// All multiplied.
    Product(Vec<Expr>),
    /// The first over the second.
    Quotient(Box<Expr>, Box<Expr>),
    /// To a fixed power.
    Power(Box<Expr>, f64),
    /// The largest.
    Largest(Vec<Expr>),
    /// The smallest.
    Smallest(Vec<Expr>),
    /// Square root.
    SquareRoot(Box<Expr>),
}

/// How to write a formula.
#[derive(Clone, Copy)]
enum Style<'a> {
    Symbols,
    Numbers {
        digits: usize,
    },
    /// Each quantity by a rule of the caller's; it may bring a unit.
    Said(&'a dyn Fn(&Symbol) -> String),
}

impl Expr {
    /// The value that the formula gives with its numbers.
    #[must_use]
    pub fn value(&self) -> f64 {
        match self {
            Self::Number(number) => *number,
            Self::Symbol(symbol) => symbol.value,
            Self::Sum(parts) => parts.iter().map(Self::value).sum(),
            Self::Difference(from, less) => from.value() - less.value(),
            Self::Product(parts) => parts.iter().map(Self::value).product(),
            Self::Quotient(above, below) => above.value() / below.value(),
            Self::Power(base, power) => base.value().powf(*power),
            Self::Largest(parts) => parts.iter().map(Self::value).fold(f64::NEG_INFINITY, f64::max),
            Self::Smallest(parts) => parts.iter().map(Self::value).fold(f64::INFINITY, f64::min),
            Self::SquareRoot(inner) => inner.value().sqrt(),
        }
    }

    /// Every quantity in it, in the order of reading, each once.
    #[must_use]
    pub fn symbols(&self) -> Vec<&Symbol> {
        let mut found = Vec::new();
        self.collect(&mut found);
        found
    }

    fn collect<'a>(&'a self, found: &mut Vec<&'a Symbol>) {
        match self {
            Self::Number(_) => {}
            Self::Symbol(symbol) => {
                if !found.iter().any(|known| known.sign == symbol.sign) {
                    found.push(symbol);
                }
            }
            Self::Sum(parts) | Self::Product(parts) | Self::Largest(parts) | Self::Smallest(parts) => {
                parts.iter().for_each(|part| part.collect(found));
            }
            Self::Difference(one, other) | Self::Quotient(one, other) => {
                one.collect(found);
                other.collect(found);
            }
            Self::Power(inner, _) | Self::SquareRoot(inner) => inner.collect(found),
        }
    }

    /// In symbols: `F_hand = p_own * A / (i * eta)` without the left side.
    #[must_use]
    pub fn in_symbols(&self) -> String {
        let mut text = String::new();
        self.write(&mut text, Style::Symbols, 0);
        text
    }

    /// With the numbers in, to so many significant digits; 17 give back the value exactly.
    #[must_use]
    pub fn with_numbers(&self, digits: usize) -> String {
        let mut text = String::new();
        self.write(&mut text, Style::Numbers { digits }, 0);
        text
    }

    /// With each quantity as `said` writes it, such as `41.3 bar`.
    #[must_use]
    pub fn with_said(&self, said: &dyn Fn(&Symbol) -> String) -> String {
        let mut text = String::new();
        self.write(&mut text, Style::Said(said), 0);
        text
    }

    /// Binding: 1 sum, 2 product, 3 power.
    fn write(&self, text: &mut String, style: Style<'_>, around: u8) {
        let binding = match self {
            Self::Sum(_) | Self::Difference(..) => 1,
            Self::Product(_) | Self::Quotient(..) => 2,
            Self::Power(..) => 3,
            Self::Number(number) if *number < 0.0 => 1,
            Self::Symbol(symbol) if !matches!(style, Style::Symbols) && symbol.value < 0.0 => 1,
            // A number with its unit holds together but under a power.
            Self::Symbol(symbol) if matches!(style, Style::Said(_)) && !symbol.unit.is_empty() => 3,
            _ => 4,
        };
        let bracketed = binding < around;
        if bracketed {
            text.push('(');
        }
        match self {
            Self::Number(number) => write_number(text, *number, 17),
            Self::Symbol(symbol) => match style {
                Style::Symbols => text.push_str(symbol.sign),
                Style::Numbers { digits } => write_number(text, symbol.value, digits),
                Style::Said(said) => text.push_str(&said(symbol)),
            },
            Self::Sum(parts) => write_list(text, style, parts, " + ", 2),
            Self::Difference(from, less) => {
                from.write(text, style, 1);
                text.push_str(" - ");
                less.write(text, style, 2);
            }
            Self::Product(parts) => write_list(text, style, parts, " * ", 3),
            Self::Quotient(above, below) => {
                above.write(text, style, 2);
                text.push_str(" / ");
                below.write(text, style, 3);
            }
            Self::Power(base, power) => {
                base.write(text, style, 4);
                text.push('^');
                write_number(text, *power, 17);
            }
            Self::Largest(parts) => write_call(text, style, "max", parts),
            Self::Smallest(parts) => write_call(text, style, "min", parts),
            Self::SquareRoot(inner) => write_call(text, style, "sqrt", core::slice::from_ref(inner)),
        }
        if bracketed {
            text.push(')');
        }
    }
}

fn write_list(text: &mut String, style: Style<'_>, parts: &[Expr], between: &str, around: u8) {
    for (number, part) in parts.iter().enumerate() {
        if number > 0 {
            text.push_str(between);
        }
        part.write(text, style, if number == 0 { around - 1 } else { around });
    }
}

fn write_call(text: &mut String, style: Style<'_>, name: &str, parts: &[Expr]) {
    text.push_str(name);
    text.push('(');
    write_list(text, style, parts, ", ", 1);
    text.push(')');
}

/// A number to so many significant digits, without needless zeros; very large and small ones with an exponent.
fn write_number(text: &mut String, number: f64, digits: usize) {
    if digits >= 17 {
        // The shortest text that reads back as the same number.
        let plain = format!("{number}");
        let short = if plain.len() > 18 {
            format!("{number:e}")
        } else {
            plain
        };
        text.push_str(&short);
        return;
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
        let _ = write!(text, "{mantissa}e{exponent}");
        return;
    }
    let places = usize::try_from(i32::try_from(digits).unwrap_or(17) - 1 - exponent).unwrap_or(0);
    let plain = format!("{number:.places$}");
    let plain = if plain.contains('.') {
        plain.trim_end_matches('0').trim_end_matches('.')
    } else {
        &plain
    };
    text.push_str(plain);
}

impl From<f64> for Expr {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<Symbol> for Expr {
    fn from(symbol: Symbol) -> Self {
        Self::Symbol(symbol)
    }
}

impl From<&Symbol> for Expr {
    fn from(symbol: &Symbol) -> Self {
        Self::Symbol(symbol.clone())
    }
}

impl core::ops::Add for Expr {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        match self {
            Self::Sum(mut parts) => {
                parts.push(other);
                Self::Sum(parts)
            }
            first => Self::Sum(vec![first, other]),
        }
    }
}

impl core::ops::Sub for Expr {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::Difference(Box::new(self), Box::new(other))
    }
}

/// A factor of one is not written.
impl core::ops::Mul for Expr {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        match (self, other) {
            (one, Self::Number(1.0)) | (Self::Number(1.0), one) => one,
            (Self::Product(mut parts), other) => {
                parts.push(other);
                Self::Product(parts)
            }
            (first, other) => Self::Product(vec![first, other]),
        }
    }
}

impl core::ops::Div for Expr {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        Self::Quotient(Box::new(self), Box::new(other))
    }
}

/// What an equation makes of formulas: the formula that it is.
impl Num for Expr {
    fn least(self, other: Self) -> Self {
        Self::Smallest(vec![self, other])
    }

    fn most(self, other: Self) -> Self {
        Self::Largest(vec![self, other])
    }

    fn squared(self) -> Self {
        self.to_the(2.0)
    }

    fn to_the(self, power: f64) -> Self {
        Self::Power(Box::new(self), power)
    }

    fn root(self) -> Self {
        Self::SquareRoot(Box::new(self))
    }

    fn hypotenuse(self) -> Self {
        (Self::from(1.0) + self.squared()).root()
    }
}
