//! The assessment of one car, state by state.

use core::cmp::Ordering;
use std::sync::Arc;

use ::assess::{Finding, Verdict};
use engine::Conditions;
use engine::balance::First;
use engine::brake::Warmth;
use engine::car::Surface;
use engine::figures::{Depth, Figures};
use engine::headline::HeadlineFigures;
use engine::lever::WhatStops;
use engine::loads::{Aboard, Fuel, Grade, Laden};
use quantity::si::{Force, Volume};
use rayon::prelude::*;

use crate::opened::Opened;
use crate::options::{COLD, GRIP, SURFACE, Said};
use crate::question::Case;
use crate::settings::{fuels, surfaces};
use crate::trouble::Wrong;

/// Where the one is run on, the other is met.
const DRY_AND_WET: (&str, &str) = ("dry tarmac", "wet tarmac");

/// The answer in one state.
#[derive(Clone, Debug)]
pub struct StateAnswer {
    /// The ground.
    pub surface: Surface,
    /// How the tank stands.
    pub fuel: Fuel,
    /// What is in it.
    pub litres: Volume,
    /// Whether the brakes are warm.
    pub warmth: Warmth,
    /// The word of the assessment.
    pub verdict: Verdict,
    /// Why, in at most 14 words.
    pub because: String,
    /// What to do first.
    pub first: Option<String>,
    /// What stops the car before any of it counts.
    pub stops: Vec<String>,
    /// Torque that the driver's pull makes over torque needed; `None` without a lever.
    pub in_hand: Option<f64>,
    /// The pull that stops the rear.
    pub hand: Option<Force>,
    /// Which end locks first under the foot.
    pub locks: First,
    /// By how much the front leads there.
    pub front_first_by: Option<f64>,
}

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Every state: a ground after the other, each with its loads, each warm and cold.
    pub states: Vec<StateAnswer>,
    /// The driver's pull, where there is a lever.
    pub pull: Option<Force>,
    /// Whether tolerances were drawn.
    pub drawn: bool,
}

impl Outcome {
    /// Every ground that the car runs on and every load of fuel, warm and cold, as far as that was not narrowed down.
    ///
    /// # Errors
    /// Where the car does not know a surface.
    pub(super) fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        let opened = case.opened;
        let written = crate::assess::written(opened, opened.history());
        let states: Result<Vec<StateAnswer>, Wrong> = states(case)
            .into_par_iter()
            .map(|state| answered(case, state, written.clone()))
            .collect();
        Ok(Self {
            states: states?,
            pull: opened.car().lever.as_ref().map(|lever| lever.hand_pull),
            drawn: case.sampling.draws > 0,
        })
    }

    /// The state that decides the word: the worst word, then the least in hand, or where there is no lever the least lead.
    #[must_use]
    pub fn worst(&self) -> Option<&StateAnswer> {
        self.states.iter().min_by(|one, other| one.against(other))
    }

    /// How many states have one of these words.
    #[must_use]
    pub fn count(&self, of: impl Fn(&StateAnswer) -> bool) -> usize {
        self.states.iter().filter(|state| of(state)).count()
    }
}

impl StateAnswer {
    /// Worst first.
    #[must_use]
    pub fn against(&self, other: &Self) -> Ordering {
        let figure = |state: &Self| state.in_hand.or(state.front_first_by).unwrap_or(f64::INFINITY);
        rank(self.verdict)
            .cmp(&rank(other.verdict))
            .then_with(|| figure(self).total_cmp(&figure(other)))
    }

    /// Whether the rear locks first under the foot.
    #[must_use]
    pub fn rear_leads(&self) -> bool {
        self.locks == First::Rear
    }
}

/// Every state that was not narrowed away.
fn states(case: &Case<'_>) -> Vec<(Surface, Fuel, Warmth)> {
    let warmths: &[Warmth] = if case.said.has(&COLD) {
        &[Warmth::Cold]
    } else {
        &[Warmth::Warm, Warmth::Cold]
    };
    let mut states = Vec::new();
    for surface in grounds(case.opened, case.said) {
        for fuel in fuels(case.opened, case.said) {
            states.extend(warmths.iter().map(|warmth| (surface.clone(), fuel, *warmth)));
        }
    }
    states
}

