//! The head of a page: which car, in which state.

use questions::Opened;
use wording::Units;

use super::ink;
use super::marks;
use super::page::Page;

/// Car and state.
pub(crate) fn onto(page: &mut Page, opened: &Opened, units: &Units) {
    page.paragraph(ink::heavy, &marks::shown(&opened.car().name));
    page.paragraph(ink::aside, &questions::state_in_words(opened, units));
    measured(page, opened, units);
    replaced(page, opened);
}

/// Readings that stand in the place of the sheet's figures.
fn measured(page: &mut Page, opened: &Opened, units: &Units) {
    for said in questions::measured_in_words(opened, units) {
        page.paragraph(ink::aside, &said);
    }
}

fn replaced(page: &mut Page, opened: &Opened) {
    if opened.overrides.is_empty() {
        return;
    }
    let replaced: Vec<String> = opened
        .overrides
        .iter()
        .map(|(key, value)| format!("{key} = {value}"))
        .collect();
    page.paragraph(
        ink::aside,
        &format!("other than on the sheet: {}", replaced.join("; ")),
    );
}
