//! Heat of a car and of the cars that its tolerances allow.

use quantity::si::{Temperature, TemperatureDifference};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};

use super::{CornerHeat, Heat, HeatBench, HeatFault, Stage};
use crate::car::{Car, Inputs, Slot};
use crate::conditions::Conditions;
use crate::ranges::{Drawn, Range, Sampling, Study, drawn_evenly};
use crate::thermal::{UNSURE_BY, Unsure};

/// The figures of one answer that a range is given for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatFigures {
    /// Each front wheel.
    pub front: CornerHeat,
    /// Each rear wheel.
    pub rear: CornerHeat,
    /// What is left of the fluid to its wet boiling point, at the worse axle.
    pub to_wet: TemperatureDifference,
    /// The same to its boiling point at its age.
    pub to_now: TemperatureDifference,
    /// What is left until pads have faded, at the worse axle.
    pub to_fade: TemperatureDifference,
    /// Hottest disc or drum.
    pub disc_peak: Temperature,
}

impl HeatFigures {
    /// Of an answer.
    #[must_use]
    pub fn of(heat: &Heat) -> Self {
        let (front, rear) = (heat.front, heat.rear);
        Self {
            front,
            rear,
            to_wet: front.to_wet.min(rear.to_wet),
            to_now: front.to_now.min(rear.to_now),
            to_fade: front.to_fade.min(rear.to_fade),
            disc_peak: front.disc_peak.max(rear.disc_peak),
        }
    }
}

/// The answer with its ranges.
#[derive(Clone, Debug, PartialEq)]
pub struct Heats {
    /// Of the car with every figure at its middle.
    pub middle: Heat,
    /// Of every drawn car; empty where none was drawn.
    pub drawn: Study<HeatFigures>,
}

impl Heats {
    /// Drives the car and those that its tolerances allow. What is on no sheet (what the air takes, what reaches the
    /// caliper) is drawn with them, see [`UNSURE_BY`].
    ///
    /// # Errors
    /// The temperatures of the car itself cannot be followed.
    pub fn of(
        car: &Car,
        inputs: &Inputs,
        toleranced: &[Slot],
        conditions: &Conditions,
        stage: &Stage,
        sampling: Sampling,
    ) -> Result<Self, HeatFault> {
        let middle = HeatBench::of(car, conditions).drive(stage)?;
        let asked = crate::wanted::asked();
        let drawn = Drawn::of(inputs, toleranced, sampling);
        let answers: Vec<Option<HeatFigures>> = drawn
            .numbers()
            .into_par_iter()
            .map(|number| {
                asked.go_on();
                let car = drawn.car(number)?;
                let heat = HeatBench::unsure(&car, conditions, unsure(sampling, number))
                    .drive(stage)
                    .ok()?;
                Some(HeatFigures::of(&heat))
            })
            .collect();
        let all = answers.len();
        let answers: Vec<HeatFigures> = answers.into_iter().flatten().collect();
        let impossible = u32::try_from(all - answers.len()).unwrap_or(u32::MAX);
        Ok(Self {
            middle,
            drawn: Study { answers, impossible },
        })
    }

    /// 5–95 % range of a figure; `None` where nothing was drawn.
    #[must_use]
    pub fn range(&self, figure: impl Fn(&HeatFigures) -> f64) -> Option<Range> {
        self.drawn.range(|drawn| Some(figure(drawn)))
    }
}

/// One draw of what is on no sheet.
fn unsure(sampling: Sampling, number: u32) -> Unsure {
    let factor = |place: usize| 1.0 + UNSURE_BY[place] * drawn_evenly(sampling, number, place);
    Unsure {
        convection: factor(0),
        to_caliper: factor(1),
        disc_to_caliper: factor(2),
        caliper: factor(3),
    }
}
