//! A page of text: paragraphs, rules, labelled lines. No line is wider than [`WIDTH`].

use std::io::IsTerminal as _;

use terminal_size::{Width, terminal_size};
use textwrap::{Options, WordSeparator, WordSplitter};
use unicode_width::UnicodeWidthStr;

use super::ink;

pub(crate) use questions::report::Stroke;

/// Columns of a page.
pub(crate) const WIDTH: usize = 78;

/// The narrowest terminal that is followed.
pub(crate) const NARROWEST: usize = 40;

/// As wide as the terminal that standard output is, and never wider than a page.
pub(crate) fn width() -> usize {
    let terminal = terminal_size().filter(|_| std::io::stdout().is_terminal());
    terminal.map_or(WIDTH, |(Width(columns), _)| {
        usize::from(columns).clamp(NARROWEST, WIDTH)
    })
}

/// Columns of the labels of labelled lines.
const LABEL: usize = 14;

const fn sign(stroke: Stroke) -> char {
    match stroke {
        Stroke::Front => '─',
        Stroke::Rear => '╌',
        Stroke::Hand => '═',
    }
}

fn inked(stroke: Stroke, text: &str) -> String {
    match stroke {
        Stroke::Front => ink::front(text),
        Stroke::Rear => ink::rear(text),
        Stroke::Hand => ink::hand(text),
    }
}

/// Two signs of a stroke, in its ink.
pub(crate) fn mark(stroke: Stroke) -> String {
    inked(stroke, &sign(stroke).to_string().repeat(2))
}

/// A page as it grows.
#[derive(Debug)]
pub(crate) struct Page {
    text: String,
    width: usize,
}

impl Default for Page {
    fn default() -> Self {
        Self::of_width(width())
    }
}

impl Page {
    /// An empty page of so many columns.
    pub(crate) const fn of_width(width: usize) -> Self {
        Self {
            text: String::new(),
            width,
        }
    }

    /// The page's text. Blanks that must not be broken have done their work and become plain ones.
    pub(crate) fn into_text(self) -> String {
        self.text.replace('\u{a0}', " ")
    }

    /// An empty line, unless there is one already or the page has just begun.
    pub(crate) fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A paragraph, each of its lines in an ink.
    pub(crate) fn paragraph(&mut self, ink: fn(&str) -> String, text: &str) {
        for line in self.wrapped(text, "", "") {
            self.line(&ink(&line));
        }
    }

    /// A paragraph in no ink.
    pub(crate) fn plain(&mut self, text: &str) {
        self.paragraph(str::to_owned, text);
    }

    /// An item of a list.
    pub(crate) fn item(&mut self, text: &str) {
        for line in self.wrapped(text, "  - ", "    ") {
            self.line(&line);
        }
    }

    /// An item that belongs to an axle or to the hand.
    pub(crate) fn bulleted(&mut self, stroke: Stroke, text: &str) {
        let bullet = sign(stroke).to_string().repeat(2);
        for (at, line) in self
            .wrapped(text, &format!("  {bullet} "), "     ")
            .into_iter()
            .enumerate()
        {
            let line = if at == 0 {
                line.replacen(&bullet, &inked(stroke, &bullet), 1)
            } else {
                line
            };
            self.line(&line);
        }
    }

    /// A paragraph with a bar down its left side.
    pub(crate) fn barred(&mut self, bar: char, ink: fn(&str) -> String, text: &str) {
        let side = format!("{bar} ");
        for line in self.wrapped(text, &side, &side) {
            let said = line.strip_prefix(&side).unwrap_or(&line);
            self.line(&format!("{side}{}", ink(said)));
        }
    }

    /// A label, and what stands behind it.
    pub(crate) fn labelled(&mut self, label: &str, text: &str) {
        self.labelled_in(LABEL, label, text);
    }

    /// Labels of one list, each with what stands behind it: all begin in one column.
    pub(crate) fn labelled_list<'t>(&mut self, list: impl Iterator<Item = (&'t str, &'t str)> + Clone) {
        let widest = list.clone().map(|(label, _)| label.width()).max().unwrap_or(0);
        // On a narrow terminal a wide column would leave no room for the text.
        let most = (self.width / 3).max(LABEL);
        let column = (widest + 4).clamp(LABEL, most);
        for (label, text) in list {
            self.labelled_in(column, label, text);
        }
    }

    fn labelled_in(&mut self, column: usize, label: &str, text: &str) {
        if label.width() + LABEL > self.width {
            for line in self.wrapped(label, "  ", "    ") {
                self.line(&line);
            }
            for line in self.wrapped(text, "    ", "    ") {
                self.line(&line);
            }
            return;
        }
        // A label that is wider than its column still keeps two blanks before what it names.
        let label = format!("  {label:<wide$}", wide = (column - 2).max(label.width() + 2));
        for line in self.wrapped(text, &label, &" ".repeat(column)) {
            self.line(&line);
        }
    }

    /// A name in a column as wide as the widest of its list, and what stands behind it.
    pub(crate) fn named(&mut self, name: &str, widest: usize, text: &str) {
        let first = format!("  {name:<widest$}  ");
        for line in self.wrapped(text, &first, &" ".repeat(widest + 4)) {
            self.line(&line);
        }
    }

    /// A heading with no rule.
    pub(crate) fn heading(&mut self, text: &str) {
        self.gap();
        self.paragraph(ink::heavy, text);
    }

    /// A rule across the page with a heading in it.
    pub(crate) fn rule(&mut self, stroke: Stroke, heading: &str) {
        let sign = sign(stroke).to_string();
        if heading.width() + 4 > self.width {
            self.paragraph(ink::heavy, heading);
            self.line(&inked(stroke, &sign.repeat(self.width)));
            return;
        }
        let behind = sign.repeat(self.width.saturating_sub(heading.width() + 4));
        self.line(&inked(stroke, &format!("{} {heading} {behind}", sign.repeat(2))));
    }

    fn wrapped(&self, text: &str, first: &str, others: &str) -> Vec<String> {
        wrapped(text, self.width, first, others)
    }

    /// A line as it is.
    pub(crate) fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }
}

/// A text in lines that are at most so wide.
pub(crate) fn wrapped(text: &str, width: usize, first: &str, others: &str) -> Vec<String> {
    let options = Options::new(width)
        .initial_indent(first)
        .subsequent_indent(others)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation);
    textwrap::wrap(text, options)
        .into_iter()
        .map(|line| line.into_owned())
        .collect()
}
