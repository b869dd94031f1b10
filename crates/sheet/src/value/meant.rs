//! What has to stand at a key, and what may have been meant by something else.

use engine::car::{Date, Form, Key};
use quantity::Dimension;

use crate::example;

/// How a key may be written, where nobody can know what was meant.
pub(super) fn like(key: &Key) -> String {
    format!("it like {} = {}", key.name(), example::value(key))
}

/// What a key holds, in words.
pub(super) fn wanted(key: &Key) -> String {
    match key.form {
        Form::Quantity(Dimension::Ratio) => "a bare number".to_owned(),
        Form::Quantity(Dimension::Turns) => "a number of turns".to_owned(),
        Form::Quantity(dimension) => format!("{} with its unit, in quotes", dimension.with_article()),
        Form::RollingRadius => "a length with its unit, or a tyre's label, in quotes".to_owned(),
        Form::Quantities(dimension) => format!("a list, each member {}", dimension.with_article()),
        Form::Row(columns) => format!("a list of {} members", columns.len()),
        Form::Rows { .. } => "a list of rows, each in brackets of its own".to_owned(),
        Form::Setting => "a number of turns in quotes, or a position as a bare number".to_owned(),
        Form::Count => "a whole number".to_owned(),
        Form::Flag => "true or false, without quotes".to_owned(),
        Form::Word(_) => "a word in quotes".to_owned(),
        Form::Text => "a text in quotes".to_owned(),
        Form::Texts => "a list of texts".to_owned(),
        Form::Date => "a day, without quotes".to_owned(),
    }
}

pub(super) fn flag_meant(content: &str) -> Option<&'static str> {
    match content.to_ascii_lowercase().as_str() {
        "true" | "yes" | "y" | "on" | "1" => Some("true"),
        "false" | "no" | "n" | "off" | "0" | "none" => Some("false"),
        _ => None,
    }
}

/// A day in one of the orders that people write, where only one is possible.
pub(super) fn day_meant(content: &str) -> Option<String> {
    let parts: Vec<&str> = content
        .split(['-', '.', '/', ' ', 'T', 't'])
        .filter(|part| !part.is_empty())
        .take(3)
        .collect();
    let [first, second, third] = parts[..] else {
        return None;
    };
    let number = |part: &str| part.parse::<i16>().ok();
    let (year, month, day) = match (first.len(), third.len()) {
        (4, 1 | 2) => (number(first)?, number(second)?, number(third)?),
        (1 | 2, 4) if content.contains('.') || number(first)? > 12 => {
            (number(third)?, number(second)?, number(first)?)
        }
        _ => return None,
    };
    let day = Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()?;
    Some(day.to_string())
}
