//! Overrides: `KEY=VALUE`, the value without the quotes of a file.

use core::ops::Range;
use nearest::nearest;

use engine::car::{Form, Inputs, KeyId, Slot, Value};
use toml::Spanned;
use toml::de::{DeArray, DeValue};

use crate::example;
use crate::fault::{Fault, Meant};
use crate::layout::{self, Node};
use crate::places::{ValuePlace, entry_number};
use crate::problem::{Finding, Problem};
use crate::source::{Source, clipped};
use crate::value::ValueReader;

/// The name that problems of an override carry in the place of a file's.
pub const WITH: &str = "--with";

/// A sheet of an older format means what it meant: no override makes another of it.
const HOW_IT_IS_READ: &str = "format";

/// Takes one override, `KEY=VALUE`, in the place of what the inputs say. The value is typed without quotes, checked as
/// a sheet is: `lever.bore=11/16 in`, `load.item[2].mass=20 kg`, `front_brake.caliper.pistons=41.3 mm, 36.5 mm`; the
/// rows of a curve are parted by semicolons. As TOML it is taken too.
///
/// # Errors
/// What is wrong with it. The inputs are as they were.
pub fn override_key(inputs: &mut Inputs, written: &str) -> Result<Slot, Problem> {
    let (slot, value, _) = interpret(inputs, &Source::new(WITH, written), 0)?;
    inputs.set(slot, value);
    Ok(slot)
}

/// What an override says.
pub(crate) fn interpret(
    inputs: &Inputs,
    source: &Source,
    number: usize,
) -> Result<(Slot, Value, ValuePlace), Problem> {
    let text = source.text();
    let problem = |span: Range<usize>, key: Option<String>, fault: Fault| {
        Finding {
            source: number,
            span,
            key,
            fault,
        }
        .into_problem(source)
    };
    let Some((key, value)) = text.split_once('=') else {
        return Err(problem(
            0..text.len(),
            None,
            Fault::NoEquals {
                found: text.to_owned(),
            },
        ));
    };
    let key_span = trimmed(key, 0);
    let slot = slot(inputs, &text[key_span.clone()]).map_err(|(span, fault)| {
        problem(
            key_span.start + span.start..key_span.start + span.end,
            None,
            fault,
        )
    })?;
    if slot.key.key().path == HOW_IT_IS_READ {
        return Err(problem(key_span, None, Fault::TellsHow { key: HOW_IT_IS_READ }));
    }
    let value_span = trimmed(value, key.len() + 1);
    if value_span.is_empty() {
        let written = format!("it like {}={}", slot.path(), example::typed(slot.key.key()));
        return Err(problem(
            key.len()..key.len() + 1,
            Some(slot.path()),
            Fault::NoValue { written },
        ));
    }
    let value = self::value(text, &value_span, slot.key)
        .map_err(|(span, fault)| problem(span, Some(slot.path()), fault))?;
    Ok((
        slot,
        value,
        ValuePlace {
            key: key_span,
            value: value_span,
            source: number,
        },
    ))
}

/// Bytes of a part of a text without the blanks around it.
fn trimmed(part: &str, start: usize) -> Range<usize> {
    let leading = part.len() - part.trim_start().len();
    let content = part.trim().len();
    start + leading..start + leading + content
}

/// The slot that a path names.
pub(crate) fn slot(inputs: &Inputs, path: &str) -> Result<Slot, (Range<usize>, Fault)> {
    let mut node = layout::sheet();
    let mut entry = 0;
    let mut at = 0;
    for part in path.split('.') {
        let span = at..at + part.len();
        at += part.len() + 1;
        let (name, number) = split_number(part).ok_or_else(|| {
            (
                span.clone(),
                Fault::NotAPath {
                    found: path.to_owned(),
                },
            )
        })?;
        let is_last = at > path.len();
        let Some(child) = node.child(name) else {
            return Err((span, unknown(node, name, entry, is_last)));
        };
        let table = child.path.trim_end_matches("[]").to_owned();
        match (child.repeats, number) {
            (true, Some(asked)) => {
                let there = inputs.entries(&table);
                if asked == 0 || asked > there + 1 {
                    return Err((span, Fault::NoSuchEntry { table, asked, there }));
                }
                entry = asked - 1;
            }
            (false, None) => {}
            (repeats, _) => return Err((span, Fault::EntryNumber { table, repeats })),
        }
        node = child;
    }
    match node.leaf {
        Some(key) => Ok(Slot { key, entry }),
        None => {
            let keys = node.children.iter().map(|child| child.shown(entry)).collect();
            Err((
                0..path.len(),
                Fault::NotAKey {
                    name: node.shown(entry),
                    keys,
                },
            ))
        }
    }
}

