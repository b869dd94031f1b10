//! The walk through a parsed sheet, along the tree of keys.

use core::ops::Range;
use nearest::nearest;

use engine::car::{Form, Inputs, KeyId, Slot, Value};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{Lost, format_key};
use crate::fault::{Fault, Meant};
use crate::layout::{self, Node};
use crate::places::{SheetPlaces, TablePlace, TableStyle, ValuePlace};
use crate::problem::{Finding, Findings};
use crate::source::clipped;
use crate::syntax::Trouble;
use crate::value::{ValueReader, kind, most_entries};
use crate::{FORMAT, OLDEST_FORMAT, example};

/// The most names that a remedy lists.
const MOST_LISTED: usize = 24;
/// How far above a key a header that is commented out is looked for.
const LINES_ABOVE: usize = 64;

/// What a walk found.
#[derive(Default)]
pub(crate) struct Parts {
    pub(crate) inputs: Inputs,
    pub(crate) places: SheetPlaces,
    pub(crate) findings: Findings,
    pub(crate) lost: Lost,
    /// Values that were read, or found to be unreadable.
    pub(crate) claimed: Vec<Range<usize>>,
    /// Whether no key and no table stands there.
    pub(crate) is_empty: bool,
    newer_format: Option<Range<usize>>,
}

impl Parts {
    /// Where the format stands, if it is newer than this program.
    pub(super) fn newer_format(&self) -> Option<Range<usize>> {
        self.newer_format.clone()
    }
}

pub(crate) struct Walk<'a> {
    text: &'a str,
    trouble: &'a Trouble,
    parts: Parts,
}

type Entry<'i> = Spanned<DeValue<'i>>;

impl<'a> Walk<'a> {
    pub(crate) fn new(text: &'a str, trouble: &'a Trouble) -> Self {
        Self {
            text,
            trouble,
            parts: Parts::default(),
        }
    }

    pub(crate) fn into_parts(self) -> Parts {
        self.parts
    }

    pub(crate) fn sheet(&mut self, table: &DeTable<'_>) {
        self.parts.is_empty = table.is_empty();
        self.table(layout::sheet(), table, 0);
    }

    fn report(&mut self, span: Range<usize>, key: Option<String>, fault: Fault) {
        self.parts.findings.push(Finding {
            source: 0,
            span,
            key,
            fault,
        });
    }

    /// Everything in a table.
    fn table(&mut self, node: &'static Node, table: &DeTable<'_>, entry: usize) {
        for (key, value) in table {
            let name: &str = key.get_ref();
            if self.trouble.is_spoiled(key.span().start) {
                match node.child(name) {
                    Some(child) => self.lose(child, entry),
                    None => self.parts.lost.tables.push(node.path.replace("[]", "")),
                }
                continue;
            }
            match node.child(name) {
                Some(child) => self.child(child, key.span(), value, entry),
                None => self.unknown(node, name, key.span(), value, table, entry),
            }
        }
    }

    /// Notes that something was written here and cannot be known.
    fn lose(&mut self, node: &'static Node, entry: usize) {
        if let Some(key) = node.leaf {
            self.parts.lost.keys.insert(Slot { key, entry });
        }
        if node.is_table() {
            self.parts.lost.tables.push(node.path.replace("[]", ""));
        }
    }

    fn child(&mut self, node: &'static Node, key: Range<usize>, value: &Entry<'_>, entry: usize) {
        match (value.get_ref(), node.leaf) {
            _ if node.repeats => self.entries(node, value),
            (DeValue::Table(table), _) if node.is_table() => {
                self.note(node.path, node.shown(entry), value);
                self.table(node, table, entry);
            }
            (found, Some(leaf)) if node.is_table() && takes_none(leaf) && found.as_str() != Some("none") => {
                self.not_a_table(node, key, value, entry);
            }
            (_, Some(leaf)) => self.leaf(leaf, key, value, entry),
            (DeValue::Array(array), None) if array.iter().any(|each| each.get_ref().is_table()) => {
                self.report(
                    key,
                    Some(node.shown(entry)),
                    Fault::Brackets {
                        name: node.shown(entry),
                        repeats: false,
                    },
                );
                let first = array
                    .iter()
                    .find_map(|each| each.get_ref().as_table().map(|table| (each, table)));
                if let Some((each, table)) = first {
                    self.note(node.path, node.shown(entry), each);
                    self.table(node, table, entry);
                }
            }
            _ => self.not_a_table(node, key, value, entry),
        }
    }

