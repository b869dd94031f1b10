//! Everything that an assessment reads, asked once of a car in a state: the questions of the other modules, put together.

mod braking;
mod handbrake;
mod readings;
mod screening;
mod turned;

use std::sync::Arc;

use quantity::si::{Force, Temperature};
use thiserror::Error;

pub use braking::{Braked, Foot, ForAll, LockRow, RoadRow, ScanPoint};
pub use handbrake::{Abuse, Bled, Hand, KNOCK_BACK, KnockBack, LeverRow, PISTON_PER_WEAR, ShoeWear};
pub use readings::{HeldAgainst, ReadingKind, Sides, Soaked};
pub use screening::{Headlined, Settles};
pub(crate) use turned::usual;
pub use turned::{Turned, TurnedRow};

use crate::balance::Settings;
use crate::car::{Assembled, Car, Date, DefaultUsed, FluidGrade, Inputs, Slot, Surface};
use crate::conditions::Conditions;
use crate::headline::Headlines;
use crate::hydraulics::Hydraulics;
use crate::loads::{AxleLoads, Laden};
use crate::mount::{MountAnswer, mount_under_abuse};
use crate::ranges::Sampling;
use crate::turn::TurnFault;

/// The surface on which laws are read and brakes are hottest.
const DRY_TARMAC: &str = "dry tarmac";

/// How closely a car is looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Depth {
    /// How often tolerances are drawn.
    pub sampling: Sampling,
    /// Whether the turn is run as asked alone, and not over other surfaces, grips and inputs: for a look while something
    /// moves. What only many runs can show is then not looked at.
    pub briefly: bool,
}

/// The car's list of surfaces does not have the one that was asked about.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("the car knows no surface called `{name}`")]
pub struct NoSuchSurface {
    /// As it was asked for.
    pub name: Arc<str>,
}

/// What the fluid is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FluidAge {
    /// Whole days since it was changed; below zero where that lies ahead. `None`: day or change not known.
    pub days: Option<i32>,
    /// What its grade promises at least, fresh and wet.
    pub grade_promises: (Temperature, Temperature),
    /// Whether the sheet's boiling points are below that.
    pub below_grade: bool,
}

/// Everything that an assessment reads.
#[derive(Clone, Debug)]
pub struct Figures {
    /// As asked.
    pub conditions: Conditions,
    /// How closely it was looked at.
    pub depth: Depth,
    /// Surface that it was asked about.
    pub surface: Surface,
    /// Mass and centre of gravity.
    pub laden: Laden,
    /// Axle loads standing.
    pub standing: AxleLoads,
    /// Defaults that the car leaned on.
    pub defaults_used: Vec<DefaultUsed>,
    /// The foot's side.
    pub foot: Foot,
    /// Lock order.
    pub braked: Braked,
    /// Settings of valve or bar for front first by 5 % at this load, stage and road: for the surface that was asked
    /// about, then for the others that the car runs on.
    pub settings: Settings,
    /// The hand's side; `None` without a lever.
    pub hand: Option<Hand>,
    /// The turn, run; or why there is none.
    pub turned: Result<Turned, TurnFault>,
    /// The lever's mount; `None` where the sheet does not describe it.
    pub mount: Option<MountAnswer>,
    /// The fluid.
    pub fluid: FluidAge,
    /// Readings on the sheet against what is computed.
    pub readings: Vec<HeldAgainst>,
    /// Left and right wheels measured at one pressure.
    pub sides: Vec<Sides>,
    /// Pressure held shut.
    pub soaked: Vec<Soaked>,
    /// The headline figures with all that was drawn.
    pub headlines: Headlines,
    /// What each toleranced key settles of each headline figure, most first; empty where nothing was drawn.
    pub settles: Vec<(Headlined, Vec<Settles>)>,
}

