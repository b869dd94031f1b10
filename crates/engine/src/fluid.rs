//! Brake fluid and the pipes that hold it.

use quantity::si::{Area, Length, Pressure, Temperature, Volume};

use crate::ATMOSPHERE_PA;
use crate::car::Pipe;

/// Temperature at which fluid and lines are taken where nothing is said.
pub const REFERENCE_TEMPERATURE: Temperature = Temperature::from_celsius(20.0);

/// Bulk modulus of glycol-ether fluid without free air (Pa): `K = 1.9 GPa · (1 − 0.0045 (T − 20 °C))` (from memory).
/// Held at a tenth of its value at 20 °C far above where the line means anything.
#[must_use]
pub fn bulk_modulus_pa(temperature: Temperature) -> f64 {
    1.9e9 * (1.0 - 0.0045 * (temperature - REFERENCE_TEMPERATURE).dk()).max(0.1)
}

/// Volume that free air gives up under a gauge pressure, at constant temperature:
/// `V = V₀ · (1 − p_atm/(p_atm + p))`, V₀ at rest. Source: Boyle's law.
#[must_use]
pub fn air_given_up(at_rest: Volume, pressure: Pressure) -> Volume {
    Volume::from_m3(crate::equations::air_given_up(
        at_rest.m3(),
        ATMOSPHERE_PA,
        pressure.pa(),
    ))
}

/// Volume that fluid alone gives up under a gauge pressure: `V p/K`.
#[must_use]
pub fn fluid_given_up(volume: Volume, pressure: Pressure, temperature: Temperature) -> Volume {
    Volume::from_m3(crate::equations::fluid_given_up(
        volume.m3(),
        pressure.pa(),
        bulk_modulus_pa(temperature),
    ))
}

impl Pipe {
    /// Inside diameter (from memory; 3/16 in and 1/4 in pipe with 0.71 mm wall).
    #[must_use]
    pub const fn bore(self) -> Length {
        match self {
            Self::Steel316 | Self::CopperNickel316 => Length::from_m(3.3e-3),
            Self::Steel14 | Self::CopperNickel14 => Length::from_m(4.93e-3),
            Self::Braided3 | Self::Rubber => Length::from_m(3.2e-3),
        }
    }

    /// Cross-section of the bore.
    #[must_use]
    pub fn section(self) -> Area {
        crate::car::circle(self.bore())
    }

    /// Growth of the bore under pressure [m³ per metre and pascal] (from memory: braided PTFE 0.005, rubber
    /// 0.016 cm³/(m·bar); pipe is taken as rigid).
    #[must_use]
    pub const fn growth_m2_pa(self) -> f64 {
        match self {
            Self::Braided3 => 0.005e-6 / 1e5,
            Self::Rubber => 0.016e-6 / 1e5,
            _ => 0.0,
        }
    }

    /// Whether it is a hose.
    #[must_use]
    pub const fn is_hose(self) -> bool {
        matches!(self, Self::Braided3 | Self::Rubber)
    }
}
