//! The one place where a car's sheet is changed from a page: keys spliced in where they stand, every other byte as it was,
//! checked before it is kept, and noted in the logbook so that each change can be put back.

use engine::car::{Inputs, Slot};
use proving::SheetChange;
use records::{CarFolder as Folder, LARGEST_SHEET, Text};
use sheet::Problem;

use crate::trouble::{Stop, Wrong, of_records};

/// What a car's sheet says at a key, as the file writes it: `"5/8 in"`. `None` where it does not say it, or what stands there
/// does not read.
#[must_use]
pub fn written(text: &str, key: &str) -> Option<String> {
    stands(&sheet::read(text.as_bytes(), ""), key)
}

/// The same of a sheet that was read, and in which nothing is overridden.
#[must_use]
pub fn stands(read: &sheet::ReadSheet, key: &str) -> Option<String> {
    let slot = sheet::slot_of(key)?;
    read.inputs.get(slot)?;
    let place = read.places.value(slot)?;
    read.text().get(place.value.clone()).map(str::to_owned)
}

fn slot(inputs: &Inputs, key: &str) -> Option<Slot> {
    inputs
        .slots()
        .map(|(slot, _)| slot)
        .find(|slot| slot.path() == key)
}

/// Whether a sheet may be left unfinished by a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaves {
    /// It assembles after the change if it did before.
    Whole,
    /// More may have to be filled in after it than before: another kind of brake wants figures of its own.
    Unfinished,
}

/// The text of a sheet with changes made in it, one after the other. Of a change that was made already nothing is left to
/// do; `was` is what whoever made it had in view.
///
/// # Errors
/// A value that cannot stand there, pointing into what was typed; a key that says something else by now; a sheet that
/// would not assemble with it.
pub fn changed(name: &str, text: &str, changes: &[SheetChange]) -> Result<String, Wrong> {
    changed_and(Leaves::Whole, name, text, changes)
}

/// The same, of which is said whether more may be left to fill in.
///
/// # Errors
/// As [`changed`].
pub fn changed_and(leaves: Leaves, name: &str, text: &str, changes: &[SheetChange]) -> Result<String, Wrong> {
    let mut now = text.to_owned();
    for change in changes {
        now = one(name, &now, change)?;
    }
    let faults = |text: &str| {
        let read = sheet::read(text.as_bytes(), name);
        read.assemble()
            .map_or_else(|problems| problems.shown().to_vec(), |_| Vec::new())
    };
    let before = faults(text);
    let is_this_changes = |problem: &Problem| {
        let at_its_key = || {
            changes
                .iter()
                .any(|change| problem.key.as_ref() == Some(&change.key))
        };
        let unfinished = leaves == Leaves::Unfinished;
        // A fault that stood there before is not this change's. Of a sheet that did not assemble, what no change touched
        // was not looked at before.
        let stood_before = before.iter().any(|old| old.fault == problem.fault);
        !stood_before
            && (!unfinished || !problem.is_open())
            && (!unfinished || before.is_empty() || at_its_key())
    };
    let mut wrong = Wrong::default();
    for problem in faults(&now).into_iter().filter(is_this_changes) {
        wrong.add(Wrong::from(problem));
    }
    if wrong.is_empty() { Ok(now) } else { Err(wrong) }
}

