//! Fluid that is shut in behind a lever's cylinder, while its brakes warm up or cool down.
//!
//! ```text
//! V(p) = V(p₀) + n · [ (β − 3α) V_c (T_c − T_c0) + A · Δstack ] − lost
//! ```
//!
//! V(p) the volume law of travel, n the wheels that the part works, V_c the fluid in one of their calipers, A what a
//! piston's way is worth, Δstack by how much disc and pads have grown. A cooling disc brake loses pressure by both
//! terms. A drum closes on its shoes when it cools, and raises it: there A Δstack is `−A_wc · k · α_d · r · ΔT_d`.

use quantity::si::{Duration, Pressure, Volume};

use crate::car::circle;
use crate::car::{Brake, Car, DiscBrake, LeverKind, Wheel};
use crate::network::{Network, VolumeLaw, brake_fluid, caliper_fluid};
use crate::solve::{Passes, passes};
use crate::thermal::Nodes;

/// Expansion of brake fluid by volume (β; 1/K, from memory).
pub const FLUID_EXPANDS_PER_K: f64 = 9.5e-4;

/// Three times that of an alloy body by length (3α; 1/K, from memory).
pub const BODY_EXPANDS_PER_K: f64 = 5.1e-5;

/// Expansion of an iron disc or drum by length (1/K, from memory).
pub const IRON_EXPANDS_PER_K: f64 = 11e-6;

/// Expansion of a pad by thickness (1/K, from memory).
pub const PAD_EXPANDS_PER_K: f64 = 20e-6;

/// Share of the volume taken that rubber creeps by in the end: 6 % of half of it (from memory).
pub const CREEP_SHARE: f64 = 0.03;

/// In this time 63 % of that creep is over (from memory).
pub const CREEP_IN: Duration = Duration::from_s(240.0);

/// Thickness of each of the two pads that grows (m, from memory).
const PAD_M: f64 = 10e-3;

/// What a drum's growth by radius is worth in the wheel cylinder's two pistons (k; from memory).
const DRUM_WAYS: f64 = 4.0;

/// A closed part of a circuit.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    law: VolumeLaw,
    pub(crate) wheels: Vec<Wheel>,
    /// Whether its brakes are a separate lever's second calipers.
    pub(crate) second: bool,
    /// Volume that one kelvin of disc, and one of caliper, is worth (m³/K).
    disc_m3_k: f64,
    caliper_m3_k: f64,
}

impl Part {
    /// Every part that a car's lever shuts in; none with a cable or without a lever.
    pub(crate) fn all(car: &Car, network: &Network) -> Vec<Self> {
        network
            .closed_by_lever()
            .map(|(law, wheels, second)| {
                let count = f64::from(u8::try_from(wheels.len()).unwrap_or(u8::MAX));
                let (disc, caliper) = a_kelvin_m3(car, second);
                Self {
                    law: law.clone(),
                    wheels,
                    second,
                    disc_m3_k: count * disc,
                    caliper_m3_k: count * caliper,
                }
            })
            .collect()
    }

    /// Volume that it takes at a pressure.
    pub(crate) fn taken(&self, pressure: Pressure) -> Volume {
        self.law.taken(pressure)
    }

    /// Fluid in all of it, lines too.
    pub(crate) fn fluid(&self) -> Volume {
        self.law.totals().fluid
    }

    /// Volume that rubber has crept by, so long after a pressure came on.
    pub(crate) fn crept_m3(&self, from: Pressure, after_s: f64) -> f64 {
        CREEP_SHARE * self.taken(from).m3() * (1.0 - (-after_s / CREEP_IN.s()).exp())
    }

    /// Volume that warmth has added since `from`.
    pub(crate) fn warmth_m3(&self, from: Nodes, to: Nodes) -> f64 {
        self.disc_m3_k * (to.disc_k - from.disc_k) + self.caliper_m3_k * (to.caliper_k - from.caliper_k)
    }

    /// Pressure at which it takes a volume; none where there is no more volume than at rest.
    pub(crate) fn pressure_pa(&self, volume_m3: f64) -> f64 {
        if volume_m3 <= 0.0 {
            return 0.0;
        }
        let over = |pressure_pa: f64| self.law.taken(Pressure::from_pa(pressure_pa)).m3() - volume_m3;
        let mut high = 1e6;
        while over(high) < 0.0 && high < 1e12 {
            high *= 4.0;
        }
        match passes(0.0, high, 1e-3, over) {
            Passes::Before => 0.0,
            Passes::At(pressure_pa) => pressure_pa,
            // No pressure takes it.
            Passes::Beyond => f64::INFINITY,
        }
    }
}

/// What one kelvin of disc, and one of caliper, is worth at one wheel (m³/K).
fn a_kelvin_m3(car: &Car, second: bool) -> (f64, f64) {
    let fluid = |volume: Volume| (FLUID_EXPANDS_PER_K - BODY_EXPANDS_PER_K) * volume.m3();
    let of_disc = |brake: &DiscBrake, thickness_m: f64, fluid_m3_k: f64| {
        let area = brake.caliper.piston_area().m2();
        // A pad is as warm as the mean of disc and caliper.
        let pads = 2.0 * PAD_M * PAD_EXPANDS_PER_K / 2.0;
        (
            area * (IRON_EXPANDS_PER_K * thickness_m + pads),
            area * pads + fluid_m3_k,
        )
    };
    let thickness_m = match &car.rear_brake {
        Brake::Disc(disc) => disc.disc.map_or(10e-3, |disc| disc.thickness.m()),
        Brake::Drum(_) => 10e-3,
    };
    let by_lever = car.lever.as_ref().map(|lever| &lever.kind);
    match (second, by_lever, &car.rear_brake) {
        (true, Some(LeverKind::Separate(_, brake)), _) => {
            of_disc(brake, thickness_m, fluid(caliper_fluid(brake)))
        }
        (_, _, Brake::Disc(brake)) => of_disc(brake, thickness_m, fluid(caliper_fluid(brake))),
        (_, _, Brake::Drum(drum)) => {
            let area = circle(drum.cylinder_bore).m2();
            (
                -area * DRUM_WAYS * IRON_EXPANDS_PER_K * drum.drum_radius.m(),
                fluid(brake_fluid(&car.rear_brake)),
            )
        }
    }
}
