//! What is printed into a sheet.

use quantity::{Amount, Dimension, Spread, find_unit, parse, print};

#[track_caller]
fn prints(text: &str, wanted: Dimension, unit: &str, expected: &str) {
    let amount = parse(text, wanted).unwrap();
    let printed = print(&amount, find_unit(unit, wanted).unwrap());
    assert_eq!(printed, expected);
    assert_eq!(
        parse(&printed, wanted),
        Ok(amount),
        "{printed} reads back otherwise"
    );
}

#[test]
fn short_and_plain() {
    use Dimension::*;
    prints("15,9 mm", Length, "mm", "15.9 mm");
    prints("5/8 in", Length, "mm", "15.875 mm");
    prints("5/8 in", Length, "in", "0.625 in");
    prints("1 ft", Length, "m", "0.3048 m");
    prints("3/16 in", Length, "m", "0.0047625 m");
    prints("0 mm", Length, "in", "0 in");
    prints("-3 mm", Length, "mm", "-3 mm");
    prints("1000 psi", Pressure, "psi", "1000 psi");
    prints("7 MPa", Pressure, "bar", "70 bar");
    prints("20 C", Temperature, "F", "68 F");
    prints("0 F", Temperature, "F", "0 F");
    prints("0 C", Temperature, "C", "0 C");
    prints("0 K", Temperature, "C", "-273.15 C");
    prints("21.3 °C ± 0.5", Temperature, "C", "21.3 C ± 0.5 C");
    prints("20 C ± 5 C", Temperature, "F", "68 F ± 9 F");
    prints("60 N·m", Torque, "N m", "60 N m");
    prints("0.01 cc/bar", Flex, "cm3/bar", "0.01 cm3/bar");
    prints("0.01 cc/bar", Flex, "m3/Pa", "1e-13 m3/Pa");
    prints("15 deg", Angle, "deg", "15 deg");
    prints("3000 rpm", Rotation, "rpm", "3000 rpm");
    prints("1.2e14 Pa", Pressure, "Pa", "120000000000000 Pa");
    prints("1e15 Pa", Pressure, "Pa", "1e15 Pa");
    prints("0.000001 m", Length, "m", "0.000001 m");
    prints("1.5e-7 m", Length, "m", "1.5e-7 m");
}

#[test]
fn tolerances_in_the_unit_of_the_value() {
    use Dimension::*;
    prints("0.52 m +/- 30 mm", Length, "m", "0.52 m ± 0.03 m");
    prints("1.30 m ± 5 %", Length, "m", "1.3 m ± 0.065 m");
    prints("0.42 ± 5 %", Ratio, "", "0.42 ± 0.021");
    prints("0.42 ± 0.04", Ratio, "%", "42 % ± 4 %");
    prints("12 % ± 2 %", Slope, "%", "12 % ± 2 %");
    prints("between 0.38 and 0.46", Ratio, "", "between 0.38 and 0.46");
    prints("between 3 and 5 mm", Length, "mm", "between 3 mm and 5 mm");
    prints("between 15 C and 20 C", Temperature, "F", "between 59 F and 68 F");
}

#[test]
fn thirds_read_back_too() {
    use Dimension::*;
    prints("1/3 in", Length, "in", "0.33333333333333337 in");
    prints("1 in 6", Slope, "%", "16.666666666666666 %");
}

/// Its shortest decimal in seconds is halfway between two doubles, and goes to the even one.
#[test]
fn on_the_edge_between_two_doubles() {
    prints(
        "66022222222222220 s",
        Dimension::Duration,
        "min",
        "1.1003703703703704e15 min",
    );
}

#[test]
fn a_unit_of_something_else_is_not_put_behind_a_number() {
    let length = Amount::exact(Dimension::Length, 0.0159);
    assert_eq!(
        print(&length, find_unit("bar", Dimension::Pressure).unwrap()),
        "15.9 mm"
    );
}

#[test]
fn what_no_text_stands_for_does_not_read_back() {
    let ratio = find_unit("", Dimension::Ratio).unwrap();
    let kelvin = find_unit("K", Dimension::Temperature).unwrap();
    for (amount, unit, text) in [
        (Amount::exact(Dimension::Ratio, f64::NAN), ratio, "NaN"),
        (Amount::exact(Dimension::Ratio, f64::NEG_INFINITY), ratio, "-inf"),
        (Amount::exact(Dimension::Ratio, 5e-324), ratio, "5e-324"),
        (Amount::exact(Dimension::Temperature, -1.0), kelvin, "-1 K"),
        (
            Amount {
                spread: Spread::Normal { half_width_si: -1.0 },
                ..Amount::exact(Dimension::Ratio, 1.0)
            },
            ratio,
            "1 ± -1",
        ),
        (
            Amount {
                spread: Spread::Uniform {
                    low_si: 3.0,
                    high_si: 2.0,
                },
                ..Amount::exact(Dimension::Ratio, 2.5)
            },
            ratio,
            "between 3 and 2",
        ),
    ] {
        assert_eq!(print(&amount, unit), text);
        assert!(parse(text, amount.dimension).is_err());
    }
}
