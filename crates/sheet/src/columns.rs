//! `logs/columns.toml`: what the columns of a car's logs are called, in which units, kept beside them.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::prices::{PriceFault as ColumnFault, fault};

/// What one column is.
#[derive(Clone, Debug, PartialEq)]
pub struct MappedColumn {
    /// Its head, as the file has it.
    pub head: String,
    /// What it is of: `time`, `front pressure`, `wheel rear left`; `nothing`: to be passed over.
    pub is: String,
    /// Unit, where the head does not say it.
    pub unit: Option<String>,
    /// What its figures are to be multiplied with.
    pub times: f64,
    /// What is to be added then, in the column's own unit.
    pub plus: f64,
}

/// A car's map of columns. Empty: heads and units are as the file says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ColumnMap {
    /// Between fields; `None`: found.
    pub delimiter: Option<u8>,
    /// Whether figures have a decimal comma; `None`: found.
    pub decimal_comma: Option<bool>,
    /// Columns by their heads.
    pub columns: Vec<MappedColumn>,
}

/// Reads a map of columns.
///
/// ```
/// let map = sheet::column_map("delimiter = \";\"\n[columns.\"P brk F\"]\nis = \"front pressure\"\nunit = \"kPa\"\n").unwrap();
/// assert_eq!((map.delimiter, map.columns[0].unit.as_deref()), (Some(b';'), Some("kPa")));
/// ```
///
/// # Errors
/// Every fault, in the order of the text.
pub fn column_map(text: &str) -> Result<ColumnMap, Vec<ColumnFault>> {
    const SHAPE: &str =
        "write [columns.\"head in the file\"], below it is = \"rear pressure\" and unit = \"bar\"";
    let tree = DeTable::parse(text).map_err(|error| {
        let at = error.span().unwrap_or(0..0);
        vec![fault(text, at, error.message().to_owned(), SHAPE)]
    })?;
    let mut map = ColumnMap::default();
    let mut faults = Vec::new();
    for (key, value) in tree.get_ref() {
        let mut wrong = |what: String, remedy| faults.push(fault(text, value.span(), what, remedy));
        match (key.get_ref().as_ref(), value.get_ref()) {
            ("delimiter", DeValue::String(said)) => match said.as_bytes() {
                [one] if matches!(one, b',' | b';' | b'\t' | b'|' | b' ') => map.delimiter = Some(*one),
                _ => wrong(
                    format!("`{said}` is no delimiter"),
                    "one of \",\", \";\", \"|\", \"\\t\", \" \"",
                ),
            },
            ("decimal", DeValue::String(said)) => match said.as_ref() {
                "," => map.decimal_comma = Some(true),
                "." => map.decimal_comma = Some(false),
                _ => wrong(format!("`{said}` is no decimal sign"), "\",\" or \".\""),
            },
            ("columns", DeValue::Table(columns)) => {
                for (head, column) in columns {
                    match mapped(text, head.get_ref(), column) {
                        Ok(column) => map.columns.push(column),
                        Err(found) => faults.extend(found),
                    }
                }
            }
            (other, _) => wrong(format!("`{other}` is not understood here"), SHAPE),
        }
    }
    faults.sort_by_key(|fault| (fault.line, fault.column));
    if faults.is_empty() { Ok(map) } else { Err(faults) }
}

fn mapped(text: &str, head: &str, column: &Spanned<DeValue<'_>>) -> Result<MappedColumn, Vec<ColumnFault>> {
    let DeValue::Table(column_table) = column.get_ref() else {
        let what = format!("column `{head}` is no table");
        return Err(vec![fault(
            text,
            column.span(),
            what,
            "write [columns.\"head\"], and is = \"…\" below it",
        )]);
    };
    let mut mapped = MappedColumn {
        head: head.to_owned(),
        is: String::new(),
        unit: None,
        times: 1.0,
        plus: 0.0,
    };
    let mut faults = Vec::new();
    for (key, value) in column_table {
        let number = || -> Option<f64> {
            let text = match value.get_ref() {
                DeValue::Integer(number) => number.as_str().replace('_', ""),
                DeValue::Float(number) => number.as_str().replace('_', ""),
                _ => return None,
            };
            text.parse().ok().filter(|number: &f64| number.is_finite())
        };
        match (key.get_ref().as_ref(), value.get_ref()) {
            ("is", DeValue::String(said)) => mapped.is = said.trim().to_owned(),
            ("unit", DeValue::String(said)) => mapped.unit = Some(said.trim().to_owned()),
            ("times", _) if number().is_some_and(|times| times != 0.0) => {
                mapped.times = number().unwrap_or(1.0);
            }
            ("plus", _) if number().is_some() => mapped.plus = number().unwrap_or(0.0),
            (other, _) => faults.push(fault(
                text,
                value.span(),
                format!("`{other}` of column `{head}` is not understood"),
                "is and unit are words in quotes, times and plus bare numbers (times not 0)",
            )),
        }
    }
    if mapped.is.is_empty() && faults.is_empty() {
        faults.push(fault(
            text,
            column.span(),
            format!("column `{head}` does not say what it is"),
            "is = \"front pressure\", \"speed\", \"wheel rear left\", \"time\" … or \"nothing\"",
        ));
    }
    if faults.is_empty() {
        Ok(mapped)
    } else {
        Err(faults)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_map_is_read_whole() {
        let text = "decimal = \",\"\n[columns.\"v1\"]\nis = \"speed\"\nunit = \"km/h\"\ntimes = 0.1\nplus = -3\n[columns.t]\nis = \"time\"\n";
        let map = column_map(text).unwrap();
        assert_eq!(map.decimal_comma, Some(true));
        let speed = map.columns.iter().find(|column| column.head == "v1").unwrap();
        assert_eq!((speed.is.as_str(), speed.times, speed.plus), ("speed", 0.1, -3.0));
        assert_eq!(column_map("").unwrap(), ColumnMap::default());
    }

    #[test]
    fn every_fault_is_found_and_pointed_at() {
        let text = "delimiter = \"ab\"\ndecimal = \"x\"\nhead = 3\n[columns.a]\nunit = \"bar\"\n[columns.b]\nis = \"speed\"\ntimes = 0\n";
        let faults = column_map(text).unwrap_err();
        let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [1, 2, 3, 4, 8], "{faults:?}");
        assert_eq!(column_map("[columns\n").unwrap_err()[0].line, 1);
        assert_eq!(column_map("columns = 3\n").unwrap_err().len(), 1);
    }
}
