//! `--svg FILE`: the picture that belongs to a verb's answer.

use std::path::Path;

use charts::{Look, Picture};
use questions::Opened;
use records::{Mark, Output};
use wording::Units;

use crate::ending::Stop;
use crate::voice;

/// What marks a picture as one that this program drew, and may draw anew.
const DRAWN: &str = "<!-- drawn by rearline -->";

/// Draws a picture and writes it, in the place of an older one that this program drew.
pub(crate) fn write(
    path: &Path,
    opened: &Opened,
    units: &Units,
    draw: impl FnOnce(&Look<'_>) -> Picture,
) -> Result<(), Stop> {
    let state = questions::state_in_words(opened, units);
    let look = Look {
        car: &opened.car().name,
        state: &state,
        units: *units,
        ..Look::default()
    };
    write_drawn(path, &draw(&look))
}

/// Writes a picture, in the place of an older one that this program drew.
pub(crate) fn write_drawn(path: &Path, drawn: &Picture) -> Result<(), Stop> {
    let svg = marked(&drawn.svg);
    if voice::is_standard_output(path) {
        return voice::straight_out(svg.as_bytes());
    }
    write_files(&[Output {
        path: path.to_owned(),
        bytes: svg.into_bytes(),
        mark: Mark::Comment(DRAWN),
    }])
}

/// Writes files that the program makes anew each time; what somebody else wrote is refused, and then none is written.
pub(crate) fn write_files(outputs: &[Output]) -> Result<(), Stop> {
    let subject = |fault: &records::Fault| match (outputs, fault) {
        (_, records::Fault::NotOurs { path }) => path.display().to_string(),
        ([first, ..], _) => first.path.display().to_string(),
        ([], _) => String::new(),
    };
    records::write(outputs).map_err(|fault| questions::of_records(&subject(&fault), &fault, None).into())
}

/// The mark stands behind the root's tag.
fn marked(svg: &str) -> String {
    match svg.split_once('>') {
        Some((root, rest)) => format!("{root}>{DRAWN}{rest}"),
        None => format!("{svg}{DRAWN}"),
    }
}
