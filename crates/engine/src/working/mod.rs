//! How a figure explains itself: the arithmetic behind it, step by step, with its inputs and its source.
//!
//! A working is made on request from the result's own fields. Its formulas are the equations (`equations.rs`) that the physics
//! computed with, here with formulas in the place of numbers: nothing is written a second time, and a test holds every
//! line against what the physics gave.

mod balance;
mod brakes;
mod expr;
mod heat;
mod hold;
mod lever;
mod loads;
mod symbols;
mod written;

pub use expr::{Expr, FROM_ABSOLUTE_ZERO, Symbol, TEMPERATURE, TEMPERATURE_DIFFERENCE};
pub use written::{BEFORE_UNIT, Notation, Numeral, Operator, Quantities};

use crate::balance::{Balance, Lock, LockPoint};
use crate::brake::Warmth;
use crate::car::Car;
use crate::heat::{HeatBench, Stage};
use crate::hold::HoldBench;
use crate::hydraulics::Hydraulics;
use crate::lever::{LeverAnswer, LeverBench, Pull};
use crate::loads::Laden;

/// One line of arithmetic.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it gives.
    pub result: Symbol,
    /// From what.
    pub formula: Expr,
    /// Where the equation comes from.
    pub source: &'static str,
    /// What it assumes, or what it leaves out.
    pub assumes: &'static str,
}

/// The working of one figure: its last step gives the figure itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// Name of the figure, as in machine-read results.
    pub figure: &'static str,
    /// The arithmetic, from the sheet's figures to the result.
    pub steps: Vec<Step>,
}

impl Working {
    /// The step that gives the figure.
    #[must_use]
    pub fn last(&self) -> Option<&Step> {
        self.steps.last()
    }

    /// Keys of the sheet that it rests on, in the order of use, each once.
    #[must_use]
    pub fn keys(&self) -> Vec<&'static str> {
        let mut keys = Vec::new();
        for symbol in self.steps.iter().flat_map(|step| step.formula.symbols()) {
            if let Some(key) = symbol.key
                && !keys.contains(&key)
            {
                keys.push(key);
            }
        }
        keys
    }
}

/// Figures that can explain themselves, by their names in machine-read results, with what they are.
pub const FIGURES: &[(&str, &str)] = &[
    ("mass_kg", "mass of the car as it stands"),
    ("cg_height_m", "height of the centre of gravity"),
    (
        "front_first_by",
        "by how much the front uses more of its load than the rear at first lock",
    ),
    ("braking_rate", "deceleration over g at first lock"),
    ("foot_force_n", "force of the foot at first lock"),
    ("torque_needed_nm", "torque that stops the rear axle"),
    (
        "pressure_pa",
        "pressure at the rear brakes that stops the rear axle",
    ),
    ("hand_force_n", "force of the hand that stops the rear axle"),
    ("travel_m", "travel of the grip that stops the rear axle"),
    (
        "in_hand",
        "torque that the driver's pull makes over torque needed",
    ),
    (
        "drag",
        "what the coupling could carry over what the front wheels can give",
    ),
    ("knee_pa", "knee of the bias valve for a wish"),
    ("disc_peak_k", "hottest disc or drum of a stage"),
    (
        "cooling_time_s",
        "time in which the hottest disc or drum would lose its heat",
    ),
    ("fluid_running_k", "hottest fluid while a stage is driven"),
    ("fluid_soak_k", "hottest fluid in the soak after a stage"),
    (
        "fluid_margin_now_dk",
        "what is left to the boiling point at the fluid's age",
    ),
    (
        "over_needed",
        "what a latched lever holds over what it has to, on latching",
    ),
    (
        "minutes",
        "how long a latched lever holds, from the worst arrival",
    ),
    (
        "steepest_for_two_minutes",
        "steepest slope on which a latched lever holds for two minutes",
    ),
];

/// Those of [`FIGURES`] that belong to a stage or to a slope.
pub const OF_STAGE_OR_SLOPE: &[&str] = &[
    "disc_peak_k",
    "cooling_time_s",
    "fluid_running_k",
    "fluid_soak_k",
    "fluid_margin_now_dk",
    "over_needed",
    "minutes",
    "steepest_for_two_minutes",
];

