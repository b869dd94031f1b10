//! Disc brakes.

use quantity::si::{Length, Pressure};

use super::{TorqueLaw, Warmth};
use crate::car::DiscBrake;

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
        gain_nm_pa: 2.0 * friction * area_m2 * EFFICIENCY * brake.effective_radius.m(),
        threshold: THRESHOLD,
    }
}

/// Radius at which the friction of a sector pad acts when it presses evenly over its face:
/// `r = ⅔ · (rₒ³ − rᵢ³)/(rₒ² − rᵢ²)`. A pad worn to even work presses harder inside and acts at the plain middle of
/// its edges, 1 % less for the usual pads.
///
/// Source: Bhandari, Design of Machine Elements, brakes, example 12.12 (checked in the validation crate).
#[must_use]
pub fn friction_radius(inner: Length, outer: Length) -> Length {
    let (inner_m, outer_m) = (inner.m(), outer.m());
    Length::from_m(2.0 / 3.0 * (outer_m.powi(3) - inner_m.powi(3)) / (outer_m.powi(2) - inner_m.powi(2)))
}
