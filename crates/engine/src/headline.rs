//! The handful of figures that every answer begins with, of a car and of the cars that its tolerances allow.

use quantity::si::{Force, Length, Pressure};

use crate::balance::{Balance, First};
use crate::car::{Car, Inputs, Slot};
use crate::conditions::Conditions;
use crate::hydraulics::Hydraulics;
use crate::lever::{LeverBench, WhatStops};
use crate::ranges::{Range, Sampling, Study, study};

/// The headline figures of one car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadlineFigures {
    /// Which end locks first.
    pub first: First,
    /// By how much the front leads at first lock; `None` where nothing locks.
    pub front_first_by: Option<f64>,
    /// Force of the foot at first lock.
    pub foot: Option<Force>,
    /// What happens at the driver's pull, the coupling read in the way that leaves least in hand; `None` without a lever.
    /// So are the figures of the lever below.
    pub outcome: Option<WhatStops>,
    /// The same as the reading has it that a drawn car takes.
    pub outcome_drawn: Option<WhatStops>,
    /// Torque in hand as that reading has it.
    pub in_hand_drawn: Option<f64>,
    /// Force of the hand that stops the rear axle, as that reading has it.
    pub hand_drawn: Option<Force>,
    /// Travel of the grip for it.
    pub travel_drawn: Option<Length>,
    /// Pressure at the rear brakes for it.
    pub pressure_drawn: Option<Pressure>,
    /// Torque that the driver's pull makes over torque needed.
    pub in_hand: Option<f64>,
    /// Force of the hand that stops the rear axle.
    pub hand: Option<Force>,
    /// Travel of the grip that stops the rear axle.
    pub travel: Option<Length>,
    /// Pressure at the rear brakes that stops the rear axle.
    pub pressure: Option<Pressure>,
}

/// The headline figures with their ranges and chances.
#[derive(Clone, Debug, PartialEq)]
pub struct Headlines {
    /// Of the car with every figure at its middle.
    pub middle: HeadlineFigures,
    /// Of every drawn car; empty where none was drawn.
    pub drawn: Study<HeadlineFigures>,
}

impl HeadlineFigures {
    /// Asks one car. `None` where it does not know the surface.
    #[must_use]
    pub fn of(car: &Car, conditions: &Conditions) -> Option<Self> {
        let grip = conditions.grip_of(car)?;
        let laden = conditions.laden(car);
        let hydraulics = Hydraulics::of(car, conditions.warmth);
        let answer = LeverBench::with(car, conditions.warmth, &hydraulics)
            .map(|bench| bench.answer(&laden, conditions.pull_at(car, grip)));
        let lock = Balance::of(car, hydraulics, laden, conditions.speed).lock(grip);
        let to_lock = answer.as_ref().map(|answer| answer.to_lock);
        let drawn = answer.as_ref().map(|answer| answer.drawn(car));
        Some(Self {
            first: lock.first,
            front_first_by: lock.at.map(|point| point.front_first_by),
            foot: lock.at.map(|point| point.foot),
            outcome: to_lock.map(|to_lock| to_lock.outcome),
            outcome_drawn: drawn.map(|to_lock| to_lock.outcome),
            in_hand_drawn: drawn.map(|to_lock| to_lock.in_hand),
            hand_drawn: drawn.and_then(|to_lock| to_lock.hand),
            travel_drawn: drawn.and_then(|to_lock| to_lock.travel),
            pressure_drawn: drawn.and_then(|to_lock| to_lock.pressure),
            in_hand: to_lock.map(|to_lock| to_lock.in_hand),
            hand: to_lock.and_then(|to_lock| to_lock.hand),
            travel: to_lock.and_then(|to_lock| to_lock.travel),
            pressure: to_lock.and_then(|to_lock| to_lock.pressure),
        })
    }
}

impl Headlines {
    /// Asks a car and the cars that its tolerances allow. `None` where the surface is not known.
    #[must_use]
    pub fn of(
        car: &Car,
        inputs: &Inputs,
        toleranced: &[Slot],
        conditions: &Conditions,
        sampling: Sampling,
    ) -> Option<Self> {
        let middle = HeadlineFigures::of(car, conditions)?;
        let drawn = study(inputs, toleranced, sampling, |car| {
            HeadlineFigures::of(car, conditions)
        });
        let answers: Vec<HeadlineFigures> = drawn.answers.into_iter().flatten().collect();
        Some(Self {
            middle,
            drawn: Study {
                answers,
                impossible: drawn.impossible,
            },
        })
    }

    /// 5–95 % range of a figure; `None` where nothing was drawn.
    #[must_use]
    pub fn range(&self, figure: impl Fn(&HeadlineFigures) -> Option<f64>) -> Option<Range> {
        self.drawn.range(figure)
    }

    /// Chance that the rear leads at first lock (the front leads by less than nothing).
    #[must_use]
    pub fn chance_rear_first(&self) -> Option<f64> {
        self.drawn
            .chance(|drawn| drawn.front_first_by.is_some_and(|margin| margin < 0.0))
    }

    /// Chance that the driver's pull stops the rear axle and the front wheels roll, over tolerances and readings of the
    /// coupling together; `None` without a lever.
    #[must_use]
    pub fn chance_rear_stops(&self) -> Option<f64> {
        self.middle.outcome?;
        self.drawn
            .chance(|drawn| drawn.outcome_drawn == Some(WhatStops::Rear))
    }

    /// The same chance within the reading that decides the word: what it is not, no tolerance makes it.
    #[must_use]
    pub fn chance_rear_stops_at_worst(&self) -> Option<f64> {
        self.middle.outcome?;
        self.drawn.chance(|drawn| drawn.outcome == Some(WhatStops::Rear))
    }

    /// Chance that the coupling drags all four to a stop; `None` without a lever.
    #[must_use]
    pub fn chance_all_four_stop(&self) -> Option<f64> {
        self.middle.outcome?;
        self.drawn
            .chance(|drawn| drawn.outcome_drawn == Some(WhatStops::AllFour))
    }
}
