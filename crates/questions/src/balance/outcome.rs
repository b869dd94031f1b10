//! Which end locks first, over grip and load, and what is left with one circuit gone.

use engine::balance::{
    Balance, FailedCircuit, First, Ideal, Left, Lock, RoadRules, Utilisation, failed_circuits,
};
use engine::car::{Car, Master};
use engine::headline::Headlines;
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use engine::thresholds::LEAST_SECONDARY;
use quantity::si::Speed;

use super::bores::MasterTried;
use crate::opened::Opened;
use crate::state::State;
use wording::Units;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// First lock, a grip each.
    pub locks: Vec<Lock>,
    /// Over the braking rate, as far as the foot goes.
    pub utilisation: Vec<Utilisation>,
    /// The split at which both axles use the same share.
    pub ideal: Vec<Ideal>,
    /// The road rules, as loaded.
    pub road: RoadRules,
    /// Whether the rear stays below the front at every load, and not only as asked.
    pub road_at_every_load: bool,
    /// One circuit gone, and the other.
    pub failed: [FailedCircuit; 2],
    /// The first lock on the state's own surface.
    pub here: Lock,
    /// Whether a coupling ties the axles under the pedal.
    pub tied: bool,
    /// Whether the pedal works two cylinders.
    pub twin: bool,
    /// The headline figures, drawn.
    pub headline: Option<Headlines>,
    /// Master bores that are sold, where they were asked for.
    pub bores: Vec<MasterTried>,
}

/// Braking rates at which utilisation and the ideal split are given.
fn rates() -> impl Iterator<Item = f64> {
    (2..=20_u8).map(|twentieth| f64::from(twentieth) / 20.0)
}

/// Grips that are looked at when nothing is said.
pub(super) fn usual_grips() -> Vec<f64> {
    (1..=12_u8).map(|tenth| f64::from(tenth) / 10.0).collect()
}

impl Outcome {
    /// Of a car in its state.
    #[must_use]
    pub fn of(car: &Car, state: &State, speed: Speed, grips: &[f64], headline: Option<Headlines>) -> Self {
        let hydraulics = Hydraulics::of(car, state.conditions.warmth);
        let balance = Balance::of(car, hydraulics.clone(), state.laden, speed);
        let every_load = [Fuel::Dry, Fuel::Half, Fuel::Full]
            .into_iter()
            .flat_map(|fuel| [true, false].map(|crew| Aboard { crew, fuel }))
            .all(|aboard| {
                balance
                    .at_load(Laden::of(car, aboard))
                    .road_rules()
                    .rear_below_front
            });
        Self {
            locks: grips.iter().map(|&grip| balance.lock(grip)).collect(),
            utilisation: rates().filter_map(|rate| balance.utilisation(rate)).collect(),
            ideal: rates()
                .map(|rate| balance.ideal(rate))
                .take_while(|ideal| ideal.rear.n() > 0.0)
                .collect(),
            road: balance.road_rules(),
            road_at_every_load: every_load,
            failed: failed_circuits(car, &hydraulics, &state.laden, state.surface.peak),
            here: balance.lock(state.surface.peak),
            tied: balance.tied(),
            twin: matches!(car.master, Master::Twin { .. }),
            headline,
            bores: Vec::new(),
        }
    }
}

/// Which end, and by how much, in a few words.
pub(super) fn in_short(lock: &Lock) -> String {
    match (&lock.at, lock.first) {
        (None, _) => "neither: nothing locks".to_owned(),
        (Some(_), First::Together | First::Neither) => "all four together".to_owned(),
        (Some(point), _) => format!(
            "{}, by {}",
            first_word(lock),
            wording::front_first(point.front_first_by)
        ),
    }
}

/// Which end that is, in a word.
pub(super) const fn first_word(lock: &Lock) -> &'static str {
    match lock.first {
        First::Front => "front",
        First::Rear => "rear",
        First::Together => "together",
        First::Neither => "neither",
    }
}

/// What is left with one circuit gone, in words.
pub(crate) fn one_circuit_gone(opened: &Opened, failed: &FailedCircuit, units: &Units) -> String {
    let left = match failed.left {
        Left::Front => "only the front brakes",
        Left::Rear => "only the rear brakes",
        Left::OneDiagonal => "only one diagonal",
    };
    if failed.joined {
        return format!(
            "{left}: both circuits are joined at the lever, one leak empties both and nothing brakes"
        );
    }
    let mut said = format!(
        "{left}: {} on {}, pedal {}",
        wording::deceleration(failed.rate),
        opened.state.surface.name,
        wording::figure(failed.travel.m(), units.length)
    );
    if failed.runs_out {
        said.push_str(", more than the stroke has: it is not reached");
    }
    match failed.met {
        Some(true) => said.push_str(&format!(
            "; the road rule's {} is met",
            wording::deceleration(LEAST_SECONDARY)
        )),
        Some(false) => said.push_str(&format!(
            "; the road rule's {} is not met on this ground",
            wording::deceleration(LEAST_SECONDARY)
        )),
        None => {}
    }
    said
}
