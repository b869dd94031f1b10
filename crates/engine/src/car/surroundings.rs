use std::sync::Arc;

use quantity::si::{Duration, Force, Length, Pressure, Temperature, Torque, Volume};

use super::Wheel;
use super::hydraulics::Setting;
use super::inputs::Date;

/// Grade of brake fluid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FluidGrade {
    /// Glycol ether.
    Dot3,
    /// Glycol ether with borate esters.
    Dot4,
    /// Silicone.
    Dot5,
    /// Glycol, to the figures of the row above.
    Dot51,
}

impl FluidGrade {
    /// Least boiling points that the grade promises, fresh and wet, as a sheet would write them
    /// (49 CFR 571.116 S5.1.1 and S5.1.2).
    #[must_use]
    pub const fn promises(self) -> [&'static str; 2] {
        match self {
            Self::Dot3 => ["205 C", "140 C"],
            Self::Dot4 => ["230 C", "155 C"],
            Self::Dot5 | Self::Dot51 => ["260 C", "180 C"],
        }
    }
}

/// Brake fluid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fluid {
    /// As on the bottle.
    pub grade: FluidGrade,
    /// When it was last changed.
    pub fitted: Option<Date>,
    /// Boiling point, fresh.
    pub boiling_dry: Temperature,
    /// Boiling point with its share of water.
    pub boiling_wet: Temperature,
}

impl Fluid {
    /// Whole days from its change to a day; below zero where the change lies ahead. `None`: nobody wrote it down.
    #[must_use]
    pub fn days_on(&self, day: Date) -> Option<i32> {
        day.since(self.fitted?).ok().map(|span| span.get_days())
    }
}

/// A length along a path, and whether somebody laid a tape there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Route {
    /// How long.
    pub length: Length,
    /// Whether it was measured: not left out, not guessed, not rough. Nothing is cut to a length that was not.
    pub taped: bool,
}

impl Route {
    /// No length at all, which needs no tape.
    pub const NONE: Self = Self {
        length: Length::ZERO,
        taped: true,
    };
    /// A tolerance beyond this is an estimate and no tape (judgement: what the allowance for bends forgives).
    pub const ROUGH: Length = Length::from_m(0.03);

    /// One route and another after it.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        Self {
            length: self.length + next.length,
            taped: self.taped && next.taped,
        }
    }

    /// The same path up to a length that is taken rather than measured.
    #[must_use]
    pub const fn taken_as(length: Length) -> Self {
        Self { length, taped: false }
    }
}

/// Routes, port to port.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "each is named after its two ends")]
pub struct Routes {
    pub master_to_bulkhead: Route,
    pub bulkhead_to_lever: Route,
    pub lever_to_rear_tee: Route,
    pub bulkhead_to_rear_tee: Route,
    pub tee_to_rear_left: Route,
    pub tee_to_rear_right: Route,
    pub master_to_front_left: Route,
    pub master_to_front_right: Route,
    pub lever_to_lever_tee: Route,
    pub lever_tee_to_left: Route,
    pub lever_tee_to_right: Route,
}

/// What a run is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Pipe {
    /// Steel, 3/16 in outside.
    Steel316,
    /// Copper-nickel, 3/16 in outside.
    CopperNickel316,
    /// Steel, 1/4 in outside.
    Steel14,
    /// Copper-nickel, 1/4 in outside.
    CopperNickel14,
    /// Braided PTFE hose, dash 3.
    Braided3,
    /// Rubber hose.
    Rubber,
}

/// What a line is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// All of it but the last part.
    pub pipe: Pipe,
    /// How much of each route to a wheel is hose; zero: none.
    pub flexible_last: Route,
    /// What that hose is.
    pub flexible: Pipe,
}

/// One run between two ports: a pipe or a hose of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunOfPipe {
    /// How long, along the path.
    pub length: Length,
    /// Whether that was measured.
    pub taped: bool,
    /// What it is made of.
    pub pipe: Pipe,
}

