//! What is typed at a figure: the number, the unit that was pressed, how sure it is.

use engine::car::{Form, Key};
use quantity::Dimension;
use wording::Units;

/// How a figure was measured, and what it is sure to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sure {
    /// Its name in a form.
    pub word: &'static str,
    /// What it is called.
    pub says: &'static str,
    /// What is written behind the figure; empty: nothing.
    pub tolerance: &'static str,
}

const fn sure(word: &'static str, says: &'static str, tolerance: &'static str) -> Sure {
    Sure {
        word,
        says,
        tolerance,
    }
}

const STAMPED: Sure = sure("exact", "as stamped", "");
const SMALL: &[Sure] = &[
    STAMPED,
    sure("calipers", "calipers", "± 0.1 mm"),
    sure("ruler", "ruler", "± 1 mm"),
    sure("eye", "by eye", "± 10 %"),
];
const LARGE: &[Sure] = &[
    sure("tape", "tape", "± 5 mm"),
    sure("hand", "tape, by one hand", "± 20 mm"),
    sure("eye", "by eye", "± 10 %"),
];
const WEIGHT: &[Sure] = &[
    sure("corner", "corner scales", "± 0.5 %"),
    sure("bathroom", "bathroom scales", "± 2 %"),
    sure("eye", "a guess", "± 10 %"),
];
const PULL: &[Sure] = &[
    sure("scale", "luggage scale", "± 3 %"),
    sure("arm", "by arm", "± 20 %"),
];
const GAUGE: &[Sure] = &[
    sure("gauge", "gauge", "± 2 %"),
    sure("shaky", "needle shook", "± 5 %"),
    sure("eye", "a guess", "± 25 %"),
];
const RATIO: &[Sure] = &[
    sure("exact", "as stated", ""),
    sure("twice", "measured twice", "± 2 %"),
    sure("once", "measured once", "± 5 %"),
    sure("eye", "a guess", "± 20 %"),
];
const HEAT: &[Sure] = &[
    sure("exact", "as stated", ""),
    sure("probe", "thermometer", "± 3 C"),
];
const ANGLE: &[Sure] = &[
    sure("protractor", "protractor", "± 2 deg"),
    sure("eye", "by eye", "± 8 deg"),
];
const OTHER: &[Sure] = &[
    sure("exact", "as stated", ""),
    sure("once", "measured", "± 5 %"),
    sure("eye", "a guess", "± 20 %"),
];

/// In what words a figure may be sure, the surest first. Common practice, no source.
#[must_use]
pub fn sures(key: &Key) -> &'static [Sure] {
    match key.form {
        Form::Quantity(dimension) | Form::Quantities(dimension) => match dimension {
            Dimension::Length if is_large(key) => LARGE,
            Dimension::Length => SMALL,
            Dimension::Mass => WEIGHT,
            Dimension::Force => PULL,
            Dimension::Pressure => GAUGE,
            Dimension::Ratio => RATIO,
            Dimension::Turns => &[],
            Dimension::Temperature => HEAT,
            Dimension::Angle => ANGLE,
            _ => OTHER,
        },
        Form::RollingRadius => LARGE,
        _ => &[],
    }
}

/// Whether its usual range is written in metres.
fn is_large(key: &Key) -> bool {
    written_in(key) == Some("m")
}

/// The unit that its ranges are written in.
fn written_in(key: &Key) -> Option<&'static str> {
    let (low, _) = key.usual.or(key.hard)?;
    low.split_once(' ').map(|(_, unit)| unit)
}

/// The label of a tyre, in the place of a unit.
const LABEL: &str = "label";

/// The units that stand on keys beside a figure, the usual one first; none where it has no unit.
#[must_use]
pub fn unit_keys(key: &Key) -> &'static [&'static str] {
    let dimension = match key.form {
        Form::Quantity(dimension) | Form::Quantities(dimension) => dimension,
        Form::RollingRadius => return &[LABEL, "m", "mm", "in"],
        _ => return &[],
    };
    let usual = written_in(key);
    match dimension {
        Dimension::Length if usual == Some("m") => &["m", "cm", "mm", "in"],
        Dimension::Length => &["mm", "in", "cm"],
        Dimension::Mass => &["kg", "lb"],
        Dimension::Force if usual == Some("kN") => &["kN", "kg", "lbf"],
        Dimension::Force => &["N", "kg", "lbf"],
        Dimension::Pressure => &["bar", "psi", "kPa"],
        Dimension::Torque => &["N m", "lbf ft"],
        Dimension::Volume if usual == Some("cm3") => &["cm3"],
        Dimension::Volume => &["L", "gal imp", "gal us"],
        Dimension::Temperature => &["C", "F"],
        Dimension::Angle => &["deg"],
        Dimension::Turns => &["turns"],
        Dimension::Duration if usual == Some("min") => &["min", "s", "h"],
        Dimension::Duration => &["ms", "s"],
        Dimension::Rotation => &["rpm"],
        Dimension::Inertia => &["kg m2"],
        Dimension::Flex => &["cm3/bar"],
        _ => &[],
    }
}

