//! What is wrong with a text, and where.

use core::fmt;
use core::ops::Range;
use std::sync::Arc;

use unicode_width::UnicodeWidthChar as _;

use crate::fault::Fault;
use crate::source::{Excerpt, Source};

/// How many problems are shown; the rest is counted.
pub const MOST_SHOWN: usize = 1_000;

/// One thing that is wrong with a text, and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Name of the text, as it was given to the reader.
    pub file: Arc<str>,
    /// Line, counted from 1.
    pub line: usize,
    /// Column, counted in characters from 1. A byte order mark is no character.
    pub column: usize,
    /// Bytes of the text that are at fault.
    pub span: Range<usize>,
    /// The key that it concerns, entries of repeated tables counted from 1.
    pub key: Option<String>,
    /// What is wrong.
    pub fault: Box<Fault>,
    pub(crate) excerpt: Option<Excerpt>,
}

impl Problem {
    /// Which fault it is, in a word that never changes.
    #[must_use]
    pub fn slug(&self) -> &'static str {
        self.fault.slug()
    }

    /// Whether nothing is wrong but that something is still to be filled in.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.slug() == "to-fill-in" || self.slug().starts_with("missing")
    }

    /// What is wrong: a phrase without a full stop.
    #[must_use]
    pub fn text(&self) -> String {
        self.fault.to_string()
    }

    /// What to do about it: a phrase without a full stop.
    #[must_use]
    pub fn remedy(&self) -> String {
        self.fault.remedy()
    }

    /// The line that it stands in, cut to what can be read at a glance: what comes before, what is at fault, what comes
    /// behind; `None` where it concerns the whole.
    #[must_use]
    pub fn quoted(&self) -> Option<(&str, &str, &str)> {
        let excerpt = self.excerpt.as_ref()?;
        let at = |columns: usize| {
            let mut so_far = 0;
            excerpt
                .quoted
                .char_indices()
                .find(|&(_, character)| {
                    let reached = so_far >= columns;
                    so_far += character.width().unwrap_or(0);
                    reached
                })
                .map_or(excerpt.quoted.len(), |(at, _)| at)
        };
        let (start, end) = (at(excerpt.caret), at(excerpt.caret + excerpt.caret_columns));
        Some((
            &excerpt.quoted[..start],
            &excerpt.quoted[start..end],
            &excerpt.quoted[end..],
        ))
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}: {}", self.file, self.line, self.column, self.fault)
    }
}

impl core::error::Error for Problem {}

/// Everything that is wrong with a text, in the order in which it stands there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problems {
    shown: Vec<Problem>,
    more: usize,
}

impl Problems {
    /// The first [`MOST_SHOWN`].
    #[must_use]
    pub fn shown(&self) -> &[Problem] {
        &self.shown
    }

    /// How many there are beyond those.
    #[must_use]
    pub const fn more(&self) -> usize {
        self.more
    }

    /// How many there are in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.shown.len() + self.more
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.shown.is_empty()
    }
}

impl<'a> IntoIterator for &'a Problems {
    type Item = &'a Problem;
    type IntoIter = core::slice::Iter<'a, Problem>;

    fn into_iter(self) -> Self::IntoIter {
        self.shown.iter()
    }
}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Self {
        Self {
            shown: vec![problem],
            more: 0,
        }
    }
}

impl core::error::Error for Problems {}

/// A fault before its line and column are counted.
#[derive(Clone, Debug)]
pub(crate) struct Finding {
    /// Which of the texts: 0 is the file, overrides follow.
    pub(crate) source: usize,
    pub(crate) span: Range<usize>,
    pub(crate) key: Option<String>,
    pub(crate) fault: Fault,
}

/// Faults as they are found, in any order. Keeps those that stand first, counts the rest.
#[derive(Clone, Debug, Default)]
pub(crate) struct Findings {
    kept: Vec<Finding>,
    dropped: usize,
}

impl Findings {
    pub(crate) fn push(&mut self, finding: Finding) {
        self.kept.push(finding);
        if self.kept.len() >= 8 * MOST_SHOWN {
            self.settle();
            self.dropped += self.kept.len() - MOST_SHOWN;
            self.kept.truncate(MOST_SHOWN);
        }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    /// Whether there are so many that some are counted only.
    pub(crate) const fn overflow(&self) -> bool {
        self.dropped > 0
    }

    pub(crate) fn retain(&mut self, keep: impl FnMut(&Finding) -> bool) {
        self.kept.retain(keep);
    }

    /// Takes in the findings of a text. Where parts of it are not UTF-8, what is found on their lines is left out: it
    /// follows from them.
    pub(crate) fn absorb(&mut self, other: Self, misread: Option<&str>) {
        let line_start = |text: &str, at: usize| {
            text[..text.floor_char_boundary(at)]
                .rfind('\n')
                .map_or(0, |newline| newline + 1)
        };
        let bad: Vec<usize> = misread.map_or_else(Vec::new, |text| {
            let mut lines: Vec<usize> = text
                .match_indices(char::REPLACEMENT_CHARACTER)
                .map(|(at, _)| line_start(text, at))
                .collect();
            lines.dedup();
            lines
        });
        self.dropped += other.dropped;
        for finding in other.kept {
            if misread.is_none_or(|text| bad.binary_search(&line_start(text, finding.span.start)).is_err()) {
                self.push(finding);
            }
        }
    }

    fn settle(&mut self) {
        self.kept.sort_by(|one, other| {
            (one.source, one.span.start, one.span.end).cmp(&(other.source, other.span.start, other.span.end))
        });
        self.kept.dedup_by(|one, other| {
            one.source == other.source && one.span == other.span && one.fault == other.fault
        });
    }

    pub(crate) fn into_problems(mut self, sources: &[Source]) -> Problems {
        self.settle();
        let more = self.dropped + self.kept.len().saturating_sub(MOST_SHOWN);
        self.kept.truncate(MOST_SHOWN);
        let mut last = None;
        let shown = self.kept.into_iter().filter_map(|finding| {
            let source = sources.get(finding.source)?;
            let known = last
                .filter(|&(of, _)| of == finding.source)
                .map(|(_, known)| known);
            let position = source.position_from(finding.span.start, known);
            last = Some((finding.source, (finding.span.start, position)));
            Some(problem(finding, source, position.line, position.column))
        });
        Problems {
            shown: shown.collect(),
            more,
        }
    }
}

impl Finding {
    pub(crate) fn into_problem(self, source: &Source) -> Problem {
        let position = source.position(self.span.start);
        problem(self, source, position.line, position.column)
    }
}

fn problem(finding: Finding, source: &Source, line: usize, column: usize) -> Problem {
    // Behind the end there is nothing to show.
    let at_end = finding.span.start >= source.end();
    let excerpt = if at_end || finding.fault.concerns_the_whole() {
        None
    } else {
        source.excerpt(&finding.span)
    };
    Problem {
        file: Arc::clone(source.file()),
        line,
        column,
        span: finding.span,
        key: finding.key,
        fault: Box::new(finding.fault),
        excerpt,
    }
}
