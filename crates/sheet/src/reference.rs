//! The page that lists all keys.

use core::fmt::{self, Write as _};

use engine::car::{Form, Key, Need};
use quantity::{Dimension, units_of};

use crate::about::taken;
use crate::example;
use crate::layout::{self, Node};

const HEAD: &str = "\
# The sheet, key by key

<!-- Written from the table of keys; do not edit. -->

A car's sheet, `car.toml`, is a text in TOML. This page lists every key that may stand on it: what it holds, what is
usual, and what is taken where it is left out. A figure outside the range in brackets is refused; one outside the usual
earns a warning. `rearline new --explain` writes a sheet with all of this as comments.

- **Figures** stand in quotes with their unit: `\"5/8 in\"`, `\"1-1/16 in\"`, `\"15.9 mm\"`, `\"15,9 mm\"`. Only a figure
  without unit may stand bare.
- **How sure**: `\"0.42 ± 0.04\"` or `\"0.42 +/- 0.04\"` (95 in 100 lie within), `\"1.30 m ± 5 %\"`,
  `\"between 0.38 and 0.46\"` (anywhere between). The tolerance of a temperature is a difference.
- **`\"guess\"`** takes what stands under *left out*, with its tolerance, and every result says that it leaned on it. It
  may stand where that column shows a figure or a rule.
- **Tables** may be written under a header, in curly brackets, or with dots, as TOML has it.
";

/// Every key of the sheet as a page in Markdown.
#[must_use]
pub fn reference() -> String {
    let mut page = HEAD.to_owned();
    // Writing to a string cannot fail.
    let _ = units(&mut page);
    for node in &layout::sheet().children {
        let _ = section(&mut page, node);
    }
    page
}

fn units(page: &mut String) -> fmt::Result {
    writeln!(page, "\n## Units\n\n| | units |\n| --- | --- |")?;
    for dimension in Dimension::ALL {
        let symbols: Vec<String> = units_of(dimension)
            .iter()
            .filter(|unit| !unit.symbol().is_empty())
            .map(|unit| format!("`{}`", cell(unit.symbol())))
            .collect();
        if !symbols.is_empty() {
            writeln!(page, "| {} | {} |", dimension.with_article(), symbols.join(", "))?;
        }
    }
    Ok(())
}

/// One table at the top of the sheet, with the tables in it.
fn section(page: &mut String, node: &'static Node) -> fmt::Result {
    let mut keys: Vec<&'static Key> = Vec::new();
    node.each(&mut |each| keys.extend(each.leaf.map(|leaf| leaf.key())));
    match (node.is_table(), node.repeats) {
        (false, _) => writeln!(page, "\n## `{}`\n", node.name)?,
        (true, false) => writeln!(page, "\n## `[{}]`\n", node.name)?,
        (true, true) => writeln!(page, "\n## `[[{}]]`\n", node.name)?,
    }
    writeln!(
        page,
        "| key | holds | usual (allowed) | left out | what it is | how it is found out | card |\n\
         | --- | --- | --- | --- | --- | --- | --- |"
    )?;
    for key in keys {
        let name = key
            .path
            .strip_prefix(node.path)
            .map_or(key.path, |rest| rest.trim_start_matches('.'));
        let name = if name.is_empty() { node.name } else { name };
        writeln!(
            page,
            "| `{name}` | {} | {} | {} | {} | {} | {} |",
            cell(&holds(key)),
            cell(&ranges(key)),
            cell(&without(key)),
            cell(&key.help_as_text()),
            cell(key.how),
            key.drawing.map_or("", |drawing| drawing.title())
        )?;
    }
    Ok(())
}

fn holds(key: &Key) -> String {
    let kind = match key.form {
        Form::Quantity(dimension) => dimension.with_article().to_owned(),
        Form::RollingRadius => "a length, or a tyre's label".to_owned(),
        Form::Quantities(dimension) => format!("a list, each {}", dimension.with_article()),
        Form::Row(columns) => row(columns, columns.len()),
        Form::Rows { columns, needed } => format!("rows of {}", row(columns, needed)),
        Form::Setting => "turns, or a bare position".to_owned(),
        Form::Count => "a whole number".to_owned(),
        Form::Flag => return "`true` or `false`".to_owned(),
        Form::Word(words) => {
            return words
                .iter()
                .map(|word| format!("`\"{word}\"`"))
                .collect::<Vec<_>>()
                .join(", ");
        }
        Form::Text => return "a text".to_owned(),
        Form::Texts => return "a list of texts".to_owned(),
        Form::Date => "a day".to_owned(),
    };
    format!("{kind}: `{}`", example::value(key))
}

fn row(columns: &[Dimension], needed: usize) -> String {
    let names: Vec<&str> = columns.iter().map(|column| column.with_article()).collect();
    let (must, may) = names.split_at(needed.min(names.len()));
    let may: String = may.iter().map(|name| format!(" (and {name})")).collect();
    format!("{}{may}", must.join(", "))
}

fn ranges(key: &Key) -> String {
    let range = |(low, high): (&str, &str)| format!("{low} to {high}");
    match (key.usual.map(range), key.hard.map(range)) {
        (Some(usual), Some(hard)) => format!("{usual} ({hard})"),
        (Some(usual), None) => usual,
        (None, Some(hard)) => format!("({hard})"),
        (None, None) => String::new(),
    }
}

fn without(key: &Key) -> String {
    let needed = match key.need {
        Need::Always => "**needed**".to_owned(),
        Need::InItsTable => "**needed** in its table".to_owned(),
        Need::Sometimes => format!("**needed** {}", key.when),
        Need::Never => String::new(),
    };
    let taken = match taken(key) {
        Some(default) if key.source.is_empty() || key.source.starts_with("left out") => default.to_owned(),
        Some(default) => format!("{default} ({})", key.source),
        None => String::new(),
    };
    match (needed.is_empty(), taken.is_empty()) {
        (true, _) => taken,
        (false, true) => needed,
        (false, false) => format!("{needed}; guessed: {taken}"),
    }
}

/// A text as it may stand in a cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}
