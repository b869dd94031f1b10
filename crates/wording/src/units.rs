//! The units in which a person reads figures: `--units psi,in,lbf`.

use core::ops::Range;

use quantity::si::{Force, Length, Pressure, Torque};
use quantity::{Dimension, Unit, find_unit, units_of};

use crate::rounding::figure;

/// Something wrong with a list of units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitsFault {
    /// The part of the list at fault, in bytes.
    pub span: Range<usize>,
    /// Which fault it is, in a word that never changes.
    pub slug: &'static str,
    /// What is wrong.
    pub text: String,
    /// What to do.
    pub remedy: String,
}

/// One unit for each kind of figure that a page shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units {
    /// Of pressure.
    pub pressure: Unit,
    /// Of lengths and travel.
    pub length: Unit,
    /// Of forces.
    pub force: Unit,
    /// Of torques.
    pub torque: Unit,
    /// Of masses.
    pub mass: Unit,
    /// Of brake fluid that moves.
    pub fluid: Unit,
    /// Of fuel.
    pub fuel: Unit,
}

/// Kinds of figure that a unit may be chosen for.
const CHOSEN: [Dimension; 6] = [
    Dimension::Pressure,
    Dimension::Length,
    // Before force: a bare `kg` chooses how masses are shown, though a pull may be written in it.
    Dimension::Mass,
    Dimension::Force,
    Dimension::Torque,
    Dimension::Volume,
];

/// Units that follow from another where none was chosen for their own kind.
const FOLLOWS: [(&str, Dimension, &str); 4] = [
    ("lbf", Dimension::Torque, "lbf ft"),
    ("lbf", Dimension::Mass, "lb"),
    ("kgf", Dimension::Torque, "kgf m"),
    ("in", Dimension::Volume, "in3"),
];

impl Default for Units {
    fn default() -> Self {
        let usual = |dimension| units_of(dimension)[0];
        Self {
            pressure: usual(Dimension::Pressure),
            length: usual(Dimension::Length),
            force: usual(Dimension::Force),
            torque: usual(Dimension::Torque),
            mass: usual(Dimension::Mass),
            fluid: find_unit("cm3", Dimension::Volume).unwrap_or(usual(Dimension::Volume)),
            fuel: usual(Dimension::Volume),
        }
    }
}

impl Units {
    /// Those of a list such as `psi,in,lbf`, the usual ones for the rest.
    ///
    /// # Errors
    /// Everything that is wrong with it: units that are none, or two for one kind of figure.
    pub fn of(list: &str) -> Result<Self, Vec<UnitsFault>> {
        let mut faults = Vec::new();
        let mut chosen: Vec<Unit> = Vec::new();
        let mut start = 0;
        for piece in list.split(',') {
            let span = start..start + piece.len();
            start = span.end + 1;
            let unit = match chosen_unit(piece, span.clone()) {
                Ok(unit) => unit,
                Err(fault) => {
                    faults.push(fault);
                    continue;
                }
            };
            match chosen.iter().find(|known| known.dimension() == unit.dimension()) {
                None => chosen.push(unit),
                Some(twice) => faults.push(UnitsFault {
                    span,
                    slug: "unit-twice",
                    text: format!(
                        "`{}` and `{}` are both for {}",
                        twice.symbol(),
                        unit.symbol(),
                        unit.dimension().with_article()
                    ),
                    remedy: "keep the one that you want to read".to_owned(),
                }),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut units = Self::default();
        for (symbol, dimension, follower) in FOLLOWS {
            if chosen.iter().any(|unit| unit.symbol() == symbol)
                && let Ok(unit) = find_unit(follower, dimension)
            {
                units.set(unit);
            }
        }
        for unit in chosen {
            units.set(unit);
        }
        Ok(units)
    }

    /// A pressure in words.
    #[must_use]
    pub fn say_pressure(&self, pressure: Pressure) -> String {
        figure(pressure.pa(), self.pressure)
    }

    /// A length in words.
    #[must_use]
    pub fn say_length(&self, length: Length) -> String {
        figure(length.m(), self.length)
    }

    /// A force in words.
    #[must_use]
    pub fn say_force(&self, force: Force) -> String {
        figure(force.n(), self.force)
    }

    /// A torque in words.
    #[must_use]
    pub fn say_torque(&self, torque: Torque) -> String {
        figure(torque.nm(), self.torque)
    }

    fn set(&mut self, unit: Unit) {
        match unit.dimension() {
            Dimension::Pressure => self.pressure = unit,
            Dimension::Length => self.length = unit,
            Dimension::Force => self.force = unit,
            Dimension::Torque => self.torque = unit,
            Dimension::Mass => self.mass = unit,
            Dimension::Volume => self.fluid = unit,
            _ => {}
        }
    }
}

fn chosen_unit(piece: &str, span: Range<usize>) -> Result<Unit, UnitsFault> {
    let mut first = None;
    for dimension in CHOSEN {
        match find_unit(piece, dimension) {
            Ok(unit) => return Ok(unit),
            Err(fault) => first = first.or(Some(fault)),
        }
    }
    Err(UnitsFault {
        span,
        slug: first.map_or("unknown-unit", |fault| fault.slug()),
        text: format!(
            "`{}` is no unit of a pressure, length, force, torque, mass or volume",
            piece.trim()
        ),
        remedy: "write units with commas between, such as psi,in,lbf".to_owned(),
    })
}
