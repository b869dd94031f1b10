//! Texts of people, so that they can be set: whatever they hold, it prints as text, and nothing leaves its column.

/// Lets a line end here, and is not seen.
const MAY_BREAK: char = '\u{200b}';

/// A text in which every character has a sign: one that no font of the book has, or that steers what is shown rather than
/// being shown, stands as its number, `‹1F600›`. A word of more than `longest` letters can be broken where a line ends.
pub(crate) fn legible(text: &str, longest: usize, can_be_set: impl Fn(char) -> bool) -> String {
    let mut out = String::with_capacity(text.len());
    let mut word = 0;
    for letter in text.chars() {
        if matches!(letter, '\n' | '\t') {
            out.push(' ');
            word = 0;
            continue;
        }
        if matches!(letter, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '-' | '–' | '/') {
            word = 0;
        } else {
            word += 1;
        }
        if word > longest {
            out.push(MAY_BREAK);
            word = 1;
        }
        if steers(letter) || !(letter.is_whitespace() || can_be_set(letter)) {
            out.push_str(&format!("‹{:04X}›", u32::from(letter)));
            word += 5;
        } else {
            out.push(letter);
        }
    }
    out
}

/// Controls, and marks of direction.
const fn steers(letter: char) -> bool {
    matches!(
        letter,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{ad}'
            | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}'
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> String {
        legible(text, 24, |letter| letter.is_alphanumeric() || letter.is_ascii())
    }

    #[test]
    fn what_has_no_sign_or_steers_stands_as_its_number() {
        assert_eq!(shown("a😀b"), "a‹1F600›b");
        assert_eq!(shown("a\u{202e}b\u{7}c"), "a‹202E›b‹0007›c");
        assert_eq!(shown("one\ntwo\tthree"), "one two three");
        assert_eq!(
            shown("#set page() *x* $y$ \\u{41}"),
            "#set page() *x* $y$ \\u{41}"
        );
    }

    #[test]
    fn a_word_without_an_end_can_be_broken() {
        let long = "x".repeat(60);
        let set = shown(&long);
        assert_eq!(set.replace(MAY_BREAK, ""), long);
        assert!(set.split(MAY_BREAK).all(|piece| piece.chars().count() <= 24));
        assert_eq!(shown("pressure regulator"), "pressure regulator");
    }
}
