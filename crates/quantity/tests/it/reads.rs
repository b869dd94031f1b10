//! What is read, and as what.

use quantity::{Amount, Dimension, Spread, Written, parse, parse_written};

#[track_caller]
fn amount(text: &str, wanted: Dimension) -> Amount {
    match parse(text, wanted) {
        Ok(amount) => {
            assert_eq!(amount.dimension, wanted);
            amount
        }
        Err(fault) => panic!("{text:?}: {fault}; {}", fault.help()),
    }
}

/// The nearest double, not one near by: the conversions do not round on their way.
#[track_caller]
fn reads(text: &str, wanted: Dimension, si: f64) {
    let amount = amount(text, wanted);
    assert_eq!(
        amount.si.to_bits(),
        si.to_bits(),
        "{text:?} gives {}, not {si}",
        amount.si
    );
    assert_eq!(amount.spread, Spread::Exact, "{text:?}");
}

#[test]
fn numbers_in_every_spelling() {
    for (text, si) in [
        ("5/8 in", 0.015_875),
        ("5/8in", 0.015_875),
        ("5⁄8 in", 0.015_875),
        ("5 / 8 in", 0.015_875),
        ("⅝ in", 0.015_875),
        ("⅝\"", 0.015_875),
        ("1-1/16 in", 0.026_987_5),
        ("1 1/16 in", 0.026_987_5),
        ("1 1/8\"", 0.028_575),
        ("1\u{2009}1/8 ″", 0.028_575),
        ("1⅛ in", 0.028_575),
        ("1 ⅛ in", 0.028_575),
        ("1-⅛ in", 0.028_575),
        ("17/16 in", 0.026_987_5),
        ("15.9 mm", 0.015_9),
        ("15,9 mm", 0.015_9),
        ("15.9mm", 0.015_9),
        (" \t15.9\u{a0}mm\u{202f}", 0.015_9),
        ("15.9\u{2009}mm", 0.015_9),
        ("\u{feff}15.9 mm", 0.015_9),
        (".5 mm", 0.000_5),
        (",5 mm", 0.000_5),
        ("5. mm", 0.005),
        ("+5 mm", 0.005),
        ("-5 mm", -0.005),
        ("− 5 mm", -0.005),
        ("–5 mm", -0.005),
        ("-1-1/16 in", -0.026_987_5),
        ("1e3 mm", 1.0),
        ("1E+3mm", 1.0),
        ("2.5e-1 m", 0.25),
        ("2,5e−1 m", 0.25),
        ("1,2345 m", 1.2345),
        ("1.000 m", 1.0),
        ("0 m", 0.0),
        ("-0 m", 0.0),
        ("0e999 m", 0.0),
        ("0e-999 m", 0.0),
    ] {
        reads(text, Dimension::Length, si);
    }
    reads("1/3", Dimension::Ratio, 1.0 / 3.0);
    reads("0.42", Dimension::Ratio, 0.42);
    reads("42 %", Dimension::Ratio, 0.42);
    reads("5%", Dimension::Ratio, 0.05);
}

