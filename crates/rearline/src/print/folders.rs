//! What is said once a car's folder was copied, renamed or put away.

use std::path::Path;

use records::{CarFolder, Copied};

use super::ink;
use super::page::Page;

/// Where the copy is, and what stayed behind.
pub(crate) fn copied(old: &str, copied: &Copied) -> String {
    let mut page = Page::default();
    page.paragraph(
        ink::heavy,
        &format!("Copied {old} to {}.", copied.car.folder().display()),
    );
    page.plain("Its logbook begins anew, with an entry that names the old one.");
    if !copied.left_behind.is_empty() {
        page.plain(&format!("Not taken along: {}.", copied.left_behind.join(", ")));
    }
    page.into_text()
}

/// What it is called now.
pub(crate) fn renamed(old: &str, car: &CarFolder) -> String {
    let mut page = Page::default();
    page.paragraph(
        ink::heavy,
        &format!("{old} is {} now, in {}.", car.name(), car.folder().display()),
    );
    page.into_text()
}

/// Where it is kept.
pub(crate) fn put_away(car: &str, place: &Path) -> String {
    let mut page = Page::default();
    page.paragraph(ink::heavy, &format!("Put {car} away: {}.", place.display()));
    page.plain("Nothing was deleted. Moved back beside the other cars, it is in the list again.");
    page.into_text()
}
