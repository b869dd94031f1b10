//! What is wrong, as a terminal shows it.

use std::io::IsTerminal as _;

use anstream::adapter::strip_str;
use questions::{Quotation, Trouble, Wrong};
use terminal_size::{Width, terminal_size_of};
use unicode_width::{UnicodeWidthChar as _, UnicodeWidthStr};

use super::{ink, page};

/// What follows a first line stands so far in.
const INDENT: &str = "      ";

/// All of it, with a line feed at its end; as wide as the terminal that it is told on. Where none listens each sentence
/// is one line, as programs that read them want it.
pub(crate) fn all(wrong: &Wrong) -> String {
    let stderr = std::io::stderr();
    let terminal = terminal_size_of(&stderr).filter(|_| stderr.is_terminal());
    match terminal {
        Some((Width(columns), _)) => fitted(&whole(wrong), usize::from(columns).max(page::NARROWEST)),
        None => whole(wrong),
    }
}

/// Sentences wrapped, lines of a file that are quoted cut where they would run over.
fn fitted(text: &str, width: usize) -> String {
    let mut fits = String::with_capacity(text.len());
    for line in text.lines() {
        let plain = strip_str(line).to_string();
        if plain.width() <= width {
            fits.push_str(line);
        } else if is_quoted(&plain) {
            fits.push_str(&cut(line, width));
        } else {
            let starts = line.len() - line.trim_start_matches(' ').len();
            let lines = page::wrapped(line.trim_start_matches(' '), width, &line[..starts], INDENT);
            fits.push_str(&lines.join("\n"));
        }
        fits.push('\n');
    }
    fits
}

/// Whether a line begins with the gutter before what is quoted.
fn is_quoted(plain: &str) -> bool {
    let gutter = plain.char_indices().nth(6);
    gutter
        .is_some_and(|(at, sign)| sign == '|' && plain[..at].chars().all(|c| c == ' ' || c.is_ascii_digit()))
}

/// So many columns of a line, its colours not counted.
fn cut(line: &str, width: usize) -> String {
    let (mut kept, mut columns, mut in_colour) = (String::new(), 0, false);
    for c in line.chars() {
        let steers = in_colour || c == '\u{1b}';
        if !steers {
            columns += c.width().unwrap_or(0);
            if columns >= width {
                kept.push('…');
                break;
            }
        }
        in_colour = steers && c != 'm';
        kept.push(c);
    }
    kept
}

fn whole(wrong: &Wrong) -> String {
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
    let measured = wrong.troubles.iter().find_map(|trouble| {
        let key = trouble
            .key
            .as_deref()
            .filter(|_| matches!(trouble.shown, Quotation::Sheet(_)))?;
        questions::measuring::of_path(key).filter(|key| key.key().drawing.is_some())
    });
    if let Some(key) = measured {
        shown.push_str(&format!(
            "How a figure is measured: `rearline how {}`\n",
            key.key().path
        ));
    }
    shown
}

fn one(trouble: &Trouble) -> String {
    match &trouble.shown {
        Quotation::Sheet(problem) => {
            let [inked, bare] = [sheet::Styles::coloured(), sheet::Styles::plain()]
                .map(|styles| problem.shown(styles).to_string());
            format!("{}\n", ink::kept_unless_steered(&inked, &bare))
        }
        Quotation::Said(said) => said.clone(),
        Quotation::Nothing => format!(
            "{} {}\n      {}\n",
            ink::place(&format!("{}:", trouble.file)),
            ink::heavy(&trouble.text),
            ink::remedy(&trouble.remedy)
        ),
        Quotation::Option { text, span } => {
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

#[cfg(test)]
mod tests {
    use super::{cut, fitted};

    #[test]
    fn sentences_wrap_and_quoted_lines_are_cut() {
        let told = "car.toml:31:9: tyres.rolling_radius: `rolling_radius` is still to be filled in\n   \
                    31 | rolling_radius = \"… m\"                      # by a chalk mark, one turn along the yard\n      \
                    |                  ^^^^^\n      Radius on which the tyres roll, loaded. Usual: 0.26 m to 0.36 m\n";
        let lines = [
            "car.toml:31:9: tyres.rolling_radius:",
            "      `rolling_radius` is still to be filled",
            "      in",
            "   31 | rolling_radius = \"… m\"             …",
            "      |                  ^^^^^",
            "      Radius on which the tyres roll,",
            "      loaded. Usual: 0.26 m to 0.36 m",
        ];
        assert_eq!(fitted(told, 44).lines().collect::<Vec<_>>(), lines);
        assert_eq!(fitted(told, 200), told, "what fits stays as it is");
    }

    #[test]
    fn colours_take_no_room() {
        assert_eq!(
            cut("\u{1b}[2m    1 |\u{1b}[0m abcdef", 11),
            "\u{1b}[2m    1 |\u{1b}[0m ab…"
        );
    }
}
