//! A car under another name, and a car that is put away. Nothing is deleted: its folder moves as a whole.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::{CarFolder, CarName, Cars, SHEET};
use crate::logbook::{self, WAIT};
use crate::name;
use crate::save::{Lock, flush_folder};
use crate::{Fault, read};

/// Where cars are put away, beside the others.
const AWAY: &str = "put-away";

impl Cars {
    /// Gives a car of this folder another name. Its folder is renamed at once, logbook and all.
    ///
    /// # Errors
    /// The name is taken, if only but for case, by anything but the car itself; the folder cannot be renamed; somebody
    /// writes in its logbook for longer than [`WAIT`](crate::logbook::WAIT).
    pub fn rename(&self, car: &CarFolder, name: &CarName) -> Result<CarFolder, Fault> {
        let _lock = self.lock()?;
        self.holds(car)?;
        if name::folded(car.name()) != name::folded(name.as_str()) {
            self.free(name)?;
        }
        let place = self.folder.join(name.as_str());
        self.moved(car, &place)?;
        Ok(CarFolder::in_folder(name.to_string(), place))
    }

    /// Puts a car of this folder away, into a folder beside the others that holds no car of this one. It keeps its files
    /// and its logbook; moved back by hand, it is there again. Where a car of that name was put away before, a number is
    /// added.
    ///
    /// # Errors
    /// A car is called as that folder; the folder cannot be made or moved.
    pub fn put_away(&self, car: &CarFolder) -> Result<PathBuf, Fault> {
        let _lock = self.lock()?;
        self.holds(car)?;
        let away = self.folder.join(AWAY);
        if fs::symlink_metadata(away.join(SHEET)).is_ok() {
            return Err(Fault::NameTaken {
                given: AWAY.to_owned(),
                there: away,
            });
        }
        match fs::create_dir(&away) {
            Err(source) if source.kind() != ErrorKind::AlreadyExists => {
                return Err(Fault::io("make", &away, source));
            }
            Err(_) => {}
            Ok(()) => self.flush(&away)?,
        }
        let place = (1_u32..)
            .map(|number| match number {
                1 => away.join(car.name()),
                _ => away.join(format!("{} {number}", car.name())),
            })
            .find(|place| fs::symlink_metadata(place).is_err())
            .unwrap_or_else(|| away.join(car.name()));
        self.moved(car, &place)?;
        flush_folder(&away).map_err(|source| Fault::io("put away", &place, source))?;
        Ok(place)
    }

    fn lock(&self) -> Result<Lock, Fault> {
        Lock::take(&self.folder.join(".cars.lock"), &self.folder)
    }

    /// Refuses a car that lies elsewhere: reached by the path of its sheet, it is not this folder's to move.
    fn holds(&self, car: &CarFolder) -> Result<(), Fault> {
        let there =
            fs::symlink_metadata(car.folder()).map_err(|source| read::missing_or(car.folder(), source))?;
        if car.folder().parent() == Some(self.folder.as_path()) && there.is_dir() {
            return Ok(());
        }
        Err(Fault::NotAFolder {
            path: car.folder().to_path_buf(),
        })
    }

    fn moved(&self, car: &CarFolder, to: &Path) -> Result<(), Fault> {
        let _still = match logbook::held_still(&car.logbook(), WAIT) {
            Err(fault @ Fault::Busy { .. }) => return Err(fault),
            // In one that does not read nobody writes.
            held => held.ok().flatten(),
        };
        let from = car.folder();
        fs::rename(from, to).map_err(|source| Fault::io("move", from, source))?;
        self.flush(to)
    }
}
