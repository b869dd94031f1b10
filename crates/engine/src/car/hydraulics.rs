use std::sync::Arc;

use quantity::si::{Area, Force, Length, Pressure, Turns};

use super::brakes::{DiscBrake, circle};
use crate::equations;

/// Pedal and booster.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pedal {
    /// Travel of the foot pad over travel of the push rod.
    pub ratio: f64,
    /// What pivot and seals leave of the force.
    pub efficiency: f64,
    /// Force of the foot that moves nothing, without assistance: return springs, the booster's valve.
    pub preload: Force,
    /// Vacuum assistance, if there is any.
    pub booster: Option<Booster>,
}

/// Vacuum assistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Booster {
    /// Force out over force in, below run-out.
    pub gain: f64,
    /// Line pressure above which it adds no more.
    pub run_out: Pressure,
    /// Line pressure at which the boosted line meets a foot of zero: it leaps there once the foot wakes the booster.
    pub jump_in: Pressure,
}

impl Booster {
    /// Foot force that wakes it (from memory).
    pub const WAKES: Force = Force::from_n(20.0);
    /// Least distance from jump-in to run-out.
    pub const LEAST_RANGE: Pressure = Pressure::from_pa(5e5);
}

/// Which wheels the two circuits feed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Split {
    /// Front and rear.
    Axle,
    /// Each a front wheel and the rear wheel across.
    Diagonal,
}

/// Balance bar of twin cylinders.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BalanceBar {
    /// The front cylinder's share of the push rod's force.
    pub front_share: f64,
    /// Change of that share per turn.
    pub share_per_turn: f64,
}

/// Master cylinder or cylinders.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Master {
    /// Two circuits in one bore.
    Tandem {
        /// Bore.
        bore: Length,
        /// Which wheels the circuits feed.
        split: Split,
        /// Of the primary piston, both chambers together.
        stroke: Length,
        /// Holds a little pressure back for drums.
        residual_valve: bool,
    },
    /// Two cylinders worked by one pedal through a balance bar; always split by axle.
    Twin {
        /// Front cylinder's bore.
        front_bore: Length,
        /// Rear cylinder's bore.
        rear_bore: Length,
        /// Of each.
        stroke: Length,
        /// The bar.
        bar: BalanceBar,
        /// Holds a little pressure back for drums.
        residual_valve: bool,
    },
}

impl Master {
    /// Push-rod force per pressure of each chamber: its area, over the bar's share where there is one.
    #[must_use]
    pub fn rod_per_pressure(&self) -> [Area; 2] {
        match *self {
            Self::Tandem { bore, .. } => [circle(bore); 2],
            Self::Twin {
                front_bore,
                rear_bore,
                bar,
                ..
            } => [
                (front_bore, bar.front_share),
                (rear_bore, equations::other_share(bar.front_share)),
            ]
            .map(|(bore, share)| Area::from_m2(equations::rod_per_pressure(circle(bore).m2(), share))),
        }
    }

    /// Push-rod force per pressure at which a booster's figures are given: that which would put all bores at it,
    /// wherever the bar stands.
    #[must_use]
    pub fn boosted_area(&self) -> Area {
        match *self {
            Self::Tandem { bore, .. } => circle(bore),
            Self::Twin {
                front_bore,
                rear_bore,
                ..
            } => circle(front_bore) + circle(rear_bore),
        }
    }

    /// Which wheels the circuits feed.
    #[must_use]
    pub const fn split(&self) -> Split {
        match self {
            Self::Tandem { split, .. } => *split,
            Self::Twin { .. } => Split::Axle,
        }
    }
}

/// Where a bias valve stands in the rear line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ValvePlace {
    /// The pedal's pressure passes it, the lever's does not.
    BeforeLever,
    /// Both pass it.
    AfterLever,
}

/// How far a knob is in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Setting {
    /// Turns from fully out.
    Turns(Turns),
    /// Position of a stepped lever, counted from 1.
    Position(u32),
}

/// What a knob's travel is counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum KnobScale {
    /// Turns from fully out to fully in.
    Turns(Turns),
    /// Positions, counted from 1.
    Positions(u32),
}

/// The knee of a bias valve: inlet pressure above which the outlet lags.
#[derive(Clone, Debug, PartialEq)]
pub enum Knee {
    /// Set by a knob: knee over setting, rising settings, straight between the points. Turns as turns, positions as
    /// their number.
    Knob {
        /// Knee over setting.
        at: Vec<(f64, Pressure)>,
        /// What the setting is counted in.
        scale: KnobScale,
        /// As it stands.
        setting: f64,
    },
    /// One value.
    Fixed(Pressure),
    /// Straight over the rear axle's load, through two points, not below zero.
    OverRearLoad {
        /// Load and knee, light.
        empty: (Force, Pressure),
        /// Load and knee, laden.
        laden: (Force, Pressure),
    },
}

