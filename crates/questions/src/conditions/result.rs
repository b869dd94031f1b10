//! What `conditions` answers, as other programs read it.

use engine::brake::Warmth;
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::{Outcome, StateAnswer};
use super::report::locks_in_words;
use crate::result::{Num, OrWhy};

/// The answer in every state, a ground after the other.
#[derive(Serialize, JsonSchema)]
pub(super) struct ConditionsView {
    /// A state each: ground, fuel, warm or cold.
    states: Vec<StateView>,
    /// Place in `states` of the one that decides the word, counted from 0.
    worst: usize,
    /// Whether tolerances were drawn: where not, no state can be `open` for their sake.
    drawn: bool,
}

#[derive(Serialize, JsonSchema)]
struct StateView {
    surface: String,
    grip: Num,
    fuel_l: Num,
    /// Whether the brakes are cold.
    cold: bool,
    /// `yes`, `half`, `not-with-this-centre`, `no`, `open`, `no-lever`: the word of the assessment.
    word: &'static str,
    /// Why.
    because: String,
    /// Torque that the driver's pull makes over torque needed.
    in_hand: OrWhy<Num>,
    /// The pull that stops the rear wheels.
    hand_force_n: OrWhy<Num>,
    /// `front`, `rear`, `together`, `neither`: what locks first under the foot.
    first: &'static str,
    /// By how much the front leads there; below 0 the rear does.
    front_first_by: OrWhy<Num>,
    /// What stops the car before any of it counts.
    stops_first: Vec<String>,
}

impl ConditionsView {
    /// Of what came out.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let worst = outcome.worst().map_or(0, |worst| {
            let is_worst = |state: &StateAnswer| core::ptr::eq(state, worst);
            outcome.states.iter().position(is_worst).unwrap_or(0)
        });
        Self {
            states: outcome.states.iter().map(state).collect(),
            worst,
            drawn: outcome.drawn,
        }
    }
}

fn state(of: &StateAnswer) -> StateView {
    StateView {
        surface: of.surface.name.to_string(),
        grip: of.surface.peak.into(),
        fuel_l: (of.litres.m3() * 1000.0).into(),
        cold: of.warmth == Warmth::Cold,
        word: of.verdict.word(),
        because: of.because.clone(),
        in_hand: OrWhy::or(of.in_hand, "no lever on the sheet"),
        hand_force_n: OrWhy::or(of.hand.map(|hand| hand.n()), "no pull stops the rear"),
        first: locks_in_words(of.locks),
        front_first_by: OrWhy::or(of.front_first_by, "nothing locks"),
        stops_first: of.stops.clone(),
    }
}
