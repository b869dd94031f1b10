//! The cars folder: which cars there are, which one is meant, a new one, a copy.

mod car;
mod copy;
mod making;
mod moving;

use core::fmt;
use core::str::FromStr;
use nearest::nearest_one;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

pub use car::{CarFolder, Shelf};
pub use copy::Copied;
use making::Making;

use crate::name::{self, NameFlaw};
use crate::save::flush_folder;
use crate::{Fault, TextFile, read};

/// The sheet's name in a car's folder.
const SHEET: &str = "car.toml";

/// A name that a car may have: composed (Unicode NFC), 1 to [`LONGEST_NAME`](crate::LONGEST_NAME) characters, and the
/// same ordinary folder name on every common system.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CarName(String);

impl CarName {
    /// Checks a name that someone gave.
    ///
    /// # Errors
    /// [`Fault::Name`], with what is wrong.
    pub fn new(given: &str) -> Result<Self, Fault> {
        name::car(given)
            .map(Self)
            .map_err(|flaw| Fault::name(given, flaw))
    }

    /// The name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for CarName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl FromStr for CarName {
    type Err = Fault;

    fn from_str(given: &str) -> Result<Self, Fault> {
        Self::new(given)
    }
}

/// What was found, in order, and what was passed over with the reason.
#[derive(Debug)]
pub struct Listing<T> {
    /// What was found.
    pub found: Vec<T>,
    /// What was there but cannot be used as it is.
    pub left_out: Vec<LeftOut>,
}

/// Something that was passed over.
#[derive(Debug)]
pub struct LeftOut {
    /// What was passed over.
    pub path: PathBuf,
    /// Why.
    pub why: Fault,
}

/// A folder that holds cars. Folders without a `car.toml`, and hidden ones, are no cars.
#[derive(Clone, Debug)]
pub struct Cars {
    folder: PathBuf,
}

impl Cars {
    /// Opens the folder, which must be there.
    ///
    /// # Errors
    /// It is not there, or not a folder.
    pub fn open(folder: impl Into<PathBuf>) -> Result<Self, Fault> {
        let folder = folder.into();
        let there = fs::metadata(&folder).map_err(|source| read::missing_or(&folder, source))?;
        if !there.is_dir() {
            return Err(Fault::NotAFolder { path: folder });
        }
        Ok(Self { folder })
    }

