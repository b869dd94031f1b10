//! What holds for every text and every amount.

use proptest::prelude::*;
use quantity::{Amount, Digits, Dimension, Spread, Unit, parse, print, show, units_of};

use crate::well_behaved::well_behaved;

fn dimension() -> impl Strategy<Value = Dimension> {
    proptest::sample::select(Dimension::ALL.to_vec())
}

fn dimension_and_unit() -> impl Strategy<Value = (Dimension, Unit)> {
    dimension().prop_flat_map(|dimension| {
        (
            Just(dimension),
            proptest::sample::select(units_of(dimension).to_vec()),
        )
    })
}

/// Every normal double, and more often those of a workshop.
fn si() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -1e7..1e7_f64,
        2 => 1e-14..1.0_f64,
        1 => proptest::num::f64::NORMAL | proptest::num::f64::ZERO,
    ]
}

fn spread() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        1e-9..1e3_f64,
        proptest::num::f64::POSITIVE | proptest::num::f64::NORMAL
    ]
}

/// An amount that a text can stand for.
fn written(dimension: Dimension, si: f64, width: f64, uniform: bool) -> Option<Amount> {
    // Closer to absolute zero than this, only kelvins have digits enough.
    let si = if dimension == Dimension::Temperature {
        si.abs().max(1e-3)
    } else {
        si
    };
    let (low_si, high_si) = (si, si + width);
    let spread = match (width > 0.0, uniform) {
        (false, _) => Spread::Exact,
        (true, false) => Spread::Normal { half_width_si: width },
        (true, true) => Spread::Uniform { low_si, high_si },
    };
    let si = if matches!(spread, Spread::Uniform { .. }) {
        low_si.midpoint(high_si)
    } else {
        si
    };
    let good = low_si < high_si && high_si.is_finite() || !uniform || width <= 0.0;
    (good && si.is_finite() && (width <= 0.0 || width.is_normal())).then_some(Amount {
        dimension,
        si,
        spread,
    })
}

/// Text made of what quantities are made of.
fn likely_text() -> impl Strategy<Value = String> {
    let parts = [
        "0", "1", "5/8", "1-1/16", "½", "1 1/8", "15,9", "1,000", "1e3", "1e999", ".", ",", "-", "−", "+",
        "±", "+/-", " ", "\u{a0}", "between ", " and ", "guess", "mm", "in", "\"", "bar", "psi", "lb", "kg",
        "N m", "N·m", "%", "C", "°", "F", "K", ":", " in ", "/", "cm³/bar", "rpm", "1/min", "gal", "us",
        "mPa", "NaN", "inf", "é", "𝟙", "\u{202e}", "e", "E-", "..", "to", "'", "m", "2", "000", "_",
    ];
    proptest::collection::vec(proptest::sample::select(parts.to_vec()), 0..9).prop_map(|parts| parts.concat())
}

fn config() -> ProptestConfig {
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok());
    ProptestConfig {
        cases: cases.unwrap_or(64),
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn any_text_is_read_or_refused_in_words(text in any::<String>(), wanted in dimension()) {
        well_behaved(&text, wanted);
    }

    #[test]
    fn likely_text_is_read_or_refused_in_words(text in likely_text(), wanted in dimension()) {
        well_behaved(&text, wanted);
    }

    #[test]
    fn what_is_printed_reads_back_to_the_last_bit(
        (dimension, unit) in dimension_and_unit(), si in si(), width in spread(), uniform: bool,
    ) {
        if let Some(amount) = written(dimension, si, width, uniform) {
            let printed = print(&amount, unit);
            prop_assert_eq!(parse(&printed, dimension), Ok(amount), "{}", printed);
        }
    }

    #[test]
    fn a_larger_number_is_a_larger_amount(
        (dimension, unit) in dimension_and_unit(), a in -1e6..1e6_f64, b in -1e6..1e6_f64,
    ) {
        let read = |value: f64| parse(&format!("{value} {}", unit.symbol()), dimension).map(|amount| amount.si);
        if let (Ok(x), Ok(y)) = (read(a), read(b)) {
            prop_assert_eq!(a < b, x < y);
        }
    }

    #[test]
    fn quick_and_exact_conversions_agree((dimension, unit) in dimension_and_unit(), value in -1e6..1e6_f64) {
        if let Ok(amount) = parse(&format!("{value} {}", unit.symbol()), dimension) {
            let scale = amount.si.abs().max(unit.to_si(0.0).abs());
            prop_assert!((unit.to_si(value) - amount.si).abs() <= scale * 1e-15);
            let scale = value.abs().max(unit.from_si(0.0).abs());
            prop_assert!((unit.from_si(amount.si) - value).abs() <= scale * 1e-15);
        }
    }

    #[test]
    fn what_is_shown_is_near(
        (dimension, unit) in dimension_and_unit(), value in -1e6..1e6_f64, digits in 1..9_u8,
    ) {
        let si = unit.to_si(value);
        let shown = show(si, unit, Digits::Significant(digits));
        if let Ok(amount) = parse(&shown, dimension) {
            let back = unit.from_si(amount.si);
            let step = 10_f64.powf(value.abs().log10().floor() + 1.0 - f64::from(digits));
            prop_assert!((back - value).abs() <= step * 0.5001 + 1e-9, "{} for {}", shown, value);
        } else {
            prop_assert!(dimension == Dimension::Temperature, "{} does not read back", shown);
        }
    }
}
