//! A text with its name, and where in it an offset lies.

use core::ops::Range;
use std::sync::{Arc, OnceLock};

use unicode_width::UnicodeWidthChar;

/// The most columns of a line that are quoted.
const QUOTED_COLUMNS: usize = 160;
/// Columns kept for what stands behind the place, where there is so much.
const BEHIND_COLUMNS: usize = 100;
/// Columns that a tab takes when quoted.
const TAB_COLUMNS: usize = 4;

/// A text that faults are found in.
#[derive(Clone, Debug)]
pub(crate) struct Source {
    file: Arc<str>,
    text: Arc<str>,
    line_starts: OnceLock<Vec<usize>>,
}

/// A place in a text, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Position {
    pub(crate) line: usize,
    pub(crate) column: usize,
}

/// A line as it is quoted, with the columns at fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Excerpt {
    pub(crate) quoted: String,
    pub(crate) caret: usize,
    pub(crate) caret_columns: usize,
}

impl Source {
    pub(crate) fn new(file: impl Into<Arc<str>>, text: impl Into<Arc<str>>) -> Self {
        Self { file: file.into(), text: text.into(), line_starts: OnceLock::new() }
    }

    pub(crate) fn file(&self) -> &Arc<str> {
        &self.file
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Where the text ends, or its last line that holds something.
    pub(crate) fn end(&self) -> usize {
        self.text.trim_end_matches(['\n', '\r', ' ', '\t']).len()
    }

    fn line_starts(&self) -> &[usize] {
        self.line_starts.get_or_init(|| {
            let behind_newlines = self.text.match_indices('\n').map(|(at, _)| at + 1);
            core::iter::once(0).chain(behind_newlines).collect()
        })
    }

    /// Bytes of a line (counted from 0) without its end.
    fn line(&self, line: usize) -> Range<usize> {
        let starts = self.line_starts();
        let start = starts.get(line).copied().unwrap_or(self.text.len());
        let end = starts.get(line + 1).map_or(self.text.len(), |next| next - 1);
        let line = self.text[start..end].strip_suffix('\r').unwrap_or(&self.text[start..end]);
        let mark = usize::from(start == 0 && line.starts_with('\u{feff}')) * '\u{feff}'.len_utf8();
        start + mark..start + line.len()
    }

    fn line_of(&self, offset: usize) -> usize {
        self.line_starts().partition_point(|&start| start <= offset).saturating_sub(1)
    }

    /// The nearest place before or at an offset where a character begins.
    fn boundary(&self, offset: usize) -> usize {
        self.text.floor_char_boundary(offset)
    }

    pub(crate) fn position(&self, offset: usize) -> Position {
        self.position_from(offset, None)
    }

    /// As [`position`](Self::position), counting on from a place before it if that stands on the same line.
    pub(crate) fn position_from(&self, offset: usize, known: Option<(usize, Position)>) -> Position {
        let offset = self.boundary(offset);
        let line = self.line_of(offset);
        let range = self.line(line);
        let offset = offset.clamp(range.start, range.end);
        let (from, column) = match known {
            Some((at, position)) if position.line == line + 1 && (range.start..=offset).contains(&at) => {
                (at, position.column)
            }
            _ => (range.start, 1),
        };
        Position { line: line + 1, column: column + self.text[from..offset].chars().count() }
    }

    /// The line of a span as it is quoted; nothing where the line is blank.
    pub(crate) fn excerpt(&self, span: &Range<usize>) -> Option<Excerpt> {
        let line = self.line(self.line_of(self.boundary(span.start)));
        if self.text[line.clone()].trim().is_empty() {
            return None;
        }
        let start = self.boundary(span.start).clamp(line.start, line.end);
        let end = self.boundary(span.end).clamp(start, line.end);
        let (before, at, behind) =
            (&self.text[line.start..start], &self.text[start..end], &self.text[end..line.end]);
        let columns = |text: &str| columns_to(text, QUOTED_COLUMNS + 1);
        let right = (columns(at) + columns(behind)).max(1);
        let left = columns(before);
        let left_room = QUOTED_COLUMNS - right.min(BEHIND_COLUMNS);
        let left = left.min(left_room.max(QUOTED_COLUMNS.saturating_sub(right)));
        let (mut quoted, caret) = fitted(before.chars().rev(), left);
        quoted = quoted.into_iter().rev().collect();
        let (shown_at, at_columns) = fitted(at.chars(), QUOTED_COLUMNS - caret);
        let (shown_behind, _) = fitted(behind.chars(), QUOTED_COLUMNS - caret - at_columns);
        quoted.extend(shown_at);
        quoted.extend(shown_behind);
        Some(Excerpt { quoted: quoted.concat(), caret, caret_columns: at_columns.max(1) })
    }
}

/// Columns of a text, or a number above `most` if there are more.
fn columns_to(text: &str, most: usize) -> usize {
    let mut columns = 0;
    for c in text.chars() {
        columns += shown(c).1;
        if columns > most {
            break;
        }
    }
    columns
}

/// As many characters as fit, each as it is shown, and the columns that they take. A cut is marked.
fn fitted(characters: impl Iterator<Item = char>, room: usize) -> (Vec<String>, usize) {
    let (mut taken, mut columns) = (Vec::new(), 0);
    for c in characters {
        let (text, width) = shown(c);
        if columns + width > room {
            while columns + 1 > room {
                let Some(last) = taken.pop() else { return (taken, columns) };
                columns -= columns_of(&last);
            }
            taken.push("…".to_owned());
            return (taken, columns + 1);
        }
        taken.push(text);
        columns += width;
    }
    (taken, columns)
}

fn columns_of(shown: &str) -> usize {
    shown.chars().map(|c| c.width().unwrap_or(1)).sum()
}

/// A character as it is quoted, with its columns: tabs as blanks, what cannot be seen as a sign that can.
fn shown(c: char) -> (String, usize) {
    match c {
        '\t' => (" ".repeat(TAB_COLUMNS), TAB_COLUMNS),
        '\0'..='\u{1f}' => (char::from_u32(0x2400 + u32::from(c)).unwrap_or('␦').to_string(), 1),
        '\u{7f}' => ("␡".to_owned(), 1),
        _ if is_unseen(c) => ("␦".to_owned(), 1),
        _ => (c.to_string(), c.width().unwrap_or(1)),
    }
}

/// Whether a character is a control character, or one that turns the writing direction or breaks a line unseen.
pub(crate) fn is_unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// A text as it is quoted in a sentence: cut when long, what cannot be seen shown as an escape.
pub(crate) fn clipped(text: &str) -> String {
    const LONGEST: usize = 60;
    let mut clipped = String::new();
    for (count, c) in text.chars().enumerate() {
        if count == LONGEST {
            clipped.push('…');
            break;
        }
        if is_unseen(c) {
            clipped.extend(c.escape_unicode());
        } else {
            clipped.push(c);
        }
    }
    clipped
}
