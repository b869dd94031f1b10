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
    pub fn new(si: f64, range: Option<Range>, unit: Unit) -> Self {
        Self::rounded(si, range, unit, digits(si, range, unit))
    }

    /// Of a figure whose digits are decided elsewhere: by what is `known` of it whatever was drawn for this answer.
    #[must_use]
    pub fn known(si: f64, range: Option<Range>, known: Option<Range>, unit: Unit) -> Self {
        Self::rounded(si, range, unit, digits(si, known, unit))
    }

    /// Of turns of a knob or a bar: nobody turns finer than a tenth.
    #[must_use]
    pub fn turns(turns: f64, range: Option<Range>) -> Self {
        Self::rounded(turns, range, units_of(Dimension::Turns)[0], Digits::Places(1))
    }

    pub(crate) fn rounded(si: f64, range: Option<Range>, unit: Unit, digits: Digits) -> Self {
        // Nothing at all is where a figure was stopped, and not one that is known to so many places.
        let shown = |si: f64| Shown {
            text: show(si, unit, if is_nothing(si) { Digits::Places(0) } else { digits }),
            number: unit.from_si(si),
        };
        let between = |range: Range| {
            let (low, high) = (shown(range.low), shown(range.high));
            let text = if is_nothing(range.low) && range.high > 0.0 {
                format!("0\u{a0}to\u{a0}{}", high.text)
            } else {
                show_range(range.low, range.high, unit, digits)
            };
            Between { low, high, text }
        };
        Self {
            value: shown(si),
            range: range.map(between),
        }
    }

    /// The figure with its range behind it: `30.2 bar (27.9 to 32.4 bar)`. The one way to say a range.
    #[must_use]
    pub fn with_range(&self) -> String {
        match &self.range {
            Some(range) => format!("{} ({})", self.value.text, range.text),
            None => self.value.text.clone(),
        }
    }

    /// Of a bare ratio.
    #[must_use]
    pub fn ratio(value: f64, range: Option<Range>) -> Self {
        Self::new(value, range, units_of(Dimension::Ratio)[0])
    }

    /// Of a share: whole per cent, as everywhere.
    #[must_use]
    pub fn per_cent(share: f64, range: Option<Range>) -> Self {
        let usual = units_of(Dimension::Ratio)[0];
        let unit = find_unit("%", Dimension::Ratio).unwrap_or(usual);
        Self::rounded(share, range, unit, Digits::Places(0))
    }

    /// Of a temperature or a difference of two, in a unit of it: whole degrees, as everywhere.
    #[must_use]
    pub fn degrees(k: f64, range: Option<Range>, unit: Unit) -> Self {
        Self::rounded(k, range, unit, Digits::Places(0))
    }
}

/// Whether a figure is nothing, to the last digit.
fn is_nothing(si: f64) -> bool {
    si.abs() < f64::MIN_POSITIVE
}

/// The one rounding: to what the range supports; where none is known, three digits.
#[must_use]
pub fn digits(si: f64, range: Option<Range>, unit: Unit) -> Digits {
    match range {
        Some(range) => digits_for_range(range.low, range.high, unit),
        None => column([si], unit),
    }
}

/// Which end leads, and by how much: `the front leads by 7 to 14 %`; where either may, `rear first by 10 % to front first
/// by 70 %`. Above zero the front leads.
#[must_use]
pub fn lead(front_first_by: f64, range: Option<Range>) -> String {
    let per_cent = |share: f64, range| Measured::per_cent(share, range);
    match range {
        Some(Range { low, high }) if low < 0.0 && high > 0.0 => {
            let ends = per_cent(front_first_by, range).range;
            let text =
                |shown: Option<Shown>| shown.map_or_else(String::new, |shown| shown.text.replace('−', ""));
            let (low, high) = ends.map_or((None, None), |ends| (Some(ends.low), Some(ends.high)));
            format!("rear first by {} to front first by {}", text(low), text(high))
        }
        _ => {
            let (end, side) = if front_first_by < 0.0 {
                ("rear", -1.0)
            } else {
                ("front", 1.0)
            };
            let turned = range.map(|range| Range {
                low: (side * range.low).min(side * range.high),
                high: (side * range.low).max(side * range.high),
            });
            let measured = per_cent(side * front_first_by, turned);
            let by = measured.range.map_or(measured.value.text, |range| range.text);
            format!("the {end} leads by {by}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str) -> String {
        text.replace('\u{a0}', " ")
    }

    fn range(low: f64, high: f64) -> Option<Range> {
        Some(Range { low, high })
    }

    #[test]
    fn an_end_leads_or_either_may() {
        let said = |lead: f64, range| plain(&super::lead(lead, range));
        assert_eq!(said(0.10, range(0.068, 0.141)), "the front leads by 7 to 14 %");
        assert_eq!(said(-0.10, range(-0.141, -0.068)), "the rear leads by 7 to 14 %");
        assert_eq!(
            said(0.30, range(-0.10, 0.70)),
            "rear first by 10 % to front first by 70 %"
        );
        assert_eq!(said(-0.05, None), "the rear leads by 5 %");
    }

    #[test]
    fn a_figure_and_its_range_end_at_one_place() {
        let newton = find_unit("N", Dimension::Force).unwrap_or(units_of(Dimension::Force)[0]);
        let measured = Measured::new(323.5, range(239.0, 430.0), newton);
        assert_eq!(plain(&measured.value.text), "320 N");
        let between = measured.range.map(|range| plain(&range.text));
        assert_eq!(between.as_deref(), Some("240 to 430 N"));
        assert_eq!(
            plain(&Measured::turns(2.76, range(2.21, 2.89)).value.text),
            "2.8 turns"
        );
        assert_eq!(plain(&Measured::new(323.5, None, newton).value.text), "324 N");
    }

    #[test]
    fn nothing_is_not_known_to_three_places() {
        let millimetre = find_unit("mm", Dimension::Length).unwrap_or(units_of(Dimension::Length)[0]);
        let stopped = Measured::new(0.0, range(0.0, 5.5e-5), millimetre);
        assert_eq!(plain(&stopped.with_range()), "0 mm (0 to 0.055 mm)");
        // What only rounds to nothing keeps its places.
        let small = Measured::new(1.0e-7, range(0.0, 5.5e-5), millimetre);
        assert_eq!(plain(&small.with_range()), "0.000 mm (0 to 0.055 mm)");
    }
}
