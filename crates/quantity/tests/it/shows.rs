//! What is shown to the eye.

use quantity::{
    Digits, Dimension, Unit, digits_for_range, find_unit, parse, show, show_bore, show_range, units_of,
};

use Digits::{Places, Significant};

fn unit(symbol: &str, dimension: Dimension) -> Unit {
    find_unit(symbol, dimension).unwrap()
}

/// Shown, with `_` for the no-break spaces.
fn shown(text: &str, symbol: &str, dimension: Dimension, digits: Digits) -> String {
    show(
        parse(text, dimension).unwrap().si,
        unit(symbol, dimension),
        digits,
    )
    .replace('\u{a0}', "_")
}

#[test]
fn rounded_and_held_together() {
    use Dimension::*;
    assert_eq!(shown("41.27 bar", "bar", Pressure, Significant(3)), "41.3_bar");
    assert_eq!(shown("41.27 bar", "psi", Pressure, Significant(3)), "599_psi");
    assert_eq!(shown("41.27 bar", "Pa", Pressure, Significant(2)), "4100000_Pa");
    assert_eq!(shown("9.996 mm", "mm", Length, Significant(3)), "10.0_mm");
    assert_eq!(
        shown("0.15 mm", "mm", Length, Places(1)),
        "0.2_mm",
        "the written half goes up"
    );
    assert_eq!(shown("5/8 in", "mm", Length, Places(2)), "15.88_mm");
    assert_eq!(shown("149 N", "N", Force, Places(-2)), "100_N");
    assert_eq!(shown("49 N", "N", Force, Places(-2)), "0_N");
    assert_eq!(shown("2 turns", "turns", Turns, Places(1)), "2.0_turns");
    assert_eq!(shown("-3.46 C", "C", Temperature, Places(1)), "−3.5_°C");
    assert_eq!(
        shown("-0.04 C", "C", Temperature, Places(1)),
        "0.0_°C",
        "no minus before a zero"
    );
    assert_eq!(shown("60 N m", "N m", Torque, Significant(2)), "60_N·m");
    assert_eq!(shown("0.25 rad", "deg", Angle, Significant(3)), "14.3°");
    assert_eq!(shown("0.4249", "", Ratio, Places(2)), "0.42");
    assert_eq!(shown("12 %", "%", Slope, Places(0)), "12_%");
    assert_eq!(
        shown("0.01 cc/bar", "cm3/bar", Flex, Significant(2)),
        "0.010_cm³/bar"
    );
    assert_eq!(shown("0.01 cc/bar", "m3/Pa", Flex, Significant(2)), "1e−13_m³/Pa");
    assert_eq!(shown("0.946 L", "fl oz us", Volume, Places(0)), "32_US_fl_oz");
    assert_eq!(shown("0 mm", "mm", Length, Significant(3)), "0.00_mm");
    assert_eq!(shown("5 mm", "mm", Length, Significant(0)), "5_mm");
}

#[test]
fn what_is_not_finite_is_a_dash() {
    let bar = unit("bar", Dimension::Pressure);
    assert_eq!(show(f64::NAN, bar, Significant(3)), "–");
    assert_eq!(show_range(1e5, f64::INFINITY, bar, Significant(3)), "–");
}

#[test]
fn extremes_do_not_fail() {
    for dimension in Dimension::ALL {
        for unit in units_of(dimension) {
            for si in [f64::MAX, f64::MIN, 5e-324, f64::MIN_POSITIVE, 1.0] {
                for digits in [Significant(0), Significant(255), Places(127), Places(-128)] {
                    assert!(!show(si, *unit, digits).is_empty());
                    assert!(!show_range(-si, si, *unit, digits).is_empty());
                }
                let _ = digits_for_range(-si, si, *unit);
            }
        }
    }
}

#[test]
fn ranges_round_alike() {
    use Dimension::*;
    let range = |low: &str, high: &str, symbol, dimension, digits| {
        let si = |text| parse(text, dimension).unwrap().si;
        show_range(si(low), si(high), unit(symbol, dimension), digits).replace('\u{a0}', "_")
    };
    assert_eq!(
        range("41.27 bar", "45.8 bar", "bar", Pressure, Places(0)),
        "41_to_46_bar"
    );
    assert_eq!(
        range("8.4 bar", "112.3 bar", "bar", Pressure, Significant(3)),
        "8_to_112_bar"
    );
    assert_eq!(range("-3 C", "5 C", "C", Temperature, Places(0)), "−3_to_5_°C");
    assert_eq!(range("5 deg", "7 deg", "deg", Angle, Places(0)), "5_to_7°");
    assert_eq!(
        range("41.1 bar", "41.2 bar", "bar", Pressure, Places(0)),
        "41_bar"
    );
}

#[test]
fn digits_that_a_range_supports() {
    use Dimension::*;
    let digits = |low: &str, high: &str, symbol, dimension| {
        let si = |text| parse(text, dimension).unwrap().si;
        digits_for_range(si(low), si(high), unit(symbol, dimension))
    };
    // Half-widths 2.5 and 0.35 bar keep two digits, 4 and 0.36 bar one; 0.97 bar goes up to 1.
    assert_eq!(digits("41 bar", "46 bar", "bar", Pressure), Places(1));
    assert_eq!(digits("40 bar", "40.7 bar", "bar", Pressure), Places(2));
    assert_eq!(digits("38 bar", "46 bar", "bar", Pressure), Places(0));
    assert_eq!(digits("40 bar", "40.72 bar", "bar", Pressure), Places(1));
    assert_eq!(digits("40 bar", "41.94 bar", "bar", Pressure), Places(1));
    assert_eq!(digits("38 bar", "46 bar", "kPa", Pressure), Places(-2));
    // 20 °F wide, whatever the scale's zero.
    assert_eq!(digits("60 F", "80 F", "F", Temperature), Places(0));
    assert_eq!(digits("0.5", "0.5", "", Ratio), Significant(3));
    assert_eq!(digits_for_range(f64::NAN, 1.0, unit("", Ratio)), Significant(3));
    assert_eq!(
        digits_for_range(0.0, f64::INFINITY, unit("", Ratio)),
        Significant(3)
    );
}

#[test]
fn a_bore_comes_back_in_the_size_that_it_is_sold_by() {
    for (written, shown) in [
        ("5/8 in", "5/8 in (15.9 mm)"),
        ("0.625 in", "5/8 in (15.9 mm)"),
        ("15.875 mm", "5/8 in (15.9 mm)"),
        ("1-1/16 in", "1-1/16 in (27.0 mm)"),
        ("1 in", "1 in (25.4 mm)"),
        ("0.700 in", "0.7 in (17.8 mm)"),
        ("15.9 mm", "15.9 mm"),
        ("20.64 mm", "20.64 mm"),
        ("19 mm", "19 mm"),
        ("22.2 mm", "22.2 mm"),
    ] {
        let bore = parse(written, Dimension::Length).unwrap();
        let back = show_bore(quantity::si::Length::from_m(bore.si)).replace('\u{a0}', " ");
        assert_eq!(back, shown, "{written}");
    }
}
