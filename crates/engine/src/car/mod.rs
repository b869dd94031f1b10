//! What is on the car: plain data in SI. It is assembled from a sheet's [`Inputs`] by the one table of [`KEYS`];
//! everything else that the engine says is computed from it.

pub(crate) mod aboard;
mod assemble;
mod body;
mod brakes;
pub mod circuit;
mod drawing;
mod drivetrain;
mod hydraulics;
mod inputs;
mod key;
mod key_id;
mod keys;
mod refusal;
mod remark;
pub mod sold;
mod surroundings;
mod tyre_size;

use std::sync::Arc;

pub use crate::tyre::Surface;
pub use assemble::{Assembled, Prepared, Replaced, Unusual};
pub use body::{Abs, CgHeight, Geometry, Item, Lifted, Load, Tank, Tyres, Weighed, built_in_surfaces};
pub use brakes::{
    Brake, Caliper, CaliperLayout, Disc, DiscBrake, Drum, DrumBrake, Friction, Parking, ShoeAdjuster, circle,
};
pub use drawing::Drawing;
pub use drivetrain::{Centre, Coupling, Curve, Differential, Driven, Drivetrain};
pub use hydraulics::{
    BalanceBar, BiasValve, Booster, Cable, Knee, KnobScale, Lever, LeverCylinder, LeverFrame, LeverKind,
    Master, Mount, Outlets, Pedal, Setting, Split, ValvePlace,
};
pub use inputs::{Date, DefaultUsed, Draw, Inputs, Kept, Slot, Value};
pub use key::{Form, Key, Need};
pub use key_id::KeyId;
pub use keys::KEYS;
pub use refusal::{Refusal, Remedy};
pub use remark::{Remark, RemarkPart};
pub use surroundings::{
    Air, AllMeasured, Before, Fluid, FluidGrade, Line, MeasuredPull, MeasuredSoak, MeasuredValve,
    MeasuredWheel, OldParking, PedalReadings, Pipe, Place, Places, Ports, PullPoint, Route, Routes,
    RunOfPipe,
};
pub use tyre_size::TyreSize;

/// One car, as it is or as proposed.
#[derive(Clone, Debug)]
pub struct Car {
    /// What it is called.
    pub name: Arc<str>,
    /// What kind of car it is.
    pub build: Option<Arc<str>>,
    /// Whether it is driven on public roads.
    pub road_registered: bool,
    /// Surfaces that it competes on, by name.
    pub runs_on: Vec<Arc<str>>,
    /// Anti-lock unit.
    pub abs: Abs,
    /// On scales.
    pub weighed: Weighed,
    /// Wheelbase, tracks, inertia.
    pub geometry: Geometry,
    /// What comes aboard.
    pub load: Load,
    /// Tyres.
    pub tyres: Tyres,
    /// The built-in surfaces and the sheet's own.
    pub surfaces: Vec<Surface>,
    /// Pedal and booster.
    pub pedal: Pedal,
    /// Master cylinder or cylinders.
    pub master: Master,
    /// Bias valve, if there is one.
    pub bias_valve: Option<BiasValve>,
    /// Handbrake, if there is one.
    pub lever: Option<Lever>,
    /// Each front wheel's brake.
    pub front_brake: Brake,
    /// Each rear wheel's brake.
    pub rear_brake: Brake,
    /// A second caliper on each rear disc, of a separate lever or to compare with.
    pub lever_brake: Option<DiscBrake>,
    /// Drivetrain.
    pub drivetrain: Drivetrain,
    /// Brake fluid.
    pub fluid: Fluid,
    /// Routes, port to port.
    pub routes: Routes,
    /// What the lines are made of.
    pub front_line: Line,
    /// What the rear line is made of.
    pub rear_line: Line,
    /// What a separate lever's line is made of.
    pub lever_line: Line,
    /// Threads and seats, as the sheet writes them.
    pub ports: Ports,
    /// Where things stand.
    pub places: Places,
    /// What the car had before.
    pub before: Before,
    /// Trapped air.
    pub air: Air,
    /// Readings.
    pub measured: AllMeasured,
}

/// An axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Axle {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
}

/// A wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Wheel {
    /// Front left.
    FrontLeft,
    /// Front right.
    FrontRight,
    /// Rear left.
    RearLeft,
    /// Rear right.
    RearRight,
}

impl Wheel {
    /// All four, in the order of every list of wheels.
    pub const ALL: [Self; 4] = [Self::FrontLeft, Self::FrontRight, Self::RearLeft, Self::RearRight];

    /// Which axle it turns on.
    #[must_use]
    pub const fn axle(self) -> Axle {
        match self {
            Self::FrontLeft | Self::FrontRight => Axle::Front,
            Self::RearLeft | Self::RearRight => Axle::Rear,
        }
    }

    /// Place in a list of wheels.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::FrontLeft => 0,
            Self::FrontRight => 1,
            Self::RearLeft => 2,
            Self::RearRight => 3,
        }
    }

    /// Name in circuits and machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::FrontLeft => "front_left",
            Self::FrontRight => "front_right",
            Self::RearLeft => "rear_left",
            Self::RearRight => "rear_right",
        }
    }
}

impl Car {
    /// The brake of an axle's wheels (without a separate lever's second calipers).
    #[must_use]
    pub const fn brake(&self, axle: Axle) -> &Brake {
        match axle {
            Axle::Front => &self.front_brake,
            Axle::Rear => &self.rear_brake,
        }
    }

    /// A surface by its name, letter case aside.
    #[must_use]
    pub fn surface(&self, name: &str) -> Option<&Surface> {
        let wanted = name.trim().to_lowercase();
        self.surfaces
            .iter()
            .find(|surface| surface.name.to_lowercase() == wanted)
    }
}