/// The worse, the lower. What is not known may be a no.
const fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::No => 0,
        Verdict::NotWithThisCentre => 1,
        Verdict::Open => 2,
        Verdict::Half => 3,
        Verdict::Yes | Verdict::NoLever => 4,
    }
}

/// The ground that was asked about; else those that the car runs on, in the order of their grip; else all.
fn grounds(opened: &Opened, said: &Said) -> Vec<Surface> {
    let mut all = surfaces(opened, said);
    let runs_on = &opened.car().runs_on;
    let named = |name: &str| {
        runs_on
            .iter()
            .any(|known| known.to_lowercase() == name.to_lowercase())
    };
    let (dry, wet) = DRY_AND_WET;
    if !said.has(&SURFACE) && !said.has(&GRIP) && all.iter().any(|surface| named(&surface.name)) {
        all.retain(|surface| named(&surface.name) || (*surface.name == *wet && named(dry)));
    }
    all.sort_by(|one, other| other.peak.total_cmp(&one.peak));
    all
}

/// The operating point of a state.
fn conditions(case: &Case<'_>, (surface, fuel, warmth): &(Surface, Fuel, Warmth)) -> Conditions {
    let state = &case.opened.state;
    let crew = state.conditions.aboard.crew;
    let litres = Laden::of(case.opened.car(), Aboard { crew, fuel: *fuel }).fuel;
    Conditions {
        surface: Arc::clone(&surface.name),
        aboard: Aboard {
            crew,
            // The litres of this car, in every car that its tolerances allow.
            fuel: Fuel::Of(litres),
        },
        warmth: *warmth,
        speed: case.said.speed(),
        // An assessment takes no slope.
        grade: Grade::LEVEL,
        ..state.conditions.clone()
    }
}

/// In how many states the rear alone stops, or in a car without a lever the front leads. No turn is run for it.
pub(super) fn in_short(case: &Case<'_>) -> String {
    let car = case.opened.car();
    let states = states(case);
    let found: Vec<HeadlineFigures> = states
        .iter()
        .filter_map(|state| HeadlineFigures::of(car, &conditions(case, state)))
        .collect();
    let (does, good): (&str, fn(&HeadlineFigures) -> bool) = if car.lever.is_some() {
        ("rear alone stops", |found| found.outcome == Some(WhatStops::Rear))
    } else {
        ("front first", |found| found.first == First::Front)
    };
    let count = found.iter().filter(|found| good(found)).count();
    format!("{does} in {count} of {}", found.len())
}

fn answered(
    case: &Case<'_>,
    state: (Surface, Fuel, Warmth),
    written: Vec<Finding>,
) -> Result<StateAnswer, Wrong> {
    let opened = case.opened;
    let car = opened.car();
    let conditions = conditions(case, &state);
    let (surface, fuel, warmth) = state;
    let litres = conditions.laden(car).fuel;
    let depth = Depth {
        sampling: case.sampling,
        briefly: true,
    };
    let inputs = &opened.sheet.read.inputs;
    let figures = Figures::of(inputs, &opened.assembled, &conditions, depth).map_err(|unknown| {
        let remedy = "describe it under [[surface]], or ask about another".to_owned();
        Wrong::plain(
            &opened.sheet.path(),
            "unknown-surface",
            unknown.to_string(),
            remedy,
        )
    })?;
    let middle = figures.headlines.middle;
    let assessment = ::assess::assess_in(car, &figures, case.units, case.precision(), written);
    let answer = assessment.answer;
    Ok(StateAnswer {
        surface,
        fuel,
        litres,
        warmth,
        verdict: answer.verdict,
        because: answer.because,
        first: answer.first,
        stops: answer.stops_first.into_iter().map(|(_, title)| title).collect(),
        in_hand: middle.in_hand,
        hand: middle.hand,
        locks: middle.first,
        front_first_by: middle.front_first_by.filter(|lead| lead.is_finite()),
    })
}
