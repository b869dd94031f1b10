//! `--svg FILE`: the picture that belongs to a verb's answer.

use std::path::Path;

use charts::{Look, Picture};
use questions::Opened;
use wording::Units;

use crate::ending::Stop;

/// Draws a picture and writes it in the place of an older one.
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
        units: questions::picture::units(units),
        ..Look::default()
    };
    let svg = draw(&look).svg;
    records::replace(path, svg.as_bytes())
        .map_err(|fault| questions::of_records(&path.display().to_string(), &fault, None).into())
}
