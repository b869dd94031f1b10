//! Colours, of which none carries a meaning by itself. Whoever does not want them, or has no terminal, gets none: the
//! streams take them out.

use anstyle::{AnsiColor, Style};

const FRONT: Style = AnsiColor::Blue.on_default();
const REAR: Style = AnsiColor::Yellow.on_default();
const HAND: Style = AnsiColor::Green.on_default();
const PLACE: Style = AnsiColor::Cyan.on_default();
const MARK: Style = AnsiColor::Red.on_default().bold();
const REMEDY: Style = AnsiColor::Green.on_default();
const HEAVY: Style = Style::new().bold();
const FAINT: Style = Style::new().dimmed();

/// The answer, and titles.
pub(crate) fn heavy(text: &str) -> String {
    inked(HEAVY, text)
}

/// What stands beside the figures.
pub(crate) fn aside(text: &str) -> String {
    inked(FAINT, text)
}

/// Where something wrong stands.
pub(crate) fn place(text: &str) -> String {
    inked(PLACE, text)
}

/// What points at it.
pub(crate) fn mark(text: &str) -> String {
    inked(MARK, text)
}

/// What to do about it.
pub(crate) fn remedy(text: &str) -> String {
    inked(REMEDY, text)
}

/// What belongs to the front axle.
pub(crate) fn front(text: &str) -> String {
    inked(FRONT, text)
}

/// What belongs to the rear axle.
pub(crate) fn rear(text: &str) -> String {
    inked(REAR, text)
}

/// What belongs to the hand.
pub(crate) fn hand(text: &str) -> String {
    inked(HAND, text)
}

fn inked(style: Style, text: &str) -> String {
    if text.is_empty() {
        return String::new();
    }
    format!("{style}{text}{style:#}")
}
