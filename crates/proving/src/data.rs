//! Values of an entry's data, read: texts, truths, quantities within their range.

use quantity::Dimension;
use serde_json::Value;

/// Why an entry that means to say something of plumbing cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryFault(pub String);

impl core::fmt::Display for EntryFault {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.0)
    }
}

impl core::error::Error for EntryFault {}

/// A word or a text; left out and empty are the same.
///
/// # Errors
/// Something else than a string.
pub(crate) fn text<'a>(data: &'a Value, key: &str) -> Result<Option<&'a str>, EntryFault> {
    match data.get(key) {
        None | Some(Value::Null) => Ok(None),
        Some(Value::String(text)) => Ok(Some(text.trim()).filter(|text| !text.is_empty())),
        Some(other) => Err(EntryFault(format!(
            "{key}: {other} is no text: write it in quotes"
        ))),
    }
}

pub(crate) fn truth(data: &Value, key: &str) -> Result<bool, EntryFault> {
    match data.get(key) {
        None | Some(Value::Null) => Ok(false),
        Some(Value::Bool(is)) => Ok(*is),
        Some(other) => Err(EntryFault(format!("{key}: {other} is neither true nor false"))),
    }
}

/// A quantity with the least and the most that it can be, as they are written.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Range {
    pub(crate) dimension: Dimension,
    pub(crate) least: &'static str,
    pub(crate) most: &'static str,
}

/// Reads a quantity and keeps it within its range.
///
/// # Errors
/// What cannot be read or cannot be.
pub(crate) fn within(key: &str, given: &str, range: Range) -> Result<f64, EntryFault> {
    let read = |text: &str| quantity::parse(text, range.dimension).map(|amount| amount.si);
    let si = read(given).map_err(|fault| EntryFault(format!("{key}: {fault}; {}", fault.help())))?;
    let end = |text: &str| read(text).map_err(|fault| EntryFault(fault.to_string()));
    if (end(range.least)?..=end(range.most)?).contains(&si) {
        Ok(si)
    } else {
        Err(EntryFault(format!(
            "{key}: {given} cannot be: {} to {}",
            range.least, range.most
        )))
    }
}

pub(crate) fn quantity(data: &Value, key: &str, range: Range) -> Result<Option<f64>, EntryFault> {
    text(data, key)?
        .map(|given| within(key, given, range))
        .transpose()
}

/// A quantity that has to be there.
pub(crate) fn wanted(data: &Value, key: &str, range: Range) -> Result<f64, EntryFault> {
    quantity(data, key, range)?.ok_or_else(|| EntryFault(format!("`{key}` is missing")))
}
