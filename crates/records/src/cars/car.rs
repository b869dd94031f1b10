//! One car: where its sheet, its logbook and its other files lie.

use std::fs;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use sha2::{Digest as _, Sha256};

use super::{LeftOut, Listing, SHEET};
use crate::name::{self, NameFlaw};
use crate::save::{Beside, Target};
use crate::{Digest, Fault, TextFile, read, within};

/// How many files of one name a shelf holds, told apart by a number.
const MOST_ALIKE: u32 = 999;

/// A folder of a car whose files are named by people.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Shelf {
    /// `stages/*.toml`: stop lists.
    Stages,
    /// `logs/*.csv`: what loggers wrote, as it came.
    Logs,
    /// `proposals/*.toml`: keys of the sheet that would be other.
    Proposals,
}

impl Shelf {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::Stages, Self::Logs, Self::Proposals];

    /// The folder's name.
    pub fn folder(self) -> &'static str {
        match self {
            Self::Stages => "stages",
            Self::Logs => "logs",
            Self::Proposals => "proposals",
        }
    }

    /// The ending that its files have, in any case.
    pub fn extension(self) -> &'static str {
        match self {
            Self::Stages | Self::Proposals => "toml",
            Self::Logs => "csv",
        }
    }
}

/// A car: a sheet, and the folder that the sheet is in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CarFolder {
    name: String,
    folder: PathBuf,
    sheet: TextFile,
}

impl CarFolder {
    pub(super) fn in_folder(name: String, folder: PathBuf) -> Self {
        let sheet = TextFile::at(folder.join(SHEET));
        Self { name, folder, sheet }
    }

