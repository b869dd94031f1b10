//! What the readings on a sheet say.

use engine::car::{Date, MeasuredPull};
use engine::gauges::{GAUGE, GaugesFault, ValveRead, read_valve};
use engine::pull::{Apart, Instruments, PullFault, take_apart};
use proving::{Fact, JointFound, SheetChange};
use quantity::si::Length;
use symptoms::{Changed, DoneBetween, changed};
use wording::Units;

use crate::measured::without;
use crate::opened::Opened;
use crate::options::ON;
use crate::question::Case;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// The pull that was taken apart; `None`: none is on the sheet.
    pub pull: Option<PullRead>,
    /// What changed since the pull before it.
    pub since: Option<Since>,
    /// The valve, where two gauges read it.
    pub valve: Option<Result<ValveRead, GaugesFault>>,
}

/// What changed since another pull.
#[derive(Debug)]
pub struct Since {
    /// When that was.
    pub on: Option<Date>,
    /// What changed.
    pub changed: Changed,
    /// What the logbook says was done between, in words.
    pub done: Vec<String>,
}

/// What was done between two days.
struct Done {
    known: DoneBetween,
    said: Vec<String>,
}

impl Done {
    /// By the logbook: after the first day, and up to the second with it. Nothing is known where a day is missing.
    fn between(opened: &Opened, units: &Units, from: Option<Date>, to: Option<Date>) -> Self {
        let mut done = Self {
            known: DoneBetween::default(),
            said: Vec::new(),
        };
        let (Some(from), Some(to)) = (from, to) else {
            return done;
        };
        let noted = &opened.history().noted;
        let mut opened_joints: Vec<&str> = Vec::new();
        for noted in noted.iter().filter(|noted| noted.day > from && noted.day <= to) {
            let said = match &noted.fact {
                Fact::Joint {
                    joint,
                    found: JointFound::Remade,
                } => {
                    opened_joints.push(joint);
                    continue;
                }
                Fact::Touched { what } => {
                    opened_joints.push(what);
                    continue;
                }
                Fact::FluidChanged => {
                    done.known.bled = true;
                    "fluid changed".to_owned()
                }
                Fact::Step { step } if step == "bleed" => {
                    done.known.bled = true;
                    "bled".to_owned()
                }
                Fact::Pads {
                    axle, fitted: true, ..
                } if axle == "rear" => {
                    done.known.pads_changed = true;
                    "rear pads or linings fitted".to_owned()
                }
                Fact::HosesFitted => {
                    done.known.hose_changed = true;
                    "hoses fitted".to_owned()
                }
                Fact::Sheet { changes } => {
                    let keys: Vec<String> = changes
                        .iter()
                        .filter(|change| !change.key.starts_with("measured."))
                        .map(SheetChange::words)
                        .collect();
                    if keys.is_empty() {
                        continue;
                    }
                    keys.join("; ")
                }
                _ => continue,
            };
            done.said.push(format!("{}: {said}", noted.day));
        }
        done.known.joints_opened = opened_joints.len();
        if !opened_joints.is_empty() {
            let many = wording::counted(opened_joints.len(), "joint or run was", "joints or runs were");
            done.said.push(format!("{} {many} opened", opened_joints.len()));
        }
        // Lining as it was last measured on either side of the day, and only while the same lining is on.
        if !done.known.pads_changed {
            let left = |until: Date| {
                noted.iter().rev().find_map(|noted| match &noted.fact {
                    Fact::Pads { axle, left_m, .. } if axle == "rear" && noted.day <= until => Some(*left_m),
                    _ => None,
                })
            };
            if let (Some(then), Some(now)) = (left(from), left(to))
                && then > now
            {
                done.known.lining_lost = Length::from_m(then - now);
                let lost = wording::figure(then - now, units.length);
                done.said.push(format!("the rear lining lost {lost}"));
            }
        }
        done
    }
}

/// A pull, taken apart or not.
#[derive(Debug)]
pub struct PullRead {
    /// When.
    pub on: Option<Date>,
    /// How many readings.
    pub readings: usize,
    /// What it is made of, or why that cannot be told.
    pub apart: Result<Apart, PullFault>,
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
        let pull = chosen.map(|place| PullRead {
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
            (Some(before), Some(PullRead { apart: Ok(now), .. })) => apart(&pulls[before]).ok().map(|then| {
                let done = Done::between(
                    opened,
                    &case.units,
                    pulls[before].on,
                    pulls[chosen.unwrap_or(before)].on,
                );
                Since {
                    on: pulls[before].on,
                    changed: changed(&then, now, done.known),
                    done: done.said,
                }
            }),
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
