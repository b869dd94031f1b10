//! A typed value as a file writes it.

use engine::car::{Form, Key};
use quantity::Dimension;
use toml::de::DeValue;

use crate::with::{is_separator, split};

/// The value as TOML, with the quotes and brackets that its form needs.
pub(super) fn as_toml(typed: &str, key: &Key) -> String {
    let is_toml = |typed: &str| DeValue::parse(typed).is_ok();
    if key.form == Form::Quantity(Dimension::Turns) {
        return turns(typed);
    }
    if typed.starts_with(['"', '\'', '[', '{']) && is_toml(typed) {
        return typed.to_owned();
    }
    match key.form {
        Form::Quantity(dimension) => member(typed, dimension),
        Form::RollingRadius => member(typed, Dimension::Length),
        Form::Quantities(dimension) => list(
            split(typed, 0, is_separator)
                .iter()
                .map(|(part, _)| member(part, dimension)),
        ),
        Form::Row(columns) => row(typed, columns),
        Form::Rows { columns, .. } => list(
            split(typed, 0, |_, c, _| c == ';')
                .iter()
                .map(|(part, _)| row(part, columns)),
        ),
        Form::Setting if typed.bytes().all(|byte| byte.is_ascii_digit()) => typed.to_owned(),
        Form::Count | Form::Flag | Form::Date => typed.to_owned(),
        Form::Texts => list(
            split(typed, 0, |_, c, _| c == ',')
                .iter()
                .map(|(part, _)| quoted(part)),
        ),
        Form::Setting | Form::Word(_) | Form::Text => quoted(typed),
    }
}

fn list(members: impl Iterator<Item = String>) -> String {
    format!("[{}]", members.collect::<Vec<_>>().join(", "))
}

fn row(typed: &str, columns: &[Dimension]) -> String {
    let last = columns.last().copied().unwrap_or(Dimension::Ratio);
    let columns = columns.iter().copied().chain(core::iter::repeat(last));
    list(
        split(typed, 0, is_separator)
            .iter()
            .zip(columns)
            .map(|((part, _), column)| member(part, column)),
    )
}

/// How many turns there are may stand bare; what is no number to TOML, as `2,5` is not, or stands in quotes has its unit.
fn turns(typed: &str) -> String {
    let parsed = DeValue::parse(typed).map(toml::Spanned::into_inner);
    let (content, in_quotes) = match &parsed {
        Ok(DeValue::String(content)) => (&**content, true),
        _ => (typed, false),
    };
    if quantity::parse(content, Dimension::Ratio).is_err() {
        return if in_quotes {
            typed.to_owned()
        } else {
            quoted(typed)
        };
    }
    match parsed {
        Ok(DeValue::Integer(_) | DeValue::Float(_)) => typed.to_owned(),
        _ => quoted(&format!("{content} turns")),
    }
}

/// A bare number stays bare where TOML reads it as the same number.
fn member(typed: &str, dimension: Dimension) -> String {
    let is_number = || {
        matches!(
            DeValue::parse(typed).map(toml::Spanned::into_inner),
            Ok(DeValue::Integer(_) | DeValue::Float(_))
        )
    };
    if dimension == Dimension::Ratio && is_number() {
        typed.to_owned()
    } else {
        quoted(typed)
    }
}

/// In double quotes, with what they cannot hold escaped.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for c in text.chars() {
        match c {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            c if c.is_control() => quoted.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}
