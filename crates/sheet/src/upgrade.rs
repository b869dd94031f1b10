//! Sheets of older formats, rewritten for this program.
//!
//! A format is raised only when a key changes its meaning, and then a [`Migration`] is written that rewrites the text
//! of a sheet, with comments, order and line ends kept. [`MIGRATIONS`] only grows; the sheets of older formats under
//! `tests/fixtures/formats` stay, and each has to read after being upgraded. Format 1 is the first: there is nothing
//! older that was ever given out. What format 1 took in silence (no crew, no booster, front-wheel drive) is written out
//! by the upgrade, so that the answers stay as they were.

use core::fmt;
use core::ops::Range;

use engine::car::{Inputs, Value};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::FORMAT;
use crate::changed_lines;
use crate::fault::Fault;
use crate::places::slot_of;
use crate::problem::{Finding, Problem};
use crate::read::read;
use crate::source::Source;
use crate::splice::splice;
use crate::syntax::{SyntaxFault, mend, names_in, tree};

/// From one format to the next.
#[derive(Clone, Copy, Debug)]
pub struct Migration {
    /// The format that it rewrites; the result is of the next.
    pub from: u32,
    /// What it does to a sheet, in order.
    pub steps: &'static [MigrationStep],
}

/// One thing that a migration does.
#[derive(Clone, Copy, Debug)]
pub enum MigrationStep {
    /// A key or table has another name. The path as the table of keys writes it; the new name alone.
    Rename {
        /// Where it stands.
        path: &'static str,
        /// Its name from now on.
        name: &'static str,
    },
    /// A key is written out, where the sheet says what it says.
    Write {
        /// The key.
        path: &'static str,
        /// Its value, as it is typed.
        value: &'static str,
        /// Whether it has to be.
        when: fn(&Inputs) -> bool,
    },
    /// A word of a key is another.
    Reword {
        /// The key.
        path: &'static str,
        /// The word as it was.
        was: &'static str,
        /// As it is.
        is: &'static str,
    },
}

/// Every migration there is, oldest first. It only grows.
pub const MIGRATIONS: &[Migration] = &[Migration {
    from: 1,
    steps: &[
        MigrationStep::Write {
            path: "load.crew",
            value: "none",
            when: |inputs| !inputs.has_table("load.crew"),
        },
        MigrationStep::Write {
            path: "pedal.booster",
            value: "none",
            when: |inputs| !inputs.has_table("pedal.booster"),
        },
        MigrationStep::Write {
            path: "drivetrain.driven",
            value: "front",
            when: |inputs| said(inputs, "drivetrain.driven").is_none(),
        },
        MigrationStep::Write {
            path: "drivetrain.centre.feel",
            value: "middle",
            when: |inputs| is_all_driven(inputs) && said(inputs, "drivetrain.centre.kind").is_none(),
        },
        MigrationStep::Write {
            path: "drivetrain.centre.kind",
            value: "viscous",
            when: |inputs| is_all_driven(inputs) && said(inputs, "drivetrain.centre.kind").is_none(),
        },
        MigrationStep::Write {
            path: "drivetrain.centre.kind",
            value: "open",
            when: |inputs| is_all_driven(inputs) && said(inputs, "drivetrain.centre.kind") == Some("none"),
        },
    ],
}];

/// The word that a sheet says at a key.
fn said(inputs: &Inputs, path: &str) -> Option<&'static str> {
    match inputs.get(slot_of(path)?)? {
        Value::Word(word) => Some(word),
        _ => None,
    }
}

fn is_all_driven(inputs: &Inputs) -> bool {
    said(inputs, "drivetrain.driven") == Some("all")
}

/// A sheet in this program's format.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Upgrade {
    before: String,
    /// The text, rewritten; the same where nothing had to be.
    pub text: String,
    /// What was done, a line a change.
    pub changes: Vec<String>,
}

impl Upgrade {
    /// What changes, as a unified diff; empty where nothing does.
    #[must_use]
    pub fn diff(&self, file: &str) -> String {
        let named = format!("{file} (format {FORMAT})");
        changed_lines::unified(&self.before, &self.text, (file, &named))
    }
}

impl fmt::Display for MigrationStep {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rename { path, name } => write!(f, "`{path}` is now called `{name}`"),
            Self::Write { path, value, .. } => write!(f, "`{path}` is written out: \"{value}\""),
            Self::Reword { path, was, is } => write!(f, "\"{was}\" at `{path}` is now \"{is}\""),
        }
    }
}