/// A bias valve.
#[derive(Clone, Debug, PartialEq)]
pub struct BiasValve {
    /// Where it starts to reduce.
    pub knee: Knee,
    /// Outlet's rise over inlet's above the knee; 0 for a limiting valve.
    pub slope: f64,
    /// Where it stands.
    pub place: ValvePlace,
}

/// Outlets of a lever's cylinder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outlets {
    /// One circuit.
    One,
    /// Two circuits one behind the other in one bore: one pressure, strokes add.
    Tandem,
    /// Two bores abreast: each takes half the force, strokes equal.
    SideBySide,
}

/// The cylinder that a lever works.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeverCylinder {
    /// Bore.
    pub bore: Length,
    /// Travel of the grip over travel of the push rod.
    pub ratio: f64,
    /// Of the cylinder.
    pub stroke: Length,
    /// What pivot and seals leave of the hand's force.
    pub efficiency: f64,
    /// Until the by-pass is covered.
    pub free_stroke: Length,
    /// Diameter of the piston's rear seal; the bore in most.
    pub rear_seal: Length,
    /// How many outlets, and how they share.
    pub outlets: Outlets,
}

impl LeverCylinder {
    /// Pressure per newton of hand force (Pa/N).
    #[must_use]
    pub fn pressure_per_hand_pa_n(&self) -> f64 {
        equations::pressure_per_hand(self.ratio, self.efficiency, self.pressed_area_m2())
    }

    /// Bores that the push rod presses on at once.
    pub(crate) fn bores_abreast(&self) -> f64 {
        if self.outlets == Outlets::SideBySide {
            2.0
        } else {
            1.0
        }
    }

    /// Pistons one behind the other, each with a free stroke of its own.
    pub(crate) fn pistons_in_line(&self) -> f64 {
        if self.outlets == Outlets::Tandem { 2.0 } else { 1.0 }
    }

    /// Area that the push rod's whole force presses on (m²): two bores where they are abreast.
    #[must_use]
    pub fn pressed_area_m2(&self) -> f64 {
        equations::pressed_area(self.bores_abreast(), circle(self.bore).m2())
    }

    /// Share of the pedal's pressure that the lever's own is added to: 0 where both seals are alike.
    #[must_use]
    pub fn added_share(&self) -> f64 {
        1.0 - (self.rear_seal / self.bore).powi(2)
    }
}

/// A cable to pads or shoes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cable {
    /// Force at the pads or shoes of both sides over force at the hand, before losses.
    pub ratio: f64,
    /// What the cable leaves of it.
    pub efficiency: f64,
}

/// How a lever works on the rear wheels.
#[derive(Clone, Debug, PartialEq)]
pub enum LeverKind {
    /// A cylinder in the rear line; the pedal's fluid passes it at rest.
    Inline(LeverCylinder),
    /// A cylinder of its own with a second pair of calipers.
    Separate(LeverCylinder, DiscBrake),
    /// A cable.
    Cable(Cable),
}

/// Whether pivot and cylinder share a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeverFrame {
    /// They do: the lever's multiplied force stays inside it.
    Closed,
    /// The cylinder is bolted to the shell by itself.
    Apart,
}

/// How a lever is bolted down.
#[derive(Clone, Debug, PartialEq)]
pub struct Mount {
    /// Count, size and grade, as the sheet writes them.
    pub bolts: Option<Arc<str>>,
    /// Bolt spacing along and across the car.
    pub pattern: Option<(Length, Length)>,
    /// Thickness of the sheet that it stands on.
    pub floor_sheet: Length,
    /// Thickness of the spreader plate; zero: none.
    pub spreader: Length,
    /// Pivot over the floor.
    pub pivot_above_floor: Length,
    /// Grip over the pivot.
    pub grip_above_pivot: Length,
}

/// A handbrake lever.
#[derive(Clone, Debug, PartialEq)]
pub struct Lever {
    /// How it works on the rear wheels.
    pub kind: LeverKind,
    /// At the grip, before the cylinder moves.
    pub free_play: Length,
    /// What the driver will pull.
    pub hand_pull: Force,
    /// Grip travel that there is space for.
    pub room: Length,
    /// Whether it can be held applied.
    pub latch: bool,
    /// Whether a switch tells a disengaging centre and lights the brake lamps.
    pub switch: bool,
    /// A separate mechanical parking brake that stays.
    pub cable_kept: bool,
    /// That parking brake's cable, where its figures are given.
    pub parking_cable: Option<Cable>,
    /// Whether pivot and cylinder share a frame.
    pub frame: LeverFrame,
    /// How it is bolted down, where given.
    pub mount: Option<Mount>,
}

impl Lever {
    /// The cylinder, unless a cable does the work.
    #[must_use]
    pub const fn cylinder(&self) -> Option<&LeverCylinder> {
        match &self.kind {
            LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _) => Some(cylinder),
            LeverKind::Cable(_) => None,
        }
    }
}
