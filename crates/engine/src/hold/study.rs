//! How long a car holds, and those that its tolerances allow.

use crate::thresholds::LONGEST;
use quantity::si::{Duration, Pressure};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};

use super::{Hold, HoldBench};
use crate::car::{Car, Inputs, Slot};
use crate::conditions::Conditions;
use crate::heat::HeatFault;
use crate::ranges::{Drawn, Range, Sampling, Study, drawn_evenly};
use crate::thermal::{UNSURE_BY, Unsure};

/// What seeps past a seal that nobody measured may be so many times more, or less (judgement).
pub const SEEP_UNSURE: f64 = 3.0;

/// The same of one that a soak measured.
pub const SEEP_MEASURED_UNSURE: f64 = 1.3;

/// The figures of one answer that a range is given for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldFigures {
    /// Shortest of all arrivals; the longest that is asked about where it holds beyond.
    pub shortest: Duration,
    /// The steepest slope for two minutes.
    pub steepest: f64,
    /// The highest pressure; zero with a cable.
    pub pressure_max: Pressure,
    /// Torque there is over torque needed on latching, at the worst arrival.
    pub ratio: f64,
}

impl HoldFigures {
    /// Of an answer.
    #[must_use]
    pub fn of(hold: &Hold) -> Self {
        Self {
            shortest: hold
                .worst()
                .and_then(|arrival| arrival.holds_for)
                .unwrap_or(LONGEST),
            steepest: hold.steepest_for_two_minutes,
            pressure_max: hold.pressure_max().unwrap_or(Pressure::ZERO),
            ratio: hold
                .arrivals
                .iter()
                .map(|arrival| arrival.ratio)
                .fold(f64::INFINITY, f64::min),
        }
    }
}

/// The answer with its ranges.
#[derive(Clone, Debug, PartialEq)]
pub struct Holds {
    /// Of the car with every figure at its middle.
    pub middle: Hold,
    /// Of every drawn car; empty where none was drawn.
    pub drawn: Study<HoldFigures>,
}

impl Holds {
    /// Latches the car's lever and that of those that its tolerances allow; `None` without a lever.
    ///
    /// # Errors
    /// The temperatures of the car itself cannot be followed.
    pub fn of(
        car: &Car,
        inputs: &Inputs,
        toleranced: &[Slot],
        conditions: &Conditions,
        sampling: Sampling,
    ) -> Result<Option<Self>, HeatFault> {
        let Some(bench) = HoldBench::of(car, conditions) else {
            return Ok(None);
        };
        let middle = bench.hold()?;
        let measured = middle.seep.is_some_and(|seep| seep.measured);
        let most: f64 = if measured {
            SEEP_MEASURED_UNSURE
        } else {
            SEEP_UNSURE
        };
        let asked = crate::wanted::asked();
        let drawn = Drawn::of(inputs, toleranced, sampling);
        let answers: Vec<Option<HoldFigures>> = drawn
            .numbers()
            .into_par_iter()
            .map(|number| {
                asked.go_on();
                let car = drawn.car(number)?;
                let even = |place: usize| drawn_evenly(sampling, number, place);
                let unsure = Unsure {
                    convection: 1.0 + UNSURE_BY[0] * even(0),
                    disc_to_caliper: 1.0 + UNSURE_BY[2] * even(2),
                    caliper: 1.0 + UNSURE_BY[3] * even(3),
                    ..Unsure::default()
                };
                let hold = HoldBench::unsure(&car, conditions, unsure, most.powf(even(4)))?
                    .hold()
                    .ok()?;
                Some(HoldFigures::of(&hold))
            })
            .collect();
        let all = answers.len();
        let answers: Vec<HoldFigures> = answers.into_iter().flatten().collect();
        let impossible = u32::try_from(all - answers.len()).unwrap_or(u32::MAX);
        Ok(Some(Self {
            middle,
            drawn: Study { answers, impossible },
        }))
    }

    /// 5–95 % range of a figure; `None` where nothing was drawn.
    #[must_use]
    pub fn range(&self, figure: impl Fn(&HoldFigures) -> f64) -> Option<Range> {
        self.drawn.range(|drawn| Some(figure(drawn)))
    }
}
