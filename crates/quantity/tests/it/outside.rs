//! Conversions against figures that were not made here.

use quantity::{Dimension, Unit, find_unit, parse};

fn unit(symbol: &str, dimension: Dimension) -> Unit {
    find_unit(symbol, dimension).unwrap()
}

/// Sizes of units as printed to seven digits in NIST Special Publication 811 (2008), appendix B.8; from memory.
#[test]
fn nist_sp_811_appendix_b8() {
    use Dimension::*;
    for (symbol, dimension, printed) in [
        ("in", Length, 2.54e-2),
        ("ft", Length, 3.048e-1),
        ("lb", Mass, 4.535_924e-1),
        ("oz", Mass, 2.834_952e-2),
        ("lbf", Force, 4.448_222),
        ("kgf", Force, 9.806_65),
        ("lbf ft", Torque, 1.355_818),
        ("lbf in", Torque, 1.129_848e-1),
        ("kgf m", Torque, 9.806_65),
        ("psi", Pressure, 6.894_757e3),
        ("kgf/cm2", Pressure, 9.806_65e4),
        ("atm", Pressure, 1.013_25e5),
        ("mph", Speed, 4.4704e-1),
        ("km/h", Speed, 2.777_778e-1),
        ("kn", Speed, 5.144_444e-1),
        ("gal us", Volume, 3.785_412e-3),
        ("gal imp", Volume, 4.546_09e-3),
        ("pt us", Volume, 4.731_765e-4),
        ("qt us", Volume, 9.463_529e-4),
        ("fl oz us", Volume, 2.957_353e-5),
        ("fl oz imp", Volume, 2.841_306e-5),
        ("in3", Volume, 1.638_706e-5),
        ("rpm", Rotation, 1.047_198e-1),
        ("deg", Angle, 1.745_329e-2),
        ("lb ft2", Inertia, 4.214_011e-2),
        ("lb in2", Inertia, 2.926_397e-4),
    ] {
        let size = unit(symbol, dimension).difference_to_si(1.0);
        let digits = format!("{size:.6e}");
        let printed = format!("{printed:.6e}");
        assert_eq!(digits, printed, "{symbol}");
    }
}

/// The same units as exact fractions, computed by the Python library pint 0.25.3 (its registry in fractions) and
/// written here as numerator and denominator. The quotient of two integers is rounded once, so it has to agree with
/// what is parsed to the last bit.
#[test]
fn pint_in_fractions() {
    use Dimension::*;
    for (text, dimension, numerator, denominator) in [
        ("1 in", Length, 127_u64, 5_000_u64),
        ("1 ft", Length, 381, 1_250),
        ("1 thou", Length, 127, 5_000_000),
        ("1 lb", Mass, 45_359_237, 100_000_000),
        ("1 oz", Mass, 45_359_237, 1_600_000_000),
        ("1 lbf", Force, 8_896_443_230_521, 2_000_000_000_000),
        ("1 kgf", Force, 196_133, 20_000),
        ("1 psi", Pressure, 8_896_443_230_521, 1_290_320_000),
        ("1 kgf/cm2", Pressure, 196_133, 2),
        ("1 lbf ft", Torque, 3_389_544_870_828_501, 2_500_000_000_000_000),
        ("1 lbf in", Torque, 1_129_848_290_276_167, 10_000_000_000_000_000),
        ("1 mph", Speed, 1_397, 3_125),
        ("1 kn", Speed, 463, 900),
        ("1 gal us", Volume, 473_176_473, 125_000_000_000),
        ("1 gal imp", Volume, 454_609, 100_000_000),
        ("1 fl oz us", Volume, 473_176_473, 16_000_000_000_000),
        ("1 fl oz imp", Volume, 454_609, 16_000_000_000),
        ("1 pt us", Volume, 473_176_473, 1_000_000_000_000),
        ("1 pt imp", Volume, 454_609, 800_000_000),
        ("1 qt us", Volume, 473_176_473, 500_000_000_000),
        ("1 qt imp", Volume, 454_609, 400_000_000),
        ("1 in3", Volume, 2_048_383, 125_000_000_000),
        ("1 lb ft2", Inertia, 6_584_392_202_157, 156_250_000_000_000),
        ("1 lb in2", Inertia, 731_599_133_573, 2_500_000_000_000_000),
        ("1 cm3/bar", Flex, 1, 100_000_000_000),
    ] {
        assert!(numerator < 1 << 53);
        let si = numerator as f64 / denominator as f64;
        assert_eq!(
            parse(text, dimension).unwrap().si.to_bits(),
            si.to_bits(),
            "{text}"
        );
    }
    // Its denominator is no double.
    let in3_per_psi = parse("1 in3/psi", Flex).unwrap().si;
    assert!((in3_per_psi / 2.376_742_690_600_153e-9 - 1.0).abs() < 3e-16);
}

/// What every workshop knows; common practice, no source.
#[test]
fn facts_of_the_trade() {
    use Dimension::*;
    for (text, dimension, other, about, within) in [
        ("1 bar", Pressure, "psi", 14.5, 0.01),
        ("1000 psi", Pressure, "bar", 69.0, 0.1),
        ("3/16 in", Length, "mm", 4.76, 0.005),
        ("5/8 in", Length, "mm", 15.9, 0.05),
        ("60 mph", Speed, "km/h", 96.56, 0.005),
        ("1 kgf", Force, "lbf", 2.2, 0.005),
        ("10 kgf m", Torque, "lbf ft", 72.3, 0.05),
        ("100 C", Temperature, "F", 212.0, 1e-9),
        ("1 pt imp", Volume, "mL", 568.0, 0.5),
        ("1 in 4", Slope, "%", 25.0, 1e-9),
    ] {
        let shown = unit(other, dimension).from_si(parse(text, dimension).unwrap().si);
        assert!((shown - about).abs() <= within, "{text} is {shown} {other}");
    }
}
