//! How the files that a page was made of stand on the disk: a word a file, another one once the file has changed.
//!
//! A page carries the words from before its files were read, and asks for them again while it is looked at.

use std::fs::metadata;
use std::os::unix::fs::MetadataExt as _;
use std::path::Path;

use records::CarFolder;
use sha2::{Digest as _, Sha256};

use super::address::path;
use super::asking::Asking;
use super::desk::Desk;
use crate::shell::frame::Stands;
use crate::web::pairing::hex;

/// Of a car: its sheet, with that of the car beside it, and its logbook.
pub(crate) fn of_car(desk: &Desk, car: &str, asking: &Asking) -> Stands {
    let cars = desk.cars().ok();
    let named = |name: &str| cars.as_ref()?.named(name).ok();
    let sheet_of = |car: Option<CarFolder>| car.map_or_else(gone, |car| file(car.sheet().path()));
    let found = named(car);
    let logbook = found.as_ref().map_or_else(gone, |car| file(&car.logbook()));
    let mut sheets = sheet_of(found);
    let mut address = path(car, "stands");
    if let Some(proposal) = asking.get("proposal") {
        let kept = named(car).and_then(|car| car.proposal(proposal).ok());
        sheets.push_str(&kept.map_or_else(gone, |kept| file(kept.path())));
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

/// Of all cars.
pub(crate) fn of_cars(desk: &Desk) -> Stands {
    let mut all = String::new();
    if let Ok(listing) = desk.cars().and_then(|cars| {
        cars.list()
            .map_err(|fault| questions::of_records(&desk.folder.display().to_string(), &fault, None))
    }) {
        for car in &listing.found {
            all.push_str(car.name());
            all.push_str(&file(car.sheet().path()));
            all.push_str(&file(&car.logbook()));
        }
        for left in &listing.left_out {
            all.push_str(&left.path.display().to_string());
        }
    }
    Stands {
        word: short(all.as_bytes()),
        address: "/stands".to_owned(),
    }
}

/// A file that is saved anew is another file, or has another time or length. It is looked at, not opened.
fn file(path: &Path) -> String {
    metadata(path).map_or_else(
        |_| gone(),
        |found| {
            let at = (found.mtime(), found.mtime_nsec(), found.len(), found.ino());
            short(format!("{at:?}").as_bytes())
        },
    )
}

fn gone() -> String {
    "none".to_owned()
}

fn short(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes)[..6])
}
