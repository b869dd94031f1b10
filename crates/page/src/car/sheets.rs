//! Sheets as they were read: whoever drags a handle asks the same text again and again. The bytes are read each time, and
//! what they were read as is kept under their digest, so that nothing old is ever shown.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

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
            });
        }
        Ok(found)
    }
}
