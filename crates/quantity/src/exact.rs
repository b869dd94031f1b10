//! Numbers in decimal digits, so that a unit converts without rounding and only the last step, to `f64`, rounds.
//!
//! `15.9 mm` times 1/1000 in `f64` may land beside the nearest double to 0.0159; here the digits are scaled first and the
//! standard library's reader, which rounds correctly, is asked last. A quotient that does not end keeps 100 digits, far
//! beyond the 17 that tell two doubles apart.

use bigdecimal::num_bigint::BigInt;
use bigdecimal::{BigDecimal, RoundingMode, Signed as _, Zero as _};

/// A number that is not rounded.
pub(crate) type Exact = BigDecimal;

/// From digits and the power of ten of the last one.
pub(crate) fn decimal(digits: &str, power: i32) -> Exact {
    let whole: BigInt = digits.parse().unwrap_or_default();
    Exact::new(whole, -i64::from(power))
}

/// The shortest decimal that reads back as this double. `None` where it is not finite.
pub(crate) fn shortest(value: f64) -> Option<Exact> {
    if !value.is_finite() {
        return None;
    }
    let written = format!("{value:e}");
    let (digits, power) = written.split_once('e')?;
    let behind = digits.split_once('.').map_or(0, |(_, behind)| behind.len());
    let power: i64 = power.parse().ok()?;
    // At most 17 digits.
    let whole: i64 = digits.replace('.', "").parse().ok()?;
    Some(Exact::new(whole.into(), i64::try_from(behind).ok()? - power))
}

/// The double itself, to 60 digits. The shortest decimal may stand on the very edge of what reads back as the double, so
/// that the least further rounding leads to its neighbour; this one stands in the middle.
pub(crate) fn middle(value: f64) -> Option<Exact> {
    value.is_finite().then(|| format!("{value:.59e}").parse().ok())?
}

/// The nearest double; infinite where it is beyond all of them.
pub(crate) fn to_f64(value: &Exact) -> f64 {
    value.to_scientific_notation().parse().unwrap_or(f64::NAN)
}

/// Power of ten of the leading digit; `None` for zero.
pub(crate) fn magnitude(value: &Exact) -> Option<i32> {
    let digits = i64::try_from(value.digits()).ok()?;
    let power = digits - 1 - value.fractional_digit_count();
    if value.is_zero() {
        None
    } else {
        i32::try_from(power).ok()
    }
}

/// Times ten to a power.
pub(crate) fn shifted(value: &Exact, power: i32) -> Exact {
    let (digits, scale) = value.as_bigint_and_exponent();
    Exact::new(digits, scale - i64::from(power))
}

/// Divided by a whole number. Where that is twos and fives alone the quotient ends, and is made without a division.
pub(crate) fn over(value: &Exact, by: u64) -> Exact {
    let (mut rest, mut twos, mut fives) = (by, 0_u32, 0_u32);
    while rest != 0 && rest.is_multiple_of(2) {
        (rest, twos) = (rest / 2, twos + 1);
    }
    while rest != 0 && rest.is_multiple_of(5) {
        (rest, fives) = (rest / 5, fives + 1);
    }
    let places = twos.max(fives);
    let times = 2_u64
        .checked_pow(places - twos)
        .zip(5_u64.checked_pow(places - fives))
        .and_then(|(twos, fives)| twos.checked_mul(fives));
    match (rest, times, i32::try_from(places)) {
        (1, Some(1), Ok(places)) => shifted(value, -places),
        (1, Some(times), Ok(places)) => shifted(&(value * Exact::from(times)), -places),
        _ => value / Exact::from(by),
    }
}

/// Rounded to a multiple of ten to the `place`, halves away from zero.
pub(crate) fn rounded(value: &Exact, place: i32) -> Exact {
    value.with_scale_round(-i64::from(place), RoundingMode::HalfUp)
}

