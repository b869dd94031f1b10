//! What `new` says when it has written a sheet.

use records::{Car, CarName};

use super::ink;
use super::page::Page;

/// Where the sheet is, and what comes next.
pub(crate) fn page(car: &Car, name: &CarName) -> String {
    let mut page = Page::default();
    let path = car.sheet().path().display();
    page.paragraph(ink::heavy, &format!("Wrote {path}: a sheet to fill in."));
    page.gap();
    page.plain(
        "Open it in any text editor. What stands between \"…\" is yours to find out: the lines above it say with which tool, \
         and how.",
    );
    page.gap();
    page.plain("What you do not know yet may say \"guess\". Then:");
    page.line(&format!(
        "  rearline check-sheet {}",
        wording::quoted(name.as_str())
    ));
    page.into_text()
}
