//! A figure on its way onto the sheet; what was done last, and what was undone.

use proving::{Fact, Noted, SheetChange};

use super::typed::Typed;
use crate::onto_sheet::written;
use crate::trouble::Wrong;

/// The change that keeps what was typed at a key. `seen`: what stood there in the view of whoever typed it, as the file
/// writes it; empty: nothing.
///
/// # Errors
/// What was typed cannot stand there, pointing into it.
pub fn keep(text: &str, path: &str, typed: Typed<'_>, seen: &str) -> Result<SheetChange, Wrong> {
    let slot = sheet::slot_of(path);
    let Some(key) = slot.map(|slot| slot.key.key()) else {
        let what = "the sheet has no such figure".to_owned();
        return Err(Wrong::plain(
            "form",
            "no-figure",
            what,
            "go back to the list".to_owned(),
        ));
    };
    let (_, now) = spliced(text, path, &typed.value(key))?;
    Ok(SheetChange {
        key: path.to_owned(),
        was: (!seen.is_empty()).then(|| seen.to_owned()),
        now: Some(now),
    })
}

/// The text with a typed value at a key, and that value as the file writes it.
pub(super) fn spliced(text: &str, path: &str, value: &str) -> Result<(String, String), Wrong> {
    let edited = sheet::splice(text, path, value)?;
    let now = written(&edited, path).unwrap_or_else(|| value.to_owned());
    Ok((edited, now))
}

/// What can be undone, and what can be done again.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Steps {
    /// What takes the last change back.
    pub undo: Option<Vec<SheetChange>>,
    /// What makes the change again that was taken back last.
    pub redo: Option<Vec<SheetChange>>,
}

impl Steps {
    /// From what the logbook noted of the sheet, the oldest first. A change that takes the last one back is a step back;
    /// the same once more after it a step forward. Whatever the sheet does not say any more cannot be taken back.
    #[must_use]
    pub fn of(noted: &[Noted], text: &str) -> Self {
        let (mut done, mut undone): (Vec<&[SheetChange]>, Vec<&[SheetChange]>) = (Vec::new(), Vec::new());
        for noted in noted {
            let Fact::Sheet { changes } = &noted.fact else {
                continue;
            };
            if done.last().is_some_and(|last| back(last) == *changes) {
                undone.extend(done.pop());
            } else if undone.last().is_some_and(|last| *last == changes.as_slice()) {
                done.extend(undone.pop());
            } else {
                done.push(changes);
                undone.clear();
            }
        }
        let stands = |changes: &[SheetChange]| {
            changes
                .iter()
                .all(|change| written(text, &change.key) == change.now)
        };
        let undo = done
            .last()
            .filter(|changes| stands(changes))
            .map(|changes| back(changes));
        let redo = undone.last().map(|changes| changes.to_vec());
        let redo = redo.filter(|changes| stands(&back(changes)));
        Self { undo, redo }
    }
}

fn back(changes: &[SheetChange]) -> Vec<SheetChange> {
    changes.iter().rev().map(SheetChange::undone).collect()
}