impl RunOfPipe {
    /// A run along a route.
    #[must_use]
    pub const fn along(route: Route, pipe: Pipe) -> Self {
        Self {
            length: route.length,
            taped: route.taped,
            pipe,
        }
    }
}

/// Threads and seats as the sheet writes them.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs, reason = "each is named after its part")]
pub struct Ports {
    pub master: Option<Arc<str>>,
    pub bias_valve: Option<Arc<str>>,
    pub lever: Option<Arc<str>>,
    pub caliper: Option<Arc<str>>,
    pub tee: Option<Arc<str>>,
}

/// Engine bay or cabin, outside or inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Not where people sit.
    Outside,
    /// Where people sit.
    Cabin,
}

/// Where things stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Places {
    /// The pedal's fluid.
    pub reservoir: Place,
    /// A separate lever's fluid.
    pub lever_reservoir: Place,
    /// The rear run.
    pub rear_run: Place,
    /// Clips along it, where counted.
    pub rear_clips: Option<u32>,
    /// Guarded outside, covered inside.
    pub rear_guard: bool,
}

/// The parking brake that the car had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OldParking {
    /// None, or not known.
    None,
    /// A cable to the drum shoes.
    CableShoes,
    /// A cable to a mechanism in the caliper.
    CableInCaliper,
    /// A cable to small shoes inside the disc.
    CableDrumInDisc,
    /// Electric.
    Electric,
}

/// What the car had before.
#[derive(Clone, Debug, PartialEq)]
pub struct Before {
    /// A valve of its own in the rear line.
    pub factory_valve: bool,
    /// Parking brake.
    pub parking: OldParking,
    /// Where the old rear pipe still is; `None`: gone or not known.
    pub old_rear_pipe: Option<Arc<str>>,
}

/// Trapped air at rest, of each branch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[allow(missing_docs, reason = "each is named after its branch")]
pub struct Air {
    pub front: Volume,
    pub rear: Volume,
    pub lever: Volume,
}

/// Two gauges, one before and one behind the bias valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredValve {
    /// Turns or position at which it was read.
    pub setting: Option<Setting>,
    /// Before the valve.
    pub front: Pressure,
    /// Behind it.
    pub rear: Pressure,
}

/// One point of a measured pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullPoint {
    /// Grip travel.
    pub travel: Length,
    /// Rear pressure.
    pub pressure: Pressure,
    /// The hand's force, if it was read.
    pub hand: Option<Force>,
}

/// The handbrake pulled slowly against a gauge.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredPull {
    /// When.
    pub on: Option<Date>,
    /// Readings in the order taken.
    pub points: Vec<PullPoint>,
}

/// The foot on a scale against a gauge.
#[derive(Clone, Debug, PartialEq)]
pub struct PedalReadings {
    /// When.
    pub on: Option<Date>,
    /// Whether the booster worked.
    pub engine_on: bool,
    /// Whether it was the second of two presses.
    pub second_press: bool,
    /// Foot force and line pressure.
    pub points: Vec<(Force, Pressure)>,
}

/// A torque wrench on a hub at the moment the brake slips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredWheel {
    /// When.
    pub on: Option<Date>,
    /// Which wheel.
    pub wheel: Wheel,
    /// Whether its brake was cold, not warm, where that was said.
    pub cold: Option<bool>,
    /// Pressure that was held.
    pub pressure: Pressure,
    /// Torque at the moment it slipped.
    pub torque: Torque,
}

/// Pressure held shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredSoak {
    /// When.
    pub on: Option<Date>,
    /// Pressure at the start.
    pub from: Pressure,
    /// Pressure at the end.
    pub to: Pressure,
    /// How long.
    pub held_for: Duration,
    /// Air at the start and the end, if read.
    pub air: Option<(Temperature, Temperature)>,
}

/// Everything that was measured.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs, reason = "each is named after its reading")]
pub struct AllMeasured {
    pub valve: Vec<MeasuredValve>,
    pub pull: Vec<MeasuredPull>,
    pub pedal: Vec<PedalReadings>,
    pub wheel: Vec<MeasuredWheel>,
    pub soak: Vec<MeasuredSoak>,
}
