//! A part of the text that is read, which remembers where it stands.

use core::ops::Range;

use crate::{Fault, LONGEST};

/// Quotations in messages are cut to so many characters.
const LONGEST_QUOTED: usize = 60;

/// Blanks of every width, and the marks that take no room at all.
pub(crate) fn is_blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}' | '\u{2060}' | '\u{FEFF}')
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece<'a> {
    whole: &'a str,
    start: usize,
    end: usize,
}

impl<'a> Piece<'a> {
    /// The whole of a text that is not too long.
    pub(crate) fn new(whole: &'a str) -> Result<Self, Fault> {
        if let Some((limit, _)) = whole.char_indices().nth(LONGEST) {
            let kept = Self {
                whole,
                start: 0,
                end: limit,
            };
            return Err(Fault::TooLong {
                span: limit..whole.len(),
                found: kept.quoted(),
            });
        }
        Ok(Self {
            whole,
            start: 0,
            end: whole.len(),
        })
    }

    pub(crate) fn as_str(self) -> &'a str {
        self.whole.get(self.start..self.end).unwrap_or("")
    }

    pub(crate) fn is_empty(self) -> bool {
        self.start >= self.end
    }

    pub(crate) fn span(self) -> Range<usize> {
        self.start..self.end
    }

    /// Without the blanks at both ends.
    pub(crate) fn trim(self) -> Self {
        let text = self.as_str();
        let start = self.end - text.trim_start_matches(is_blank).len();
        let end = self.start + text.trim_end_matches(is_blank).len();
        Self {
            start,
            end: end.max(start),
            ..self
        }
    }

    /// Without the blanks before it.
    pub(crate) fn trim_start(self) -> Self {
        Self {
            start: self.end - self.as_str().trim_start_matches(is_blank).len(),
            ..self
        }
    }

    /// From so many bytes on.
    pub(crate) fn from(self, bytes: usize) -> Self {
        Self {
            start: (self.start + bytes).min(self.end),
            ..self
        }
    }

    /// The first so many bytes.
    pub(crate) fn first(self, bytes: usize) -> Self {
        Self {
            end: (self.start + bytes).min(self.end),
            ..self
        }
    }

    /// To the end of `other`.
    pub(crate) fn up_to(self, other: Self) -> Self {
        Self {
            end: other.end,
            ..self
        }
    }

    /// To the start of `other`, without the blanks before it.
    pub(crate) fn up_to_start_of(self, other: Self) -> Self {
        Self {
            end: other.start,
            ..self
        }
        .trim()
    }

    /// Parts the text at the first place where `sign` (told what is before the place and what follows) gives the
    /// length of something: before it, the thing, behind it.
    pub(crate) fn split_where(
        self,
        sign: impl Fn(&str, &str) -> Option<usize>,
    ) -> Option<(Self, Self, Self)> {
        let text = self.as_str();
        let (at, length) = text.char_indices().find_map(|(at, _)| {
            let (before, rest) = text.split_at(at);
            sign(before, rest).map(|length| (at, length))
        })?;
        Some((
            self.first(at).trim(),
            self.from(at).first(length),
            self.from(at + length).trim(),
        ))
    }

    /// The longest part from the start, ending before a blank, that `wanted` is true of; and what is behind it.
    pub(crate) fn longest_start(self, wanted: impl Fn(&str) -> bool) -> Option<(Self, Self)> {
        let text = self.as_str();
        let (at, _) = text
            .char_indices()
            .rev()
            .find(|(at, c)| is_blank(*c) && wanted(text.get(..*at).unwrap_or("")))?;
        Some((self.first(at).trim(), self.from(at).trim()))
    }

    /// The text with `replacement` in the place of this piece; the replacement alone where that is too long to quote.
    pub(crate) fn replaced_by(self, replacement: &str) -> String {
        let before = self.whole.get(..self.start).unwrap_or("");
        let behind = self.whole.get(self.end..).unwrap_or("");
        let text = format!("{before}{replacement}{behind}");
        let (whole, cut) = printable(text.trim_matches(is_blank));
        if cut { printable(replacement).0 } else { whole }
    }

    /// As it is quoted in a message: cut when long, nothing in it that a terminal would obey.
    pub(crate) fn quoted(self) -> String {
        match printable(self.as_str()) {
            (text, false) => text,
            (text, true) => text + "…",
        }
    }
}

/// The start of a text with escapes for what does not print, and whether anything was cut off.
fn printable(text: &str) -> (String, bool) {
    let mut out = String::with_capacity(text.len().min(2 * LONGEST_QUOTED));
    let mut left = LONGEST_QUOTED;
    for c in text.chars() {
        let turns_direction =
            matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}');
        let unprintable = c.is_control() || turns_direction || matches!(c, '\u{2028}' | '\u{2029}');
        let width = if unprintable {
            c.escape_default().count()
        } else {
            1
        };
        if width > left {
            return (out, true);
        }
        left -= width;
        if unprintable {
            out.extend(c.escape_default());
        } else {
            out.push(c);
        }
    }
    (out, false)
}