#[test]
fn every_unit_the_trade_uses() {
    use Dimension::*;
    for (wanted, texts, si) in [
        (
            Length,
            "1 m|100 cm|1000 mm|1e6 µm|1e6 um|0.001 km|1 metre|1000 millimetres",
            1.0,
        ),
        (Length, "1 in|1\"|1 inch|1″|1''|1 ”|1000 thou", 0.0254),
        (Length, "1 ft|12 in|1 foot|12 inches", 0.3048),
        (
            Volume,
            "1 L|1 l|1 ℓ|1 litre|1000 mL|1000 ml|1000 cm3|1000 cm³|1000 cm^3|1000 cc|1e6 mm3|0.001 m3|0.001 m³",
            0.001,
        ),
        (
            Volume,
            "1 gal us|1 gal US|1 US gal|1 us gal|1 gallon us|4 qt us|8 pt us|128 fl oz us|128 US fl oz|128 fl. oz. us|231 in3|231 cu in",
            0.003_785_411_784,
        ),
        (
            Volume,
            "1 gal imp|1 imp gal|1 gal uk|1 UK gal|1 imperial gallon|4 qt imp|8 pt imp|8 imp pints|160 fl oz imp",
            0.004_546_09,
        ),
        (Mass, "1 kg|1000 g|0.001 t|1 kilo", 1.0),
        (Mass, "1 lb|1 lbs|16 oz", 0.453_592_37),
        (Force, "1000 N|1 kN|100 daN", 1000.0),
        (Force, "1 lbf", 4.448_221_615_260_5),
        (Force, "1 kgf|1 kp|1 kg|1kg|1 kilo", 9.806_65),
        (
            Torque,
            "1 N m|1 Nm|1 N·m|1 N⋅m|1 N.m|1 N*m|1 N-m|100 N cm|1000 N mm|0.1 daN m|0.001 kN m",
            1.0,
        ),
        (
            Torque,
            "1 kgf m|1 kgf·m|1 kgfm|1 m kgf|1 kp m|100 kgf cm",
            9.806_65,
        ),
        (
            Torque,
            "1 lbf ft|1 ft lbf|1 ft·lbf|1 lb ft|1 ft lb|1 lb-ft|1 ft-lb|1 ft-lbs|1 lbft|12 lbf in|12 in lb|12 in-lbs",
            1.355_817_948_331_400_4,
        ),
        (
            Pressure,
            "1 bar|100 kPa|0.1 MPa|1e5 Pa|1000 mbar|1000 hPa|1 barg|1 bar gauge|0.1 N/mm2|1e5 N/m²",
            1e5,
        ),
        (
            Pressure,
            "1 psi|1 psig|1 lbf/in2|1 lbf/in²",
            6_894.757_293_168_362,
        ),
        (Pressure, "1 kgf/cm2|1 kgf/cm²|1 kp/cm2", 98_066.5),
        (Pressure, "1 atm", 101_325.0),
        (Speed, "36 km/h|36 kph|36 kmh|36 km / h|10 m/s", 10.0),
        (Speed, "1 mph|1 mi/h", 0.447_04),
        (Speed, "1 ft/s", 0.3048),
        (Speed, "3600 kn|3600 knots|3600 kt", 1852.0),
        (
            Temperature,
            "20 C|20 °C|20° C|20 ºC|20 ℃|20 degC|20 deg C|68 F|68 °F|68℉|293.15 K|293.15 \u{212a}",
            293.15,
        ),
        (Temperature, "-40 C|-40 F|−40 °F", 233.15),
        (Temperature, "0 K|-273.15 C|-459.67 F", 0.0),
        (Angle, "180 deg|180°|180 °|180 degrees", core::f64::consts::PI),
        (Angle, "0.25 rad", 0.25),
        (
            Slope,
            "12.5 %|12.5%|1 in 8|1:8|1 : 8|2 in 16|12.5 per cent|½ in 4",
            0.125,
        ),
        (Slope, "-1 in 8|−12.5 %", -0.125),
        (Slope, "1 in 6|1:6|10:60|1 in 6.0", 1.0 / 6.0),
        (Slope, "1 in 2½|1:2.5|1:2 1/2|0,4 in 1", 0.4),
        (Turns, "2.5 turns|2 1/2 turns|2½ turns|2,5 turn", 2.5),
        (Duration, "60 s|1 min|60 sec|60000 ms", 60.0),
        (Duration, "1 h|60 min|3600 s", 3600.0),
        (
            Rotation,
            "30 rpm|30 1/min|30 /min|30 r/min|30 min⁻¹|30 min^-1|30 rev/min|180 deg/s|180 °/s",
            core::f64::consts::PI,
        ),
        (Rotation, "2 rad/s|2 rad·s⁻¹", 2.0),
        (Inertia, "1 kg m2|1 kg·m²|1 kg m^2|1 kgm2|1e4 kg cm2|1 m2 kg", 1.0),
        (Inertia, "1 lb ft2|144 lb in2", 0.042_140_110_093_804_8),
        (
            Flex,
            "0.01 cm3/bar|0.01 cm³/bar|0.01 cc/bar|0.01 mL/bar|0.01 ml/bar|10 mm3/bar|0.1 cm3/MPa|100 mm3/MPa|1e-13 m3/Pa|1e-13 m³/Pa",
            1e-13,
        ),
    ] {
        for text in texts.split('|') {
            reads(text, wanted, si);
        }
    }
}

/// A text and the SI half-width of its 95 % interval; 0 for none.
#[track_caller]
fn give_or_take(text: &str, wanted: Dimension, si: f64, half_width_si: f64) {
    let amount = amount(text, wanted);
    assert_eq!(
        amount.si.to_bits(),
        si.to_bits(),
        "{text:?} gives {}, not {si}",
        amount.si
    );
    let spread = if half_width_si > 0.0 {
        Spread::Normal { half_width_si }
    } else {
        Spread::Exact
    };
    assert_eq!(amount.spread, spread, "{text:?}");
}

