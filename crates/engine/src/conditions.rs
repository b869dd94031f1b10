//! The operating point: on what ground, with what aboard, how warm, how fast, under what foot and hand.
//!
//! Every question reads it, and takes what it needs of it. It names things as a sheet does (a surface by its name, the
//! driver's pull as the sheet's own), so that one operating point stands for every car that a sheet's tolerances allow.
//!
//! Where a valve's knob or a bar stands is no condition: it is a figure of the sheet, and another setting is another car.

use std::sync::Arc;

use quantity::si::{Force, Speed, Temperature};

use crate::brake::Warmth;
use crate::car::{Car, Date, Surface};
use crate::hydraulics::Forces;
use crate::loads::{Aboard, Grade, Laden};

/// What is asked of the lever.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Force of the driver's hand.
    pub hand: Force,
    /// Grip of the surface.
    pub grip: f64,
    /// Speed of the car.
    pub speed: Speed,
}

/// What a car is asked under.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditions {
    /// Surface, by name: its grip is drawn where the sheet gives it a tolerance.
    pub surface: Arc<str>,
    /// Grip in the place of the surface's own peak.
    pub grip: Option<f64>,
    /// Who and what is aboard.
    pub aboard: Aboard,
    /// The slope, and which way the car faces on it.
    pub grade: Grade,
    /// Warm or cold friction.
    pub warmth: Warmth,
    /// Of the air, and of brakes that were not used.
    pub ambient: Temperature,
    /// Speed of the car.
    pub speed: Speed,
    /// Force of the foot; zero: it is off the pedal.
    pub foot: Force,
    /// The driver's pull in the place of the sheet's.
    pub hand: Option<Force>,
    /// The day; `None`: ages are not looked at.
    pub day: Option<Date>,
}

impl Conditions {
    /// Speed where nothing is said: 50 km/h.
    pub const USUAL_SPEED: Speed = Speed::from_m_s(50.0 / 3.6);

    /// Air where nothing is said: 15 °C.
    pub const USUAL_AIR: Temperature = Temperature::from_celsius(15.0);

    /// The surface in a car's own list, its grip as asked for; `None` where the car does not know it.
    #[must_use]
    pub fn surface_of(&self, car: &Car) -> Option<Surface> {
        let surface = car.surface(&self.surface)?;
        Some(
            self.grip
                .map_or_else(|| surface.clone(), |grip| surface.with_peak(grip)),
        )
    }

    /// Grip that a car has; `None` where it does not know the surface and none is given.
    #[must_use]
    pub fn grip_of(&self, car: &Car) -> Option<f64> {
        self.grip
            .or_else(|| car.surface(&self.surface).map(|surface| surface.peak))
    }

    /// The car with what is aboard, on the slope.
    #[must_use]
    pub fn laden(&self, car: &Car) -> Laden {
        Laden::of(car, self.aboard).on(self.grade)
    }

    /// The driver's pull: as given, or as on the sheet; none without a lever.
    #[must_use]
    pub fn hand_of(&self, car: &Car) -> Force {
        let of_sheet = car.lever.as_ref().map(|lever| lever.hand_pull);
        self.hand.or(of_sheet).unwrap_or(Force::ZERO)
    }

    /// Foot and hand as they are asked for: a hand that nobody asked for does nothing.
    #[must_use]
    pub fn forces(&self) -> Forces {
        Forces {
            foot: self.foot,
            hand: self.hand.unwrap_or(Force::ZERO),
        }
    }

    /// What is asked of a car's lever at a grip.
    #[must_use]
    pub fn pull_at(&self, car: &Car, grip: f64) -> Pull {
        Pull {
            hand: self.hand_of(car),
            grip,
            speed: self.speed,
        }
    }
}

/// Hard gravel as the sheet has it, crew and half a tank aboard, on the level, warm, at 50 km/h, foot off the pedal, the
/// sheet's own pull, no day.
impl Default for Conditions {
    fn default() -> Self {
        Self {
            surface: Arc::from("hard gravel"),
            grip: None,
            aboard: Aboard::default(),
            grade: Grade::LEVEL,
            warmth: Warmth::Warm,
            ambient: Self::USUAL_AIR,
            speed: Self::USUAL_SPEED,
            foot: Force::ZERO,
            hand: None,
            day: None,
        }
    }
}
