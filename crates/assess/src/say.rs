//! Figures in words, in the person's units: `wording` says them, so that a finding says a figure as everything else does.

use engine::headline::Headlines;
use quantity::Dimension;
use quantity::si::{Force, Length, Mass, Pressure, Torque, Volume};
use wording::{Precision, Units};

/// Words of a sentence that is read in one look.
pub(crate) const MOST_WORDS: usize = 20;

/// In how many of the drawn cars the rear stops, an unclear centre drawn like any tolerance.
#[must_use]
pub fn rear_stops_in(headlines: &Headlines) -> Option<String> {
    let chance = headlines.chance_rear_stops()?;
    let drawn = if headlines.chance_rear_stops_at_worst() == Some(chance) {
        ""
    } else {
        ", the centre drawn too"
    };
    Some(stops_in(chance, drawn))
}

/// The same with an unclear centre at the worst that it may be.
pub(crate) fn rear_stops_at_worst(headlines: &Headlines) -> Option<String> {
    let chance = headlines.chance_rear_stops_at_worst()?;
    let worst = if headlines.chance_rear_stops() == Some(chance) {
        ""
    } else {
        ", the centre at its worst"
    };
    Some(stops_in(chance, worst))
}

fn stops_in(chance: f64, centre: &str) -> String {
    format!(
        "The rear stops in {} of the cars that the tolerances allow{centre}.",
        wording::chance(chance)
    )
}

/// Puts figures into words.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Say {
    units: Units,
    precision: Precision,
}

impl Say {
    pub(crate) const fn new(units: Units, precision: Precision) -> Self {
        Self { units, precision }
    }

    /// The person's units.
    pub(crate) const fn units(&self) -> &Units {
        &self.units
    }

    pub(crate) fn pressure(self, pressure: Pressure) -> String {
        self.units.say_pressure(pressure)
    }

    /// A length as it is written in millimetres, to so many places, or in the person's own unit.
    pub(crate) fn fine(self, length: Length, places: usize) -> String {
        let written = format!("{:.places$}\u{A0}mm", length.m() * 1e3);
        wording::or_written(Dimension::Length, length.m(), written, &self.units)
    }

    pub(crate) fn length(self, length: Length) -> String {
        self.units.say_length(length)
    }

    pub(crate) fn force(self, force: Force) -> String {
        self.units.say_force(force)
    }

    pub(crate) fn torque(self, torque: Torque) -> String {
        self.units.say_torque(torque)
    }

    /// Fuel in the tank: `28 L of fuel`, `a dry tank`.
    pub(crate) fn fuel(self, volume: Volume) -> String {
        if volume <= Volume::ZERO {
            return "a dry tank".to_owned();
        }
        format!("{} of fuel", wording::fuel(volume, &self.units))
    }

    /// A mass, as scales show it.
    pub(crate) fn mass(self, mass: Mass) -> String {
        wording::mass(mass, &self.units)
    }

    /// Brake fluid, or air in it.
    pub(crate) fn fluid(self, volume: Volume) -> String {
        wording::figure(volume.m3(), self.units.fluid)
    }

    /// A hand's force, with kilograms beside it: what a luggage scale shows.
    pub(crate) fn hand(self, force: Force) -> String {
        wording::pull(force, &self.units)
    }

    /// The pull that stopping the rear takes, rounded as it is everywhere.
    pub(crate) fn needed_hand(self, force: Force) -> String {
        self.precision.pull(force, &self.units)
    }

    /// The same without what a scale shows.
    pub(crate) fn needed_force(self, force: Force) -> String {
        self.precision.hand(force, &self.units)
    }

    /// The travel that stopping the rear takes.
    pub(crate) fn needed_travel(self, travel: Length) -> String {
        self.precision.travel(travel, &self.units)
    }

    /// The pressure that stopping the rear takes.
    pub(crate) fn needed_pressure(self, pressure: Pressure) -> String {
        self.precision.pressure(pressure, &self.units)
    }
}

/// A share in per cent, without its sign.
pub(crate) fn percent(share: f64) -> String {
    wording::per_cent(share.abs())
}

/// A grip.
pub(crate) fn grip(grip: f64) -> String {
    wording::ratio(grip)
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(parts: &[String]) -> String {
    wording::list(parts)
}

/// Joints that are told with their place.
const WITH_PLACE: usize = 2;
/// Joints that are told at all before the rest is counted.
const TOLD: usize = 5;

/// Joints by number and place, as a sentence: `These are joints 1 (master cylinder front left), 5 (bias valve inlet), 9 and
/// 14.`
pub(crate) fn joints(joints: &[(String, &str)]) -> String {
    let mut told: Vec<String> = joints
        .iter()
        .take(TOLD)
        .enumerate()
        .map(|(nth, (number, place))| {
            if nth < WITH_PLACE {
                format!("{number} ({place})")
            } else {
                number.clone()
            }
        })
        .collect();
    if joints.len() > TOLD {
        told.push(format!("{} more", joints.len() - TOLD));
    }
    let these = wording::counted(joints.len(), "It is joint", "These are joints");
    format!("{these} {}.", list(&told))
}

pub(crate) use wording::{capital, lower};

#[cfg(test)]
mod tests {
    use super::*;

    /// Two joints are told with their place, five are told at all.
    #[test]
    fn joints_are_told_up_to_a_number() {
        let told = |count: usize| {
            let all: Vec<(String, &str)> = (1..=count).map(|number| (number.to_string(), "a tee")).collect();
            joints(&all)
        };
        assert_eq!(told(1), "It is joint 1 (a tee).");
        assert_eq!(told(2), "These are joints 1 (a tee) and 2 (a tee).");
        assert_eq!(told(3), "These are joints 1 (a tee), 2 (a tee) and 3.");
        assert_eq!(told(5), "These are joints 1 (a tee), 2 (a tee), 3, 4 and 5.");
        assert_eq!(
            told(7),
            "These are joints 1 (a tee), 2 (a tee), 3, 4, 5 and 2 more."
        );
    }
}
