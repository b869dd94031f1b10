//! How wide text will come out, told before a font is known: widths of a wide common sans-serif, so that what fits by
//! this count fits on screen and paper too.

use std::borrow::Cow;

use unicode_width::UnicodeWidthChar as _;

/// Weight of a text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Weight {
    #[default]
    Plain,
    Bold,
}

/// Advance of the characters from space to tilde, in thousandths of the font's size (DejaVu Sans, measured).
const ADVANCE: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// Bold is wider by at most this (measured on the same font, over running text).
const BOLD: f64 = 1.14;

fn advance(character: char) -> f64 {
    let code = u32::from(character);
    let known = code
        .checked_sub(32)
        .and_then(|index| ADVANCE.get(usize::try_from(index).ok()?));
    let thousandths = match (known, character) {
        (Some(&thousandths), _) => f64::from(thousandths),
        (None, '\u{A0}' | '·') => 318.0,
        (None, '–' | '°') => 500.0,
        (None, '²' | '³' | '₁' | '₂') => 401.0,
        (None, '\u{202F}' | '\u{2009}') => 200.0,
        (None, '→' | '←' | '−' | '±' | '×') => 838.0,
        (None, '½' | '¼' | '¾' | '…') => 1000.0,
        // Two cells of a terminal are one em; marks that stand on another letter take no room.
        _ => match character.width() {
            Some(0) | None => 0.0,
            Some(1) => 720.0,
            Some(_) => 1040.0,
        },
    };
    thousandths / 1000.0
}

/// Width of a text at a font size, on the safe side.
pub(crate) fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let ems: f64 = text.chars().map(advance).sum();
    size * ems * if weight == Weight::Bold { BOLD } else { 1.0 }
}

/// A text, cut with an ellipsis where it is wider than there is room. A character with its marks stays whole.
pub(crate) fn cut(text: &str, size: f64, weight: Weight, room: f64) -> Cow<'_, str> {
    if width(text, size, weight) <= room {
        return Cow::Borrowed(text);
    }
    let scale = size * if weight == Weight::Bold { BOLD } else { 1.0 };
    let mut left = room - advance('…') * scale;
    let mut end = 0;
    for (index, character) in text.char_indices() {
        left -= advance(character) * scale;
        if left < 0.0 {
            break;
        }
        end = index + character.len_utf8();
    }
    Cow::Owned(format!("{}…", text[..end].trim_end()))
}

/// A text in lines no wider than there is room; a word that is wider by itself is cut.
pub(crate) fn wrapped(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        if let Some(line) = lines.last_mut()
            && width(line, size, Weight::Plain) + advance(' ') * size + width(word, size, Weight::Plain)
                <= room
        {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(cut(word, size, Weight::Plain, room).into_owned());
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cut_text_fits_and_says_that_it_was_cut() {
        let long = "a car with a name that nobody would paint on a door";
        let short = cut(long, 14.0, Weight::Plain, 120.0);
        assert!(
            short.ends_with('…') && width(&short, 14.0, Weight::Plain) <= 120.0,
            "{short}"
        );
        assert_eq!(cut("Tarn 4", 14.0, Weight::Plain, 120.0), "Tarn 4");
        assert_eq!(cut("Tarn 4", 14.0, Weight::Plain, 0.0), "…");
    }

    #[test]
    fn lines_keep_to_their_room_and_lose_no_word() {
        let text = "no lock up to 500 N of foot from grip 0.8";
        let lines = wrapped(text, 14.0, 130.0);
        assert!(lines.iter().all(|line| width(line, 14.0, Weight::Plain) <= 130.0));
        assert_eq!(lines.join(" "), text);
    }
}
