//! The units, each with its exact size in SI. The international inch (0.0254 m), pound (0.453 592 37 kg) and standard
//! gravity (9.806 65 m/s²) are exact by definition, and with them lbf, kgf and psi.

use super::Unit;
use crate::Dimension;

use Dimension::{
    Angle, Duration, Flex, Force, Inertia, Length, Mass, Pressure, Ratio, Rotation, Slope, Speed,
    Temperature, Torque, Turns, Volume,
};

type Aliases = &'static [&'static str];

/// A unit of `scale.0 / scale.1` SI units.
const fn unit(dimension: Dimension, symbol: &'static str, scale: (u64, u64), aliases: Aliases) -> Unit {
    Unit {
        symbol,
        shown: symbol,
        dimension,
        scale,
        pi: false,
        zero_hundredths: 0,
        aliases,
    }
}

impl Unit {
    const fn shown_as(mut self, shown: &'static str) -> Self {
        self.shown = shown;
        self
    }

    const fn times_pi(mut self) -> Self {
        self.pi = true;
        self
    }

    const fn zero_at(mut self, hundredths: u64) -> Self {
        self.zero_hundredths = hundredths;
        self
    }
}

pub(super) const fn of(dimension: Dimension) -> &'static [Unit] {
    match dimension {
        Ratio => RATIO,
        Length => LENGTH,
        Volume => VOLUME,
        Mass => MASS,
        Force => FORCE,
        Torque => TORQUE,
        Pressure => PRESSURE,
        Speed => SPEED,
        Temperature => TEMPERATURE,
        Angle => ANGLE,
        Slope => SLOPE,
        Turns => TURNS,
        Duration => DURATION,
        Rotation => ROTATION,
        Inertia => INERTIA,
        Flex => FLEX,
    }
}

const PER_CENT: Aliases = &["per·cent", "percent"];

static RATIO: &[Unit] = &[unit(Ratio, "", (1, 1), &[]), unit(Ratio, "%", (1, 100), PER_CENT)];

static LENGTH: &[Unit] = &[
    unit(
        Length,
        "mm",
        (1, 1_000),
        &["millimetre", "millimetres", "millimeter", "millimeters"],
    ),
    unit(Length, "in", (127, 5_000), &["\"", "inch", "inches"]),
    unit(Length, "m", (1, 1), &["metre", "metres", "meter", "meters"]),
    unit(Length, "cm", (1, 100), &["centimetre", "centimetres"]),
    unit(Length, "ft", (381, 1_250), &["foot", "feet"]),
    unit(Length, "thou", (127, 5_000_000), &[]),
    unit(Length, "um", (1, 1_000_000), &["µm"]).shown_as("µm"),
    unit(Length, "km", (1_000, 1), &[]),
];

// A US gallon is 231 cubic inches, an imperial one 4.546 09 L; 128 and 160 fluid ounces.
static VOLUME: &[Unit] = &[
    unit(
        Volume,
        "L",
        (1, 1_000),
        &["l", "litre", "litres", "liter", "liters", "dm3"],
    ),
    unit(Volume, "cm3", (1, 1_000_000), &["cc", "ccm"]).shown_as("cm³"),
    unit(Volume, "mL", (1, 1_000_000), &["ml"]),
    unit(Volume, "mm3", (1, 1_000_000_000), &[]).shown_as("mm³"),
    unit(Volume, "m3", (1, 1), &[]).shown_as("m³"),
    unit(Volume, "in3", (2_048_383, 125_000_000_000), &["cu·in"]).shown_as("in³"),
    unit(
        Volume,
        "fl oz us",
        (473_176_473, 16_000_000_000_000),
        &["floz·us"],
    )
    .shown_as("US fl oz"),
    unit(
        Volume,
        "fl oz imp",
        (284_130_625, 10_000_000_000_000),
        &["floz·imp"],
    )
    .shown_as("imp fl oz"),
    unit(
        Volume,
        "pt us",
        (473_176_473, 1_000_000_000_000),
        &["pint·us", "pints·us"],
    )
    .shown_as("US pt"),
    unit(
        Volume,
        "pt imp",
        (56_826_125, 100_000_000_000),
        &["pint·imp", "pints·imp"],
    )
    .shown_as("imp pt"),
    unit(
        Volume,
        "qt us",
        (946_352_946, 1_000_000_000_000),
        &["quart·us", "quarts·us"],
    )
    .shown_as("US qt"),
    unit(
        Volume,
        "qt imp",
        (11_365_225, 10_000_000_000),
        &["quart·imp", "quarts·imp"],
    )
    .shown_as("imp qt"),
    unit(
        Volume,
        "gal us",
        (3_785_411_784, 1_000_000_000_000),
        &["gallon·us", "gallons·us"],
    )
    .shown_as("US gal"),
    unit(
        Volume,
        "gal imp",
        (454_609, 100_000_000),
        &["gallon·imp", "gallons·imp"],
    )
    .shown_as("imp gal"),
];

