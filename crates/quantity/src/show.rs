//! Figures for the eye: rounded, never broken from their unit.

use crate::exact::{self, Exact};
use crate::si::Length;
use crate::{Dimension, Unit, units_of};

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
    let Some(half_width) = exact::shortest(half_width) else {
        return Digits::Significant(3);
    };
    let half_width = unit.of_differences().exact_from_si(&half_width);
    let Some(top) = exact::magnitude(&half_width) else {
        return Digits::Significant(3);
    };
    let three_digits = exact::to_f64(&exact::shifted(&exact::rounded(&half_width, top - 2), 2 - top));
    let place = if three_digits < 354.5 { top - 1 } else { top };
    Digits::Places(i8::try_from(-place).unwrap_or(0))
}

/// The bore of a cylinder, in the size that it is sold by: `5/8 in (15.9 mm)`, `0.7 in (17.8 mm)`, `20.64 mm`.
///
/// A bore that is a whole number of 64ths or of hundredths of an inch, to a millionth of one, is in inches. A metric
/// size is one only where both are (12.7 mm is half an inch).
#[must_use]
pub fn show_bore(bore: Length) -> String {
    let in_inches = |parts: f64| {
        let count = bore.m() / 0.0254 * parts;
        let whole = count.round();
        ((count - whole).abs() < 1e-6 * parts && (1.0..1e4).contains(&whole)).then_some(whole)
    };
    let [millimetre, ..] = units_of(Dimension::Length) else {
        return String::new();
    };
    let metric = |digits| show(bore.m(), *millimetre, digits);
    let inches = match (in_inches(64.0), in_inches(100.0)) {
        (Some(sixty_fourths), _) => fraction(sixty_fourths),
        (None, Some(hundredths)) => format!("{}", hundredths / 100.0),
        (None, None) => {
            let text = metric(Digits::Places(2));
            let (number, unit) = text.split_once(NO_BREAK_SPACE).unwrap_or((&text, ""));
            let number = number.trim_end_matches('0').trim_end_matches('.');
            return format!("{number}{NO_BREAK_SPACE}{unit}");
        }
    };
    format!("{inches}{NO_BREAK_SPACE}in ({})", metric(Digits::Places(1)))
}

/// So many 64ths, in lowest terms: `5/8`, `1-1/16`, `1`.
fn fraction(sixty_fourths: f64) -> String {
    let (mut above, mut below) = (sixty_fourths % 64.0, 64.0);
    while above > 0.0 && above % 2.0 == 0.0 {
        (above, below) = (above / 2.0, below / 2.0);
    }
    match ((sixty_fourths / 64.0).floor(), above) {
        (whole, above) if above <= 0.0 => format!("{whole}"),
        (whole, above) if whole <= 0.0 => format!("{above}/{below}"),
        (whole, above) => format!("{whole}-{above}/{below}"),
    }
}

/// The places at which the larger of two figures has so many digits.
fn places_for(si: f64, unit: Unit, count: u8) -> Digits {
    let value = exact::shortest(si).map(|si| unit.exact_from_si(&si).abs());
    let top = value.map_or(0, |value| leading_place(&value, count));
    Digits::Places(i8::try_from(-(top + 1 - i32::from(count.max(1)))).unwrap_or(0))
}

/// The place of the leading digit once a value is rounded to so many digits: 9.996 to three digits is 10.0.
fn leading_place(value: &Exact, count: u8) -> i32 {
    let behind_first = i32::from(count.max(1)) - 1;
    let top = exact::magnitude(value).unwrap_or(0);
    exact::magnitude(&exact::rounded(value, top - behind_first)).unwrap_or(top)
}

fn number(si: f64, unit: Unit, digits: Digits) -> Option<String> {
    let value = unit.exact_from_si(&exact::shortest(si)?);
    let place = match digits {
        Digits::Significant(count) => leading_place(&value, count) + 1 - i32::from(count.max(1)),
        Digits::Places(places) => -i32::from(places),
    };
    let rounded = exact::rounded(&value, place);
    let far = exact::magnitude(&rounded).is_some_and(|magnitude| !(-6..15).contains(&magnitude));
    let text = if far {
        exact::plain_or_scientific(&rounded)
    } else {
        exact::plain(&rounded, usize::try_from(-place).unwrap_or(0))
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
