//! A text with its name, and where in it an offset lies.

use core::ops::Range;
use std::sync::{Arc, OnceLock};

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

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
    end: OnceLock<usize>,
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
        Self {
            file: file.into(),
            text: text.into(),
            line_starts: OnceLock::new(),
            end: OnceLock::new(),
        }
    }

    pub(crate) fn file(&self) -> &Arc<str> {
        &self.file
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Where the text ends, or its last line that holds something.
    pub(crate) fn end(&self) -> usize {
        *self
            .end
            .get_or_init(|| self.text.trim_end_matches(['\n', '\r', ' ', '\t']).len())
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
        let line = self.text[start..end]
            .strip_suffix('\r')
            .unwrap_or(&self.text[start..end]);
        let mark = usize::from(start == 0 && line.starts_with('\u{feff}')) * '\u{feff}'.len_utf8();
        start + mark..start + line.len()
    }

    fn line_of(&self, offset: usize) -> usize {
        self.line_starts()
            .partition_point(|&start| start <= offset)
            .saturating_sub(1)
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
        Position {
            line: line + 1,
            column: column + self.text[from..offset].chars().count(),
        }
    }

    /// The line of a span as it is quoted; nothing where the line is blank.
    pub(crate) fn excerpt(&self, span: &Range<usize>) -> Option<Excerpt> {
        let line = self.line(self.line_of(self.boundary(span.start)));
        if self.text[line.clone()].trim().is_empty() {
            return None;
        }
        let start = self.boundary(span.start).clamp(line.start, line.end);
        let end = self.boundary(span.end).clamp(start, line.end);
        // As much as fits: what is at fault, something behind it, and the rest before it.
        let right = columns_to(&self.text[start..line.end], QUOTED_COLUMNS + 1).max(1);
        let left = columns_to(&self.text[line.start..start], QUOTED_COLUMNS + 1);
        let left =
            left.min((QUOTED_COLUMNS - right.min(BEHIND_COLUMNS)).max(QUOTED_COLUMNS.saturating_sub(right)));
        let before = &self.text[line.start..start];
        let from = line.start + before.len() - fitted(before.chars().rev(), left).bytes;
        let mut quoted = String::new();
        if from > line.start {
            quoted.push('…');
        }
        write_shown(&mut quoted, &self.text[from..start]);
        let caret = quoted.width();
        let fits = fitted(self.text[start..line.end].chars(), QUOTED_COLUMNS - caret);
        let to = start + fits.bytes;
        write_shown(&mut quoted, &self.text[start..to]);
        if to < line.end {
            quoted.push('…');
        }
        let marked = columns_to(&self.text[start..end.min(to)], QUOTED_COLUMNS) + usize::from(end > to);
        Some(Excerpt {
            quoted,
            caret,
            caret_columns: marked.max(1),
        })
    }
}

/// Columns of a text, or a number above `most` if there are more.
fn columns_to(text: &str, most: usize) -> usize {
    let mut columns = 0;
    for c in text.chars() {
        columns += columns_of(c);
        if columns > most {
            break;
        }
    }
    columns
}

/// How many of the first characters fit.
#[derive(Clone, Copy)]
struct Fits {
    bytes: usize,
    columns: usize,
}

/// As many characters as fit, with room for the sign of a cut where not all do.
fn fitted(characters: impl Iterator<Item = char>, room: usize) -> Fits {
    let mut all = Fits { bytes: 0, columns: 0 };
    let mut with_sign = all;
    for c in characters {
        all = Fits {
            bytes: all.bytes + c.len_utf8(),
            columns: all.columns + columns_of(c),
        };
        if all.columns > room {
            return with_sign;
        }
        if all.columns < room {
            with_sign = all;
        }
    }
    all
}

/// Columns of a character as it is quoted.
fn columns_of(c: char) -> usize {
    match c {
        '\t' => TAB_COLUMNS,
        _ if is_unseen(c) => 1,
        _ => c.width().unwrap_or(1),
    }
}

/// A text as it is quoted: tabs as blanks, what cannot be seen as a sign that can.
fn write_shown(quoted: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '\t' => quoted.extend(core::iter::repeat_n(' ', TAB_COLUMNS)),
            '\0'..='\u{1f}' => quoted.push(char::from_u32(0x2400 + u32::from(c)).unwrap_or('␦')),
            '\u{7f}' => quoted.push('␡'),
            _ if is_unseen(c) => quoted.push('␦'),
            _ => quoted.push(c),
        }
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