    fn not_a_table(&mut self, node: &'static Node, key: Range<usize>, value: &Entry<'_>, entry: usize) {
        self.lose(node, entry);
        self.claim(value);
        let first = node.children.iter().find_map(|child| child.leaf);
        let inside = first.map_or_else(String::new, |leaf| {
            format!(" {} = {} ", leaf.key().name(), example::to_fill_in(leaf.key()))
        });
        let written = if node.repeats {
            format!("{{{inside}}}")
        } else {
            let none = if node.leaf.is_some_and(takes_none) {
                format!(", or {} = \"none\"", node.name)
            } else {
                String::new()
            };
            format!(
                "[{}] and its keys below, or {} = {{{inside}}}{none}",
                node.shown(entry),
                node.name
            )
        };
        let fault = Fault::NotATable {
            name: node.shown(entry),
            found: kind(value.get_ref()),
            written,
        };
        self.report(
            key.start..value.span().end.max(key.end),
            Some(node.shown(entry)),
            fault,
        );
    }

    /// The entries of a repeated table.
    fn entries(&mut self, node: &'static Node, value: &Entry<'_>) {
        let group = node.path.trim_end_matches("[]");
        match value.get_ref() {
            DeValue::Table(table) => {
                self.report(
                    value.span(),
                    Some(group.to_owned()),
                    Fault::Brackets {
                        name: group.to_owned(),
                        repeats: true,
                    },
                );
                self.entry(node, group, value, table, 0);
            }
            DeValue::Array(array) => {
                let most = most_entries(group);
                if array.len() > most {
                    let (at, found) = (array[most].span(), array.len());
                    self.report(at, Some(group.to_owned()), Fault::TooMany { found, most });
                }
                for (entry, each) in array.iter().take(most).enumerate() {
                    match each.get_ref() {
                        DeValue::Table(table) => self.entry(node, group, each, table, entry),
                        _ => self.not_a_table(node, each.span(), each, entry),
                    }
                }
            }
            _ => {
                self.lose(node, 0);
                self.claim(value);
                let fault = Fault::NotATable {
                    name: group.to_owned(),
                    found: kind(value.get_ref()),
                    written: format!("[[{group}]] and its keys below"),
                };
                self.report(value.span(), Some(group.to_owned()), fault);
            }
        }
    }

    fn entry(
        &mut self,
        node: &'static Node,
        group: &str,
        value: &Entry<'_>,
        table: &DeTable<'_>,
        entry: usize,
    ) {
        self.parts.inputs.note_entries(group, entry + 1);
        self.note(node.path, node.shown(entry), value);
        self.table(node, table, entry);
    }

    /// Notes that a table stands here.
    fn note(&mut self, path: &str, shown: String, value: &Entry<'_>) {
        self.parts.inputs.note_table(path);
        let span = value.span();
        let style = match self.text.as_bytes().get(span.start) {
            Some(b'{') => TableStyle::Inline,
            Some(b'[') => TableStyle::Header,
            _ => TableStyle::Implied,
        };
        self.parts.places.set_table(
            shown,
            TablePlace {
                span,
                style,
                source: 0,
            },
        );
    }

    fn claim(&mut self, value: &Entry<'_>) {
        self.parts.claimed.push(value.span());
    }

    fn leaf(&mut self, id: KeyId, key: Range<usize>, value: &Entry<'_>, entry: usize) {
        self.claim(value);
        let slot = Slot { key: id, entry };
        let trouble = self.trouble;
        let is_unreadable = |span: &Range<usize>| {
            trouble
                .in_scalar(span)
                .map(|syntax| syntax.clone().map(Fault::SyntaxFault))
        };
        let mut reader = ValueReader {
            text: self.text,
            base: 0,
            in_file: true,
            is_unreadable: &is_unreadable,
            key: id.key(),
            faults: Vec::new(),
        };
        let read = reader.read(value);
        let mut faults = reader.faults;
        if let Some(Value::Count(found)) = read
            && Some(id) == format_key()
            && !(OLDEST_FORMAT..=FORMAT).contains(&found)
        {
            faults.push((value.span(), Fault::Format { found }));
            if found > FORMAT {
                self.parts.newer_format = Some(value.span());
            }
        }
        self.parts.places.set_value(
            slot,
            ValuePlace {
                key,
                value: value.span(),
                source: 0,
            },
        );
        match read {
            Some(read) if faults.is_empty() => self.parts.inputs.set(slot, read),
            _ => {
                self.parts.lost.keys.insert(slot);
            }
        }
        if !faults.is_empty() {
            let path = slot.path();
            for (span, fault) in faults {
                self.report(span, Some(path.clone()), fault);
            }
        }
    }

