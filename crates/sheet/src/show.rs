//! Problems as a terminal shows them.

use core::fmt;

use anstyle::{AnsiColor, Style};

use crate::problem::{Problem, Problems};

/// How the parts of a problem are set off from one another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Styles {
    place: Style,
    fault: Style,
    gutter: Style,
    mark: Style,
    remedy: Style,
}

impl Styles {
    /// Plain text.
    #[must_use]
    pub const fn plain() -> Self {
        let plain = Style::new();
        Self {
            place: plain,
            fault: plain,
            gutter: plain,
            mark: plain,
            remedy: plain,
        }
    }

    /// With colours, for a terminal that has them. Nothing is told by colour alone.
    #[must_use]
    pub const fn coloured() -> Self {
        Self {
            place: AnsiColor::Cyan.on_default(),
            fault: Style::new().bold(),
            gutter: Style::new().dimmed(),
            mark: AnsiColor::Red.on_default().bold(),
            remedy: AnsiColor::Green.on_default(),
        }
    }
}

impl Problem {
    /// The problem with its line quoted and its place marked, over several lines, without a newline at the end.
    #[must_use]
    pub fn shown(&self, styles: Styles) -> impl fmt::Display {
        ShownProblem {
            problem: self,
            styles,
        }
    }
}

impl Problems {
    /// Every problem that is kept, its line quoted and its place marked, and how many more there are.
    #[must_use]
    pub fn shown_with(&self, styles: Styles) -> impl fmt::Display {
        ShownProblems {
            problems: self,
            styles,
        }
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown_with(Styles::plain()).fmt(f)
    }
}

struct ShownProblem<'a> {
    problem: &'a Problem,
    styles: Styles,
}

impl fmt::Display for ShownProblem<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Problem {
            file,
            line,
            column,
            key,
            fault,
            excerpt,
            ..
        } = self.problem;
        let Styles {
            place,
            fault: emphasis,
            gutter,
            mark,
            remedy,
        } = self.styles;
        write!(f, "{place}{file}:{line}:{column}:{place:#} ")?;
        if let Some(key) = key.as_ref().filter(|key| !fault.names(key)) {
            write!(f, "{key}: ")?;
        }
        writeln!(f, "{emphasis}{fault}{emphasis:#}")?;
        if let Some(excerpt) = excerpt {
            let number = line.to_string();
            writeln!(f, "{gutter}{number:>5} |{gutter:#} {}", excerpt.quoted.trim_end())?;
            let (before, carets) = (" ".repeat(excerpt.caret), "^".repeat(excerpt.caret_columns));
            writeln!(f, "{gutter}      |{gutter:#} {before}{mark}{carets}{mark:#}")?;
        }
        write!(f, "      {remedy}{}{remedy:#}", fault.remedy())
    }
}

struct ShownProblems<'a> {
    problems: &'a Problems,
    styles: Styles,
}

impl fmt::Display for ShownProblems<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, problem) in self.problems.shown().iter().enumerate() {
            if at > 0 {
                f.write_str("\n\n")?;
            }
            problem.shown(self.styles).fmt(f)?;
        }
        match self.problems.more() {
            0 => Ok(()),
            1 => f.write_str("\n\nand 1 more"),
            more => write!(f, "\n\nand {more} more"),
        }
    }
}
