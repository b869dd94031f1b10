//! Reading a sheet: every fault at once, and all that can be read in spite of them.

mod bytes;
mod walk;

use core::ops::Range;
use std::collections::HashSet;
use std::io::{self, Read as _};
use std::sync::Arc;

use engine::car::{Assembled, Car, Inputs, Key, KeyId, Need, Refusal, Remedy, Slot, Unusual, Value};
use toml::de::DeTable;

use crate::about::about;
use crate::fault::Fault;
use crate::places::{SheetPlaces, slot_of};
use crate::problem::{Finding, Findings, Problem, Problems};
use crate::source::Source;
use crate::syntax::{self, SyntaxFault, Trouble};
use crate::{MAX_BYTES, example};

pub(crate) use bytes::decode;
pub(crate) use walk::Walk;

/// A sheet as it was read: what it says, where, and what is wrong with it.
#[derive(Clone, Debug)]
pub struct ReadSheet {
    /// What it says. Keys at fault are missing.
    pub inputs: Inputs,
    /// Where.
    pub places: SheetPlaces,
    pub(crate) sources: Vec<Source>,
    findings: Findings,
    lost: Lost,
}

/// What may be missing from the inputs though it stands on the sheet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Lost {
    /// Keys whose value was at fault.
    pub(crate) keys: HashSet<Slot>,
    /// Tables (`load.item`) with a statement that could not be read.
    pub(crate) tables: Vec<String>,
    /// A header could not be read, so that keys of any table may be lost.
    pub(crate) any_table: bool,
    /// The text could not be read so far that anything can be said about what is missing.
    pub(crate) everything: bool,
}

/// Something unusual on a sheet, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Located {
    /// What is unusual.
    pub warning: Unusual,
    /// Name of the text that it stands in.
    pub file: Arc<str>,
    /// Line, counted from 1.
    pub line: usize,
    /// Column, counted in characters from 1.
    pub column: usize,
}

/// Reads a sheet. `file` is the name that problems carry.
#[must_use]
pub fn read(bytes: &[u8], file: &str) -> ReadSheet {
    let mut findings = Findings::default();
    let Some(text) = decode(bytes, &mut findings) else {
        return ReadSheet::unreadable(Source::new(file, ""), findings);
    };
    read_text(Source::new(file, text), findings)
}

