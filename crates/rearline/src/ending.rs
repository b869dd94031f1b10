//! How a run ends: exit statuses, and what keeps a verb from going on.

use questions::{History, Wrong};

use std::io;
use std::process::ExitCode;

/// How a run ended, for whatever started it. A bug ends with 101, an interruption with 130.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ending {
    /// What was asked for was done.
    Fine,
    /// What was asked for was done, and a finding says stop.
    Stopped,
    /// Something that was put in is wrong.
    WrongInput,
    /// A file, a port or a disk would not do; an answer may have been given all the same.
    File,
    /// ^C, taken in order.
    Interrupted,
}

/// Exit status of a run that ^C ended.
pub(crate) const INTERRUPTED: i32 = 130;

impl Ending {
    /// Of an answer that was given, whose logbook may not have read.
    pub(crate) fn with_logbook(history: &History) -> Self {
        match history.lost {
            Some(_) => Self::File,
            None => Self::Fine,
        }
    }
}

impl From<Ending> for ExitCode {
    fn from(ending: Ending) -> Self {
        Self::from(match ending {
            Ending::Fine => 0,
            Ending::Stopped => 1,
            Ending::WrongInput => 2,
            Ending::File => 3,
            Ending::Interrupted => 130,
        })
    }
}

/// What keeps a verb from going on.
#[derive(Debug)]
pub(crate) enum Stop {
    /// Something that was put in is wrong.
    Wrong(Wrong),
    /// A file or the disk would not do.
    File(Wrong),
    /// What was to be said could not be written.
    Output(io::Error),
}

impl Stop {
    /// Whether whoever was listening has stopped: then there is nothing left to do, and nothing went wrong.
    pub(crate) fn nobody_listens(&self) -> bool {
        matches!(self, Self::Output(source) if source.kind() == io::ErrorKind::BrokenPipe)
    }

    /// How the run ends.
    pub(crate) fn ending(&self) -> Ending {
        match self {
            _ if self.nobody_listens() => Ending::Fine,
            Self::Wrong(_) => Ending::WrongInput,
            Self::File(_) | Self::Output(_) => Ending::File,
        }
    }
}

impl From<Wrong> for Stop {
    fn from(wrong: Wrong) -> Self {
        Self::Wrong(wrong)
    }
}

impl From<questions::Stop> for Stop {
    fn from(stop: questions::Stop) -> Self {
        match stop {
            questions::Stop::Wrong(wrong) => Self::Wrong(wrong),
            questions::Stop::File(wrong) => Self::File(wrong),
        }
    }
}
