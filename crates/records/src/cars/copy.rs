//! A copy of a car: its files, and a logbook of its own that says where it came from.

use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::Path;

use super::making::Making;
use super::{CarFolder, CarName, Cars, SHEET, Shelf};
use crate::logbook::{self, Data, Logbook, Stamp};
use crate::save::flush_folder;
use crate::{Fault, LARGEST_SHEET, read, within};

/// A car that was made as a copy.
#[derive(Debug)]
pub struct Copied {
    /// The new car.
    pub car: CarFolder,
    /// What lies in the old car's folder and was not taken along, by name, in order: the printed book, and whatever
    /// this program does not know. The old logbook is not among it: it stays where it is by design.
    pub left_behind: Vec<String>,
}

impl Cars {
    /// Makes a car like `old` under another name: the sheet, the stages, the logger's files and their column map.
    ///
    /// The old logbook is not copied. The new one begins with an entry that names the old car, the hash of its newest
    /// entry, how many there were, and whether the old logbook verified at the time; `stamp` is that entry's. The new
    /// folder appears all at once: if this fails, or is killed, there is none.
    ///
    /// # Errors
    /// The name is taken; the sheet, or a file of the old car, cannot be read; the old logbook cannot be read at all;
    /// the folder cannot be written; the disk is full.
    pub fn copy(&self, old: &CarFolder, name: &CarName, stamp: &Stamp) -> Result<Copied, Fault> {
        let making = Making::begin(self)?;
        self.free(name)?;
        let sheet = old.sheet().read(LARGEST_SHEET)?;
        making.write(SHEET, sheet.text.as_bytes())?;
        for shelf in Shelf::ALL {
            copy_shelf(old, making.folder(), shelf)?;
        }
        begin_logbook(old, making.folder(), stamp)?;
        let left_behind = left_behind(old, making.folder())?;
        Ok(Copied {
            car: making.finish(name)?,
            left_behind,
        })
    }
}

fn copy_shelf(old: &CarFolder, new: &Path, shelf: Shelf) -> Result<(), Fault> {
    let mut paths = Vec::new();
    for name in old.shelf(shelf)?.found {
        paths.push(old.on_shelf(shelf, &name)?);
    }
    let columns = old.columns()?;
    if shelf == Shelf::Logs && columns.path().exists() {
        paths.push(columns.path().to_path_buf());
    }
    if paths.is_empty() {
        return Ok(());
    }
    let folder = new.join(shelf.folder());
    fs::create_dir(&folder).map_err(|source| Fault::io("make", &folder, source))?;
    for path in paths {
        let Some(name) = path.file_name() else { continue };
        let place = folder.join(name);
        let mut from = read::open(&path)?;
        let mut copy = || {
            let mut to = File::create_new(&place)?;
            io::copy(&mut from, &mut to)?;
            to.set_permissions(from.metadata()?.permissions())?;
            to.sync_all()
        };
        copy().map_err(|source| Fault::io("copy", &path, source))?;
    }
    flush_folder(&folder).map_err(|source| Fault::io("make", &folder, source))
}

fn begin_logbook(old: &CarFolder, new: &Path, stamp: &Stamp) -> Result<(), Fault> {
    let verdict = logbook::verify(&old.logbook(), logbook::WAIT, None)?;
    let data = serde_json::json!({
        "text": format!("copied from {}", old.name()),
        "from": old.name(),
        "head": verdict.head.map(|head| head.to_string()),
        "entries": verdict.entries,
        "verified": verdict.ok(),
    });
    let mut logbook = Logbook::open_or_create(&new.join("logbook.db"), logbook::WAIT)?;
    logbook.append_copied(stamp, Data::parse(&data.to_string())?)
}

/// What of the old folder has no counterpart in the new one.
fn left_behind(old: &CarFolder, new: &Path) -> Result<Vec<String>, Fault> {
    let fault = |source| Fault::io("read", old.folder(), source);
    let mut left = Vec::new();
    for entry in fs::read_dir(old.folder()).map_err(fault)? {
        let name = entry.map_err(fault)?.file_name();
        let bytes = name.as_encoded_bytes();
        let ours = bytes.starts_with(b".") || bytes.starts_with(b"logbook.db");
        let sheet = old.sheet().path().file_name().is_some_and(|sheet| sheet == name);
        if !ours && !sheet && fs::symlink_metadata(new.join(&name)).is_err() {
            left.push(name.to_string_lossy().into_owned());
        }
    }
    for shelf in Shelf::ALL {
        let folder = old.folder().join(shelf.folder());
        within::stays(old.folder(), &folder)?;
        let entries = match fs::read_dir(&folder) {
            Err(source) if source.kind() == ErrorKind::NotFound => continue,
            entries => entries.map_err(|source| Fault::io("read", &folder, source))?,
        };
        for entry in entries {
            let name = entry
                .map_err(|source| Fault::io("read", &folder, source))?
                .file_name();
            let hidden = name.as_encoded_bytes().starts_with(b".");
            if !hidden && fs::symlink_metadata(new.join(shelf.folder()).join(&name)).is_err() {
                left.push(format!("{}/{}", shelf.folder(), name.to_string_lossy()));
            }
        }
    }
    left.sort();
    Ok(left)
}
