//! Where a part of a text stands within its quotes.

use core::ops::Range;

/// Where a part of a text's content stands in its raw form, counted from the start of the raw form.
pub(super) fn inside(raw: &str, in_file: bool, content: &str, part: Range<usize>) -> Range<usize> {
    let quote = raw.chars().next().filter(|c| matches!(c, '"' | '\''));
    let Some(quote) = quote.filter(|_| in_file || raw != content) else {
        return part.start.min(raw.len())..part.end.min(raw.len());
    };
    let is_block = raw.len() >= 6 && raw.starts_with(if quote == '"' { "\"\"\"" } else { "'''" });
    if is_block {
        return 0..raw.len();
    }
    let inner = raw[1..].strip_suffix(quote).unwrap_or(&raw[1..]);
    if inner == content {
        return part.start + 1..part.end + 1;
    }
    let mut at = 0;
    let mut read = 0;
    let mut ends = [None; 2];
    while at <= inner.len() {
        for (end, wanted) in ends.iter_mut().zip([part.start, part.end]) {
            if read >= wanted && end.is_none() {
                *end = Some(at + 1);
            }
        }
        let Some(c) = inner[at..].chars().next() else {
            break;
        };
        let (raw_length, length) = if c == '\\' {
            escape(&inner[at..])
        } else {
            (c.len_utf8(), c.len_utf8())
        };
        at += raw_length;
        read += length;
    }
    ends[0].unwrap_or(1)..ends[1].unwrap_or(raw.len())
}

/// Bytes of an escape, and of the character that it stands for.
fn escape(text: &str) -> (usize, usize) {
    let digits = match text.as_bytes().get(1) {
        Some(b'x') => 2,
        Some(b'u') => 4,
        Some(b'U') => 8,
        Some(_) => return (text.chars().take(2).map(char::len_utf8).sum(), 1),
        None => return (1, 1),
    };
    let length = text
        .get(2..2 + digits)
        .and_then(|digits| u32::from_str_radix(digits, 16).ok())
        .and_then(char::from_u32);
    (
        text.chars().take(2 + digits).map(char::len_utf8).sum(),
        length.map_or(1, char::len_utf8),
    )
}