/// Plain digits with a decimal point, and at least `decimals` places after it (zeros are filled in).
pub(crate) fn plain(value: &Exact, decimals: usize) -> String {
    let (whole, scale) = value.as_bigint_and_exponent();
    let mut digits = whole.magnitude().to_string();
    let places = match usize::try_from(scale) {
        Ok(places) => {
            if let Some(missing) = (places + 1).checked_sub(digits.len()) {
                digits.insert_str(0, &"0".repeat(missing));
            }
            places
        }
        Err(_) if value.is_zero() => 0,
        Err(_) => {
            let missing = usize::try_from(scale.unsigned_abs()).unwrap_or(0);
            digits.push_str(&"0".repeat(missing));
            0
        }
    };
    let (whole, behind) = digits.split_at(digits.len() - places);
    let behind = behind.trim_end_matches('0');
    let sign = if value.is_negative() { "-" } else { "" };
    if decimals == 0 && behind.is_empty() {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{behind:0<decimals$}")
    }
}

/// As `1.25e-13`.
pub(crate) fn scientific(value: &Exact) -> String {
    match magnitude(value) {
        None => "0".to_owned(),
        Some(power) => format!("{}e{power}", plain(&shifted(value, -power), 0)),
    }
}

/// Plain digits where they are not too many, otherwise with a power of ten.
pub(crate) fn plain_or_scientific(number: &Exact) -> String {
    match magnitude(number) {
        Some(magnitude) if !(-6..15).contains(&magnitude) => scientific(number),
        _ => plain(number, 0),
    }
}

#[cfg(test)]
mod tests {
    use super::{Exact, decimal, magnitude, middle, over, plain, rounded, scientific, shortest, to_f64};

    fn exact(value: f64) -> Exact {
        shortest(value).unwrap()
    }

    #[test]
    fn halves_round_away_from_zero() {
        for (value, place, decimals, text) in [
            (0.15, -1, 1, "0.2"),
            (-0.25, -1, 1, "-0.3"),
            (0.0449, -1, 1, "0.0"),
            (95.0, 1, 0, "100"),
            (49.0, 2, 0, "0"),
            (51.0, 2, 0, "100"),
            (5.0, 3, 0, "0"),
        ] {
            assert_eq!(plain(&rounded(&exact(value), place), decimals), text, "{value}");
        }
    }

    #[test]
    fn written_out() {
        assert_eq!(plain(&exact(1500.0), 0), "1500");
        assert_eq!(plain(&exact(0.00125), 0), "0.00125");
        assert_eq!(plain(&exact(1.5), 3), "1.500");
        assert_eq!(scientific(&exact(-1.25e-13)), "-1.25e-13");
        assert_eq!(scientific(&exact(3e20)), "3e20");
        assert_eq!(plain(&exact(0.0), 2), "0.00");
    }

    #[test]
    fn quotients_that_end_are_those_of_a_division() {
        for by in [1, 2, 5, 10, 18, 127, 640, 3600, 100_000, 9_765_625, u64::MAX] {
            for value in [0.0, 1.0, -0.1, 3.3e-7, 101_325.0, 6.02e23] {
                let divided = exact(value) / Exact::from(by);
                assert_eq!(over(&exact(value), by), divided, "{value} over {by}");
            }
        }
    }

    #[test]
    fn the_leading_digit_is_found() {
        for (value, power) in [
            (1.0, 0),
            (9.999, 0),
            (10.0, 1),
            (0.1, -1),
            (0.099, -2),
            (-123.0, 2),
            (1e300, 300),
            (5e-324, -324),
        ] {
            assert_eq!(magnitude(&exact(value)), Some(power), "{value}");
        }
        assert_eq!(magnitude(&exact(0.0)), None);
    }

    #[test]
    fn doubles_survive() {
        for value in [
            0.1,
            -1.0 / 3.0,
            6.02e23,
            5e-324,
            f64::MAX,
            f64::MIN_POSITIVE,
            123_456_789.0,
        ] {
            assert_eq!(to_f64(&exact(value)).to_bits(), value.to_bits());
            assert_eq!(to_f64(&middle(value).unwrap()).to_bits(), value.to_bits());
        }
        let thirds = decimal("2", 0) / decimal("3", 0);
        assert_eq!(to_f64(&thirds).to_bits(), (2.0_f64 / 3.0).to_bits());
        assert_eq!(shortest(f64::NAN), None);
        assert_eq!(shortest(f64::INFINITY), None);
        assert_eq!(middle(f64::NEG_INFINITY), None);
    }
}
