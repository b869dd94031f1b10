//! How fast fluid goes through a line while it is bled.

use quantity::si::{Duration, Length, Pressure, Volume};

/// Kinematic viscosity of glycol-ether fluid at 20 °C (m²/s; from memory: 14 to 17 mm²/s). In the cold it is many times
/// that: the standard lets DOT 4 have 1800 mm²/s at −40 °C.
pub const VISCOSITY_M2_S: f64 = 15e-6;
/// Density of brake fluid (from memory: 1.02 to 1.07 kg/L at 20 °C).
pub const DENSITY_KG_M3: f64 = 1050.0;
/// Pressure of a one-person bleeder on the reservoir (common practice, no source: 0.7 to 1.5 bar).
pub const BLEEDER: Pressure = Pressure::from_pa(1e5);
/// Below this Reynolds number flow in a pipe is laminar (the usual textbook figure).
pub const LAMINAR_BELOW: f64 = 2300.0;

/// Resistance of a round pipe to laminar flow (Pa·s/m³): `Δp/Q = 128 μ L/(π d⁴)`, μ dynamic viscosity (Pa·s). Source:
/// the law of Hagen and Poiseuille.
#[must_use]
pub fn resistance_pa_s_m3(length: Length, bore: Length, viscosity_pa_s: f64) -> f64 {
    128.0 * viscosity_pa_s * length.m() / (core::f64::consts::PI * bore.m().powi(4))
}

/// Reynolds number of a flow (m³/s) in a round pipe: `4 Q/(π d ν)`.
#[must_use]
pub fn reynolds(flow_m3_s: f64, bore: Length, viscosity_m2_s: f64) -> f64 {
    4.0 * flow_m3_s / (core::f64::consts::PI * bore.m() * viscosity_m2_s)
}

/// The least time that a volume takes through pipes one behind the other: their resistance alone, at [`BLEEDER`]
/// pressure and 20 °C; the bleed screw adds its own. `None` without pipes, or where the flow would not be laminar.
#[must_use]
pub fn least_time(volume: Volume, pipes: &[(Length, Length)]) -> Option<Duration> {
    let all_pa_s_m3: f64 = pipes
        .iter()
        .map(|&(length, bore)| resistance_pa_s_m3(length, bore, VISCOSITY_M2_S * DENSITY_KG_M3))
        .sum();
    if all_pa_s_m3 <= 0.0 {
        return None;
    }
    let flow_m3_s = BLEEDER.pa() / all_pa_s_m3;
    pipes
        .iter()
        .all(|&(_, bore)| reynolds(flow_m3_s, bore, VISCOSITY_M2_S) < LAMINAR_BELOW)
        .then(|| Duration::from_s(volume.m3() / flow_m3_s))
}
