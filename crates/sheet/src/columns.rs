//! `logs/columns.toml`: what the columns of a car's logs are called, in which units, kept beside them.

use core::ops::Range;

use toml::Spanned;
use toml::de::DeValue;

use crate::prices::{PriceFault as ColumnFault, fault};
use crate::syntax;

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
    let tree = syntax::tree(text).map_err(|(at, what)| vec![fault(text, at, what, SHAPE)])?;
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

/// The text of a map that says of a column what it is and in which unit; every other byte stays. What the map says of it
/// besides stays too.
///
/// ```
/// let text = sheet::with_column("# ours\n", "P brk F", "front pressure", Some("kPa")).unwrap();
/// assert_eq!(text, "# ours\n\n[columns.\"P brk F\"]\nis = \"front pressure\"\nunit = \"kPa\"\n");
/// let text = sheet::with_column(&text, "P brk F", "nothing", None).unwrap();
/// assert_eq!(text, "# ours\n\n[columns.\"P brk F\"]\nis = \"nothing\"\nunit = \"kPa\"\n");
/// ```
///
/// # Errors
/// The text is no map, or would be none with it.
pub fn with_column(text: &str, head: &str, is: &str, unit: Option<&str>) -> Result<String, Vec<ColumnFault>> {
    column_map(text)?;
    let mut now = text.to_owned();
    for (key, value) in [("is", Some(is)), ("unit", unit)] {
        let Some(value) = value.map(crate::splice::quoted) else {
            continue;
        };
        now = match place(&now, head, key) {
            Place::Value(at) => format!("{}{value}{}", &now[..at.start], &now[at.end..]),
            // `is` stands in every column that there is.
            Place::Behind(at, true) => format!("{}, {key} = {value}{}", &now[..at], &now[at..]),
            Place::Behind(at, false) => format!("{}\n{key} = {value}{}", &now[..at], &now[at..]),
            Place::Nowhere => {
                let gap = match now.as_str() {
                    "" => "",
                    text if text.ends_with('\n') => "\n",
                    _ => "\n\n",
                };
                format!(
                    "{now}{gap}[columns.{}]\n{key} = {value}\n",
                    crate::splice::quoted(head)
                )
            }
        };
    }
    column_map(&now)?;
    Ok(now)
}

/// Where a key of a column is written.
enum Place {
    Value(Range<usize>),
    /// Behind the value of `is`, and whether all stands in one line within braces.
    Behind(usize, bool),
    Nowhere,
}

fn place(text: &str, head: &str, key: &str) -> Place {
    let Ok(tree) = syntax::tree(text) else {
        return Place::Nowhere;
    };
    let column = match tree.get_ref().get("columns").map(Spanned::get_ref) {
        Some(DeValue::Table(columns)) => columns.get(head),
        _ => None,
    };
    let Some((column, span)) = column.and_then(|column| match column.get_ref() {
        DeValue::Table(table) => Some((table, column.span())),
        _ => None,
    }) else {
        return Place::Nowhere;
    };
    let in_braces = text[span].starts_with('{');
    match (column.get(key), column.get("is")) {
        (Some(value), _) => Place::Value(value.span()),
        (None, Some(is)) => Place::Behind(is.span().end, in_braces),
        (None, None) => Place::Nowhere,
    }
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

    #[test]
    fn a_column_is_named_and_nothing_else_moves() {
        let text = "# ours\ndecimal = \",\" # here\n[columns]\nv = { is = \"speed\", times = 0.1 }\n";
        let text = with_column(text, "v", "speed", Some("km/h")).unwrap();
        assert_eq!(
            text,
            "# ours\ndecimal = \",\" # here\n[columns]\nv = { is = \"speed\", unit = \"km/h\", times = 0.1 }\n"
        );
        let hostile = "a\"]\n[x.\u{1b}";
        let text = with_column(&text, hostile, "time", Some("ms")).unwrap();
        let map = column_map(&text).unwrap();
        let named = |head: &str| map.columns.iter().find(|column| column.head == head).unwrap();
        assert_eq!(
            (named("v").times, named("v").unit.as_deref()),
            (0.1, Some("km/h"))
        );
        assert_eq!(
            (named(hostile).is.as_str(), named(hostile).unit.as_deref()),
            ("time", Some("ms"))
        );
        assert!(with_column("head = 3\n", "v", "speed", None).is_err());
    }
}
