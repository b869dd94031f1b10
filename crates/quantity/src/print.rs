//! Amounts as text that reads back the same.

use crate::exact;
use crate::{Amount, Spread, Unit, units_of};

/// Significant digits that are always enough to tell a double from its neighbours, with some in hand.
const ENOUGH_DIGITS: i32 = 22;

/// Writes an amount in a unit so that [`parse`](crate::parse) gives it back: value and tolerance to the last bit.
///
/// Digits are as few as that allows, and plain from 10⁻⁶ up to 10¹⁵; beyond, a power of ten stands behind them, as in
/// `1e-13 m3/Pa`. A tolerance is in the same unit. Where the unit is not one of the amount's dimension, its most usual
/// one is taken instead. Amounts that no text stands for (not finite, subnormal, colder than absolute zero, a
/// tolerance not above zero, a uniform one whose middle is not the value) are written as nearly as can be, and do not
/// read back; nor do, in another unit than K, temperatures within a thousandth of a kelvin of absolute zero.
#[must_use]
pub fn print(amount: &Amount, unit: Unit) -> String {
    let unit = match units_of(amount.dimension) {
        [usual, ..] if unit.dimension() != amount.dimension => *usual,
        _ => unit,
    };
    match amount.spread {
        Spread::Exact => shortest(amount.si, unit),
        Spread::Normal { half_width_si } => {
            format!(
                "{} ± {}",
                shortest(amount.si, unit),
                shortest(half_width_si, unit.of_differences())
            )
        }
        Spread::Uniform { low_si, high_si } => {
            format!(
                "between {} and {}",
                shortest(low_si, unit),
                shortest(high_si, unit)
            )
        }
    }
}

/// The shortest decimal in a unit that converts to `si`, with the unit. Its digits are counted from the larger of
/// itself and the zero of a temperature scale, since a point near that zero has but few digits of its own.
fn shortest(si: f64, unit: Unit) -> String {
    let number = match exact::middle(si) {
        None => si.to_string(),
        Some(exact) => {
            let value = unit.exact_from_si(&exact);
            let top = exact::magnitude(&value)
                .max(exact::magnitude(&unit.exact_zero()))
                .unwrap_or(0);
            // Compared by bits; a zero without its sign is the one difference that is no difference.
            let bits = (si + 0.0).to_bits();
            let mut candidates = (0..ENOUGH_DIGITS).map(|digits| exact::rounded(&value, top - digits));
            let found =
                candidates.find(|candidate| exact::to_f64(&unit.exact_to_si(candidate)).to_bits() == bits);
            exact::plain_or_scientific(&found.unwrap_or_else(|| exact::rounded(&value, top - ENOUGH_DIGITS)))
        }
    };
    match unit.symbol() {
        "" => number,
        symbol => format!("{number} {symbol}"),
    }
}
