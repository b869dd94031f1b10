//! Figures as text: in the person's unit, rounded for the eye, never anything but a number or a dash.

use quantity::si::{Force, Length, Pressure, Torque};
use quantity::{Digits, Dimension, Unit, find_unit, show};

use crate::picture::Units;

/// What stands where there is no figure.
pub(crate) const NONE: &str = "–";

/// A figure with its unit, rounded for the eye: whole above a hundred, three digits above ten, two below.
pub(crate) fn with_unit(si: f64, unit: Unit) -> String {
    let value = unit.from_si(si).abs();
    let digits = match value {
        _ if value < 1e-9 => Digits::Places(0),
        _ if value < 9.95 => Digits::Significant(2),
        _ if value < 99.95 => Digits::Significant(3),
        _ => Digits::Places(0),
    };
    show(si, unit, digits)
}

/// A value that is already in a unit, without the unit, at so many places.
pub(crate) fn number(value: f64, unit: Unit, places: i8) -> String {
    let shown = show(unit.to_si(value), unit, Digits::Places(places));
    let bare = shown
        .strip_suffix(&unit.shown().replace(' ', "\u{A0}"))
        .unwrap_or(&shown);
    bare.trim_end_matches('\u{A0}').to_owned()
}

/// A column of a table: all figures at one place, at which the largest keeps three digits and whole numbers stay whole;
/// shares keep a place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    unit: Unit,
    places: i8,
}

impl Column {
    /// For values in SI.
    pub(crate) fn of(unit: Unit, si: impl IntoIterator<Item = f64>) -> Self {
        let largest = si
            .into_iter()
            .map(|si| unit.from_si(si).abs())
            .filter(|value| value.is_finite())
            .fold(0.0, f64::max);
        let places = match largest {
            _ if largest < 1e-9 => 0,
            _ if largest < 0.9995 => 3,
            _ if largest < 9.995 => 2,
            _ if largest < 99.95 || unit == crate::picture::per_cent() => 1,
            _ => 0,
        };
        Self { unit, places }
    }

    pub(crate) fn show(self, si: f64) -> String {
        if si.is_finite() {
            number(self.unit.from_si(si), self.unit, self.places)
        } else {
            NONE.to_owned()
        }
    }

    pub(crate) fn maybe(self, si: Option<f64>) -> String {
        si.map_or_else(|| NONE.to_owned(), |si| self.show(si))
    }
}

/// A head of a column or a name of an axis with its unit.
pub(crate) fn named(name: &str, unit: Unit) -> String {
    match unit.shown() {
        "" => name.to_owned(),
        shown => format!("{name}, {}", shown.replace(' ', "\u{A0}")),
    }
}

impl Units {
    pub(crate) fn show_pressure(&self, pressure: Pressure) -> String {
        with_unit(pressure.pa(), self.pressure)
    }

    pub(crate) fn show_length(&self, length: Length) -> String {
        with_unit(length.m(), self.length)
    }

    pub(crate) fn show_force(&self, force: Force) -> String {
        with_unit(force.n(), self.force)
    }

    pub(crate) fn show_torque(&self, torque: Torque) -> String {
        with_unit(torque.nm(), self.torque)
    }

    /// A pull, with what a luggage scale would read beside the newtons.
    pub(crate) fn show_pull(&self, force: Force) -> String {
        let shown = self.show_force(force);
        match find_unit("kgf", Dimension::Force) {
            Ok(on_scale) if self.force.symbol() == "N" => {
                let scale = show(force.n(), on_scale, Digits::Significant(2));
                format!("{shown} ({}kg)", scale.trim_end_matches("kgf"))
            }
            _ => shown,
        }
    }
}

/// A count of turns, with no more places than it needs.
pub(crate) fn plain(value: f64) -> String {
    let shown = number(value, crate::picture::bare(), 2);
    shown.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A grip or a braking rate.
pub(crate) fn ratio(value: f64) -> String {
    let shown = number(value, crate::picture::bare(), 2);
    match shown.strip_suffix('0') {
        Some(short) if short.contains('.') => short.to_owned(),
        _ => shown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_rounded_for_the_eye() {
        let units = Units::default();
        assert_eq!(units.show_pressure(Pressure::from_pa(41.26e5)), "41.3\u{A0}bar");
        assert_eq!(units.show_force(Force::from_n(12_345.6)), "12346\u{A0}N");
        assert_eq!(units.show_pull(Force::from_n(163.2)), "163\u{A0}N (17\u{A0}kg)");
        assert_eq!(units.show_length(Length::from_m(f64::NAN)), "–");
        assert_eq!(units.show_length(Length::from_m(0.00302)), "3.0\u{A0}mm");
        assert_eq!(units.show_length(Length::ZERO), "0\u{A0}mm");
        assert_eq!(
            (ratio(0.5), ratio(0.65), ratio(1.0)),
            ("0.5".into(), "0.65".into(), "1.0".into())
        );
        assert_eq!(
            (plain(0.0), plain(2.0), plain(2.25)),
            ("0".into(), "2".into(), "2.25".into())
        );
    }

    #[test]
    fn a_column_ends_at_one_place() {
        let column = Column::of(Units::default().pressure, [0.0, 5e5, 64.23e5]);
        assert_eq!(column.show(5e5), "5.0");
        assert_eq!(column.show(64.23e5), "64.2");
        assert_eq!(column.show(f64::INFINITY), NONE);
        assert_eq!(column.maybe(None), NONE);
    }
}