    /// Opens the folder, and makes it, and those above it, where it is not there yet.
    ///
    /// # Errors
    /// It cannot be made, or something else is in its place.
    pub fn make(folder: impl Into<PathBuf>) -> Result<Self, Fault> {
        let folder = folder.into();
        let made: Vec<&Path> = folder
            .ancestors()
            .take_while(|part| fs::symlink_metadata(part).is_err())
            .collect();
        match fs::create_dir_all(&folder) {
            Err(_) if fs::metadata(&folder).is_ok_and(|there| !there.is_dir()) => {
                return Err(Fault::NotAFolder { path: folder });
            }
            Err(source) => return Err(Fault::io("make", &folder, source)),
            Ok(()) => {}
        }
        // What will be kept in it must not be lost with the folder itself.
        for part in made.iter().filter_map(|part| part.parent()) {
            let above = if part.as_os_str().is_empty() {
                Path::new(".")
            } else {
                part
            };
            flush_folder(above).map_err(|source| Fault::io("make", &folder, source))?;
        }
        Ok(Self { folder })
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// `preferences.toml`: the person's own choices, which need not be there.
    pub fn preferences(&self) -> TextFile {
        TextFile::at(self.folder.join("preferences.toml"))
    }

    /// Every car, in the order of the names. Folders with a sheet but with a name that a car cannot have are
    /// passed over with the reason; they can still be reached by the path of their sheet.
    ///
    /// # Errors
    /// The folder cannot be read.
    pub fn list(&self) -> Result<Listing<CarFolder>, Fault> {
        let fault = |source| Fault::io("read", &self.folder, source);
        let mut found = Vec::new();
        let mut left_out = Vec::new();
        for entry in fs::read_dir(&self.folder).map_err(fault)? {
            let path = entry.map_err(fault)?.path();
            let Some(on_disk) = path.file_name() else { continue };
            let hidden = on_disk.as_encoded_bytes().starts_with(b".");
            // A link in the place of the sheet counts, wherever it leads: reading it will say.
            if hidden || fs::symlink_metadata(path.join(SHEET)).is_err() {
                continue;
            }
            let checked = match on_disk.to_str() {
                Some(name) => CarName::new(name),
                None => Err(Fault::name(&on_disk.to_string_lossy(), NameFlaw::NotText)),
            };
            match checked {
                Ok(name) => found.push(CarFolder::in_folder(name.0, path)),
                Err(why) => left_out.push(LeftOut { path, why }),
            }
        }
        found.sort_by_cached_key(|car| (name::folded(car.name()), car.folder().to_path_buf()));
        left_out.sort_by(|a, b| a.path.cmp(&b.path));
        Ok(Listing { found, left_out })
    }

    /// The car of that name, whatever the case of its letters. The argument is only ever compared with the names that
    /// are there, so that it may come from a request.
    ///
    /// # Errors
    /// No car has the name: the nearest one is offered. Several have it.
    pub fn named(&self, given: &str) -> Result<CarFolder, Fault> {
        if let Some(car) = self.exactly(given) {
            return Ok(car);
        }
        let cars = self.list()?.found;
        let exact = name::composed(given);
        let of = |same: &dyn Fn(&str) -> bool| -> Vec<&CarFolder> {
            cars.iter().filter(|car| same(car.name())).collect()
        };
        let mut meant = of(&|name| name == exact);
        if meant.is_empty() {
            let folded = name::folded(given);
            meant = of(&|name| name::folded(name) == folded);
        }
        match meant.as_slice() {
            [car] => Ok((*car).clone()),
            [] => Err(Fault::NoSuchCar {
                given: crate::fault::cut(given),
                nearest: nearest_one(given, cars.iter().map(CarFolder::name)).map(str::to_owned),
                cars: self.folder.clone(),
            }),
            several => Err(Fault::Ambiguous {
                given: exact.clone(),
                found: several.iter().map(|car| car.folder().to_path_buf()).collect(),
            }),
        }
    }

    /// The car whose folder has exactly that name, found without a look at the others; `None` where a list of them has to
    /// tell. A name outside ASCII may be stored in two ways; and where the file system takes capitals for small letters,
    /// only the list knows how the name is written.
    fn exactly(&self, given: &str) -> Option<CarFolder> {
        let name = CarName::new(given).ok().filter(|name| name.as_str() == given)?;
        let folder = self.folder.join(given);
        if !given.is_ascii() || fs::symlink_metadata(folder.join(SHEET)).is_err() {
            return None;
        }
        let other: String = given
            .chars()
            .map(|letter| {
                if letter.is_ascii_lowercase() {
                    letter.to_ascii_uppercase()
                } else {
                    letter.to_ascii_lowercase()
                }
            })
            .collect();
        let is_another = other == given || fs::symlink_metadata(self.folder.join(other)).is_err();
        is_another.then(|| CarFolder::in_folder(name.0, folder))
    }

    /// The car that an argument of the terminal means: the path of a sheet if it has a path separator or ends in
    /// `.toml`, otherwise the name of a car in `folder`, which then must be there. Never for what a request gives.
    ///
    /// # Errors
    /// As [`Cars::open`] and [`Cars::named`] for a name, as [`CarFolder::at`] for a path.
    pub fn find(folder: &Path, given: &OsStr) -> Result<CarFolder, Fault> {
        let text = given.to_string_lossy();
        if text.contains(std::path::is_separator) || text.to_lowercase().ends_with(".toml") {
            return CarFolder::at(Path::new(given));
        }
        Self::open(folder)?.named(&text)
    }

    /// Makes a car of a sheet's text. Its folder appears all at once: if this fails, or is killed, there is none.
    ///
    /// # Errors
    /// The name is taken, if only but for case; the folder cannot be written; the disk is full.
    pub fn add(&self, name: &CarName, sheet: &str) -> Result<CarFolder, Fault> {
        let making = Making::begin(self)?;
        self.free(name)?;
        making.write(SHEET, sheet.as_bytes())?;
        making.finish(name)
    }

    /// Refuses a name that something in the folder has already, if only but for case.
    ///
    /// # Errors
    /// The name is taken; the folder cannot be read.
    pub fn free(&self, name: &CarName) -> Result<(), Fault> {
        match self.taken(name)? {
            Some(there) => Err(Fault::NameTaken {
                given: name.to_string(),
                there,
            }),
            None => Ok(()),
        }
    }

    /// Whatever has that name in the folder, but for case: a car, a folder that is none, a file.
    fn taken(&self, name: &CarName) -> Result<Option<PathBuf>, Fault> {
        let fault = |source| Fault::io("read", &self.folder, source);
        let folded = name::folded(name.as_str());
        for entry in fs::read_dir(&self.folder).map_err(fault)? {
            let entry = entry.map_err(fault)?;
            if entry
                .file_name()
                .to_str()
                .is_some_and(|other| name::folded(other) == folded)
            {
                return Ok(Some(entry.path()));
            }
        }
        Ok(None)
    }

    fn flush(&self, path: &Path) -> Result<(), Fault> {
        flush_folder(&self.folder).map_err(|source| Fault::NotConfirmed {
            path: path.to_path_buf(),
            source: source.into(),
        })
    }
}
