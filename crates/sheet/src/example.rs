//! How a key may be written: for remedies, the blank sheet, the reference and the schema.

use engine::car::{Form, Key};
use quantity::{Dimension, Unit};

use crate::FORMAT;

/// What stands where something is still to be filled in.
pub(crate) const TO_FILL_IN: &str = "…";

/// The value of a key as TOML, in the middle of what is usual.
pub(crate) fn value(key: &Key) -> String {
    match key.form {
        Form::Quantity(dimension) => quantity_in(key, dimension),
        Form::RollingRadius => quantity_in(key, Dimension::Length),
        Form::Quantities(dimension) => {
            let one = quantity_in(key, dimension);
            if takes_two(key) {
                format!("[{one}, {one}]")
            } else {
                format!("[{one}]")
            }
        }
        Form::Row(_) => "[\"4.2 kN\", \"20 bar\"]".to_owned(),
        Form::Rows { columns, .. } => rows(columns).to_owned(),
        Form::Setting => "\"2.5 turns\"".to_owned(),
        Form::Count => middle(key, "")
            .and_then(|middle| middle.split('.').next().map(str::to_owned))
            .unwrap_or_else(|| "1".to_owned()),
        Form::Flag => key.default.unwrap_or("true").to_owned(),
        Form::Word(words) => format!(
            "\"{}\"",
            key.default.or(words.first().copied()).unwrap_or_default()
        ),
        Form::Text => "\"…\"".to_owned(),
        Form::Texts => "[\"…\", \"…\"]".to_owned(),
        Form::Date => "2026-03-14".to_owned(),
    }
}

/// The value as it is typed behind `KEY=`: without quotes and brackets, rows parted by semicolons.
pub(crate) fn typed(key: &Key) -> String {
    let plain = value(key).replace('"', "");
    match key.form {
        Form::Rows { .. } => plain.trim_matches(['[', ']']).replace("], [", "; "),
        _ => plain.trim_matches(['[', ']']).to_owned(),
    }
}

/// What stands at a key until it is filled in, with the unit that is usual there.
pub(crate) fn to_fill_in(key: &Key) -> String {
    let one = match (unit(key), key.dimension()) {
        (Some(unit), Some(dimension)) if dimension != Dimension::Ratio => format!("\"{TO_FILL_IN} {unit}\""),
        _ => format!("\"{TO_FILL_IN}\""),
    };
    let row = |columns: &[Dimension]| {
        let rest = columns.iter().skip(1).map(|&column| {
            match quantity::units_of(column).first().map(Unit::symbol) {
                Some(symbol) if column != Dimension::Ratio => format!("\"{TO_FILL_IN} {symbol}\""),
                _ => format!("\"{TO_FILL_IN}\""),
            }
        });
        format!(
            "[{}]",
            core::iter::once(one.clone())
                .chain(rest)
                .collect::<Vec<_>>()
                .join(", ")
        )
    };
    match key.form {
        Form::Count if key.path == "format" => FORMAT.to_string(),
        Form::Quantities(_) if takes_two(key) => format!("[{one}, {one}]"),
        Form::Quantities(_) | Form::Texts => format!("[{one}]"),
        Form::Row(columns) => row(columns),
        Form::Rows { columns, needed } => format!("[{0}, {0}]", row(&columns[..needed.min(columns.len())])),
        Form::Setting => format!("\"{TO_FILL_IN} turns\""),
        Form::Flag | Form::Word(_) if key.default.is_some() => value(key),
        Form::Word([_]) => value(key),
        Form::Flag => "true".to_owned(),
        Form::Quantity(_) | Form::RollingRadius | Form::Count | Form::Word(_) | Form::Text | Form::Date => {
            one
        }
    }
}

/// Whether a list names two things, and not as many as there are.
fn takes_two(key: &Key) -> bool {
    matches!(key.name(), "pad_edges" | "pattern" | "air")
}

fn quantity_in(key: &Key, dimension: Dimension) -> String {
    let unit = unit(key).unwrap_or_default();
    match middle(key, unit) {
        Some(number) if dimension == Dimension::Ratio => number,
        Some(number) => format!("\"{number} {unit}\""),
        None if dimension == Dimension::Ratio => dimension.example().to_owned(),
        None => format!("\"{}\"", dimension.example()),
    }
}

/// A short curve.
fn rows(columns: &[Dimension]) -> &'static str {
    match columns {
        [Dimension::Temperature, ..] => "[[\"20 C\", 0.33], [\"150 C\", 0.41], [\"350 C\", 0.43]]",
        [Dimension::Rotation, ..] => {
            "[[\"0 rpm\", \"0 N m\"], [\"50 rpm\", \"90 N m\"], [\"200 rpm\", \"170 N m\"]]"
        }
        [Dimension::Length, ..] => "[[\"0 mm\", \"0 bar\"], [\"40 mm\", \"3 bar\"], [\"62 mm\", \"18 bar\"]]",
        _ => "[[\"100 N\", \"19 bar\"], [\"200 N\", \"38 bar\"]]",
    }
}

/// The unit that a key's ranges are written in.
pub(crate) fn unit(key: &Key) -> Option<&'static str> {
    let written = key.usual.or(key.hard).map(|(low, _)| low).or(key.default)?;
    written
        .split_once(' ')
        .map(|(_, unit)| unit)
        .filter(|unit| !unit.contains('±'))
}

/// The number in the middle of the usual range, to two digits, in the unit that its lower end is written in.
fn middle(key: &Key, unit: &str) -> Option<String> {
    let (low, high) = key.usual.or(key.hard)?;
    let dimension = key.dimension()?;
    let si = |end: &str| quantity::parse(end, dimension).ok().map(|amount| amount.si);
    let middle_si = f64::midpoint(si(low)?, si(high)?);
    let unit = quantity::units_of(dimension)
        .iter()
        .find(|known| known.symbol() == unit);
    Some(two_digits(unit.map_or(middle_si, |unit| unit.from_si(middle_si))))
}

fn two_digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    // Precise enough: the text is for the eye.
    let places = 1.0 - value.abs().log10().floor();
    let scale = 10_f64.powf(places);
    let rounded = (value * scale).round() / scale;
    format!("{rounded}")
}

/// A bare number as the quantity that it may have been meant for.
pub(crate) fn with_unit(number: &str, key: &Key, dimension: Dimension) -> String {
    let usual = quantity::units_of(dimension).first().map_or("", Unit::symbol);
    format!("\"{number} {}\"", unit(key).unwrap_or(usual))
}
