//! Disc brakes.

use quantity::si::Pressure;

use super::{TorqueLaw, Warmth};
use crate::car::DiscBrake;
use crate::equations;

/// Pressure that a disc caliper's seals and pads take before the pads bear (from memory, judgement).
pub const THRESHOLD: Pressure = Pressure::from_pa(0.5e5);

/// What a caliper's seals and slides leave of the force (from memory, judgement).
pub const EFFICIENCY: f64 = 0.98;

/// Torque law of one wheel's disc brake: `T = 2 · μ · A · (p − p₀) · η · rₑ`.
///
/// μ pad friction, A area that presses one pad, p₀ [`THRESHOLD`], η [`EFFICIENCY`], rₑ effective radius. Both pads rub,
/// hence the 2; a sliding caliper's reaction presses the far pad as hard as its pistons press the near one.
#[must_use]
pub fn torque_law(brake: &DiscBrake, warmth: Warmth) -> TorqueLaw {
    let friction = match warmth {
        Warmth::Warm => brake.friction.warm,
        Warmth::Cold => brake.friction.cold,
    };
    let area_m2 = brake.caliper.piston_area().m2();
    TorqueLaw {
        gain_nm_pa: equations::disc_gain(friction, area_m2, EFFICIENCY, brake.effective_radius.m()),
        threshold: THRESHOLD,
    }
}