static MASS: &[Unit] = &[
    unit(Mass, "kg", (1, 1), &["kilo", "kilos", "kilogram", "kilograms"]),
    unit(Mass, "lb", (45_359_237, 100_000_000), &["lbs", "pound", "pounds"]),
    unit(Mass, "g", (1, 1_000), &["gram", "grams"]),
    unit(Mass, "t", (1_000, 1), &["tonne", "tonnes"]),
    unit(Mass, "oz", (28_349_523_125, 1_000_000_000_000), &[]),
];

static FORCE: &[Unit] = &[
    unit(Force, "N", (1, 1), &["newton", "newtons"]),
    unit(Force, "kN", (1_000, 1), &[]),
    unit(Force, "lbf", (44_482_216_152_605, 10_000_000_000_000), &[]),
    // What a luggage scale shows is called a kilogram, and a pull is read off one.
    unit(
        Force,
        "kgf",
        (980_665, 100_000),
        &["kp", "kg", "kgs", "kilo", "kilos"],
    ),
    unit(Force, "daN", (10, 1), &[]),
];

// "lb ft" is taken for a torque: the trade writes it so, and here it can mean nothing else.
static TORQUE: &[Unit] = &[
    unit(Torque, "N m", (1, 1), &["Nm", "m·N"]).shown_as("N·m"),
    unit(
        Torque,
        "lbf ft",
        (3_389_544_870_828_501, 2_500_000_000_000_000),
        &[
            "ft·lbf", "lb·ft", "ft·lb", "lbs·ft", "ft·lbs", "lbft", "ftlb", "lbfft",
        ],
    )
    .shown_as("lbf·ft"),
    unit(
        Torque,
        "lbf in",
        (1_129_848_290_276_167, 10_000_000_000_000_000),
        &["in·lbf", "lb·in", "in·lb", "lbs·in", "in·lbs"],
    )
    .shown_as("lbf·in"),
    unit(
        Torque,
        "kgf m",
        (980_665, 100_000),
        &["kgfm", "m·kgf", "kp·m", "kpm", "m·kp"],
    )
    .shown_as("kgf·m"),
    unit(
        Torque,
        "kgf cm",
        (980_665, 10_000_000),
        &["kgfcm", "cm·kgf", "kp·cm"],
    )
    .shown_as("kgf·cm"),
    unit(Torque, "daN m", (10, 1), &["daNm"]).shown_as("daN·m"),
    unit(Torque, "kN m", (1_000, 1), &["kNm"]).shown_as("kN·m"),
    unit(Torque, "N cm", (1, 100), &["Ncm"]).shown_as("N·cm"),
    unit(Torque, "N mm", (1, 1_000), &["Nmm"]).shown_as("N·mm"),
];

static PRESSURE: &[Unit] = &[
    unit(
        Pressure,
        "bar",
        (100_000, 1),
        &["bars", "barg", "bar·g", "bar(g)", "bar·gauge"],
    ),
    unit(
        Pressure,
        "psi",
        (8_896_443_230_521, 1_290_320_000),
        &["psig", "lbf/in2", "psi·g", "psi·gauge"],
    ),
    unit(Pressure, "kPa", (1_000, 1), &["kN/m2"]),
    unit(Pressure, "MPa", (1_000_000, 1), &["N/mm2"]),
    unit(Pressure, "kgf/cm2", (196_133, 2), &["kp/cm2"]).shown_as("kgf/cm²"),
    unit(Pressure, "Pa", (1, 1), &["N/m2"]),
    unit(Pressure, "mbar", (100, 1), &["hPa"]),
    unit(Pressure, "atm", (101_325, 1), &[]),
];

