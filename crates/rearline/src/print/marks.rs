//! Characters that would steer a terminal, shown as marks.

use super::ink;

/// Whether a character steers what is shown and not what is said: controls, and marks of direction.
const fn steers(letter: char) -> bool {
    matches!(
        letter,
        '\0'..='\u{8}' | '\u{b}'..='\u{1f}' | '\u{7f}'..='\u{9f}'
            | '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}'
    )
}

/// A text of somebody's, whatever is in it.
pub(crate) fn shown(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if steers(letter) {
            out.push_str(&format!("‹{:04X}›", u32::from(letter)));
        } else {
            out.push(letter);
        }
    }
    out
}

/// What is to be printed: our own ink passes, the rest is shown.
pub(crate) fn but_for_ink(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut pieces = ink::pieces(text);
    out.push_str(&shown(pieces.next().unwrap_or_default()));
    for piece in pieces {
        let (ink, rest) = piece.split_once('m').unwrap_or((piece, ""));
        out.push_str(&format!("\u{1b}[{ink}m{}", shown(rest)));
    }
    out
}

/// Bytes that are to be printed where a terminal shows them: text, in which nothing is ours.
pub(crate) fn in_bytes(bytes: &[u8]) -> String {
    shown(&String::from_utf8_lossy(bytes).replace("\r\n", "\n"))
}

/// The same in JSON, where such a character has a way of its own to be written.
pub(crate) fn in_json(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if steers(letter) {
            out.push_str(&format!("\\u{:04x}", u32::from(letter)));
        } else {
            out.push(letter);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_is_shown() {
        let nasty = "a\u{1b}]0;owned\u{7}b\u{9b}2Jc\u{202e}d\re\u{1b}[2J\u{1b}[31mf\n";
        let wanted = "a‹001B›]0;owned‹0007›b‹009B›2Jc‹202E›d‹000D›e‹001B›[2J";
        assert_eq!(shown(nasty), format!("{wanted}‹001B›[31mf\n"));
        assert_eq!(but_for_ink(nasty), shown(nasty));
        assert_eq!(
            but_for_ink(&ink::heavy(nasty)),
            format!("\u{1b}[1m{}\u{1b}[0m", shown(nasty))
        );
        assert_eq!(
            but_for_ink(&ink::kept_unless_steered("\u{1b}[1ma\u{1b}[0m", "a")),
            "\u{1b}[1ma\u{1b}[0m"
        );
        let bare = "\u{1b}[31ma";
        assert_eq!(
            but_for_ink(&ink::kept_unless_steered(&format!("\u{1b}[1m{bare}"), bare)),
            shown(bare)
        );
        assert_eq!(in_bytes(b"a,b\r\n\x1b[31m\r\n"), "a,b\n‹001B›[31m\n");
        assert_eq!(but_for_ink("é ‹x› \t§\n"), "é ‹x› \t§\n");
        let json = serde_json::json!({ "text": nasty }).to_string();
        let safe = in_json(&json);
        assert!(!safe.chars().any(steers), "{safe}");
        assert_eq!(
            serde_json::from_str::<serde_json::Value>(&safe).unwrap(),
            serde_json::json!({ "text": nasty })
        );
    }
}
