//! Figures in columns and on axes: the unit stands in the head, so that cells are bare numbers.

use engine::ranges::Range;
use quantity::{Digits, Dimension, Unit, show, units_of};

use crate::measured::digits;
use crate::rounding;

/// What stands where there is no figure.
pub const NONE: &str = "–";

/// A column of a table: all its figures in one unit and rounded at one place, by the one rule.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    unit: Unit,
    digits: Digits,
}

impl Column {
    /// For values in SI. Shares are in whole per cent, other ratios have two places, temperatures are whole degrees.
    #[must_use]
    pub fn of(unit: Unit, si: impl IntoIterator<Item = f64>) -> Self {
        let digits = match unit.dimension() {
            Dimension::Temperature => Digits::Places(0),
            Dimension::Ratio if unit.symbol() == "%" => Digits::Places(0),
            Dimension::Ratio => Digits::Places(2),
            _ => match rounding::column(si, unit) {
                // Beside thousands, whole numbers stay whole: a column holds small ones too.
                Digits::Places(places) => Digits::Places(places.max(0)),
                digits @ Digits::Significant(_) => digits,
            },
        };
        Self { unit, digits }
    }

    /// A cell.
    #[must_use]
    pub fn show(self, si: f64) -> String {
        bare(si, self.unit, self.digits)
    }

    /// A cell, or a dash.
    #[must_use]
    pub fn maybe(self, si: Option<f64>) -> String {
        si.map_or_else(|| NONE.to_owned(), |si| self.show(si))
    }

    /// The cell of a figure of which more is known: rounded as it is everywhere else.
    #[must_use]
    pub fn known(self, si: f64, range: Option<Range>) -> String {
        match range {
            Some(_) => bare(si, self.unit, digits(si, range, self.unit)),
            None => self.show(si),
        }
    }
}

/// A value in SI without its unit.
fn bare(si: f64, unit: Unit, digits: Digits) -> String {
    if !si.is_finite() {
        return NONE.to_owned();
    }
    let shown = show(si, unit, digits);
    let number = shown
        .strip_suffix(&unit.shown().replace(' ', "\u{a0}"))
        .unwrap_or(&shown);
    number.trim_end_matches('\u{a0}').to_owned()
}

/// A value that is already in a unit, without the unit, at so many places: a tick of an axis, whose step decides.
#[must_use]
pub fn number(value: f64, unit: Unit, places: i8) -> String {
    bare(unit.to_si(value), unit, Digits::Places(places))
}

/// A head of a column or a name of an axis with its unit.
#[must_use]
pub fn named(name: &str, unit: Unit) -> String {
    match unit.shown() {
        "" => name.to_owned(),
        shown => format!("{name}, {}", shown.replace(' ', "\u{a0}")),
    }
}

/// A count that a person wrote down, such as turns of a knob: as finely as it was, to a hundredth.
#[must_use]
pub fn entered(value: f64) -> String {
    let shown = number(value, units_of(Dimension::Ratio)[0], 2);
    shown.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_ends_at_one_place() {
        let column = Column::of(units_of(Dimension::Pressure)[0], [0.0, 5e5, 64.23e5]);
        assert_eq!(column.show(5e5), "5.0");
        assert_eq!(column.show(64.23e5), "64.2");
        assert_eq!(column.show(f64::INFINITY), NONE);
        assert_eq!(column.maybe(None), NONE);
        let forces = Column::of(units_of(Dimension::Force)[0], [25_004.0, 712.0]);
        assert_eq!(
            (forces.show(25_004.0), forces.show(712.0)),
            ("25004".into(), "712".into())
        );
        let range = Some(Range {
            low: 50e5,
            high: 78e5,
        });
        assert_eq!(
            (column.known(64.23e5, range), column.known(64.23e5, None)),
            ("64".into(), "64.2".into())
        );
    }

    #[test]
    fn what_was_entered_is_shown_as_finely() {
        assert_eq!([0.0, 2.0, 2.25].map(entered), ["0", "2", "2.25"]);
    }
}