impl Figures {
    /// Asks all questions of a car.
    ///
    /// # Errors
    /// Where the car does not know the surface.
    pub fn of(
        inputs: &Inputs,
        assembled: &Assembled,
        conditions: &Conditions,
        depth: Depth,
    ) -> Result<Self, NoSuchSurface> {
        let car = &assembled.car;
        let no_such = || NoSuchSurface {
            name: Arc::clone(&conditions.surface),
        };
        let surface = conditions.surface_of(car).ok_or_else(no_such)?;
        let toleranced: &[Slot] = &assembled.toleranced;
        let headlines =
            Headlines::of(car, inputs, toleranced, conditions, depth.sampling).ok_or_else(no_such)?;
        let settles = screening::screen(inputs, toleranced, depth.sampling, &headlines);
        let laden = conditions.laden(car);
        let hydraulics = Hydraulics::of(car, conditions.warmth);
        let others = || {
            let settings = crate::balance::settings(
                car,
                &hydraulics,
                &also_on(car, &surface),
                &[conditions.aboard.fuel],
                conditions.aboard.crew,
                crate::balance::Wish::front_first(crate::thresholds::WANTED_LEAD),
            );
            let held_against = (
                readings::against_the_sheet(car),
                readings::side_to_side(car),
                readings::soaked(car),
            );
            (
                Foot::of(car, &hydraulics, &laden, surface.peak),
                Braked::of(car, &hydraulics, conditions, &surface),
                settings,
                Hand::of(car, &hydraulics, &laden, conditions, &surface),
                mount_under_abuse(car),
                held_against,
            )
        };
        // Nothing waits for the turn but the turn.
        let turn = || Turned::of(car, &laden, conditions, depth.briefly, &surface);
        let (turned, (foot, braked, settings, hand, mount, held_against)) = crate::wanted::both(turn, others);
        let (readings, sides, soaked) = held_against;
        Ok(Self {
            standing: laden.axle_loads(0.0),
            defaults_used: assembled.defaults_used.clone(),
            foot,
            braked,
            settings,
            hand,
            turned,
            mount,
            fluid: fluid_age(car, conditions.day),
            readings,
            sides,
            soaked,
            headlines,
            settles,
            conditions: conditions.clone(),
            depth,
            surface,
            laden,
        })
    }
}

/// Surfaces that a car competes on; where the sheet names none, the one that was asked about.
fn surfaces(car: &Car, asked: &Surface) -> Vec<Surface> {
    let named: Vec<Surface> = car
        .runs_on
        .iter()
        .filter_map(|name| car.surface(name).cloned())
        .collect();
    if named.is_empty() {
        vec![asked.clone()]
    } else {
        named
    }
}

/// The surface that was asked about, and the others that a car competes on.
fn also_on(car: &Car, asked: &Surface) -> Vec<Surface> {
    let others = surfaces(car, asked)
        .into_iter()
        .filter(|other| other.name != asked.name);
    core::iter::once(asked.clone()).chain(others).collect()
}

/// Foot on the pedal where one force stands for all.
pub const USUAL_FOOT: Force = Force::from_n(300.0);
/// Hand on the lever where one force stands for all.
const USUAL_HAND: Force = Force::from_n(150.0);

fn fluid_age(car: &Car, day: Option<Date>) -> FluidAge {
    let fluid = car.fluid;
    let days = day.and_then(|day| fluid.days_on(day));
    let (dry, wet) = grade_promises(fluid.grade);
    FluidAge {
        days,
        grade_promises: (dry, wet),
        below_grade: fluid.boiling_dry < dry || fluid.boiling_wet < wet,
    }
}

/// Least boiling points of a grade, fresh and wet.
fn grade_promises(grade: FluidGrade) -> (Temperature, Temperature) {
    let [dry, wet] = grade.promises().map(|text| {
        quantity::parse(text, quantity::Dimension::Temperature).map_or(f64::NAN, |amount| amount.si)
    });
    (Temperature::from_k(dry), Temperature::from_k(wet))
}