    /// A name that the table does not have. Where it is plain what was meant, what stands there is read as that.
    fn unknown(
        &mut self,
        node: &'static Node,
        name: &str,
        key: Range<usize>,
        value: &Entry<'_>,
        table: &DeTable<'_>,
        entry: usize,
    ) {
        let is_table = match value.get_ref() {
            DeValue::Table(_) => true,
            DeValue::Array(array) => array.iter().any(|each| each.get_ref().is_table()),
            _ => false,
        };
        let shown = node.shown(entry);
        let free = node.children.iter().filter(|child| {
            !table.contains_key(child.name)
                && (is_table && child.is_table() || !is_table && child.leaf.is_some())
        });
        // Of thousands nobody reads what each was meant for.
        let is_one_of_many = self.parts.findings.overflow();
        let commented = (!is_one_of_many)
            .then(|| self.commented_header(key.start, name))
            .flatten();
        // A key that belongs under another header is no misspelt one of this table.
        let near = match commented {
            None if !is_one_of_many => nearest(name, free.map(|child| child.name)),
            _ => Vec::new(),
        };
        let is_own_name = is_table && name == node.name;
        let offer = if is_one_of_many {
            Meant::All(all_of(node, is_table))
        } else if let Some(header) = commented {
            Meant::Commented(header)
        } else if is_own_name {
            Meant::Already(node.path.to_owned())
        } else if near.is_empty() {
            offer(node, name, is_table)
        } else {
            Meant::Near(near.iter().map(|&near| near.to_owned()).collect())
        };
        let path = if shown.is_empty() {
            clipped(name)
        } else {
            format!("{shown}.{}", clipped(name))
        };
        self.report(
            key.clone(),
            Some(path),
            Fault::Unknown {
                name: clipped(name),
                table: shown,
                is_table,
                offer,
            },
        );
        if let (true, DeValue::Table(inner)) = (is_own_name, value.get_ref()) {
            return self.table(node, inner, entry);
        }
        match near[..] {
            [only] => {
                if let Some(child) = node.child(only) {
                    self.child(child, key, value, entry);
                }
            }
            _ => {
                self.claim(value);
                for meant in near {
                    if let Some(child) = node.child(meant) {
                        self.lose(child, entry);
                    }
                }
            }
        }
    }
}

impl Walk<'_> {
    /// The header that is commented out above a key, where it is the one that the key belongs under.
    fn commented_header(&self, key_start: usize, name: &str) -> Option<String> {
        let above = self.text.get(..key_start)?.lines().rev();
        let header = above
            .take(LINES_ABOVE)
            .map(str::trim)
            .take_while(|line| !line.starts_with('['))
            .find_map(|line| {
                let header = line.strip_prefix('#')?.trim_start();
                let header = &header[..=header.rfind(']')?];
                header.starts_with('[').then_some(header)
            })?;
        let mut node = layout::sheet();
        for part in header.trim_matches(['[', ']']).split('.') {
            node = node.child(part.trim())?;
        }
        node.child(name).map(|_| header.to_owned())
    }
}

/// Whether the word `none` may stand in the place of a table, and nothing else.
fn takes_none(leaf: KeyId) -> bool {
    leaf.key().form == Form::Word(&["none"])
}

/// What a name that is unknown here may have been meant for.
fn offer(node: &'static Node, name: &str, is_table: bool) -> Meant {
    let mut elsewhere = Vec::new();
    let mut all: Vec<&'static Node> = Vec::new();
    layout::sheet().each(&mut |other| {
        if !other.path.is_empty() && (is_table && other.is_table() || !is_table && other.leaf.is_some()) {
            if other.name == name {
                let held = if is_table {
                    other.path
                } else {
                    table_of(other.path)
                };
                elsewhere.push(held.to_owned());
            }
            all.push(other);
        }
    });
    if !elsewhere.is_empty() && elsewhere.len() <= 4 {
        return Meant::Elsewhere(elsewhere);
    }
    if elsewhere.is_empty() {
        let names = nearest(name, all.iter().map(|other| other.name));
        let paths: Vec<String> = all
            .iter()
            .filter(|other| names.first() == Some(&other.name))
            .map(|other| other.path.replace("[]", ""))
            .collect();
        if !paths.is_empty() && paths.len() <= 4 {
            return Meant::NearElsewhere(paths);
        }
    }
    Meant::All(all_of(node, is_table))
}

/// The names that a table has.
fn all_of(node: &Node, is_table: bool) -> Vec<String> {
    let listed = node
        .children
        .iter()
        .filter(|child| child.is_table() == is_table || !is_table && child.leaf.is_some());
    listed
        .map(|child| child.name.to_owned())
        .take(MOST_LISTED)
        .collect()
}

fn table_of(path: &str) -> &str {
    path.rsplit_once('.').map_or("", |(table, _)| table)
}
