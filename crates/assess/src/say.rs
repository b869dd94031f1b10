//! Figures in words, in the person's units: `wording` says them, so that a finding says a figure as everything else does.

use quantity::si::{Duration, Force, Length, Pressure, Torque, Volume};
use quantity::{Digits, Dimension, show, units_of};
use wording::Units;

/// Puts figures into words.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Say {
    units: Units,
}

impl Say {
    pub(crate) const fn new(units: Units) -> Self {
        Self { units }
    }

    /// The person's units.
    pub(crate) const fn units(&self) -> &Units {
        &self.units
    }

    pub(crate) fn pressure(self, pressure: Pressure) -> String {
        wording::figure(pressure.pa(), self.units.pressure)
    }

    /// A length as it is written in millimetres, to so many places, or in the person's own unit.
    pub(crate) fn fine(self, length: Length, places: usize) -> String {
        let written = format!("{:.places$}\u{A0}mm", length.m() * 1e3);
        wording::or_written(Dimension::Length, length.m(), written, &self.units)
    }

    pub(crate) fn length(self, length: Length) -> String {
        wording::figure(length.m(), self.units.length)
    }

    pub(crate) fn force(self, force: Force) -> String {
        wording::figure(force.n(), self.units.force)
    }

    pub(crate) fn torque(self, torque: Torque) -> String {
        wording::figure(torque.nm(), self.units.torque)
    }

    /// Fuel in the tank: `28 L of fuel`, `a dry tank`.
    pub(crate) fn fuel(self, volume: Volume) -> String {
        if volume <= Volume::ZERO {
            return "a dry tank".to_owned();
        }
        format!("{} of fuel", wording::fuel(volume, &self.units))
    }

    pub(crate) fn time(self, time: Duration) -> String {
        show(time.s(), units_of(Dimension::Duration)[0], Digits::Significant(2))
    }

    /// A hand's force, with kilograms beside it: what a luggage scale shows.
    pub(crate) fn hand(self, force: Force) -> String {
        wording::pull(force, &self.units)
    }
}

/// A share in per cent, without its sign.
pub(crate) fn percent(share: f64) -> String {
    wording::per_cent(share.abs())
}

/// How many times something.
pub(crate) fn times(ratio: f64) -> String {
    wording::ratio(ratio)
}

/// A grip.
pub(crate) fn grip(grip: f64) -> String {
    wording::ratio(grip)
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(parts: &[String]) -> String {
    wording::list(parts)
}
