//! From pressure to torque at one wheel.
//!
//! A brake is taken as an affine law above a threshold: `T = gain · (p − p₀)⁺`. Below the threshold the pads or shoes
//! only come to rest against disc or drum.

pub mod disc;
pub mod drum;

use quantity::si::{Pressure, Torque};

use crate::car::{Brake, DiscBrake};
use crate::equations;

/// Whether the friction is that of a working brake or of one that was not used for a while.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Warmth {
    /// `friction`.
    #[default]
    Warm,
    /// `cold_friction`.
    Cold,
}

/// Torque of one wheel's brake over its pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueLaw {
    /// Torque per pressure above the threshold (N·m/Pa).
    pub gain_nm_pa: f64,
    /// Pressure that only moves pads or shoes up to disc or drum.
    pub threshold: Pressure,
}

impl TorqueLaw {
    /// The law of a brake.
    #[must_use]
    pub fn of(brake: &Brake, warmth: Warmth) -> Self {
        match brake {
            Brake::Disc(disc) => Self::of_disc(disc, warmth),
            Brake::Drum(drum) => drum::torque_law(drum, warmth),
        }
    }

    /// The law of a disc brake.
    #[must_use]
    pub fn of_disc(brake: &DiscBrake, warmth: Warmth) -> Self {
        disc::torque_law(brake, warmth)
    }

    /// Torque at a pressure: `T = gain · (p − p₀)⁺`.
    #[must_use]
    pub fn torque(&self, pressure: Pressure) -> Torque {
        Torque::from_nm(equations::torque(
            self.gain_nm_pa,
            pressure.pa(),
            self.threshold.pa(),
        ))
    }

    /// Pressure for a torque; the threshold where the torque is none.
    #[must_use]
    pub fn pressure(&self, torque: Torque) -> Pressure {
        Pressure::from_pa(equations::pressure_for_torque(
            self.threshold.pa(),
            torque.nm(),
            self.gain_nm_pa,
        ))
    }
}