#[test]
fn tolerances_in_every_spelling() {
    use Dimension::*;
    for text in [
        "0.52 m ± 30 mm",
        "0.52 m +/- 30 mm",
        "0.52 m +- 30 mm",
        "0.52 m +/− 30 mm",
        "0.52m±30mm",
        "0.52 m ± 0.03",
        "0,52 m ± 0,03 m",
        "520 mm ± 3 cm",
        "\u{2009}0.52\u{a0}m\u{a0}±\u{a0}30\u{202f}mm ",
    ] {
        give_or_take(text, Length, 0.52, 0.03);
    }
    give_or_take("5/8 in ± 1/64 in", Length, 0.015_875, 0.000_396_875);
    give_or_take("5/8\" ± 1/64", Length, 0.015_875, 0.000_396_875);
    give_or_take("1.30 m ± 5 %", Length, 1.3, 0.065);
    give_or_take("1.30 m ± 5%", Length, 1.3, 0.065);
    give_or_take("-1.30 m ± 5 %", Length, -1.3, 0.065);
    give_or_take("2050 kg m2 ± 12 %", Inertia, 2050.0, 246.0);
    give_or_take("3 turns ± 1/3 %", Turns, 3.0, 0.01);
    give_or_take("0.42 ± 0.04", Ratio, 0.42, 0.04);
    give_or_take("0.42 ± 5 %", Ratio, 0.42, 0.021);
    give_or_take("1 in ± 0.1 mm", Length, 0.0254, 0.0001);
    give_or_take("1 in ± 1 %", Length, 0.0254, 0.000_254);
}

#[test]
fn where_the_value_is_in_per_cent_so_is_its_tolerance() {
    use Dimension::*;
    give_or_take("12 % ± 2 %", Slope, 0.12, 0.02);
    give_or_take("12 % ± 2", Slope, 0.12, 0.02);
    give_or_take("5 % ± 1 %", Ratio, 0.05, 0.01);
    give_or_take("5 % ± 1", Ratio, 0.05, 0.01);
}

#[test]
fn the_tolerance_of_a_temperature_is_a_difference() {
    use Dimension::Temperature;
    for text in [
        "20 C ± 5 C",
        "20 °C ± 5 K",
        "20 C ± 5",
        "20 C ± 9 F",
        "68 F ± 9",
        "68 °F ± 9 °F",
        "68 F ± 5 C",
        "293.15 K ± 5",
    ] {
        give_or_take(text, Temperature, 293.15, 5.0);
    }
    give_or_take("0 K ± 0 C", Temperature, 0.0, 0.0);
}

#[test]
fn no_tolerance_is_none() {
    use Dimension::*;
    for text in [
        "5 mm ± 0",
        "5 mm ± 0 mm",
        "5 mm ± -0 mm",
        "5 mm ± 0 %",
        "5 mm ± 0.000 in",
    ] {
        give_or_take(text, Length, 0.005, 0.0);
    }
    give_or_take("0 mm ± 0 %", Length, 0.0, 0.0);
    give_or_take("0 mm ± 1 mm", Length, 0.0, 0.001);
}

#[test]
fn between_two_ends() {
    use Dimension::*;
    for (text, wanted, low_si, high_si) in [
        ("between 0.38 and 0.46", Ratio, 0.38, 0.46),
        ("  Between\u{a0}0,38 \u{2009}AND\t0,46", Ratio, 0.38, 0.46),
        ("between 5 % and 7 %", Ratio, 0.05, 0.07),
        ("between 5 and 7 %", Ratio, 0.05, 0.07),
        ("between 5 % and 7", Ratio, 0.05, 0.07),
        ("between 3 mm and 5 mm", Length, 0.003, 0.005),
        ("between 3 and 5 mm", Length, 0.003, 0.005),
        ("between 3 mm and 5", Length, 0.003, 0.005),
        ("between 20 mm and 1 in", Length, 0.02, 0.0254),
        ("between 5/8 in and 1-1/16 in", Length, 0.015_875, 0.026_987_5),
        ("between -5 C and 41 F", Temperature, 268.15, 278.15),
        ("between 1 in 8 and 1 in 4", Slope, 0.125, 0.25),
        ("between 1:8 and 25 %", Slope, 0.125, 0.25),
        ("between -3 mm and 3 mm", Length, -0.003, 0.003),
    ] {
        let amount = amount(text, wanted);
        assert_eq!(amount.spread, Spread::Uniform { low_si, high_si }, "{text:?}");
        assert_eq!(amount.si, (low_si + high_si) / 2.0, "{text:?}");
        assert_eq!(amount.ends_si(), (low_si, high_si));
    }
}

#[test]
fn the_middle_of_two_huge_ends_is_finite() {
    let amount = amount("between 1.6e308 and 1.7e308", Dimension::Ratio);
    assert!((1.6e308..1.7e308).contains(&amount.si));
}

#[test]
fn a_guess() {
    for text in ["guess", " guess\u{a0}", "Guess"] {
        assert_eq!(parse_written(text, Dimension::Mass), Ok(Written::Guess));
    }
    let mass = Amount::exact(Dimension::Mass, 25.0);
    assert_eq!(parse_written("25 kg", Dimension::Mass), Ok(Written::Amount(mass)));
    assert!(parse_written("guess 25 kg", Dimension::Mass).is_err());
}

#[test]
fn ends_of_a_tolerance() {
    assert_eq!(amount("5 ± 2", Dimension::Ratio).ends_si(), (3.0, 7.0));
    assert_eq!(amount("5", Dimension::Ratio).ends_si(), (5.0, 5.0));
}
