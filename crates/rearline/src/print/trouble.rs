//! What is wrong, as a terminal shows it.

use questions::{Shown, Trouble, Wrong};
use unicode_width::UnicodeWidthStr;

use super::ink;

/// All of it, with a line feed at its end.
pub(crate) fn all(wrong: &Wrong) -> String {
    let mut shown: String = wrong
        .troubles
        .iter()
        .map(|trouble| format!("{}\n", one(trouble)))
        .collect();
    if wrong.more > 0 {
        shown.push_str(&format!("and {} more\n", wrong.more));
    }
    shown.truncate(shown.trim_end().len());
    shown.push('\n');
    shown
}

fn one(trouble: &Trouble) -> String {
    match &trouble.shown {
        Shown::Sheet(problem) => {
            let [inked, bare] = [sheet::Styles::coloured(), sheet::Styles::plain()]
                .map(|styles| problem.shown(styles).to_string());
            format!("{}\n", ink::kept_unless_steered(&inked, &bare))
        }
        Shown::Said(said) => said.clone(),
        Shown::Nothing => format!(
            "{} {}\n      {}\n",
            ink::place(&format!("{}:", trouble.file)),
            ink::heavy(&trouble.text),
            ink::remedy(&trouble.remedy)
        ),
        Shown::Option { text, span } => {
            let (before, at) = (&text[..span.start], &text[span.clone()]);
            let carets =
                " ".repeat(printable(before).width()) + &ink::mark(&"^".repeat(printable(at).width().max(1)));
            let column = before.chars().count() + 1;
            format!(
                "{} {}\n{}\n{}\n      {}\n",
                ink::place(&format!("{}:1:{column}:", trouble.file)),
                ink::heavy(&trouble.text),
                format_args!("{} {}", ink::aside("    1 |"), printable(text)),
                format_args!("{} {carets}", ink::aside("      |")),
                ink::remedy(&trouble.remedy),
            )
        }
    }
}

/// A text in which nothing moves the cursor.
fn printable(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { '␦' } else { c })
        .collect()
}
