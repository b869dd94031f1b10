//! Whether the hand stops the rear wheels, and what it takes.

use engine::car::{Car, Centre, LeverKind};
use engine::headline::Headlines;
use engine::lever::{LeverAnswer, LeverBench, Pull, ToLock, WhatStops, other_layout};

use quantity::si::Pressure;
use wording::{Precision, Units};

use super::bores::BoreTried;
use crate::opened::Opened;
use crate::question::Case;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// What was asked.
    pub pull: Pull,
    /// Warm and cold, and under every reading of the coupling.
    pub answer: LeverAnswer,
    /// The same car with its lever in the other layout.
    pub other: Option<(&'static str, LeverAnswer)>,
    /// Why there is none.
    pub no_other: &'static str,
    /// The headline figures, drawn.
    pub headline: Option<Headlines>,
    /// Bores that are sold, where they were asked for.
    pub bores: Vec<BoreTried>,
}

impl Outcome {
    /// Of a car with a lever; `None` where it has none.
    #[must_use]
    pub fn of(opened: &Opened, pull: Pull, headline: Option<Headlines>) -> Option<Self> {
        let (car, state) = (opened.car(), &opened.state);
        let answer = LeverBench::of(car, state.conditions.warmth)?.timed(&state.laden, pull, &state.surface);
        let other = other_layout(car).and_then(|(layout, other)| {
            Some((
                layout,
                LeverBench::of(&other, state.conditions.warmth)?.timed(&state.laden, pull, &state.surface),
            ))
        });
        let no_other = match &car.lever.as_ref()?.kind {
            LeverKind::Cable(_) => "a cable has no other layout",
            _ => "drums behind, and no [lever_brake] on the sheet to compare with",
        };
        Some(Self {
            pull,
            answer,
            other,
            no_other,
            headline,
            bores: Vec::new(),
        })
    }
}

/// What it takes, in a few words.
pub(crate) fn in_short(to_lock: &ToLock, case: &Case<'_>) -> String {
    let (precision, units) = (case.precision(), &case.units);
    let Some(hand) = to_lock.hand else {
        return "no pull stops the rear".to_owned();
    };
    let mut said = precision.hand(hand, units);
    if let Some(travel) = to_lock.travel {
        said.push_str(&format!(", {}", precision.travel(travel, units)));
    }
    said
}

/// What it takes, against what there is.
pub(super) fn what_it_takes(to_lock: &ToLock, precision: &Precision, units: &Units) -> String {
    let pressure = |pressure: Pressure| precision.pressure(pressure, units);
    let Some(hand) = to_lock.hand else {
        return to_lock.pressure.map_or_else(
            || "cannot be had".to_owned(),
            |needed| {
                format!(
                    "{} at the brakes; a limiting valve behind the lever lets less through",
                    pressure(needed)
                )
            },
        );
    };
    let mut said = precision.pull(hand, units);
    if let Some(travel) = to_lock.travel {
        said.push_str(&format!(", {} at the grip", precision.travel(travel, units)));
    }
    if let Some(needed) = to_lock.pressure {
        said.push_str(&format!(", {} at the brakes", pressure(needed)));
    }
    said.push_str(match (to_lock.enough_force, to_lock.enough_travel) {
        (true, Some(false)) => "; stroke or room end first",
        (false, Some(false)) => "; more than the driver pulls, and stroke or room end first",
        (false, _) => "; more than the driver pulls",
        (true, _) => "",
    });
    let over = wording::per_cent(to_lock.in_hand);
    said.push_str(&match to_lock.in_hand {
        ratio if ratio < 1.0 => format!("; {over} of the torque: the rear rolls on"),
        _ if to_lock.is_late() => format!("; {over} of the torque: it stops late"),
        _ => format!("; {over} of the torque"),
    });
    if let Some(time) = to_lock.time_to_lock {
        said.push_str(&format!(", within {}", wording::seconds(time)));
    }
    said
}

/// The torque that it takes against what there is: name and figure.
pub(super) fn torque_facts(to_lock: &ToLock, units: &Units) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    let torque = |torque_nm: f64| wording::figure(torque_nm, units.torque);
    let ground_nm = to_lock.torque_needed.nm() - to_lock.of_which_coupling.nm();
    facts.push((
        "needed",
        format!(
            "{}: ground {}, centre {}",
            torque(to_lock.torque_needed.nm()),
            torque(ground_nm),
            torque(to_lock.of_which_coupling.nm())
        ),
    ));
    facts.push((
        "there is",
        format!("{} at the driver's pull", torque(to_lock.torque_available.nm())),
    ));
    facts.push((
        "load",
        format!(
            "{} on the rear axle, {} deceleration",
            wording::scales(to_lock.rear_load, units),
            wording::rate(to_lock.rate)
        ),
    ));
    facts
}

/// What happens, in words.
pub(super) const fn happens(outcome: WhatStops) -> &'static str {
    match outcome {
        WhatStops::Rear => "the rear stops",
        WhatStops::AllFour => "all four stop",
        WhatStops::None => "the rear rolls on",
    }
}

/// What the centre carries back, and how it was read; empty without a coupling.
pub(super) fn coupling_facts(car: &Car, answer: &LeverAnswer) -> Vec<(&'static str, String)> {
    if car.drivetrain.centre == Centre::None {
        return Vec::new();
    }
    let mut facts = Vec::new();
    let to_lock = &answer.to_lock;
    facts.push((
        "drags",
        match to_lock.drag {
            None => "locked: all four have to be stopped".to_owned(),
            Some(drag) => format!(
                "{} of what the front wheels can give: {}",
                wording::per_cent(drag),
                wording::graded(drag)
            ),
        },
    ));
    if let Some(reading) = &to_lock.reading {
        facts.push(("read", wording::read_as(reading)));
    }
    for (reading, other) in &answer.also {
        let verdict = happens(other.outcome);
        let drag = other
            .drag
            .map_or_else(String::new, |drag| format!(", drags {}", wording::per_cent(drag)));
        facts.push(("if", format!("{}: {verdict}{drag}", wording::if_read(reading))));
    }
    facts.push((
        "clutch",
        "pressed, it takes the engine off the wheels and leaves the centre: nothing here changes".to_owned(),
    ));
    facts
}
