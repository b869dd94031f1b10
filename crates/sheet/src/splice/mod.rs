//! Edits that change one value and leave every other byte as it was.
//!
//! A value that stands on the sheet is replaced where it stands. One that does not is written into its table, in the
//! way in which that table is written: on a line of its own behind the key that comes before it in the table of keys,
//! within curly brackets, or with dots. A table that is not there is begun within the table above it, or at the end.

mod outline;
mod written;

use core::ops::Range;

use engine::car::{Slot, Value};

use crate::fault::Fault;
use crate::layout::{self, Node};
use crate::places::{TablePlace, TableStyle};
use crate::problem::{Finding, Problem};
use crate::read::{ReadSheet, read};
use crate::source::Source;
use crate::with;

use outline::Outline;
pub(crate) use written::quoted;

/// The name that problems of an edit carry in the place of a file's. Their columns count in the value, or in the path.
pub const EDIT: &str = "edit";

/// Writes a value at a key: the text of the sheet with nothing else changed. `path` counts entries from 1; `typed` is
/// the value without the quotes of a file, or as TOML.
///
/// # Errors
/// What is wrong with the path or the value; or that the sheet cannot be edited here because it does not read.
pub fn splice(sheet: &str, path: &str, typed: &str) -> Result<String, Problem> {
    let before = read(sheet.as_bytes(), "");
    let slot = slot(&before, path)?;
    let source = Source::new(EDIT, typed);
    let problem = |span: Range<usize>, fault: Fault| {
        Finding {
            source: 0,
            span,
            key: Some(slot.path()),
            fault,
        }
        .into_problem(&source)
    };
    let trimmed = typed.trim();
    if trimmed.is_empty() {
        let written = format!("it like {}", crate::example::value(slot.key.key()));
        return Err(problem(0..typed.len(), Fault::NoValue { written }));
    }
    let start = typed.len() - typed.trim_start().len();
    let value = with::value(typed, &(start..start + trimmed.len()), slot.key)
        .map_err(|(span, fault)| problem(span, fault))?;
    if before.places.value(slot).is_none() && before.may_have_lost(slot) {
        return Err(problem(0..typed.len(), Fault::CannotEdit));
    }
    let raw = written::as_toml(trimmed, slot.key.key());
    let edited = Editor::new(sheet, &before).set(slot, &raw);
    edited
        .filter(|edited| holds(&before, edited, &Change::Set(slot, value)))
        .ok_or_else(|| problem(0..typed.len(), Fault::CannotEdit))
}

/// Takes a key out, with its line and the comment on it; in curly brackets, with its comma. A table in curly brackets
/// that is empty then goes too. `path` may also name a table, or one entry of a repeated one: it goes with all that
/// stands in it and the comments between; comments right above the next header stay.
///
/// # Errors
/// What is wrong with the path; or that the sheet cannot be edited here because it does not read.
pub fn cut(sheet: &str, path: &str) -> Result<String, Problem> {
    let before = read(sheet.as_bytes(), "");
    let source = Source::new(EDIT, path);
    let refused = |fault: Fault| {
        Finding {
            source: 0,
            span: 0..path.len(),
            key: Some(path.to_owned()),
            fault,
        }
        .into_problem(&source)
    };
    let editor = Editor::new(sheet, &before);
    let shown = path.trim();
    let key = slot(&before, shown);
    if let Ok(slot) = key
        && before.places.value(slot).is_some()
    {
        return editor
            .cut_key(slot)
            .filter(|edited| holds(&before, edited, &Change::Cut(shown.to_owned())))
            .ok_or_else(|| refused(Fault::CannotEdit));
    }
    if before.places.table(shown).is_some() {
        return editor
            .cut_table(shown)
            .filter(|edited| holds(&before, edited, &Change::Cut(shown.to_owned())))
            .ok_or_else(|| refused(Fault::CannotEdit));
    }
    let slot = key?;
    Err(refused(Fault::NotThere { key: slot.path() }))
}

fn slot(read: &ReadSheet, path: &str) -> Result<Slot, Problem> {
    let source = Source::new(EDIT, path);
    with::slot(&read.inputs, path.trim()).map_err(|(span, fault)| {
        Finding {
            source: 0,
            span,
            key: None,
            fault,
        }
        .into_problem(&source)
    })
}

enum Change {
    Set(Slot, Value),
    Cut(String),
}

