//! Sheets as they were read: whoever drags a handle asks the same text again and again. The bytes are read each time, and
//! what they were read as is kept under their digest, so that nothing old is ever shown.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use engine::car::{Knee, KnobScale};
use questions::{Sheet, Stop};
use records::{CarFolder, Digest};

/// The most that are kept; the one that was not asked for longest goes.
const MOST: usize = 16;

/// Sheets as they were read.
#[derive(Default)]
pub(crate) struct Sheets(Mutex<Vec<Kept>>);

struct Kept {
    path: PathBuf,
    digest: Digest,
    read: Arc<sheet::ReadSheet>,
    /// Whether its valve is set in turns, once that was asked for.
    turns: Option<bool>,
}

impl Sheets {
    /// The sheet of a car as it lies on the disk now.
    pub(crate) fn of(&self, car: CarFolder) -> Result<Sheet, Stop> {
        let mut kept = false;
        let found = Sheet::read_unless(car, |path, digest| {
            let mut sheets = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            let place = sheets
                .iter()
                .position(|sheet| sheet.path == path && sheet.digest == *digest)?;
            let sheet = sheets.remove(place);
            let read = Arc::clone(&sheet.read);
            sheets.push(sheet);
            drop(sheets);
            kept = true;
            Some(sheet::ReadSheet::clone(&read))
        })?;
        if !kept {
            let path = found.folder.sheet().path().to_path_buf();
            let mut sheets = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            sheets.retain(|sheet| sheet.path != path);
            let many = sheets.len();
            sheets.drain(..(many + 1).saturating_sub(MOST));
            sheets.push(Kept {
                path,
                digest: found.digest,
                read: Arc::new(found.read.clone()),
                turns: None,
            });
        }
        Ok(found)
    }

    /// Whether the valve of a sheet is set in turns.
    pub(crate) fn counts_turns(&self, sheet: &Sheet) -> bool {
        let of = |kept: &Kept| kept.digest == sheet.digest;
        let kept = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(turns) = kept().iter().find(|kept| of(kept)).and_then(|kept| kept.turns) {
            return turns;
        }
        let turns = counts_turns(sheet);
        if let Some(kept) = kept().iter_mut().find(|kept| of(kept)) {
            kept.turns = Some(turns);
        }
        turns
    }
}

fn counts_turns(sheet: &Sheet) -> bool {
    let scale =
        |assembled: &engine::car::Assembled| match assembled.car.bias_valve.as_ref().map(|valve| &valve.knee)
        {
            Some(Knee::Knob { scale, .. }) => matches!(scale, KnobScale::Turns(_)),
            _ => false,
        };
    sheet.read.assemble().is_ok_and(|assembled| scale(&assembled))
}