static SPEED: &[Unit] = &[
    unit(Speed, "km/h", (5, 18), &["kph", "kmh", "km/hr"]),
    unit(Speed, "mph", (1_397, 3_125), &["mi/h"]),
    unit(Speed, "m/s", (1, 1), &["m·s·1"]),
    unit(Speed, "ft/s", (381, 1_250), &["fps"]),
    unit(Speed, "kn", (463, 900), &["knot", "knots", "kt", "kts"]),
];

static TEMPERATURE: &[Unit] = &[
    unit(
        Temperature,
        "C",
        (1, 1),
        &["°C", "degC", "deg·C", "celsius", "Celsius"],
    )
    .shown_as("°C")
    .zero_at(27_315),
    unit(
        Temperature,
        "F",
        (5, 9),
        &["°F", "degF", "deg·F", "fahrenheit", "Fahrenheit"],
    )
    .shown_as("°F")
    .zero_at(45_967),
    unit(Temperature, "K", (1, 1), &["°K", "kelvin", "Kelvin"]),
];

static ANGLE: &[Unit] = &[
    unit(Angle, "deg", (1, 180), &["°", "degs", "degree", "degrees"])
        .shown_as("°")
        .times_pi(),
    unit(Angle, "rad", (1, 1), &["radian", "radians"]),
];

static SLOPE: &[Unit] = &[unit(Slope, "%", (1, 100), PER_CENT)];

static TURNS: &[Unit] = &[unit(Turns, "turns", (1, 1), &["turn"])];

static DURATION: &[Unit] = &[
    unit(Duration, "s", (1, 1), &["sec", "secs", "second", "seconds"]),
    unit(
        Duration,
        "ms",
        (1, 1_000),
        &["msec", "millisecond", "milliseconds"],
    ),
    unit(Duration, "min", (60, 1), &["mins", "minute", "minutes"]),
    unit(Duration, "h", (3_600, 1), &["hr", "hrs", "hour", "hours"]),
];

static ROTATION: &[Unit] = &[
    unit(
        Rotation,
        "rpm",
        (1, 30),
        &["1/min", "/min", "r/min", "rev/min", "min·1"],
    )
    .times_pi(),
    unit(Rotation, "rad/s", (1, 1), &["rad·s·1"]),
    unit(Rotation, "deg/s", (1, 180), &["°/s"])
        .shown_as("°/s")
        .times_pi(),
];

static INERTIA: &[Unit] = &[
    unit(Inertia, "kg m2", (1, 1), &["kgm2", "m2·kg"]).shown_as("kg·m²"),
    unit(Inertia, "kg cm2", (1, 10_000), &["kgcm2"]).shown_as("kg·cm²"),
    unit(
        Inertia,
        "lb ft2",
        (6_584_392_202_157, 156_250_000_000_000),
        &["lbft2"],
    )
    .shown_as("lb·ft²"),
    unit(
        Inertia,
        "lb in2",
        (731_599_133_573, 2_500_000_000_000_000),
        &["lbin2"],
    )
    .shown_as("lb·in²"),
];

static FLEX: &[Unit] = &[
    unit(Flex, "cm3/bar", (1, 100_000_000_000), &["cc/bar", "ccm/bar"]).shown_as("cm³/bar"),
    unit(Flex, "mm3/bar", (1, 100_000_000_000_000), &[]).shown_as("mm³/bar"),
    unit(Flex, "mL/bar", (1, 100_000_000_000), &["ml/bar"]),
    unit(Flex, "cm3/MPa", (1, 1_000_000_000_000), &["cc/MPa"]).shown_as("cm³/MPa"),
    unit(Flex, "mm3/MPa", (1, 1_000_000_000_000_000), &[]).shown_as("mm³/MPa"),
    unit(
        Flex,
        "in3/psi",
        (33_038_369_407, 13_900_692_547_689_062_500),
        &["cu·in/psi"],
    )
    .shown_as("in³/psi"),
    unit(Flex, "m3/Pa", (1, 1), &[]).shown_as("m³/Pa"),
];
