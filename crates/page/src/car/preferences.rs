//! `preferences.toml`: the person's own choices, which the page remembers. A file that a person may write too, so that
//! only the value that was chosen is replaced in it.

use records::{Cars, Fault};
use wording::Units;

/// The most bytes of the file that are read.
const LARGEST: u64 = 64 * 1024;
/// The key of the units.
pub(crate) const UNITS: &str = "units";
/// The key of the build book's paper.
pub(crate) const PAPER: &str = "paper";
/// What a new file begins with.
const HEAD: &str = "# What the workshop page remembers of your choices.\n";

/// The choices.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Preferences {
    /// As `--units` takes it.
    pub(crate) units: Option<String>,
    /// As `build-book --paper` takes it.
    pub(crate) paper: Option<String>,
}

/// Why choices could not be kept.
#[derive(Debug)]
pub(crate) enum PreferenceFault {
    /// The file or the disk would not do.
    Disk(Fault),
    /// The file is no TOML any more; it stays as it is.
    Unreadable(String),
}

impl Preferences {
    /// What is kept; nothing where there is no file.
    pub(crate) fn read(cars: &Cars) -> Result<Self, PreferenceFault> {
        let kept = cars
            .preferences()
            .read_if_there(LARGEST)
            .map_err(PreferenceFault::Disk)?;
        let Some(kept) = kept else {
            return Ok(Self::default());
        };
        let chosen = |key| sheet::preference(&kept.text, key).map_err(PreferenceFault::Unreadable);
        Ok(Self {
            units: chosen(UNITS)?,
            paper: chosen(PAPER)?,
        })
    }

    /// The units that were chosen; the usual ones where none were, or none that there are.
    pub(crate) fn units(&self) -> Units {
        questions::units(self.units.as_deref()).unwrap_or_default()
    }

    /// Keeps what was chosen, each by its key, and leaves everything else in the file as it is.
    pub(crate) fn keep(cars: &Cars, chosen: &[(&str, &str)]) -> Result<(), PreferenceFault> {
        let file = cars.preferences();
        let kept = file.read_if_there(LARGEST).map_err(PreferenceFault::Disk)?;
        let (digest, mut text) =
            kept.map_or_else(|| (None, HEAD.to_owned()), |kept| (Some(kept.digest), kept.text));
        for (key, value) in chosen {
            text = sheet::with_preference(&text, key, value).map_err(PreferenceFault::Unreadable)?;
        }
        file.save(digest, &text, LARGEST).map_err(PreferenceFault::Disk)?;
        Ok(())
    }
}