fn one(name: &str, text: &str, change: &SheetChange) -> Result<String, Wrong> {
    let key = &change.key;
    let stands = written(text, key);
    let same = |one: &str, other: &str| one == other || means_the_same(text, key, one, other);
    let done = match (&stands, &change.now) {
        (Some(stands), Some(now)) => same(stands, now),
        (None, None) => !is_table(text, key) && !is_to_fill_in(text, key),
        _ => false,
    };
    if done {
        return Ok(text.to_owned());
    }
    let as_seen = match (&stands, &change.was) {
        (Some(stands), Some(was)) => same(stands, was),
        (None, None) => true,
        // A table is taken out as a whole.
        (None, Some(_)) => change.now.is_none() && is_table(text, key),
        (Some(_), None) => false,
    };
    if !as_seen {
        let what = match &stands {
            Some(stands) => format!("`{key}` says {stands} by now: somebody changed it meanwhile"),
            None => format!("`{key}` is not on the sheet any more: somebody took it out meanwhile"),
        };
        let remedy = "load the page again, look, and change it there".to_owned();
        return Err(Wrong::plain(name, "changed", what, remedy));
    }
    let edited = match &change.now {
        Some(now) => sheet::splice(text, key, now),
        None => sheet::cut(text, key),
    };
    let edited = edited.map_err(|problem: Problem| Wrong::from(problem))?;
    Ok(without_an_empty_entry(&edited, key).unwrap_or(edited))
}

/// An entry of a repeated table goes with the last of its keys.
fn without_an_empty_entry(text: &str, key: &str) -> Option<String> {
    let (entry, _) = key.rsplit_once('.').filter(|(entry, _)| entry.ends_with(']'))?;
    let read = sheet::read(text.as_bytes(), "");
    let under = format!("{entry}.");
    let empty = !read
        .inputs
        .slots()
        .any(|(slot, _)| slot.path().starts_with(&under));
    (empty && read.places.table(entry).is_some())
        .then(|| sheet::cut(text, entry).ok())
        .flatten()
}

/// Whether something stands at a key that does not read.
fn is_to_fill_in(text: &str, key: &str) -> bool {
    let read = sheet::read(text.as_bytes(), "");
    sheet::slot_of(key)
        .is_some_and(|slot| read.places.value(slot).is_some() && read.inputs.get(slot).is_none())
}

fn is_table(text: &str, path: &str) -> bool {
    sheet::read(text.as_bytes(), "").places.table(path).is_some()
}

/// Whether two ways of writing say the same of a key.
pub(crate) fn means_the_same(text: &str, key: &str, one: &str, other: &str) -> bool {
    let value = |written: &str| {
        let edited = sheet::splice(text, key, written).ok()?;
        let read = sheet::read(edited.as_bytes(), "");
        let slot = slot(&read.inputs, key)?;
        read.inputs.get(slot).cloned()
    };
    value(one).is_some_and(|one| value(other) == Some(one))
}

/// Changes as a form sends them.
///
/// # Errors
/// What does not read.
pub fn read_changes(sent: &str) -> Result<Vec<SheetChange>, Wrong> {
    serde_json::from_str(sent).map_err(|fault| {
        let what = format!("what was sent is no change of a sheet: {fault}");
        Wrong::plain("form", "no-change", what, "load the page again".to_owned())
    })
}

/// The same as a form carries them.
#[must_use]
pub fn write_changes(changes: &[SheetChange]) -> String {
    serde_json::to_string(changes).unwrap_or_default()
}

/// Puts changes onto a car's sheet. When this returns, the sheet is on the disk; `false`: it said so already.
///
/// # Errors
/// As [`changed`]; a sheet that cannot be read or written, or that another program changed in between.
pub fn put_on(folder: &Folder, changes: &[SheetChange]) -> Result<bool, Stop> {
    put_on_and(Leaves::Whole, folder, changes)
}

/// The same, of which is said whether more may be left to fill in.
///
/// # Errors
/// As [`put_on`].
pub fn put_on_and(leaves: Leaves, folder: &Folder, changes: &[SheetChange]) -> Result<bool, Stop> {
    let file = folder.sheet();
    let shown = file.path().display().to_string();
    let refused = |fault: &records::Fault| of_records(&shown, fault, None);
    let Text { text, digest } = file.read(LARGEST_SHEET).map_err(|fault| refused(&fault))?;
    let now = changed_and(leaves, &shown, &text, changes)?;
    if now == text {
        return Ok(false);
    }
    file.save(Some(digest), &now, LARGEST_SHEET)
        .map_err(|fault| refused(&fault))?;
    Ok(true)
}
