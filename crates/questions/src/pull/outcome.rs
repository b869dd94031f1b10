//! What the readings on a sheet say.

use engine::car::{Date, MeasuredPull};
use engine::gauges::{CannotTell, GAUGE, ValveRead, read_valve};
use engine::pull::{Apart, Cannot, Instruments, take_apart};
use symptoms::{Changed, Known, changed};

use crate::measured::without;
use crate::options::ON;
use crate::question::Case;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// The pull that was taken apart; `None`: none is on the sheet.
    pub pull: Option<Read>,
    /// What changed since the pull before it.
    pub since: Option<(Option<Date>, Changed)>,
    /// The valve, where two gauges read it.
    pub valve: Option<Result<ValveRead, CannotTell>>,
}

/// A pull, taken apart or not.
#[derive(Debug)]
pub struct Read {
    /// When.
    pub on: Option<Date>,
    /// How many readings.
    pub readings: usize,
    /// What it is made of, or why that cannot be told.
    pub apart: Result<Apart, Cannot>,
}

impl Outcome {
    /// Of the newest pull, or that of the day that was asked for.
    pub(crate) fn of(case: &Case<'_>) -> Self {
        let opened = case.opened;
        // What is computed with may rest on the pull itself; it is held against the sheet without it.
        let bare = without(opened, "measured.pull");
        let pulls = &opened.car().measured.pull;
        let asked = case.said.has(&ON).then_some(opened.state.day);
        let chosen = asked
            .and_then(|day| pulls.iter().rposition(|pull| pull.on == Some(day)))
            .or_else(|| newest(pulls));
        let apart = |pull: &MeasuredPull| take_apart(&bare, &pull.points, Instruments::default());
        let pull = chosen.map(|place| Read {
            on: pulls[place].on,
            readings: pulls[place].points.len(),
            apart: apart(&pulls[place]),
        });
        let before = chosen.and_then(|chosen| {
            (0..pulls.len())
                .filter(|&place| place != chosen && pulls[place].on <= pulls[chosen].on)
                .max_by_key(|&place| (pulls[place].on, place))
        });
        let since = match (before, &pull) {
            (Some(before), Some(Read { apart: Ok(now), .. })) => apart(&pulls[before])
                .ok()
                .map(|then| (pulls[before].on, changed(&then, now, Known::default()))),
            _ => None,
        };
        let readings = &opened.car().measured.valve;
        let valve =
            (!readings.is_empty()).then(|| read_valve(&without(opened, "measured.valve"), readings, GAUGE));
        Self { pull, since, valve }
    }
}

/// The newest; of those without a day the last.
fn newest(pulls: &[MeasuredPull]) -> Option<usize> {
    (0..pulls.len()).max_by_key(|&place| (pulls[place].on, place))
}
