//! The units that are known.

mod table;

use core::f64::consts::PI;

use crate::Dimension;
use crate::exact::{self, Exact};

/// π as a fraction, true to 1 in 10³⁸, so that degrees convert as exactly as millimetres.
const PI_FRACTION: (u64, u64) = (2_646_693_125_139_304_345, 842_468_587_426_513_207);

/// A unit of one dimension. SI = (value + zero) × scale; the zero differs from 0 for temperatures only.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    symbol: &'static str,
    shown: &'static str,
    dimension: Dimension,
    /// SI units in one of it, as a fraction; with π on top where `pi` says so.
    scale: (u64, u64),
    pi: bool,
    /// What has to be added to reach the absolute zero, in hundredths of the unit.
    zero_hundredths: u64,
    /// Other spellings, in the plain spelling that [`find_unit`](crate::find_unit) compares.
    aliases: &'static [&'static str],
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.dimension == other.dimension && self.symbol == other.symbol
    }
}

impl Eq for Unit {}

impl Unit {
    /// As a sheet spells it, in letters that every keyboard has: `mm`, `N m`, `cm3/bar`, `C`. Empty for a bare number.
    #[must_use]
    pub const fn symbol(&self) -> &'static str {
        self.symbol
    }

    /// As a page shows it: `mm`, `N·m`, `cm³/bar`, `°C`. [`find_unit`](crate::find_unit) reads this spelling too.
    #[must_use]
    pub const fn shown(&self) -> &'static str {
        self.shown
    }

    /// What it measures.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// Other spellings, in the plain one.
    pub(crate) const fn aliases(&self) -> &'static [&'static str] {
        self.aliases
    }

    /// From this unit to SI. A temperature is a point on the scale: 20 °C gives 293.15.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        self.difference_to_si(value + self.zero())
    }

    /// From SI to this unit. A temperature is a point on the scale: 293.15 gives 20 °C.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        self.difference_from_si(si) - self.zero()
    }

    /// A difference of two values from this unit to SI: 9 °F give 5. The same as [`to_si`](Self::to_si) for all but
    /// temperatures.
    #[must_use]
    pub fn difference_to_si(&self, difference: f64) -> f64 {
        let difference = if self.pi { difference * PI } else { difference };
        difference * as_f64(self.scale.0) / as_f64(self.scale.1)
    }

    /// A difference of two values from SI to this unit.
    #[must_use]
    pub fn difference_from_si(&self, si: f64) -> f64 {
        let value = si * as_f64(self.scale.1) / as_f64(self.scale.0);
        if self.pi { value / PI } else { value }
    }

    fn zero(&self) -> f64 {
        as_f64(self.zero_hundredths) / 100.0
    }

    /// The unit for differences of two values: of a temperature scale, one whose zero is the absolute one.
    pub(crate) const fn of_differences(mut self) -> Self {
        self.zero_hundredths = 0;
        self
    }

    /// [`to_si`](Self::to_si), not rounded.
    pub(crate) fn exact_to_si(&self, value: &Exact) -> Exact {
        let (above, below) = self.scale;
        let times = (value + self.exact_zero()) * Exact::from(above);
        if self.pi {
            times * Exact::from(PI_FRACTION.0) / (Exact::from(below) * Exact::from(PI_FRACTION.1))
        } else {
            exact::over(&times, below)
        }
    }

    /// [`from_si`](Self::from_si), not rounded.
    pub(crate) fn exact_from_si(&self, si: &Exact) -> Exact {
        let (above, below) = self.scale;
        let times = si * Exact::from(below);
        let value = if self.pi {
            times * Exact::from(PI_FRACTION.1) / (Exact::from(above) * Exact::from(PI_FRACTION.0))
        } else {
            exact::over(&times, above)
        };
        value - self.exact_zero()
    }

    /// The zero of the scale, counted from the absolute one.
    pub(crate) fn exact_zero(&self) -> Exact {
        Exact::new(self.zero_hundredths.into(), 2)
    }
}

/// The units of a dimension, the most usual in the workshop first. Never empty.
#[must_use]
pub const fn units_of(dimension: Dimension) -> &'static [Unit] {
    table::of(dimension)
}

#[expect(
    clippy::cast_precision_loss,
    reason = "the scales in the table are exact in f64, or off by half a unit in the last place"
)]
const fn as_f64(value: u64) -> f64 {
    value as f64
}