    /// The car whose sheet is at `path`; for a folder, the `car.toml` in it. Links are not followed to find its
    /// folder: the logbook lies beside the sheet that was named.
    ///
    /// # Errors
    /// Nothing is there, a link leads nowhere, or it is not a file.
    pub fn at(path: &Path) -> Result<Self, Fault> {
        let there = fs::metadata(path).map_err(|source| read::missing_or(path, source))?;
        let path = if there.is_dir() {
            path.join(SHEET)
        } else {
            path.to_path_buf()
        };
        let sheet = fs::metadata(&path).map_err(|source| read::missing_or(&path, source))?;
        if !sheet.is_file() {
            return Err(Fault::NotAFile { path });
        }
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_path_buf(),
            _ => PathBuf::from("."),
        };
        // A car's usual sheet has the folder's name, another sheet its own.
        let named_by = if path.file_name().is_some_and(|name| name == SHEET) {
            fs::canonicalize(&folder)
                .ok()
                .and_then(|real| real.file_name().map(ToOwned::to_owned))
        } else {
            path.file_stem().map(ToOwned::to_owned)
        };
        let name = named_by.map_or_else(
            || "car".to_owned(),
            |name| name::composed(&name.to_string_lossy()),
        );
        Ok(Self {
            name,
            folder,
            sheet: TextFile::at(path),
        })
    }

    /// What the car is called: its folder's name, composed (NFC).
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The folder that everything of the car lies in.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The sheet.
    pub fn sheet(&self) -> &TextFile {
        &self.sheet
    }

    /// Where the logbook is, or will be.
    pub fn logbook(&self) -> PathBuf {
        self.folder.join("logbook.db")
    }

    /// How the logbook lies on the disk, in a word: another one once it was written to. It is looked at, not opened.
    pub fn book_lies(&self) -> String {
        read::lies(&self.logbook())
    }

    /// Where the last printed build book is, or will be.
    pub fn book(&self) -> PathBuf {
        self.folder.join("book.pdf")
    }

    /// `logs/columns.toml`, which need not be there.
    ///
    /// # Errors
    /// A link in its place leads out of the car's folder, or nowhere.
    pub fn columns(&self) -> Result<TextFile, Fault> {
        let path = self.folder.join(Shelf::Logs.folder()).join("columns.toml");
        within::stays(&self.folder, &path)?;
        Ok(TextFile::at(path))
    }

    /// The stage of that name, with or without `.toml`, which need not be there.
    ///
    /// # Errors
    /// As [`on_shelf`](Self::on_shelf).
    pub fn stage(&self, given: &str) -> Result<TextFile, Fault> {
        self.text_on(Shelf::Stages, given)
    }

    /// The proposal of that name, with or without `.toml`, which need not be there.
    ///
    /// # Errors
    /// As [`on_shelf`](Self::on_shelf).
    pub fn proposal(&self, given: &str) -> Result<TextFile, Fault> {
        self.text_on(Shelf::Proposals, given)
    }

    fn text_on(&self, shelf: Shelf, given: &str) -> Result<TextFile, Fault> {
        let ending = format!(".{}", shelf.extension());
        let whole = if given.to_lowercase().ends_with(&ending) {
            given.to_owned()
        } else {
            format!("{given}{ending}")
        };
        self.on_shelf(shelf, &whole).map(TextFile::at)
    }

    /// Puts a proposal aside, into `proposals/dropped`, under a name that is free there: nothing is deleted. Gives the path
    /// that it lies at then.
    ///
    /// # Errors
    /// There is no such proposal; a link is in the way; the disk refuses.
    pub fn drop_proposal(&self, given: &str) -> Result<PathBuf, Fault> {
        let path = self.proposal(given)?.path().to_path_buf();
        let there = fs::symlink_metadata(&path).map_err(|source| read::missing_or(&path, source))?;
        if !there.is_file() {
            return Err(Fault::NotAFile { path });
        }
        let shelf = self.folder.join(Shelf::Proposals.folder());
        let aside = shelf.join("dropped");
        within::stays(&self.folder, &aside)?;
        match fs::create_dir(&aside) {
            Err(source) if source.kind() != ErrorKind::AlreadyExists => {
                return Err(Fault::io("make", &aside, source));
            }
            _ => {}
        }
        let (stem, ending) = (
            path.file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned(),
            Shelf::Proposals.extension(),
        );
        crate::save::set_aside(&path, &aside, &stem, ending)
    }

    /// The path of the file called `given` on a shelf, whoever gives the name. The file need not be there.
    ///
    /// If a file is there whose name differs by case only, that one is meant.
    ///
    /// # Errors
    /// [`Fault::Name`] if `given` is not one plain file name with the shelf's ending; [`Fault::LeadsOut`] or
    /// [`Fault::DanglingLink`] if a link is in the way.
    pub fn on_shelf(&self, shelf: Shelf, given: &str) -> Result<PathBuf, Fault> {
        within::path(&self.folder, shelf.folder(), given, shelf.extension())
    }

    /// A name for a shelf that comes as near to `given` as may be: what a device calls its file need not be one here.
    #[must_use]
    pub fn fitting_name(shelf: Shelf, given: &str) -> String {
        name::fitting(given, shelf.extension(), shelf.folder())
    }

    /// The names of what is on a shelf, in order. Without the shelf there is nothing on it. Hidden files and those
    /// with another ending are no part of it.
    ///
    /// # Errors
    /// The shelf cannot be read, or leads out of the car's folder.
    pub fn shelf(&self, shelf: Shelf) -> Result<Listing<String>, Fault> {
        let mut listing = Listing {
            found: Vec::new(),
            left_out: Vec::new(),
        };
        let folder = self.folder.join(shelf.folder());
        within::stays(&self.folder, &folder)?;
        let fault = |source| Fault::io("read", &folder, source);
        let entries = match fs::read_dir(&folder) {
            Err(source) if source.kind() == ErrorKind::NotFound => return Ok(listing),
            entries => entries.map_err(fault)?,
        };
        for entry in entries {
            let path = entry.map_err(fault)?.path();
            let ending = path
                .extension()
                .is_some_and(|end| end.eq_ignore_ascii_case(shelf.extension()));
            let Some(on_disk) = path.file_name().filter(|_| ending) else {
                continue;
            };
            if on_disk.as_encoded_bytes().starts_with(b".") {
                continue;
            }
            let checked = match on_disk.to_str() {
                Some(name) => self.file_on_shelf(shelf, name).map(|()| name::composed(name)),
                None => Err(Fault::name(&on_disk.to_string_lossy(), NameFlaw::NotText)),
            };
            match checked {
                Ok(name) => listing.found.push(name),
                Err(why) => listing.left_out.push(LeftOut { path, why }),
            }
        }
        listing
            .found
            .sort_by_cached_key(|name| (name::folded(name), name.clone()));
        listing.left_out.sort_by(|a, b| a.path.cmp(&b.path));
        Ok(listing)
    }

    fn file_on_shelf(&self, shelf: Shelf, name: &str) -> Result<(), Fault> {
        let path = self.on_shelf(shelf, name)?;
        if fs::metadata(&path)
            .map_err(|source| read::missing_or(&path, source))?
            .is_file()
        {
            Ok(())
        } else {
            Err(Fault::NotAFile { path })
        }
    }

    /// Keeps a new file on a shelf, read from `from` until it ends and never held in memory as a whole; where it is kept. The
    /// same content again is kept once. Loggers begin to count anew: another content under a name that is taken gets a
    /// number put to it.
    ///
    /// # Errors
    /// The name is refused; more than `cap_bytes` come; no number up to 999 is free; `from` fails; the disk is
    /// full or may not be written. Nothing is left behind then.
    pub fn keep(
        &self,
        shelf: Shelf,
        given: &str,
        from: &mut dyn Read,
        cap_bytes: u64,
    ) -> Result<PathBuf, Fault> {
        let path = self.on_shelf(shelf, given)?;
        self.make_shelf(shelf)?;
        let target = Target::of(&path)?;
        let _lock = target.lock()?;
        let mut beside = Beside::new(&target, None)?;
        let coming = copy_digested(from, &path, cap_bytes, |bytes| beside.write(bytes))?;
        for number in 1..=MOST_ALIKE {
            let path = if number == 1 {
                path.clone()
            } else {
                self.on_shelf(shelf, &name::numbered(given, number))?
            };
            let place = Target::of(&path)?;
            if place.there()?.is_none() {
                beside.become_new_at(&place)?;
                return Ok(path);
            }
            let mut there = read::open(place.real())?;
            if copy_digested(&mut there, &path, u64::MAX, |_| Ok(()))? == coming {
                return Ok(path);
            }
        }
        Err(Fault::AlreadyThere { path })
    }

    /// Makes the folder of a shelf where it is not there yet. Saving a stage or the column map needs it.
    ///
    /// # Errors
    /// It cannot be made, or something else is in its place.
    pub fn make_shelf(&self, shelf: Shelf) -> Result<(), Fault> {
        let folder = self.folder.join(shelf.folder());
        within::stays(&self.folder, &folder)?;
        match fs::create_dir(&folder) {
            Ok(()) => crate::save::flush_folder(&self.folder).map_err(|source| Fault::NotConfirmed {
                path: folder,
                source: source.into(),
            }),
            Err(_) if folder.is_dir() => Ok(()),
            Err(source) if source.kind() == ErrorKind::AlreadyExists => {
                Err(Fault::NotAFolder { path: folder })
            }
            Err(source) => Err(Fault::io("make", &folder, source)),
        }
    }
}

/// Passes everything of `from` on, piece by piece, and digests it.
fn copy_digested(
    from: &mut dyn Read,
    path: &Path,
    cap_bytes: u64,
    mut to: impl FnMut(&[u8]) -> Result<(), Fault>,
) -> Result<Digest, Fault> {
    let mut piece = vec![0; 64 * 1024];
    let mut hasher = Sha256::new();
    let mut so_far = 0_u64;
    loop {
        let length = match from.read(&mut piece) {
            Ok(0) => return Ok(Digest::from_bytes(hasher.finalize().into())),
            Ok(length) => length,
            Err(source) if source.kind() == ErrorKind::Interrupted => continue,
            Err(source) => {
                return Err(Fault::Disk {
                    path: path.to_path_buf(),
                    doing: "take in",
                    source: source.into(),
                });
            }
        };
        so_far = u64::try_from(length).map_or(u64::MAX, |length| so_far.saturating_add(length));
        if so_far > cap_bytes {
            return Err(Fault::TooLarge {
                path: path.to_path_buf(),
                cap_bytes,
            });
        }
        let bytes = piece.get(..length).unwrap_or_default();
        hasher.update(bytes);
        to(bytes)?;
    }
}
