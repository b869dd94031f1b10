//! How the files that a page was made of stand on the disk: a word a file, another one once the file has changed.
//!
//! A page carries the words from before its files were read, and asks for them again while it is looked at.

use records::CarFolder;
use sha2::{Digest as _, Sha256};

use super::address::path;
use super::asking::Asking;
use super::desk::{Desk, Listed};
use crate::shell::frame::Stands;
use crate::web::pairing::hex;

/// Of a car: its sheet, with that of the car beside it, and its logbook.
pub(crate) fn of_car(desk: &Desk, car: &str, asking: &Asking) -> Stands {
    let cars = desk.cars().ok();
    let named = |name: &str| cars.as_ref()?.named(name).ok();
    let sheet_of = |car: Option<CarFolder>| car.map_or_else(gone, |car| file(&car.sheet().lies()));
    let found = named(car);
    let logbook = found.as_ref().map_or_else(gone, |car| file(&car.book_lies()));
    let mut sheets = sheet_of(found);
    let mut address = path(car, "stands");
    if let Some(proposal) = asking.get("proposal") {
        let kept = named(car).and_then(|car| car.proposal(proposal).ok());
        sheets.push_str(&kept.map_or_else(gone, |kept| file(&kept.lies())));
        address.push_str(&Asking::default().and("proposal", proposal).query());
    }
    if let Some(other) = asking.get("against") {
        sheets.push_str(&sheet_of(named(other)));
        let mark = if address.contains('?') { "&" } else { "?" };
        let said = Asking::default().and("against", other).query();
        address.push_str(&said.replacen('?', mark, 1));
    }
    Stands {
        word: format!("{} {logbook}", short(sheets.as_bytes())),
        address,
    }
}

/// What is not there.
pub(crate) const GONE: &str = "none";

/// Of a list: which cars there are, and the files of those that are shown, named by their keys.
pub(crate) fn of_the_list(listed: &Listed, shown: &[(&CarFolder, &str)]) -> Stands {
    let mut all = String::new();
    for (_, key) in &listed.cars {
        all.push_str(key);
    }
    for left in &listed.left_out {
        all.push_str(&left.path.display().to_string());
    }
    // Whatever the order in which they are shown.
    let mut shown = shown.to_vec();
    shown.sort_by_key(|(_, key)| *key);
    for (car, _) in &shown {
        all.push_str(&car.sheet().lies());
        all.push_str(&car.book_lies());
    }
    let keys: Vec<&str> = shown.iter().map(|(_, key)| *key).collect();
    Stands {
        word: short(all.as_bytes()),
        address: format!("/stands?cars={}", keys.join(".")),
    }
}

/// A file in a word: one that is saved anew is another file, or has another time or length. It is looked at, not opened.
fn file(lies: &str) -> String {
    if lies == GONE {
        gone()
    } else {
        short(lies.as_bytes())
    }
}

fn gone() -> String {
    GONE.to_owned()
}

fn short(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes)[..6])
}
