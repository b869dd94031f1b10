//! Figures for the eye: rounded, never broken from their unit.

use crate::{Unit, exact::Exact, print::plain_or_scientific};

/// Keeps a number and its unit on one line.
const NO_BREAK_SPACE: char = '\u{A0}';

/// How far a figure is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Digits {
    /// So many digits, counted from the first that is not zero. 0 is taken as 1.
    Significant(u8),
    /// So many places behind the decimal point; below zero, to tens (−1), hundreds (−2) and so on.
    Places(i8),
}

/// A figure in a unit, rounded (halves away from zero), with a true minus sign and a no-break space: `−3.5 °C`.
///
/// `si` is in the SI unit of the unit's dimension. What is not finite is shown as a dash.
#[must_use]
pub fn show(si: f64, unit: Unit, digits: Digits) -> String {
    match number(si, unit, digits) {
        Some(number) => with_unit(&number, unit),
        None => "–".to_owned(),
    }
}

/// A range in a unit, its ends rounded alike: `41 to 46 bar`. Where they round to the same figure, that figure.
///
/// `low_si` and `high_si` are in the SI unit of the unit's dimension. What is not finite is shown as a dash.
#[must_use]
pub fn show_range(low_si: f64, high_si: f64, unit: Unit, digits: Digits) -> String {
    let places = match digits {
        Digits::Places(_) => digits,
        Digits::Significant(count) => places_for(low_si.abs().max(high_si.abs()), unit, count),
    };
    match (number(low_si, unit, places), number(high_si, unit, places)) {
        (Some(low), Some(high)) if low == high => with_unit(&low, unit),
        (Some(low), Some(high)) => {
            format!(
                "{low}{NO_BREAK_SPACE}to{NO_BREAK_SPACE}{}",
                with_unit(&high, unit)
            )
        }
        _ => "–".to_owned(),
    }
}

/// How far to round a figure that may be anything from `low_si` to `high_si`, shown in `unit`: the half-width keeps two
/// digits where they are 10 to 35, otherwise one, and the figure ends at the same place. Three significant digits
/// where the range has no width or is not finite. Use the same for the figure and both ends.
///
/// The rule is the one by which tables of measured constants are commonly rounded (the Particle Data Group's, 355 of
/// 1000 being where it changes; from memory).
#[must_use]
pub fn digits_for_range(low_si: f64, high_si: f64, unit: Unit) -> Digits {
    let half_width = (high_si / 2.0 - low_si / 2.0).abs();
    let Some(half_width) = Exact::shortest(half_width) else {
        return Digits::Significant(3);
    };
    let half_width = unit.of_differences().exact_from_si(&half_width);
    let Some(top) = half_width.magnitude() else {
        return Digits::Significant(3);
    };
    let three_digits = half_width.rounded(top - 2).shifted(2 - top).to_f64();
    let place = if three_digits < 354.5 { top - 1 } else { top };
    Digits::Places(i8::try_from(-place).unwrap_or(0))
}

/// The places at which the larger of two figures has so many digits.
fn places_for(si: f64, unit: Unit, count: u8) -> Digits {
    let value = Exact::shortest(si).map(|si| unit.exact_from_si(&si).abs());
    let top = value.map_or(0, |value| leading_place(&value, count));
    Digits::Places(i8::try_from(-(top + 1 - i32::from(count.max(1)))).unwrap_or(0))
}

/// The place of the leading digit once a value is rounded to so many digits: 9.996 to three digits is 10.0.
fn leading_place(value: &Exact, count: u8) -> i32 {
    let behind_first = i32::from(count.max(1)) - 1;
    let top = value.magnitude().unwrap_or(0);
    value.rounded(top - behind_first).magnitude().unwrap_or(top)
}

fn number(si: f64, unit: Unit, digits: Digits) -> Option<String> {
    let value = unit.exact_from_si(&Exact::shortest(si)?);
    let place = match digits {
        Digits::Significant(count) => leading_place(&value, count) + 1 - i32::from(count.max(1)),
        Digits::Places(places) => -i32::from(places),
    };
    let rounded = value.rounded(place);
    let far = rounded
        .magnitude()
        .is_some_and(|magnitude| !(-6..15).contains(&magnitude));
    let text = if far {
        plain_or_scientific(&rounded)
    } else {
        rounded.plain(usize::try_from(-place).unwrap_or(0))
    };
    Some(text.replace('-', "−"))
}

fn with_unit(number: &str, unit: Unit) -> String {
    let shown = unit.shown().replace(' ', "\u{A0}");
    match unit.shown() {
        "" | "°" => format!("{number}{shown}"),
        _ => format!("{number}{NO_BREAK_SPACE}{shown}"),
    }
}
