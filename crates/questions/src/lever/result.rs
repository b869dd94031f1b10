//! What `lever` answers, as other programs read it.

use engine::car::Car;
use engine::drivetrain::CouplingReading;
use engine::drivetrain::{Beyond, TurnsAt};
use engine::lever::{ToLock, WhatStops};
use schemars::JsonSchema;
use serde::Serialize;

use super::bores::{BoreView, views};
use super::outcome::Outcome;
use crate::result::{HeadlineView, Num, OrWhy};

/// Whether the hand stops the rear wheels.
#[derive(Serialize, JsonSchema)]
pub(super) struct LeverView {
    /// As asked.
    to_lock: ToLockView,
    /// With cold friction.
    cold: ToLockView,
    /// Whether the front wheels are dragged to a stop too once the rear stands.
    front_dragged: bool,
    /// Other ways of reading the centre coupling, with what then happens.
    also: Vec<AlsoView>,
    /// The lever in the other layout.
    other_layout: OrWhy<OtherView>,
    /// Bores that are sold, a row a bore and lever ratio; only where they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    bores: Option<Vec<BoreView>>,
    #[serde(flatten)]
    headline: HeadlineView,
}

/// What happens at the driver's pull, with the stroke and the room there are.
#[derive(Serialize, JsonSchema)]
enum HappensView {
    /// The rear wheels stop.
    #[serde(rename = "rear")]
    Rear,
    /// The front wheels are dragged to a stop too.
    #[serde(rename = "all-four")]
    AllFour,
    /// Nothing stops.
    #[serde(rename = "none")]
    None,
}

#[derive(Serialize, JsonSchema)]
struct ToLockView {
    outcome: HappensView,
    /// Load of the rear axle while it is locked.
    rear_load_n: Num,
    /// Of both rear wheels' brakes.
    torque_needed_nm: Num,
    /// Carried back from the front wheels.
    of_which_coupling_nm: Num,
    /// At the driver's pull.
    torque_there_is_nm: Num,
    /// At the brakes.
    pressure_pa: OrWhy<Num>,
    /// In the lever's cylinder.
    own_pa: OrWhy<Num>,
    hand_force_n: OrWhy<Num>,
    /// At the grip.
    travel_m: OrWhy<Num>,
    /// Whether the driver's pull is enough.
    enough_force: bool,
    /// Whether stroke and room are enough.
    enough_travel: OrWhy<bool>,
    /// Torque there is over torque needed.
    in_hand: Num,
    /// At the driver's pull.
    seconds_to_lock_s: OrWhy<Num>,
    /// What the coupling could carry over what the front wheels can give.
    drag: OrWhy<Num>,
    /// How the coupling was read.
    coupling_read: String,
}

#[derive(Serialize, JsonSchema)]
struct AlsoView {
    /// How the coupling is read otherwise.
    #[serde(rename = "if")]
    reading: String,
    outcome: HappensView,
    in_hand: Num,
    drag: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct OtherView {
    /// `inline` or `separate`.
    layout: &'static str,
    #[serde(flatten)]
    to_lock: ToLockView,
}

impl LeverView {
    /// Of what came out.
    pub(super) fn of(car: &Car, outcome: &Outcome) -> Self {
        let answer = &outcome.answer;
        let cable = car.lever.as_ref().is_some_and(|lever| lever.cylinder().is_none());
        Self {
            to_lock: to_lock(&answer.to_lock, cable),
            cold: to_lock(&answer.cold, cable),
            front_dragged: answer.front_dragged,
            also: answer
                .also
                .iter()
                .map(|(reading, other)| AlsoView {
                    reading: wording::if_read(reading),
                    outcome: happens(other.outcome),
                    in_hand: other.in_hand.into(),
                    drag: drag(other),
                })
                .collect(),
            other_layout: OrWhy::or(
                outcome.other.as_ref().map(|(layout, answer)| OtherView {
                    layout,
                    to_lock: to_lock(&answer.to_lock, false),
                }),
                outcome.no_other,
            ),
            bores: views(&outcome.bores),
            headline: HeadlineView::of(&outcome.headline),
        }
    }
}

fn drag(to_lock: &ToLock) -> OrWhy<Num> {
    OrWhy::or(
        to_lock.drag,
        "the centre is locked: it carries whatever the front wheels can give",
    )
}

fn to_lock(to_lock: &ToLock, cable: bool) -> ToLockView {
    const CAPPED: &str = "a limiting valve behind the lever caps the pressure below it";
    let why = |cabled: &'static str| if cable { cabled } else { CAPPED };
    ToLockView {
        outcome: happens(to_lock.outcome),
        rear_load_n: to_lock.rear_load.n().into(),
        torque_needed_nm: to_lock.torque_needed.nm().into(),
        of_which_coupling_nm: to_lock.of_which_coupling.nm().into(),
        torque_there_is_nm: to_lock.torque_available.nm().into(),
        pressure_pa: OrWhy::or(
            to_lock.pressure.map(|pressure| pressure.pa()),
            "a cable makes no pressure",
        ),
        own_pa: OrWhy::or(to_lock.own.map(|own| own.pa()), why("a cable makes no pressure")),
        hand_force_n: OrWhy::or(to_lock.hand.map(|hand| hand.n()), CAPPED),
        travel_m: OrWhy::or(
            to_lock.travel.map(|travel| travel.m()),
            why("a cable's stretch is not on the sheet"),
        ),
        enough_force: to_lock.enough_force,
        enough_travel: OrWhy::or(
            to_lock.enough_travel,
            why("a cable's stretch is not on the sheet"),
        ),
        in_hand: to_lock.in_hand.into(),
        seconds_to_lock_s: OrWhy::or(
            to_lock.time_to_lock.map(|time| time.s()),
            if to_lock.stands_first {
                "the car comes to rest before its rear wheels do"
            } else {
                "at this pull the rear axle does not stop"
            },
        ),
        drag: drag(to_lock),
        coupling_read: coupling_read(to_lock),
    }
}

const fn happens(outcome: WhatStops) -> HappensView {
    match outcome {
        WhatStops::Rear => HappensView::Rear,
        WhatStops::AllFour => HappensView::AllFour,
        WhatStops::None => HappensView::None,
    }
}

fn coupling_read(to_lock: &ToLock) -> String {
    let Some(CouplingReading {
        turns_at,
        beyond,
        off_the_curve,
        supposed,
        ..
    }) = to_lock.reading
    else {
        return if to_lock.drag.is_none() { "locked" } else { "none" }.to_owned();
    };
    let place = match turns_at {
        TurnsAt::Given => "as given",
        TurnsAt::Propshaft => "propshaft",
        TurnsAt::FrontOutput => "case to front output",
        TurnsAt::RearOutput => "case to rear output",
        TurnsAt::Wheels => "wheels",
    };
    let way = match (off_the_curve, beyond) {
        (false, _) => "within the curve",
        (true, Beyond::HeldFlat) => "held flat",
        (true, Beyond::GoesOn) => "going on",
    };
    match supposed {
        Some(supposed) if turns_at == TurnsAt::Given => supposed.to_owned(),
        Some(supposed) => format!("{supposed}: {place}, {way}"),
        None => format!("{place}, {way}"),
    }
}