/// Whether a sheet after an edit says what it should: the new value, and everything else as before.
fn holds(before: &ReadSheet, edited: &str, change: &Change) -> bool {
    let after = read(edited.as_bytes(), "");
    // What is wrong with keys and values may change with an edit, but all has to read that did before.
    let unread = |read: &ReadSheet| {
        read.problems()
            .shown()
            .iter()
            .filter(|problem| problem.fault.is_syntax())
            .count()
    };
    if unread(&after) > unread(before) {
        return false;
    }
    let changed = match change {
        Change::Set(slot, value) => {
            if after.inputs.get(*slot) != Some(value) {
                return false;
            }
            slot.path()
        }
        Change::Cut(path) => path.clone(),
    };
    // A table may stand in the place of a value, whose other end keeps what it said; an entry that goes moves those behind it.
    let group = changed.split('[').next().unwrap_or_default();
    let moved = matches!(change, Change::Cut(path) if path.ends_with(']'));
    let kept = match change {
        Change::Set(slot, _) => before.inputs.keeps(*slot),
        Change::Cut(_) => None,
    };
    if kept.is_some_and(|kept| after.inputs.get(kept.end) != before.inputs.get(kept.stood)) {
        return false;
    }
    let touched = |slot: &Slot| {
        let path = slot.path();
        kept.is_some_and(|kept| kept.end == *slot)
            || within(&path, &changed)
            || within(&changed, &path)
            || moved && path.starts_with(group)
    };
    let same = |one: &ReadSheet, other: &ReadSheet| {
        one.inputs
            .slots()
            .filter(|(slot, _)| !touched(slot))
            .all(|(slot, value)| other.inputs.get(slot) == Some(value))
    };
    same(before, &after) && same(&after, before)
}

/// Whether a path is the other or stands in it.
fn within(path: &str, other: &str) -> bool {
    path.strip_prefix(other)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with('.') || rest.starts_with('['))
}

/// A sheet's text with what is known of it.
struct Editor<'a> {
    text: &'a str,
    read: &'a ReadSheet,
    outline: Outline<'a>,
}

impl<'a> Editor<'a> {
    fn new(text: &'a str, read: &'a ReadSheet) -> Self {
        Self {
            text,
            read,
            outline: Outline::new(text),
        }
    }

    fn replaced(&self, span: Range<usize>, with: &str) -> String {
        let mut edited = String::with_capacity(self.text.len() + with.len());
        edited.push_str(&self.text[..span.start]);
        edited.push_str(with);
        edited.push_str(&self.text[span.end..]);
        edited
    }

    fn inserted(&self, at: usize, text: &str) -> String {
        self.replaced(at..at, text)
    }

