//! Proposals: named sets of changed keys beside a car, each a file that a person can read. They are kept, shown, taken over
//! onto the sheet one by one, and put aside; none is ever deleted.

use engine::car::KeyId;
use proving::SheetChange;
use records::{Fault, LARGEST_SHEET, Shelf};
use sheet::Proposal;

use crate::exchanged::{minded, readings_of};
use crate::onto_sheet::{means_the_same, written};
use crate::opened::Opened;
use crate::proposed::plain;
pub use crate::proposed::{Proposed, names, put_aside, read};
use crate::trouble::{Stop, Wrong, of_records};

/// A key that a proposal changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProposedKey {
    /// The key.
    pub key: String,
    /// What people call it.
    pub label: &'static str,
    /// What the sheet says, as it is written there; `None` where it says nothing.
    pub was: Option<String>,
    /// What it would be.
    pub now: String,
    /// Whether the sheet says it already.
    pub stands: bool,
    /// What is to be minded once it is taken over.
    pub mind: Option<&'static str>,
}

/// Keeps what a car was opened with as a proposal: its keys as they are other than on the sheet. One that is there under
/// the same name is put aside. Gives the name that it has.
///
/// # Errors
/// Nothing is other than on the sheet; a name that no file may have; the disk refuses.
pub fn keep(opened: &Opened, name: &str, note: &str) -> Result<String, Stop> {
    if opened.own_overrides().is_empty() {
        let what = "nothing is other than on the sheet".to_owned();
        let remedy = "say what is proposed: --with lever.bore=\"9/16 in\"".to_owned();
        return Err(Wrong::plain("proposal", "nothing-proposed", what, remedy).into());
    }
    let folder = &opened.sheet.folder;
    // What goes with them is found anew whenever it is opened.
    let with: Vec<String> = opened
        .own_overrides()
        .iter()
        .map(|(key, value)| format!("{key}={value}"))
        .collect();
    let text = Proposal::write(note.trim(), &with);
    let refused = |fault: &Fault| of_records(&format!("proposal {name}"), fault, None);
    let file = folder.proposal(plain(name)).map_err(|fault| refused(&fault))?;
    folder
        .make_shelf(Shelf::Proposals)
        .map_err(|fault| refused(&fault))?;
    let there = file
        .read_if_there(LARGEST_SHEET)
        .map_err(|fault| refused(&fault))?;
    let read = match there {
        Some(there) if there.text == text => Some(there.digest),
        Some(_) => {
            folder
                .drop_proposal(plain(name))
                .map_err(|fault| refused(&fault))?;
            None
        }
        None => None,
    };
    file.save(read, &text, LARGEST_SHEET)
        .map_err(|fault| refused(&fault))?;
    Ok(plain(name).to_owned())
}

/// The keys that are other than on the sheet, in their order.
#[must_use]
pub fn changed(opened: &Opened) -> Vec<ProposedKey> {
    let text = opened.sheet.read.text();
    let one = |(key, now): &(String, String)| {
        let was = written(text, key);
        let stands = was
            .as_deref()
            .is_some_and(|was| was.trim_matches('"') == now || means_the_same(text, key, was, now));
        ProposedKey {
            key: key.clone(),
            label: label(key),
            was,
            now: now.clone(),
            stands,
            mind: minded(key)
                .filter(|_| !stands && sheet::read(text.as_bytes(), "").inputs.entries("measured.pull") > 0),
        }
    };
    opened.overrides.iter().map(one).collect()
}

/// What people call a key, whichever entry of a repeated table it stands in.
fn label(key: &str) -> &'static str {
    let plain: String = key
        .chars()
        .filter(|character| !character.is_ascii_digit())
        .collect();
    let named = KeyId::of(key).or_else(|| KeyId::of(&plain));
    named.map_or("", |key| key.key().label)
}

/// What puts them onto the sheet: all of them, or those of `keys`.
///
/// # Errors
/// A key that is not proposed; readings on the sheet that say something of the part that goes.
pub fn onto_sheet(opened: &Opened, keys: &[String]) -> Result<Vec<SheetChange>, Wrong> {
    let changed = changed(opened);
    let mut wrong = Wrong::default();
    for key in keys {
        if !changed.iter().any(|change| change.key == *key) {
            let remedy = match nearest::nearest_one(key, changed.iter().map(|change| change.key.as_str())) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`proposal show` names its keys".to_owned(),
            };
            let what = format!("`{key}` is not among the keys that are proposed");
            wrong.add(Wrong::option(
                "--key",
                key,
                0..key.len(),
                "not-proposed",
                what,
                remedy,
            ));
        }
    }
    let taken: Vec<&ProposedKey> = changed
        .iter()
        .filter(|change| !change.stands && (keys.is_empty() || keys.contains(&change.key)))
        .collect();
    let inputs = &sheet::read(opened.sheet.read.text().as_bytes(), "").inputs;
    let of_old = |change: &&ProposedKey| {
        let table = readings_of(&change.key)?;
        if minded(&change.key).is_some() {
            return None;
        }
        (inputs.entries(table) > 0).then_some((table, change.key.clone()))
    };
    if let Some((table, key)) = taken.iter().find_map(of_old) {
        let said = format!("readings of the old part would count for the new one: `{key}` stays");
        let remedy = format!("take `{table}` off the sheet, fit the part, and read it anew");
        wrong.add(Wrong::plain("proposal", "read-before", said, remedy));
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let change = |change: &&ProposedKey| SheetChange {
        key: change.key.clone(),
        was: change.was.clone(),
        now: Some(change.now.clone()),
    };
    Ok(taken.iter().map(change).collect())
}