/// Reads a sheet from an open file, and no more of it than [`MAX_BYTES`] and one.
///
/// # Errors
/// What the reader says. What is wrong with the sheet itself is in the result.
pub fn read_from(reader: impl io::Read, file: &str) -> io::Result<ReadSheet> {
    let mut bytes = Vec::new();
    let most = u64::try_from(MAX_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    reader.take(most).read_to_end(&mut bytes)?;
    Ok(read(&bytes, file))
}

/// Reads a sheet and assembles the car.
///
/// # Errors
/// Everything that is wrong with the sheet, and everything about the car that cannot be.
pub fn assemble(bytes: &[u8], file: &str) -> Result<(Assembled, SheetPlaces), Problems> {
    let read = read(bytes, file);
    read.assemble().map(|assembled| (assembled, read.places))
}

fn read_text(source: Source, mut findings: Findings) -> ReadSheet {
    let misread = !findings.is_empty();
    let text = source.text();
    if let Some(span) = syntax::too_many_signs(text) {
        findings.push(Finding {
            source: 0,
            span,
            key: None,
            fault: Fault::SyntaxFault(SyntaxFault::TooManySigns),
        });
        return ReadSheet::unreadable(source, findings);
    }
    let (tree, errors) = DeTable::parse_recoverable(text);
    let mut walk = if errors.is_empty() {
        let trouble = Trouble::default();
        let mut walk = Walk::new(text, &trouble);
        walk.sheet(tree.get_ref());
        walk.into_parts()
    } else {
        drop((tree, errors));
        let (mended, mut trouble) = syntax::mend(text);
        let (tree, errors) = DeTable::parse_recoverable(&mended.text);
        trouble.sort_in(text, &mended.statements, &errors);
        let mut walk = Walk::new(text, &trouble);
        walk.sheet(tree.get_ref());
        let mut parts = walk.into_parts();
        parts.claimed.sort_by_key(|span| span.start);
        for (span, fault) in trouble
            .faults
            .iter()
            .cloned()
            .chain(trouble.unclaimed(&parts.claimed))
        {
            parts.findings.push(Finding {
                source: 0,
                span,
                key: None,
                fault: Fault::SyntaxFault(fault),
            });
        }
        parts.lost.everything |= trouble.all_doubtful;
        parts.lost.any_table |= trouble.all_doubtful;
        parts.lost.tables.append(&mut trouble.doubtful);
        parts
    };
    let nothing_stands_there = walk.is_empty && walk.findings.is_empty();
    walk.lost.everything |= misread || nothing_stands_there;
    if let Some(format) = walk.newer_format() {
        // What else it says was written for another program.
        walk.findings.retain(|finding| finding.span == format);
        walk.lost.everything = true;
    }
    if nothing_stands_there && !misread {
        findings.push(Finding {
            source: 0,
            span: 0..0,
            key: None,
            fault: Fault::Empty,
        });
    }
    findings.absorb(walk.findings, misread.then_some(text));
    ReadSheet {
        inputs: walk.inputs,
        places: walk.places,
        sources: vec![source],
        findings,
        lost: walk.lost,
    }
}

impl ReadSheet {
    fn unreadable(source: Source, findings: Findings) -> Self {
        let lost = Lost {
            everything: true,
            ..Lost::default()
        };
        Self {
            inputs: Inputs::default(),
            places: SheetPlaces::default(),
            sources: vec![source],
            findings,
            lost,
        }
    }

    /// The text as it was read, without what is not UTF-8; empty where it was no text at all.
    #[must_use]
    pub fn text(&self) -> &str {
        self.sources.first().map_or("", Source::text)
    }

    /// What is wrong with what stands there, apart from what the car as a whole needs.
    #[must_use]
    pub fn problems(&self) -> Problems {
        self.findings.clone().into_problems(&self.sources)
    }

    /// Takes one override, `KEY=VALUE`, in the place of what the sheet says. Problems name it `--with`.
    ///
    /// # Errors
    /// What is wrong with it. The sheet then says what it said before.
    pub fn with(&mut self, written: &str) -> Result<Slot, Problem> {
        let source = Source::new(crate::with::WITH, written);
        let (slot, value, place) = crate::with::interpret(&self.inputs, &source, self.sources.len())?;
        self.set(slot, value, place);
        self.sources.push(source);
        Ok(slot)
    }

    fn set(&mut self, slot: Slot, value: Value, place: crate::places::ValuePlace) {
        let path = slot.path();
        for (dot, _) in path.match_indices('.') {
            let style = crate::places::TableStyle::Implied;
            let (span, source) = (place.key.clone(), place.source);
            self.places.set_table(
                path[..dot].to_owned(),
                crate::places::TablePlace { span, style, source },
            );
        }
        if let Some(kept) = self.inputs.keeps(slot) {
            self.places.move_value(kept.stood, kept.end);
        }
        self.inputs.set(slot, value);
        self.places.set_value(slot, place);
        self.lost.keys.remove(&slot);
        let overridden = slot.path();
        self.findings
            .retain(|finding| finding.key.as_ref() != Some(&overridden));
    }

    /// Assembles the car.
    ///
    /// # Errors
    /// Everything that is wrong with the sheet, and everything about the car that cannot be. A key whose value could
    /// not be read is not said to be missing as well.
    pub fn assemble(&self) -> Result<Assembled, Problems> {
        let assembled = if self.lost.everything {
            Err(Vec::new())
        } else {
            Car::assemble(&self.inputs)
        };
        match assembled {
            Ok(assembled) if self.findings.is_empty() => Ok(assembled),
            Ok(_) => Err(self.problems()),
            Err(refusals) => {
                let mut findings = self.findings.clone();
                for refusal in refusals {
                    if findings.is_empty() || !self.follows_from_another(&refusal) {
                        let finding = self.finding(refusal);
                        findings.push(finding);
                    }
                }
                Err(findings.into_problems(&self.sources))
            }
        }
    }

    /// The engine's warnings with their places.
    #[must_use]
    pub fn located(&self, warnings: &[Unusual]) -> Vec<Located> {
        let locate = |warning: &Unusual| {
            let (source, span) = self.place(&warning.path);
            let source = &self.sources[source];
            let position = source.position(span.start);
            Located {
                warning: warning.clone(),
                file: Arc::clone(source.file()),
                line: position.line,
                column: position.column,
            }
        };
        warnings.iter().map(locate).collect()
    }

    /// Whether a refusal is only there because something else could not be read.
    fn follows_from_another(&self, refusal: &Refusal) -> bool {
        let slot = slot_of(&refusal.path);
        if slot.is_some_and(|slot| self.lost.keys.contains(&slot)) {
            return true;
        }
        if !refusal.slug.starts_with("missing") {
            return false;
        }
        let plain = without_entries(&refusal.path);
        if self.lost.tables.iter().any(|table| stands_in(&plain, table)) {
            return true;
        }
        let need = slot.map_or(Need::Sometimes, |slot| slot.key.key().need);
        let table = refusal.path.rsplit_once('.').map_or("", |(table, _)| table);
        if refusal.slug == "missing-table" && self.inputs.has_table(table) {
            return true;
        }
        need == Need::Sometimes
            && self.lost.keys.iter().any(|lost| {
                lost.path()
                    .strip_prefix(table)
                    .is_some_and(|rest| rest.starts_with('.'))
            })
    }

    /// Whether a key may stand on the sheet though it was not read.
    pub(crate) fn may_have_lost(&self, slot: Slot) -> bool {
        let plain = without_entries(&slot.path());
        self.lost.any_table
            || self.lost.keys.contains(&slot)
            || self.lost.tables.iter().any(|table| stands_in(&plain, table))
    }

    fn finding(&self, mut refusal: Refusal) -> Finding {
        let (source, span) = self.place(&refusal.path);
        if let Remedy::FindOut(id) = refusal.remedy {
            let key = id.key();
            refusal.remedy = Remedy::Do(how_to_write(key, &about(key)));
        }
        let key = Some(refusal.path.clone());
        Finding {
            source,
            span,
            key,
            fault: Fault::Refused(refusal),
        }
    }

    /// Where a path stands: its value if there is one, else the table above it, else the end of the text.
    fn place(&self, path: &str) -> (usize, Range<usize>) {
        if let Some(place) = slot_of(path).and_then(|slot| self.places.value(slot)) {
            return (place.source, place.value.clone());
        }
        if let Some(place) = self.places.table(path).or_else(|| self.places.table_above(path)) {
            return (place.source, place.span.clone());
        }
        let end = self.sources.first().map_or(0, Source::end);
        (0, end..end)
    }
}

/// A remedy with the line to write before it.
fn how_to_write(key: &Key, help: &str) -> String {
    let table = key.table();
    let line = format!("{} = {}", key.name(), example::to_fill_in(key));
    let help = help.trim_end_matches('.');
    let help = if help.is_empty() {
        String::new()
    } else {
        format!(": {help}")
    };
    match table.strip_suffix("[]") {
        Some(group) => format!("write {line} under [[{group}]]{help}"),
        None if table.is_empty() => format!("write {line} at the top{help}"),
        None => format!("write {line} under [{table}]{help}"),
    }
}

/// Whether a key stands in a table, or in one within it.
fn stands_in(path: &str, table: &str) -> bool {
    table.is_empty() && !path.contains('.')
        || path.strip_prefix(table).is_some_and(|rest| rest.starts_with('.'))
}

fn without_entries(path: &str) -> String {
    match (path.find('['), path.find(']')) {
        (Some(open), Some(close)) if open < close => format!("{}{}", &path[..open], &path[close + 1..]),
        _ => path.to_owned(),
    }
}

/// A key that holds `format`.
pub(crate) fn format_key() -> Option<KeyId> {
    KeyId::of("format")
}