    fn table(&self, path: &str) -> Option<&'a TablePlace> {
        self.read.places.table(path)
    }

    fn set(&self, slot: Slot, raw: &str) -> Option<String> {
        if let Some(place) = self.read.places.value(slot) {
            return Some(self.replaced(place.value.clone(), raw));
        }
        let path = slot.path();
        if let Some(place) = self.table(&path) {
            // A table stands where the value goes; one with a header of its own goes first.
            if place.style == TableStyle::Inline {
                return Some(self.replaced(place.span.clone(), raw));
            }
            let without = self.cut_table(&path)?;
            let read = read(without.as_bytes(), "");
            return Editor::new(&without, &read).set(slot, raw);
        }
        let (table, name) = split(&path);
        self.insert(table, name, raw)
    }

    /// Writes a key that is not there yet into a table, or begins the table with it.
    fn insert(&self, table: &str, name: &str, raw: &str) -> Option<String> {
        if table.is_empty() {
            return Some(self.insert_at_top(name, raw));
        }
        // A value stands where the table goes: the other end of the car keeps it.
        if let Some(place) = crate::places::slot_of(table).and_then(|slot| self.read.places.value(slot)) {
            let kept = crate::places::slot_of(&format!("{table}.{name}"))
                .and_then(|slot| self.read.inputs.keeps(slot))
                .map(|kept| kept.end.path());
            let both = match kept.as_deref().map(|end| split(end).1) {
                Some(other) => {
                    let stood = &self.text[place.value.clone()];
                    let (mut front, mut rear) = ((name, raw), (other, stood));
                    if other == "front" {
                        core::mem::swap(&mut front, &mut rear);
                    }
                    format!("{{ {} = {}, {} = {} }}", front.0, front.1, rear.0, rear.1)
                }
                None => format!("{{ {name} = {raw} }}"),
            };
            return Some(self.replaced(place.value.clone(), &both));
        }
        let Some(place) = self.table(table) else {
            return self.begin(table, name, raw);
        };
        match place.style {
            TableStyle::Header => Some(self.insert_line(&place.span, node_at(table)?, name, raw)),
            TableStyle::Inline => self.insert_inline(&place.span, name, raw),
            TableStyle::Implied => self.insert_dotted(table, place, name, raw),
        }
    }

    fn insert_at_top(&self, name: &str, raw: &str) -> String {
        let newline = self.outline.newline();
        let line = format!("{name} = {raw}{newline}");
        match self.outline.last_above_headers() {
            Some(last) => self.insert_behind(last.end, &format!("{name} = {raw}")),
            None => match self.outline.first_header() {
                Some(header) => self.inserted(header, &line),
                None if self.text.is_empty() || self.text.ends_with('\n') => {
                    self.inserted(self.text.len(), &line)
                }
                None => self.inserted(self.text.len(), &format!("{newline}{line}")),
            },
        }
    }

    /// A new line behind the line that an offset stands on.
    fn insert_behind(&self, offset: usize, line: &str) -> String {
        let newline = self.outline.newline();
        match self.text[offset..].find('\n') {
            Some(end) => self.inserted(offset + end + 1, &format!("{line}{newline}")),
            None => self.inserted(self.text.len(), &format!("{newline}{line}")),
        }
    }

    /// A line of its own under a header, behind the last key that comes before it in the table of keys.
    fn insert_line(&self, header: &Range<usize>, node: &Node, name: &str, raw: &str) -> String {
        let order = |name: &str| node.children.iter().position(|child| child.name == name);
        let own = order(name);
        let lines: Vec<Range<usize>> = self.outline.section(header).cloned().collect();
        let before = lines
            .iter()
            .rev()
            .find(|line| order(self.outline.first_name(line)) < own);
        let like = before.or(lines.first());
        let line = like.map_or_else(
            || format!("{name} = {raw}"),
            |like| self.outline.line_like(like, name, raw),
        );
        self.insert_behind(before.map_or(header.end, |before| before.end), &line)
    }

    fn insert_inline(&self, table: &Range<usize>, name: &str, raw: &str) -> Option<String> {
        let inside = self.outline.inside(table)?;
        Some(match inside.last {
            None => self.replaced(table.clone(), &format!("{{ {name} = {raw} }}")),
            Some((at, true)) => self.inserted(at, &format!(" {name} = {raw}")),
            Some((at, false)) => self.inserted(at, &format!(", {name} = {raw}")),
        })
    }

    /// Into a table that is only implied: by keys with dots, or by the header of a table in it.
    fn insert_dotted(&self, table: &str, place: &TablePlace, name: &str, raw: &str) -> Option<String> {
        let statement = self.outline.statement_at(place.span.start)?;
        if self.text[statement.clone()].starts_with('[') {
            return Some(self.append(table, name, raw));
        }
        let prefix = self.outline.dotted_prefix(&place.span)?;
        let dotted = format!("{}.{name}", &self.text[prefix.clone()]);
        if prefix.start > statement.start {
            let enclosing = self
                .read
                .places
                .tables()
                .filter(|(_, other)| {
                    other.style == TableStyle::Inline
                        && other.span.start < prefix.start
                        && prefix.end < other.span.end
                })
                .min_by_key(|(_, other)| other.span.len())?;
            return self.insert_inline(&enclosing.1.span, &dotted, raw);
        }
        let last = self.outline.last_with_prefix(&statement, &self.text[prefix])?;
        Some(self.insert_behind(last.end, &self.outline.line_like(&last, &dotted, raw)))
    }

    /// Begins a table with its first key: within the table above it, or with a header of its own.
    fn begin(&self, table: &str, name: &str, raw: &str) -> Option<String> {
        let (above, own) = split(table);
        if let Some(group) = table
            .strip_suffix(']')
            .and_then(|_| table.rsplit_once('['))
            .map(|(group, _)| group)
        {
            return self.begin_entry(group, name, raw);
        }
        match self.table(above).map(|place| place.style) {
            Some(TableStyle::Header | TableStyle::Inline) => {
                self.insert(above, own, &format!("{{ {name} = {raw} }}"))
            }
            Some(TableStyle::Implied) => Some(self.append(table, name, raw)),
            None if above.is_empty() => Some(self.append(table, name, raw)),
            None => self.insert(above, own, &format!("{{ {name} = {raw} }}")),
        }
    }

    /// A new entry behind the last of its repeated table.
    fn begin_entry(&self, group: &str, name: &str, raw: &str) -> Option<String> {
        let count = self.read.inputs.entries(group);
        let last = count
            .checked_sub(1)
            .and_then(|_| self.table(&format!("{group}[{count}]")));
        let newline = self.outline.newline();
        Some(match last {
            Some(place) if place.style == TableStyle::Inline => {
                self.inserted(place.span.end, &format!(", {{ {name} = {raw} }}"))
            }
            Some(place) => {
                let end = self
                    .outline
                    .section(&place.span)
                    .last()
                    .map_or(place.span.end, |line| line.end);
                self.insert_behind(end, &format!("[[{group}]]{newline}{name} = {raw}"))
            }
            None => self.append_section(&format!("[[{group}]]{newline}{name} = {raw}")),
        })
    }

    fn append(&self, table: &str, name: &str, raw: &str) -> String {
        let newline = self.outline.newline();
        self.append_section(&format!("[{table}]{newline}{name} = {raw}"))
    }

    /// A section at the end of the file, behind a blank line.
    fn append_section(&self, section: &str) -> String {
        let newline = self.outline.newline();
        let mut edited = self.text.to_owned();
        if !matches!(self.text, "" | "\u{feff}") {
            if !edited.ends_with('\n') {
                edited.push_str(newline);
            }
            if !edited.ends_with("\n\n") && !edited.ends_with("\n\r\n") {
                edited.push_str(newline);
            }
        }
        edited.push_str(section);
        edited.push_str(newline);
        edited
    }

    fn cut_key(&self, slot: Slot) -> Option<String> {
        let place = self.read.places.value(slot)?;
        self.cut_statement(&place.key, &place.value)
    }

    /// Takes out a key and its value, and the tables in curly brackets that would be left empty.
    fn cut_statement(&self, key: &Range<usize>, value: &Range<usize>) -> Option<String> {
        let statement = self.outline.statement_at(key.start)?;
        let prefix = self.outline.dotted_prefix(key)?;
        if prefix.start == statement.start {
            return Some(self.replaced(self.outline.lines(&statement), ""));
        }
        let table = self.outline.enclosing_brackets(&statement, key.start)?;
        match self.outline.member(&table, &(prefix.start..value.end))? {
            Some(member) => Some(self.replaced(member, "")),
            None => self.cut_statement(&self.outline.key_of(&statement, &table)?, &table),
        }
    }

    fn cut_table(&self, path: &str) -> Option<String> {
        let place = self.table(path)?;
        if place.style == TableStyle::Inline {
            let statement = self.outline.statement_at(place.span.start)?;
            let key = self.outline.key_of(&statement, &place.span)?;
            return self.cut_statement(&key, &place.span);
        }
        // Headers and lines that belong to it, from the last to the first.
        let mut spans: Vec<Range<usize>> = Vec::new();
        for (other, place) in self.read.places.tables().filter(|(other, _)| within(other, path)) {
            match place.style {
                TableStyle::Header => spans.push(self.outline.whole_section(&place.span)),
                TableStyle::Implied => {
                    let statement = self.outline.statement_at(place.span.start)?;
                    if !self.text[statement.clone()].starts_with('[') {
                        let prefix = self.outline.dotted_prefix(&place.span)?;
                        if prefix.start > statement.start {
                            return None;
                        }
                        spans.extend(
                            self.outline
                                .all_with_prefix(&statement, &self.text[prefix])
                                .map(|line| self.outline.lines(&line)),
                        );
                    }
                }
                TableStyle::Inline => {}
            }
            debug_assert!(within(other, path));
        }
        spans.sort_by_key(|span| (span.start, core::cmp::Reverse(span.end)));
        let mut edited = String::with_capacity(self.text.len());
        let mut from = 0;
        for span in spans {
            if span.start >= from {
                edited.push_str(&self.text[from..span.start]);
            }
            from = from.max(span.end);
        }
        edited.push_str(&self.text[from..]);
        (edited.len() < self.text.len()).then_some(edited)
    }
}

/// A path's table and its last name.
fn split(path: &str) -> (&str, &str) {
    path.rsplit_once('.').unwrap_or(("", path))
}

/// What the table of keys knows of a table.
fn node_at(table: &str) -> Option<&'static Node> {
    let mut node = layout::sheet();
    for part in table.split('.') {
        node = node.child(part.split('[').next().unwrap_or(part))?;
    }
    Some(node)
}
