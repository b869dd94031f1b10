//! What takes fluid under pressure.

use quantity::si::{Length, Pressure, Volume};

use crate::brake::{disc, drum};
use crate::car::{Brake, CaliperLayout, DiscBrake, DrumBrake, RunOfPipe, circle};
use crate::equations;
use crate::fluid::{self, REFERENCE_TEMPERATURE, bulk_modulus_pa};

/// Volume taken by a node over its pressure:
///
/// `V(p) = Σ 2 A c · min(p/p₀, 1) + (Σ flex + Σ growth · length + V_fluid/K) p + V_air (1 − p_atm/(p_atm + p))`
///
/// A piston area of one side, c clearance of each pad, p₀ the brake's threshold (a drum: both cylinder pistons).
#[derive(Clone, Debug, Default)]
pub struct VolumeLaw {
    /// Clearances: volume, and the pressure by which it is taken up.
    take_up: Vec<(f64, f64)>,
    flex_m3_pa: f64,
    hose_m3_pa: f64,
    fluid_m3: f64,
    air_m3: f64,
}

/// What stands in a part of the circuit, whatever its pressure.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// Growth of all hoses (m³/Pa).
    pub hose_growth_m3_pa: f64,
    /// Fluid in pipes, hoses and brakes.
    pub fluid: Volume,
    /// Air at rest.
    pub air: Volume,
}

impl core::ops::Add for Totals {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            hose_growth_m3_pa: self.hose_growth_m3_pa + other.hose_growth_m3_pa,
            fluid: self.fluid + other.fluid,
            air: self.air + other.air,
        }
    }
}

/// Volume taken, told apart by what takes it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Taken {
    /// Pads or shoes coming up to disc or drum.
    pub clearance: Volume,
    /// Calipers, pads, wheel cylinders giving way.
    pub flex: Volume,
    /// Hoses growing.
    pub hoses: Volume,
    /// Fluid squeezed.
    pub fluid: Volume,
    /// Air squeezed.
    pub air: Volume,
}

impl Taken {
    /// All of it.
    #[must_use]
    pub fn total(&self) -> Volume {
        self.clearance + self.flex + self.hoses + self.fluid + self.air
    }
}

impl core::ops::Add for Taken {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            clearance: self.clearance + other.clearance,
            flex: self.flex + other.flex,
            hoses: self.hoses + other.hoses,
            fluid: self.fluid + other.fluid,
            air: self.air + other.air,
        }
    }
}

impl core::ops::Sub for Taken {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self {
            clearance: self.clearance - other.clearance,
            flex: self.flex - other.flex,
            hoses: self.hoses - other.hoses,
            fluid: self.fluid - other.fluid,
            air: self.air - other.air,
        }
    }
}

impl VolumeLaw {
    pub(super) fn add_run(&mut self, run: RunOfPipe) {
        let length_m = run.length.m();
        self.hose_m3_pa += run.pipe.growth_m2_pa() * length_m;
        self.fluid_m3 += run.pipe.section().m2() * length_m;
    }

    pub(super) fn add_brake(&mut self, brake: &Brake) {
        match brake {
            Brake::Disc(disc) => self.add_disc(disc),
            Brake::Drum(drum) => self.add_drum(drum),
        }
    }

    pub(super) fn add_disc(&mut self, brake: &DiscBrake) {
        let area_m2 = brake.caliper.piston_area().m2();
        self.take_up.push((
            equations::clearance(area_m2, brake.clearance.m()),
            disc::THRESHOLD.pa(),
        ));
        self.flex_m3_pa += brake.flex.m3_pa();
        self.fluid_m3 += caliper_fluid(brake).m3();
    }

    fn add_drum(&mut self, brake: &DrumBrake) {
        let area_m2 = circle(brake.cylinder_bore).m2();
        self.take_up.push((
            equations::clearance(area_m2, brake.clearance.m()),
            drum::THRESHOLD.pa(),
        ));
        self.flex_m3_pa += brake.flex.m3_pa();
        self.fluid_m3 += wheel_cylinder_fluid(brake).m3();
    }

    pub(super) fn add_air(&mut self, at_rest: Volume) {
        self.air_m3 += at_rest.m3();
    }

    /// What stands here, whatever the pressure.
    #[must_use]
    pub fn totals(&self) -> Totals {
        Totals {
            hose_growth_m3_pa: self.hose_m3_pa,
            fluid: Volume::from_m3(self.fluid_m3),
            air: Volume::from_m3(self.air_m3),
        }
    }

    /// Volume taken at a pressure, from rest.
    #[must_use]
    pub fn taken(&self, pressure: Pressure) -> Volume {
        let pressure_pa = pressure.pa();
        let clearance: f64 = self
            .take_up
            .iter()
            .map(|&(volume_m3, by_pa)| equations::taken_up(volume_m3, pressure_pa, by_pa))
            .sum();
        let linear =
            self.flex_m3_pa + self.hose_m3_pa + self.fluid_m3 / bulk_modulus_pa(REFERENCE_TEMPERATURE);
        Volume::from_m3(clearance + linear * pressure_pa)
            + fluid::air_given_up(Volume::from_m3(self.air_m3), pressure)
    }

    /// The same, told apart by what takes it.
    #[must_use]
    pub fn shares(&self, pressure: Pressure) -> Taken {
        let pressure_pa = pressure.pa();
        Taken {
            clearance: Volume::from_m3(
                self.take_up
                    .iter()
                    .map(|&(volume_m3, by_pa)| equations::taken_up(volume_m3, pressure_pa, by_pa))
                    .sum(),
            ),
            flex: Volume::from_m3(equations::given_way(self.flex_m3_pa, pressure_pa)),
            hoses: Volume::from_m3(equations::given_way(self.hose_m3_pa, pressure_pa)),
            fluid: fluid::fluid_given_up(Volume::from_m3(self.fluid_m3), pressure, REFERENCE_TEMPERATURE),
            air: fluid::air_given_up(Volume::from_m3(self.air_m3), pressure),
        }
    }
}

/// Fluid that stands in one wheel's brake.
#[must_use]
pub fn brake_fluid(brake: &Brake) -> Volume {
    match brake {
        Brake::Disc(disc) => caliper_fluid(disc),
        Brake::Drum(drum) => wheel_cylinder_fluid(drum),
    }
}

/// Fluid that stands in a caliper: piston area × 12 mm (both sides where opposed) + 3 cm³ (from memory).
#[must_use]
pub fn caliper_fluid(brake: &DiscBrake) -> Volume {
    let sides = if brake.caliper.layout == CaliperLayout::Opposed {
        2.0
    } else {
        1.0
    };
    Volume::from_m3(sides * brake.caliper.piston_area().m2() * 12e-3 + 3e-6)
}

/// Fluid that stands in a wheel cylinder: its area × 20 mm (from memory).
#[must_use]
pub fn wheel_cylinder_fluid(brake: &DrumBrake) -> Volume {
    let length = Length::from_m(20e-3);
    Volume::from_m3(circle(brake.cylinder_bore).m2() * length.m())
}