/// Rewrites a sheet of an older format.
///
/// # Errors
/// It does not say which format it has, or one that is newer than this program; it is not TOML; or it has faults that
/// stand in the way of a line that has to be written.
pub fn upgrade(text: &str, file: &str) -> Result<Upgrade, Problem> {
    upgrade_with(text, file, MIGRATIONS, FORMAT)
}

fn upgrade_with(text: &str, file: &str, migrations: &[Migration], newest: u32) -> Result<Upgrade, Problem> {
    let problem = |span: Range<usize>, key: Option<&str>, fault: Fault| {
        Finding {
            source: 0,
            span,
            key: key.map(str::to_owned),
            fault,
        }
        .into_problem(&Source::new(file, text))
    };
    let (mut format, place) =
        format_of(text).map_err(|(span, fault)| problem(span, Some("format"), fault))?;
    if format > newest || format < newest && !migrations.iter().any(|migration| migration.from == format) {
        return Err(problem(place, Some("format"), Fault::Format { found: format }));
    }
    let mut upgraded = text.to_owned();
    let mut changes = Vec::new();
    while format < newest {
        let Some(migration) = migrations.iter().find(|migration| migration.from == format) else {
            break;
        };
        for step in migration.steps {
            let rewritten = step.applied(&upgraded)?;
            if rewritten != upgraded {
                changes.push(step.to_string());
                upgraded = rewritten;
            }
        }
        format += 1;
        if let Ok((_, place)) = format_of(&upgraded) {
            upgraded.replace_range(place, &format.to_string());
        }
    }
    if text != upgraded {
        changes.push(format!("`format` is now {format}"));
    }
    Ok(Upgrade {
        before: text.to_owned(),
        text: upgraded,
        changes,
    })
}

/// The format that a sheet says it has, and where.
fn format_of(text: &str) -> Result<(u32, Range<usize>), (Range<usize>, Fault)> {
    let tree =
        tree(text).map_err(|(span, message)| (span, Fault::SyntaxFault(SyntaxFault::Other { message })))?;
    let Some(value) = tree.get_ref().get("format") else {
        return Err((0..0, Fault::NoFormat));
    };
    let found = value
        .get_ref()
        .as_integer()
        .and_then(|number| number.as_str().parse().ok());
    found
        .map(|found| (found, value.span()))
        .ok_or((value.span(), Fault::NoFormat))
}

impl MigrationStep {
    fn applied(&self, text: &str) -> Result<String, Problem> {
        let Ok(tree) = tree(text) else {
            return Ok(text.to_owned());
        };
        let mut edits: Vec<(Range<usize>, String)> = Vec::new();
        match *self {
            Self::Rename { path, name } => {
                each_at(tree.get_ref(), path, &mut |key, _| {
                    edits.push((key, name.to_owned()))
                });
                // Of a name that several headers or keys with dots repeat, the tree keeps the first only.
                edits.extend(
                    named(text, &path.replace("[]", ""))
                        .into_iter()
                        .map(|span| (span, name.to_owned())),
                );
            }
            Self::Write { path, value, when } => {
                return if when(&read(text.as_bytes(), "").inputs) {
                    splice(text, path, value)
                } else {
                    Ok(text.to_owned())
                };
            }
            Self::Reword { path, was, is } => each_at(tree.get_ref(), path, &mut |_, value| {
                if value.get_ref().as_str() == Some(was) {
                    edits.push((value.span(), crate::splice::quoted(is)));
                }
            }),
        }
        edits.sort_by_key(|(span, _)| core::cmp::Reverse((span.start, span.end)));
        edits.dedup();
        let mut edited = text.to_owned();
        for (span, with) in edits {
            edited.replace_range(span, &with);
        }
        Ok(edited)
    }
}

/// Where headers, and keys that dots join to their tables, name a path.
fn named(text: &str, path: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut section = Vec::new();
    for statement in mend(text).0.statements {
        let spans = names_in(text, &statement);
        let names = spans
            .iter()
            .map(|span| text[span.clone()].trim_matches(['"', '\'']));
        if text[statement].starts_with('[') {
            section = names.collect();
            found.extend(
                spans
                    .get(path.split('.').count() - 1)
                    .filter(|_| begins(&section, path))
                    .cloned(),
            );
        } else {
            let names: Vec<&str> = section.iter().copied().chain(names).collect();
            let at = (path.split('.').count() - 1).checked_sub(section.len());
            found.extend(
                at.and_then(|at| spans.get(at))
                    .filter(|_| begins(&names, path))
                    .cloned(),
            );
        }
    }
    found
}

