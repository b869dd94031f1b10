use std::sync::Arc;

use quantity::si::{Inertia, Length, Mass, Volume};

use crate::tyre::Surface;

/// Anti-lock unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Abs {
    /// Never had one, or it does nothing to the brakes.
    None,
    /// Fitted and working.
    Fitted,
    /// Taken out.
    Removed,
}

/// Which axle was lifted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lifted {
    /// The rear axle; the front stood on the scales.
    Rear,
    /// The front axle; the rear stood on the scales.
    Front,
}

/// How the height of the centre of gravity is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CgHeight {
    /// As a height above the ground.
    Height(Length),
    /// From weighing with one axle lifted.
    Raised {
        /// Which axle.
        lifted: Lifted,
        /// How far; at most a third of the wheelbase.
        by: Length,
        /// What the other axle's scales gained.
        gain: Mass,
    },
}

/// The car on scales, nobody aboard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// Both front wheels.
    pub front: Mass,
    /// Both rear wheels.
    pub rear: Mass,
    /// Fuel in the tank at the time.
    pub fuel_aboard: Volume,
    /// Height of the centre of gravity.
    pub cg_height: CgHeight,
}

/// Lengths and inertia of the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Geometry {
    /// Front axle to rear axle.
    pub wheelbase: Length,
    /// Front track.
    pub front_track: Length,
    /// Rear track.
    pub rear_track: Length,
    /// Of the car as weighed, about the vertical; `None`: by rule.
    pub yaw_inertia: Option<Inertia>,
    /// Factor of that rule: yaw inertia over mass × the axles' distances from the centre of gravity.
    pub yaw_inertia_rule: f64,
    /// The front axle's share of the sideways load transfer.
    pub roll_share_front: f64,
}

/// A mass at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub name: Arc<str>,
    /// What it weighs.
    pub mass: Mass,
    /// Behind the front axle; negative is ahead.
    pub aft: Length,
    /// Above the ground.
    pub height: Length,
}

/// The fuel tank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tank {
    /// What a full tank holds.
    pub capacity: Volume,
    /// Behind the front axle.
    pub aft: Length,
    /// Above the ground.
    pub height: Length,
}

/// What comes aboard.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// The crew; `None`: nobody is listed.
    pub crew: Option<Item>,
    /// The tank; `None`: fuel is not looked at.
    pub tank: Option<Tank>,
    /// Everything else.
    pub items: Vec<Item>,
}

/// Tyres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tyres {
    /// Rolling radius in front.
    pub front_radius: Length,
    /// Rolling radius behind.
    pub rear_radius: Length,
    /// One wheel with tyre, disc and hub.
    pub wheel_inertia: Inertia,
    /// Loss of grip per unit of relative load.
    pub load_sensitivity: f64,
}

/// The surfaces that need not be on the sheet (from memory, judgement): competition tyres on tarmac and gravel, tyres
/// without studs on snow and ice, and with them where the name says so.
#[must_use]
pub fn built_in_surfaces() -> Vec<Surface> {
    [
        ("dry tarmac", 1.00, 0.14, 0.80, 16.0),
        ("wet tarmac", 0.75, 0.12, 0.72, 13.0),
        ("hard gravel", 0.65, 0.30, 0.93, 7.0),
        ("loose gravel", 0.52, 0.55, 0.97, 3.6),
        ("packed snow", 0.35, 0.25, 0.90, 4.0),
        ("ice", 0.12, 0.10, 0.75, 2.4),
        ("studded snow", 0.45, 0.22, 0.88, 5.0),
        ("studded ice", 0.30, 0.18, 0.85, 4.0),
    ]
    .into_iter()
    .map(|(name, peak, slip_at_peak, slide_over_peak, stiffness)| Surface {
        name: Arc::from(name),
        peak,
        slip_at_peak,
        slide_over_peak,
        stiffness,
    })
    .collect()
}
