//! `copy`, `rename`, `put-away`: a car's folder as a whole. Nothing is deleted.

use std::path::Path;

use clap::Args;
use records::{CarFolder, CarName, Cars};

use super::logbook::stamp_numbered;
use crate::ending::{Ending, Stop};
use crate::options::{FolderOption, help};
use crate::print;
use crate::voice::Voice;

/// A copy of a car, with a logbook of its own
///
/// Sheet, stages and logger's files under another name. The copy's logbook begins with an entry that names the old one.
#[derive(Args, Debug)]
#[command(after_long_help = help::COPY)]
pub(crate) struct Copy {
    /// The car
    #[arg(value_name = "CAR")]
    car: String,
    /// Name of the copy's folder
    #[arg(value_name = "NAME")]
    name: String,
    #[command(flatten)]
    folder: FolderOption,
}

/// Another name for a car
///
/// Its folder is renamed, logbook and all. A name that is taken is refused.
#[derive(Args, Debug)]
#[command(after_long_help = help::RENAME)]
pub(crate) struct Rename {
    /// The car
    #[arg(value_name = "CAR")]
    car: String,
    /// Its new name
    #[arg(value_name = "NAME")]
    name: String,
    #[command(flatten)]
    folder: FolderOption,
}

/// Puts a car away, out of the list
///
/// Its folder is kept whole in the folder put-away beside the other cars. Moved back by hand, it is in the list again.
#[derive(Args, Debug)]
#[command(after_long_help = help::PUT_AWAY)]
pub(crate) struct PutAway {
    /// The car
    #[arg(value_name = "CAR")]
    car: String,
    #[command(flatten)]
    folder: FolderOption,
}

fn refused(subject: &str) -> impl Fn(records::Fault) -> Stop {
    move |fault| questions::of_records(subject, &fault, None).into()
}

fn opened(folder: &Path, car: &str) -> Result<(Cars, CarFolder), Stop> {
    let cars = Cars::open(folder).map_err(refused(&folder.display().to_string()))?;
    let car = cars.named(car).map_err(refused(car))?;
    Ok((cars, car))
}

impl Copy {
    /// Copies it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let refused = refused(&self.name);
        let name = CarName::new(&self.name).map_err(&refused)?;
        let (cars, car) = opened(&self.folder.cars, &self.car)?;
        let stamp = stamp_numbered(0).map_err(&refused)?;
        let copied = cars.copy(&car, &name, &stamp).map_err(&refused)?;
        voice.say(&print::folders::copied(car.name(), &copied))?;
        Ok(Ending::Fine)
    }
}

impl Rename {
    /// Renames it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let refused = refused(&self.name);
        let name = CarName::new(&self.name).map_err(&refused)?;
        let (cars, car) = opened(&self.folder.cars, &self.car)?;
        let renamed = cars.rename(&car, &name).map_err(&refused)?;
        voice.say(&print::folders::renamed(car.name(), &renamed))?;
        Ok(Ending::Fine)
    }
}

impl PutAway {
    /// Puts it away.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let (cars, car) = opened(&self.folder.cars, &self.car)?;
        let place = cars.put_away(&car).map_err(refused(&self.car))?;
        voice.say(&print::folders::put_away(car.name(), &place))?;
        Ok(Ending::Fine)
    }
}
