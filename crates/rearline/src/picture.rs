//! `--svg FILE`: the picture that belongs to a verb's answer.

use std::path::Path;

use asked::{Opened, Units, words};
use charts::{Look, Picture};

use crate::ending::Stop;

/// Draws a picture and writes it in the place of an older one.
pub(crate) fn write(
    path: &Path,
    opened: &Opened,
    units: &Units,
    draw: impl FnOnce(&Look<'_>) -> Picture,
) -> Result<(), Stop> {
    let state = words::state(opened, units);
    let look = Look {
        car: &opened.car().name,
        state: &state,
        units: (*units).into(),
        ..Look::default()
    };
    let svg = draw(&look).svg;
    records::replace(path, svg.as_bytes())
        .map_err(|fault| asked::of_records(&path.display().to_string(), &fault, None).into())
}
