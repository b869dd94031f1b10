//! The one rounding: a figure keeps the digits that its range supports; where no range is known, three.

use quantity::{Digits, Unit, show};

/// A figure of three digits with its unit.
#[must_use]
pub fn figure(si: f64, unit: Unit) -> String {
    show(si, unit, column([si], unit))
}

/// Figures of a column, in one unit and rounded at one place: the largest keeps three digits.
#[must_use]
pub fn column(si: impl IntoIterator<Item = f64>, unit: Unit) -> Digits {
    let largest = si
        .into_iter()
        .map(|si| unit.from_si(si).abs())
        .filter(|value| value.is_finite())
        .fold(0.0, f64::max);
    if largest == 0.0 {
        return Digits::Places(0);
    }
    // Counted by comparing: no figure here is beyond a few decades.
    let mut places: i8 = 2;
    let mut reach = 9.995;
    while largest >= reach && places > -9 {
        places -= 1;
        reach *= 10.0;
    }
    let mut reach = 0.9995;
    while places >= 2 && largest < reach && places < 9 {
        places += 1;
        reach /= 10.0;
    }
    Digits::Places(places)
}
