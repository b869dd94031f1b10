//! Drum brakes.

use quantity::si::Pressure;

use super::{TorqueLaw, Warmth};
use crate::car::{DrumBrake, circle};
use crate::equations;

/// Pressure that the return springs hold against (from memory, judgement).
pub const THRESHOLD: Pressure = Pressure::from_pa(3e5);

/// What the wheel cylinder's seals leave of the force (from memory, judgement).
pub const EFFICIENCY: f64 = 0.98;

/// Torque law of one wheel's drum brake: `T = C* · A · (p − p₀) · η · r`.
///
/// C* shoe factor, A wheel cylinder area, p₀ [`THRESHOLD`], η [`EFFICIENCY`], r drum radius.
#[must_use]
pub fn torque_law(brake: &DrumBrake, warmth: Warmth) -> TorqueLaw {
    let factor = match warmth {
        Warmth::Warm => brake.factor,
        Warmth::Cold => brake.cold_factor,
    };
    TorqueLaw {
        gain_nm_pa: equations::drum_gain(
            factor,
            circle(brake.cylinder_bore).m2(),
            EFFICIENCY,
            brake.drum_radius.m(),
        ),
        threshold: THRESHOLD,
    }
}
