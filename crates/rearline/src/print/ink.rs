//! Colours, of which none carries a meaning by itself. Whoever does not want them, or has no terminal, gets none: the
//! streams take them out.
//!
//! A text of somebody's may hold the very characters that a colour is made of. So ink carries a number of this run until it
//! is printed: [`super::marks`] lets through what carries it, and shows the rest as marks.

use std::hash::{BuildHasher as _, RandomState};
use std::sync::LazyLock;

use anstyle::{AnsiColor, Style};

/// What a terminal's colours and weights begin with.
const BEGINS: &str = "\u{1b}[";

/// What ours begin with until they are printed: no text of anybody's knows the number.
static OURS: LazyLock<String> = LazyLock::new(|| format!("{BEGINS}{};", RandomState::new().hash_one(BEGINS)));

const FRONT: Style = AnsiColor::Blue.on_default();
const REAR: Style = AnsiColor::Yellow.on_default();
const HAND: Style = AnsiColor::Green.on_default();
const PLACE: Style = AnsiColor::Cyan.on_default();
const MARK: Style = AnsiColor::Red.on_default().bold();
const REMEDY: Style = AnsiColor::Green.on_default();
const HEAVY: Style = Style::new().bold();
const FAINT: Style = Style::new().dimmed();
const STRUCK: Style = Style::new().dimmed().strikethrough();

/// The answer, and titles.
pub(crate) fn heavy(text: &str) -> String {
    inked(HEAVY, text)
}

/// What cannot be had; words beside it say why.
pub(crate) fn struck(text: &str) -> String {
    inked(STRUCK, text)
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
    ours(&format!("{style}"), text, &format!("{style:#}"))
}

fn ours(before: &str, text: &str, behind: &str) -> String {
    let [before, behind] = [before, behind].map(|ink| ink.replace(BEGINS, &OURS));
    format!("{before}{text}{behind}")
}

/// A text of ours that something else inked, nothing of anybody's in it.
pub(crate) fn kept(text: &str) -> String {
    text.replace(BEGINS, &OURS)
}

/// A text that something else inked, with somebody's words in it: it keeps its ink where they hold nothing like ink.
/// `bare` is the same without.
pub(crate) fn kept_unless_steered(text: &str, bare: &str) -> String {
    if bare.contains(BEGINS) {
        bare.to_owned()
    } else {
        kept(text)
    }
}

/// A text in pieces: the first in no ink of ours; every other begins with the inside of one, up to its `m`.
pub(crate) fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split(OURS.as_str())
}
