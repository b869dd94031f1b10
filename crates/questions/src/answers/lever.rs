//! Whether the hand stops the rear wheels, and what it takes.

use engine::car::{Car, Centre, LeverKind};
use engine::headline::Headlines;
use engine::lever::{LeverAnswer, LeverBench, Outcome as Happens, Pull, ToLock, other_layout};

use crate::opened::Opened;
use wording::Units;

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
}

impl Outcome {
    /// Of a car with a lever; `None` where it has none.
    pub fn of(car: &Car, opened: &Opened, pull: Pull, headline: Option<Headlines>) -> Option<Self> {
        let state = &opened.state;
        let answer = LeverBench::of(car, state.warmth)?.answer(&state.laden, pull);
        let other = other_layout(car).and_then(|(layout, other)| {
            Some((
                layout,
                LeverBench::of(&other, state.warmth)?.answer(&state.laden, pull),
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
        })
    }

    /// Whether the hand stops the rear wheels, in one sentence.
    #[must_use]
    pub fn sentence(&self, car: &Car, units: &Units) -> String {
        let to_lock = &self.answer.to_lock;
        let pull = wording::pull(self.pull.hand, units);
        let speed = self.pull.speed.m_s() * 3.6;
        let asks = if car.drivetrain.centre == Centre::None {
            "the ground asks for"
        } else {
            "ground and centre ask for"
        };
        match to_lock.outcome {
            Happens::Rear => format!(
                "{pull} stop the rear wheels at {speed:.0}\u{a0}km/h: {} as much torque as it takes.",
                wording::times(to_lock.in_hand)
            ),
            Happens::AllFour => format!(
                "{pull} stop all four wheels: the centre drags the front ones along, and the car ploughs straight on."
            ),
            Happens::None => format!(
                "{pull} do not stop the rear wheels at {speed:.0}\u{a0}km/h: they make {} of the torque that {asks}.",
                wording::per_cent(to_lock.in_hand)
            ),
        }
    }
}

/// What it takes, against what there is.
#[must_use]
pub fn what_it_takes(to_lock: &ToLock, units: &Units) -> String {
    let Some(hand) = to_lock.hand else {
        return match to_lock.pressure {
            Some(pressure) => format!(
                "{} at the brakes, and a limiting valve behind the lever lets no more than its knee through",
                wording::figure(pressure.pa(), units.pressure)
            ),
            None => "cannot be had".to_owned(),
        };
    };
    let mut said = wording::pull(hand, units);
    if let Some(travel) = to_lock.travel {
        said.push_str(&format!(
            ", {} at the grip",
            wording::figure(travel.m(), units.length)
        ));
    }
    if let Some(pressure) = to_lock.pressure {
        said.push_str(&format!(
            ", {} at the brakes",
            wording::figure(pressure.pa(), units.pressure)
        ));
    }
    said.push_str(match (to_lock.enough_force, to_lock.enough_travel) {
        (true, Some(false)) => "; stroke or room end before",
        (false, Some(false)) => "; more than the hand has, and stroke or room end before",
        (false, _) => "; more than the hand has",
        (true, _) => "",
    });
    said.push_str(&format!(
        "; in hand {}{}",
        wording::ratio(to_lock.in_hand),
        match to_lock.in_hand {
            ratio if ratio < 1.0 => ", does not lock",
            ratio if ratio < 1.3 => ", late",
            _ => "",
        }
    ));
    if let Some(time) = to_lock.time_to_lock {
        said.push_str(&format!(", locked in {:.2}\u{a0}s", time.s()));
    }
    said
}

/// The torque that it takes against what there is: name and figure.
#[must_use]
pub fn torque_facts(to_lock: &ToLock, units: &Units) -> Vec<(&'static str, String)> {
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
        format!("{} at the driver's pull", torque(to_lock.torque_there_is.nm())),
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

/// What the centre carries back, and how it was read; empty without a coupling.
#[must_use]
pub fn coupling_facts(car: &Car, answer: &LeverAnswer) -> Vec<(&'static str, String)> {
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
        let verdict = match other.outcome {
            Happens::Rear => "the rear stops",
            Happens::AllFour => "all four stop",
            Happens::None => "nothing stops",
        };
        let drag = other
            .drag
            .map_or_else(String::new, |drag| format!(", drags {}", wording::per_cent(drag)));
        facts.push(("if", format!("{}: {verdict}{drag}", wording::if_read(reading))));
    }
    facts.push((
        "clutch",
        "takes the engine away, not the centre: pulling it changes nothing of this".to_owned(),
    ));
    facts
}