/// A car and what was asked of it, as far as a working needs it.
#[derive(Clone, Debug)]
pub struct WorkingBench<'a> {
    car: &'a Car,
    laden: Laden,
    warmth: Warmth,
    grip: f64,
    pull: Option<Pull>,
    hydraulics: Hydraulics,
    lock: Lock,
    tie: crate::drivetrain::PedalTie,
    lever: Option<LeverAnswer>,
    wish: crate::balance::Wish,
    stage: Option<(HeatBench, Stage)>,
    parked: Option<HoldBench>,
}

impl<'a> WorkingBench<'a> {
    /// Asks the questions that the workings explain. `pull` stands for the driver's pull, grip and speed.
    #[must_use]
    pub fn of(car: &'a Car, laden: Laden, warmth: Warmth, pull: Pull, wish: crate::balance::Wish) -> Self {
        let hydraulics = Hydraulics::of(car, warmth);
        let balance = Balance::of(car, hydraulics.clone(), laden, pull.speed);
        let lever = LeverBench::of(car, warmth).map(|bench| bench.answer(&laden, pull));
        Self {
            car,
            laden,
            warmth,
            grip: pull.grip,
            pull: lever.as_ref().map(|_| pull),
            hydraulics,
            lock: balance.lock(pull.grip),
            tie: crate::drivetrain::tie_for_pedal(car, pull.speed),
            lever,
            wish,
            stage: None,
            parked: None,
        }
    }

    /// With a stage to drive, for the figures of its heat.
    #[must_use]
    pub fn over(mut self, bench: HeatBench, stage: Stage) -> Self {
        self.stage = Some((bench, stage));
        self
    }

    /// Parked on a slope, for the figures of a latched lever.
    #[must_use]
    pub fn parked(mut self, bench: Option<HoldBench>) -> Self {
        self.parked = bench;
        self
    }

    /// The working of a figure of [`FIGURES`]; `None` where the car does not have it (nothing locks, no lever, a cable
    /// that makes no pressure), or where it cannot be had at all.
    #[must_use]
    pub fn working(&self, figure: &str) -> Option<Working> {
        let &(figure, _) = FIGURES.iter().find(|(name, _)| *name == figure)?;
        let mut sheet = Arithmetic {
            asked: self,
            steps: Vec::new(),
        };
        let found = match figure {
            "mass_kg" => sheet.mass(),
            "cg_height_m" => sheet.cg_height(),
            "front_first_by" => sheet.front_first_by(),
            "braking_rate" => sheet.braking_rate(),
            "foot_force_n" => sheet.foot_force(),
            "torque_needed_nm" => sheet.torque_needed(),
            "pressure_pa" => sheet.lever_pressure(),
            "hand_force_n" => sheet.hand_force(),
            "travel_m" => sheet.travel(),
            "in_hand" => sheet.in_hand(),
            "drag" => sheet.drag(),
            "knee_pa" => sheet.knee(),
            "disc_peak_k" => sheet.disc_peak(),
            "cooling_time_s" => sheet.cooling_time(),
            "fluid_running_k" => sheet.fluid_running(),
            "fluid_soak_k" => sheet.fluid_soak(),
            "fluid_margin_now_dk" => sheet.fluid_margin(),
            "over_needed" => sheet.over_needed(),
            "minutes" => sheet.minutes(),
            "steepest_for_two_minutes" => sheet.steepest(),
            _ => None,
        };
        found.map(|_| Working {
            figure,
            steps: sheet.steps,
        })
    }

    fn lock_point(&self) -> Option<LockPoint> {
        self.lock.at
    }
}

/// Where a working is written, line by line.
struct Arithmetic<'a> {
    asked: &'a WorkingBench<'a>,
    steps: Vec<Step>,
}

impl Arithmetic<'_> {
    /// Writes a line and gives its result for further lines. A line that stands already is not written again.
    fn line(&mut self, result: Symbol, formula: Expr, source: &'static str, assumes: &'static str) -> Symbol {
        if !self.steps.iter().any(|step| step.result.sign == result.sign) {
            self.steps.push(Step {
                result: result.clone(),
                formula,
                source,
                assumes,
            });
        }
        result
    }

    /// Writes a line of which no result has the value: the formula gives it.
    fn worked(
        &mut self,
        (sign, meaning, unit): (&'static str, &'static str, &'static str),
        formula: Expr,
        source: &'static str,
        assumes: &'static str,
    ) -> Symbol {
        let result = Symbol::computed(sign, meaning, formula.value(), unit);
        self.line(result, formula, source, assumes)
    }

    fn known(&self, sign: &str) -> Option<Symbol> {
        self.steps
            .iter()
            .find(|step| step.result.sign == sign)
            .map(|step| step.result.clone())
    }
}
