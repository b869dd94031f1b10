//! A figure with its range, rounded to what the range supports.

use engine::ranges::Range;
use quantity::{Digits, Dimension, Unit, digits_for_range, find_unit, show, show_range, units_of};

use crate::rounding::column;

/// A figure as text, and the same as a number in the same unit, for a bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// With its unit.
    pub text: String,
    /// In that unit, not rounded.
    pub number: f64,
}

/// A figure with both ends of its range, where it has one, all rounded at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The figure with everything at its middle.
    pub value: Shown,
    /// Nine times in ten it lies between.
    pub range: Option<Between>,
}

/// Both ends of a range.
#[derive(Clone, Debug, PartialEq)]
pub struct Between {
    /// The lower.
    pub low: Shown,
    /// The upper.
    pub high: Shown,
    /// `239 to 430 N`.
    pub text: String,
}

impl Measured {
    /// Of a figure in SI, in a unit.
    #[must_use]
    pub fn of(si: f64, range: Option<Range>, unit: Unit) -> Self {
        Self::rounded(si, range, unit, digits(si, range, unit))
    }

    /// Of turns of a knob or a bar: nobody turns finer than a tenth.
    #[must_use]
    pub fn turns(turns: f64, range: Option<Range>) -> Self {
        Self::rounded(turns, range, units_of(Dimension::Turns)[0], Digits::Places(1))
    }

    fn rounded(si: f64, range: Option<Range>, unit: Unit, digits: Digits) -> Self {
        let shown = |si: f64| Shown {
            text: show(si, unit, digits),
            number: unit.from_si(si),
        };
        Self {
            value: shown(si),
            range: range.map(|range| Between {
                low: shown(range.low),
                high: shown(range.high),
                text: show_range(range.low, range.high, unit, digits),
            }),
        }
    }

    /// Of a bare ratio.
    #[must_use]
    pub fn ratio(value: f64, range: Option<Range>) -> Self {
        Self::of(value, range, units_of(Dimension::Ratio)[0])
    }

    /// Of a ratio in per cent.
    #[must_use]
    pub fn per_cent(share: f64, range: Option<Range>) -> Self {
        let usual = units_of(Dimension::Ratio)[0];
        Self::of(share, range, find_unit("%", Dimension::Ratio).unwrap_or(usual))
    }
}

/// The one rounding: to what the range supports; where none is known, three digits.
#[must_use]
pub fn digits(si: f64, range: Option<Range>, unit: Unit) -> Digits {
    match range {
        Some(range) => digits_for_range(range.low, range.high, unit),
        None => column([si], unit),
    }
}