/// The unit whose key is pressed to begin with: that of the sheet, else the person's, else the usual one.
#[must_use]
pub fn unit_of(key: &Key, says: &str, units: &Units) -> &'static str {
    let keys = unit_keys(key);
    let Some(first) = keys.first() else { return "" };
    let bare = says.split(['±', ';']).next().unwrap_or_default().trim();
    if let Some(of_sheet) = keys
        .iter()
        .find(|unit| bare.strip_suffix(**unit).is_some_and(ends_a_number))
    {
        return of_sheet;
    }
    let persons = match key.dimension() {
        _ if matches!(key.form, Form::RollingRadius) || is_large(key) => None,
        Some(Dimension::Length) => Some(units.length),
        Some(Dimension::Pressure) => Some(units.pressure),
        Some(Dimension::Torque) => Some(units.torque),
        Some(Dimension::Mass) => Some(units.mass),
        _ => None,
    };
    persons
        .and_then(|unit| keys.iter().find(|known| **known == unit.symbol()))
        .unwrap_or(first)
}

fn ends_a_number(before: &str) -> bool {
    before
        .trim_end()
        .ends_with(|c: char| c.is_ascii_digit() || c == '.')
}

/// What a person typed at a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Typed<'t> {
    /// The figure, with or without its unit; several parted by semicolons.
    pub figure: &'t str,
    /// The unit of a bare number.
    pub unit: &'t str,
    /// How sure it is: the word of a [`Sure`]. Empty: as it was typed.
    pub sure: &'t str,
}

impl Typed<'_> {
    /// As a value of the sheet is typed, for one of its keys.
    #[must_use]
    pub fn value(&self, key: &Key) -> String {
        let figure = self.figure.trim();
        let known = sures(key).iter().find(|sure| sure.word == self.sure);
        let tolerance = known.map_or("", |sure| sure.tolerance);
        match key.form {
            _ if figure == "guess" || figure.is_empty() => figure.to_owned(),
            Form::Quantity(_) => with(figure, self.unit, tolerance),
            Form::RollingRadius if self.unit == LABEL || figure.contains('/') => label(figure),
            Form::RollingRadius => with(figure, self.unit, tolerance),
            Form::Quantities(dimension) => {
                let members: Vec<String> = figure
                    .split(';')
                    .map(str::trim)
                    .filter(|member| !member.is_empty())
                    .map(|member| with(member, self.unit, tolerance))
                    .map(|member| {
                        if dimension == Dimension::Ratio {
                            member
                        } else {
                            format!("\"{}\"", member.replace(['"', '\\'], ""))
                        }
                    })
                    .collect();
                format!("[{}]", members.join(", "))
            }
            Form::Setting if self.unit == "turns" => with(figure, self.unit, ""),
            Form::Setting if figure.contains(['.', ',', '/']) && !figure.chars().any(char::is_alphabetic) => {
                format!("{figure} turns")
            }
            _ => figure.to_owned(),
        }
    }
}

/// With the unit that was pressed, and with what it is sure to, unless it says so itself.
fn with(figure: &str, unit: &str, tolerance: &str) -> String {
    let (number, own) = match figure.split_once('±').or_else(|| figure.split_once("+/-")) {
        Some((number, own)) => (number.trim(), Some(own.trim())),
        None => (figure, None),
    };
    let is_bare = |text: &str| !text.chars().any(char::is_alphabetic) && !text.contains(['%', '"']);
    let united = |text: &str| {
        if is_bare(text) && !unit.is_empty() && unit != LABEL {
            format!("{text} {unit}")
        } else {
            text.to_owned()
        }
    };
    match own {
        Some(own) => format!("{} ± {}", united(number), united(own)),
        None if tolerance.is_empty() || number.contains("between") => united(number),
        None => format!("{} {tolerance}", united(number)),
    }
}

/// A tyre's designation, however its blanks are typed: `205/55 16` is `205/55 R16`.
fn label(figure: &str) -> String {
    let plain = figure.to_uppercase().replace("ZR", "R");
    let parts: Vec<&str> = plain
        .split([' ', '/', 'R', '-'])
        .filter(|part| !part.is_empty())
        .collect();
    let is_number = |part: &&str| part.bytes().all(|byte| byte.is_ascii_digit());
    match parts.as_slice() {
        [width, aspect, rim] if [width, aspect, rim].into_iter().all(is_number) => {
            format!("{width}/{aspect} R{rim}")
        }
        _ => figure.to_owned(),
    }
}
