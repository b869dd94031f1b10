//! The head of a page: which car, in which state.

use asked::{Opened, Units};
use engine::brake::Warmth;

use super::page::Page;
use super::{ink, words};

/// Car and state.
pub(crate) fn onto(page: &mut Page, opened: &Opened, units: &Units) {
    page.paragraph(ink::heavy, &opened.car().name);
    page.paragraph(ink::aside, &state(opened, units));
    replaced(page, opened);
}

/// The state in a few words.
pub(crate) fn state(opened: &Opened, units: &Units) -> String {
    let state = &opened.state;
    let mut said = vec![
        format!(
            "{}, grip\u{a0}{}",
            state.surface.name,
            words::ratio(state.surface.peak)
        ),
        if state.crew {
            "crew and load aboard"
        } else {
            "nobody aboard"
        }
        .to_owned(),
    ];
    if opened.car().load.tank.is_some() {
        said.push(format!("{} of fuel", words::fuel(state.laden.fuel, units)));
    }
    said.push(
        if state.warmth == Warmth::Cold {
            "brakes cold"
        } else {
            "brakes warm"
        }
        .to_owned(),
    );
    said.join("; ")
}

/// The car alone, where surfaces and loads are what the page is about.
pub(crate) fn car(page: &mut Page, opened: &Opened) {
    page.paragraph(ink::heavy, &opened.car().name);
    let mut said = vec![if opened.state.crew {
        "crew and load aboard"
    } else {
        "nobody aboard"
    }];
    said.push(if opened.state.warmth == Warmth::Cold {
        "brakes cold"
    } else {
        "brakes warm"
    });
    page.paragraph(ink::aside, &said.join("; "));
    replaced(page, opened);
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
