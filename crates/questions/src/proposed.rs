//! A proposal as it lies beside a car: read by its name, listed, put aside.

use records::{CarFolder as Folder, Fault, LARGEST_SHEET, Shelf};
use sheet::Proposal;

use crate::trouble::{Quotation, Stop, Trouble, Wrong, of_records};

/// A proposal by its name.
#[derive(Clone, Debug)]
pub struct Proposed {
    /// Its file's name, without the ending.
    pub name: String,
    /// What it says.
    pub proposal: Proposal,
}

impl Proposed {
    /// Name and note, in words: `as proposed: small. Lighter to pull.`
    #[must_use]
    pub fn words(&self) -> String {
        let note = &self.proposal.note;
        if note.is_empty() {
            return format!("as proposed: {}", self.name);
        }
        let end = if note.ends_with(['.', '?', '!']) { "" } else { "." };
        format!("as proposed: {}. {}{end}", self.name, wording::capital(note))
    }
}

pub(crate) fn plain(name: &str) -> &str {
    let name = name.trim();
    name.strip_suffix(".toml").unwrap_or(name)
}

/// The names of a car's proposals, in order.
///
/// # Errors
/// Their folder cannot be read.
pub fn names(folder: &Folder) -> Result<Vec<String>, Stop> {
    let shown = folder.folder().display().to_string();
    let listing = folder
        .shelf(Shelf::Proposals)
        .map_err(|fault| of_records(&shown, &fault, None))?;
    Ok(listing.found.iter().map(|name| plain(name).to_owned()).collect())
}

/// Reads a proposal.
///
/// # Errors
/// There is none of that name; it does not read.
pub fn read(folder: &Folder, name: &str) -> Result<Proposed, Stop> {
    let refused = |fault: &Fault| of_records(&format!("proposal {name}"), fault, None);
    let file = folder.proposal(name).map_err(|fault| refused(&fault))?;
    let text = match file.read_if_there(LARGEST_SHEET) {
        Ok(Some(text)) => text.text,
        Ok(None) => return Err(not_there(folder, name).into()),
        Err(fault) => return Err(refused(&fault)),
    };
    let shown = file.path().display().to_string();
    let stem = file
        .path()
        .file_stem()
        .map(|stem| stem.to_string_lossy().into_owned());
    let proposal = sheet::proposal(&text, &shown).map_err(|faults| {
        let mut wrong = Wrong::default();
        for fault in faults {
            wrong.add(
                Trouble {
                    file: shown.clone(),
                    place: Some((fault.line, fault.column)),
                    key: None,
                    slug: "not-a-proposal".to_owned(),
                    text: fault.text,
                    remedy: fault.remedy.to_owned(),
                    shown: Quotation::Nothing,
                }
                .into(),
            );
        }
        wrong
    })?;
    Ok(Proposed {
        name: stem.unwrap_or_else(|| plain(name).to_owned()),
        proposal,
    })
}

fn not_there(folder: &Folder, name: &str) -> Wrong {
    let there = names(folder).unwrap_or_default();
    let remedy = match nearest::nearest_one(name, there.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None if there.is_empty() => "this car has none: `proposal keep` makes one".to_owned(),
        None => format!("there are: {}", there.join(", ")),
    };
    let what = format!("this car has no proposal `{name}`");
    Wrong::option(
        "--proposal",
        name,
        0..name.len(),
        "no-such-proposal",
        what,
        remedy,
    )
}

/// Puts a proposal aside; where it lies then.
///
/// # Errors
/// There is none of that name; the disk refuses.
pub fn put_aside(folder: &Folder, name: &str) -> Result<String, Stop> {
    match folder.drop_proposal(plain(name)) {
        Ok(path) => Ok(path.display().to_string()),
        Err(Fault::Missing { .. }) => Err(not_there(folder, name).into()),
        Err(fault) => Err(of_records(&format!("proposal {name}"), &fault, None)),
    }
}