/// A name and the number in brackets behind it; nothing where the brackets hold no number.
fn split_number(part: &str) -> Option<(&str, Option<usize>)> {
    match part.split_once('[') {
        None if part.is_empty() => None,
        None => Some((part, None)),
        Some((name, rest)) => Some((name, Some(entry_number(rest.strip_suffix(']')?)?))),
    }
}

fn unknown(node: &'static Node, name: &str, entry: usize, is_last: bool) -> Fault {
    let table = node.shown(entry);
    let near = nearest(name, node.children.iter().map(|child| child.name));
    let offer = if near.is_empty() {
        let mut paths = Vec::new();
        layout::sheet().each(&mut |other| {
            if other.name == name && other.leaf.is_some() {
                paths.push(other.path.replace("[]", "[1]"));
            }
        });
        if paths.is_empty() || paths.len() > 6 {
            Meant::All(
                node.children
                    .iter()
                    .map(|child| child.name.to_owned())
                    .take(24)
                    .collect(),
            )
        } else {
            Meant::NearElsewhere(paths)
        }
    } else {
        let prefix = if table.is_empty() {
            String::new()
        } else {
            format!("{table}.")
        };
        Meant::Near(near.iter().map(|near| format!("{prefix}{near}")).collect())
    };
    Fault::Unknown {
        name: clipped(name),
        table,
        is_table: !is_last,
        offer,
    }
}

/// Reads the text of a value for a key.
pub(crate) fn value(text: &str, span: &Range<usize>, key: KeyId) -> Result<Value, (Range<usize>, Fault)> {
    let typed = &text[span.clone()];
    let base = span.start;
    let (parsed, base) = parse(typed, base, key.key().form);
    let is_unreadable = |_: &Range<usize>| None;
    let mut reader = ValueReader {
        text,
        base,
        in_file: false,
        is_unreadable: &is_unreadable,
        key: key.key(),
        faults: Vec::new(),
    };
    let value = reader.read(&parsed);
    match (value, reader.faults.into_iter().next()) {
        (Some(value), None) => Ok(value),
        (_, Some((span, fault))) => Err((span, fault)),
        (None, None) => Err((
            span.clone(),
            Fault::Unreadable {
                found: typed.to_owned(),
                written: example::value(key.key()),
            },
        )),
    }
}

/// The value as TOML would hold it. Spans count from `base`.
fn parse(typed: &str, base: usize, form: Form) -> (Spanned<DeValue<'_>>, usize) {
    if typed.starts_with(['"', '\'', '[', '{']) || matches!(form, Form::Count | Form::Flag | Form::Date) {
        let (parsed, errors) = DeValue::parse_recoverable(typed);
        if errors.is_empty() {
            return (parsed, base);
        }
    }
    let value = match form {
        Form::Quantities(_) | Form::Row(_) => list(typed, 0, is_separator),
        Form::Texts => list(typed, 0, |_, c, _| c == ','),
        Form::Rows { .. } => {
            let mut rows = DeArray::new();
            for (part, at) in split(typed, 0, |_, c, _| c == ';') {
                rows.push(Spanned::new(at..at + part.len(), list(part, at, is_separator)));
            }
            DeValue::Array(rows)
        }
        Form::Setting if typed.bytes().all(|byte| byte.is_ascii_digit()) => {
            return (DeValue::parse_recoverable(typed).0, base);
        }
        _ => DeValue::String(typed.into()),
    };
    (Spanned::new(0..typed.len(), value), base)
}

/// A comma that parts members, and is no decimal comma.
pub(crate) fn is_separator(before: Option<char>, c: char, behind: Option<char>) -> bool {
    c == ',' && !(before.is_some_and(|c| c.is_ascii_digit()) && behind.is_some_and(|c| c.is_ascii_digit()))
}

fn list(text: &str, start: usize, parts: fn(Option<char>, char, Option<char>) -> bool) -> DeValue<'_> {
    let mut members = DeArray::new();
    for (part, at) in split(text, start, parts) {
        members.push(Spanned::new(at..at + part.len(), DeValue::String(part.into())));
    }
    DeValue::Array(members)
}

/// Parts of a text without the blanks around them, and where each begins.
pub(crate) fn split(
    text: &str,
    start: usize,
    parts: fn(Option<char>, char, Option<char>) -> bool,
) -> Vec<(&str, usize)> {
    let mut found = Vec::new();
    let mut from = 0;
    let ends = text.char_indices().filter(|&(at, c)| {
        parts(
            text[..at].chars().next_back(),
            c,
            text[at + c.len_utf8()..].chars().next(),
        )
    });
    let ends: Vec<usize> = ends.map(|(at, _)| at).chain([text.len()]).collect();
    for end in ends {
        let span = trimmed(&text[from..end], from);
        found.push((&text[span.clone()], start + span.start));
        from = (end + 1).min(text.len());
    }
    found
}