fn begins(names: &[&str], path: &str) -> bool {
    let wanted = path.split('.').count();
    names.len() >= wanted
        && names
            .iter()
            .zip(path.split('.'))
            .all(|(name, wanted)| *name == wanted)
}

/// Every key that stands at a path, with its value: one in each entry of a repeated table.
fn each_at(table: &DeTable<'_>, path: &str, see: &mut dyn FnMut(Range<usize>, &Spanned<DeValue<'_>>)) {
    let (part, rest) = path
        .split_once('.')
        .map_or((path, None), |(part, rest)| (part, Some(rest)));
    let Some((key, value)) = table.get_key_value(part.trim_end_matches("[]")) else {
        return;
    };
    let Some(rest) = rest else {
        return see(key.span(), value);
    };
    match value.get_ref() {
        DeValue::Table(table) => each_at(table, rest, see),
        DeValue::Array(array) => {
            for each in array {
                if let DeValue::Table(table) = each.get_ref() {
                    each_at(table, rest, see);
                }
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FROM_0: Migration = Migration {
        from: 0,
        steps: &[
            MigrationStep::Rename {
                path: "rear_brake.pad.mu",
                name: "friction",
            },
            MigrationStep::Rename {
                path: "load.item[].weight",
                name: "mass",
            },
            MigrationStep::Reword {
                path: "master.split",
                was: "front/rear",
                is: "axle",
            },
        ],
    };
    const FROM_1: Migration = Migration {
        from: 1,
        steps: &[MigrationStep::Reword {
            path: "master.split",
            was: "axle",
            is: "by axle",
        }],
    };

    const OLD: &str = "\u{feff}# kept\r\nformat = 0 # of old\r\n[master]\r\nsplit = 'front/rear'\r\n[[load.item]]\r\nweight = \"3 kg\"\r\n[[load.item]]\r\nweight  = \"4 kg\" # heavy\r\n[rear_brake]\r\npad = { mu = 0.4 }\r\n";

    #[test]
    fn steps_rewrite_what_they_name_and_nothing_else() {
        let upgraded = upgrade_with(OLD, "old.toml", &[FROM_0], 1).unwrap();
        let wanted = "\u{feff}# kept\r\nformat = 1 # of old\r\n[master]\r\nsplit = \"axle\"\r\n[[load.item]]\r\nmass = \"3 kg\"\r\n[[load.item]]\r\nmass  = \"4 kg\" # heavy\r\n[rear_brake]\r\npad = { friction = 0.4 }\r\n";
        assert_eq!(upgraded.text, wanted);
        assert_eq!(upgraded.changes.len(), 4);
    }

    #[test]
    fn formats_are_passed_one_by_one() {
        let upgraded = upgrade_with(OLD, "old.toml", &[FROM_0, FROM_1], 2).unwrap();
        assert!(upgraded.text.contains("split = \"by axle\"") && upgraded.text.contains("format = 2"));
    }

    #[test]
    fn the_difference_shows_old_and_new_lines() {
        let diff = upgrade_with(OLD, "old.toml", &[FROM_0], 1)
            .unwrap()
            .diff("old.toml");
        assert!(
            diff.contains("-format = 0 # of old") && diff.contains("+format = 1 # of old"),
            "{diff}"
        );
        assert!(diff.starts_with("--- old.toml"), "{diff}");
    }

    #[test]
    fn a_header_is_renamed_at_each_place_that_names_it() {
        let step = MigrationStep::Rename {
            path: "hand",
            name: "lever",
        };
        assert_eq!(step.applied("[hand]\nbore = 1\n").unwrap(), "[lever]\nbore = 1\n");
        let entries = MigrationStep::Rename {
            path: "load.thing",
            name: "item",
        };
        assert_eq!(
            entries.applied("[[load.thing]]\n[[load.thing]]\n").unwrap(),
            "[[load.item]]\n[[load.item]]\n"
        );
        assert_eq!(
            step.applied("hand.bore = 1\nhand.ratio = 2\n").unwrap(),
            "lever.bore = 1\nlever.ratio = 2\n"
        );
        assert_eq!(
            step.applied("[hand.mount]\nhand = 1\n[hand]\n").unwrap(),
            "[lever.mount]\nhand = 1\n[lever]\n"
        );
    }
}
