use engine::car::Car;

use crate::Error;

/// Its sheet.
pub(crate) const PLAIN: &str = include_str!("plain.toml");

/// An inline lever with a limiting stroke far off and no free stroke, for [`Plain::with`].
pub(crate) const LEVER: [&str; 10] = [
    "lever.kind=inline",
    "lever.bore=16 mm",
    "lever.ratio=8",
    "lever.efficiency=1",
    "lever.stroke=100 mm",
    "lever.free_stroke=0 mm",
    "lever.free_play=0 mm",
    "lever.room=900 mm",
    "lever.hand_pull=300 N",
    "lever.outlets=one",
];

/// A car with nothing that a textbook leaves out, and what a check changes on it.
pub(crate) struct Plain {
    sheet: sheet::ReadSheet,
    which: &'static str,
}

impl Plain {
    /// `which` names the check in errors.
    pub(crate) fn new(which: &'static str) -> Self {
        Self::of(which, PLAIN)
    }

    /// A car from another sheet.
    pub(crate) fn of(which: &'static str, sheet: &str) -> Self {
        Self {
            sheet: sheet::read(sheet.as_bytes(), "plain.toml"),
            which,
        }
    }

    fn refuse(&self, why: impl core::fmt::Display) -> Error {
        Error::Car {
            which: self.which.to_owned(),
            why: why.to_string(),
        }
    }

    /// Changes, each as `key=value`.
    pub(crate) fn with<S: AsRef<str>>(mut self, changes: impl IntoIterator<Item = S>) -> Result<Self, Error> {
        for change in changes {
            if let Err(problem) = self.sheet.with(change.as_ref()) {
                return Err(self.refuse(problem));
            }
        }
        Ok(self)
    }

    /// The car.
    pub(crate) fn car(self) -> Result<Car, Error> {
        let assembled = self.sheet.assemble().map_err(|problems| {
            let problems: Vec<String> = problems.shown().iter().map(ToString::to_string).collect();
            self.refuse(problems.join("; "))
        })?;
        Ok(assembled.car)
    }
}

/// The plain car with changes, each as `key=value`.
pub(crate) fn plain<S: AsRef<str>>(
    which: &'static str,
    changes: impl IntoIterator<Item = S>,
) -> Result<Car, Error> {
    Plain::new(which).with(changes)?.car()
}
