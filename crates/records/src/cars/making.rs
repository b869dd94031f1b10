//! A car in the making: a hidden folder that becomes the car's by one rename.

use std::fs::{self, File};
use std::io::{ErrorKind, Write as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use super::{CarFolder, CarName, Cars};
use crate::Fault;
use crate::save::{Lock, flush_folder};

const BEGINNING: &str = ".making-";

/// The hidden folder, and the lock that keeps two makers apart. Dropped before it is finished, the folder goes.
pub(super) struct Making<'c> {
    cars: &'c Cars,
    folder: PathBuf,
    finished: bool,
    _lock: Lock,
}

impl<'c> Making<'c> {
    /// Takes the lock, tidies what a killed maker left, and makes the hidden folder.
    pub(super) fn begin(cars: &'c Cars) -> Result<Self, Fault> {
        static NEXT: AtomicU64 = AtomicU64::new(0);
        let lock = Lock::take(&cars.folder.join(".cars.lock"), &cars.folder)?;
        tidy(&cars.folder);
        loop {
            let next = NEXT.fetch_add(1, Ordering::Relaxed);
            let folder = cars
                .folder
                .join(format!("{BEGINNING}{}-{next}", std::process::id()));
            match fs::create_dir(&folder) {
                Ok(()) => {
                    return Ok(Self {
                        cars,
                        folder,
                        finished: false,
                        _lock: lock,
                    });
                }
                Err(source) if source.kind() == ErrorKind::AlreadyExists => {}
                Err(source) => return Err(Fault::io("make a car in", &cars.folder, source)),
            }
        }
    }

    pub(super) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Writes a new file, and flushes it.
    pub(super) fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Fault> {
        let path = self.folder.join(name);
        let write = || {
            let mut file = File::create_new(&path)?;
            file.write_all(bytes)?;
            file.sync_all()
        };
        write().map_err(|source| Fault::io("write", &path, source))
    }

    /// Lets the car appear.
    pub(super) fn finish(mut self, name: &CarName) -> Result<CarFolder, Fault> {
        let place = self.cars.folder.join(name.as_str());
        let fault = |source| Fault::io("make", &place, source);
        flush_folder(&self.folder).map_err(fault)?;
        fs::rename(&self.folder, &place).map_err(fault)?;
        self.finished = true;
        self.cars.flush(&place)?;
        Ok(CarFolder::in_folder(name.to_string(), place))
    }
}

impl Drop for Making<'_> {
    fn drop(&mut self) {
        if !self.finished {
            let _ = fs::remove_dir_all(&self.folder);
        }
    }
}

/// Only called with the lock held: none of them is in use.
fn tidy(cars: &Path) {
    let Ok(entries) = fs::read_dir(cars) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let numbers = name
            .to_str()
            .and_then(|name| name.strip_prefix(BEGINNING))
            .and_then(|n| n.split_once('-'));
        let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        if numbers.is_some_and(|(pid, next)| digits(pid) && digits(next))
            && entry.file_type().is_ok_and(|kind| kind.is_dir())
        {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}
