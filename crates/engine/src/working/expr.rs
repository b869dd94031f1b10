//! A formula as a value: it can be evaluated, and says what it is made of.

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
