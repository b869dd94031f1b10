//! The units in which a person reads figures: `--units psi,in,lbf`.

use quantity::{Digits, Dimension, Unit, find_unit, units_of};

use crate::trouble::Wrong;

/// One unit for each kind of figure that a page shows.
#[derive(Clone, Copy, Debug)]
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
    Dimension::Force,
    Dimension::Torque,
    Dimension::Mass,
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
    /// Those of the option, the usual ones for the rest.
    ///
    /// # Errors
    /// Units that are none, or two for one kind of figure.
    pub fn of(list: Option<&str>) -> Result<Self, Wrong> {
        let mut wrong = Wrong::default();
        let mut chosen: Vec<Unit> = Vec::new();
        let text = list.unwrap_or_default();
        let mut start = 0;
        for piece in text.split(',').take_while(|_| list.is_some()) {
            if let Some(unit) = wrong.note(chosen_unit(text, start, piece)) {
                if let Some(twice) = chosen.iter().find(|known| known.dimension() == unit.dimension()) {
                    let what = format!(
                        "`{}` and `{}` are both for {}",
                        twice.symbol(),
                        unit.symbol(),
                        unit.dimension().with_article()
                    );
                    let remedy = "keep the one that you want to read".to_owned();
                    wrong.add(Wrong::option(
                        "--units",
                        text,
                        start..start + piece.len(),
                        "unit-twice",
                        what,
                        remedy,
                    ));
                } else {
                    chosen.push(unit);
                }
            }
            start += piece.len() + 1;
        }
        if !wrong.is_empty() {
            return Err(wrong);
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

fn chosen_unit(text: &str, start: usize, piece: &str) -> Result<Unit, Wrong> {
    let mut first = None;
    for dimension in CHOSEN {
        match find_unit(piece, dimension) {
            Ok(unit) => return Ok(unit),
            Err(fault) => first = first.or(Some(fault)),
        }
    }
    let what = format!(
        "`{}` is no unit of a pressure, length, force, torque, mass or volume",
        piece.trim()
    );
    let remedy = "write units with commas between, such as psi,in,lbf".to_owned();
    let slug = first.map_or("unknown-unit", |fault| fault.slug());
    Err(Wrong::option(
        "--units",
        text,
        start..start + piece.len(),
        slug,
        what,
        remedy,
    ))
}

/// Figures of a column, in one unit and rounded at one place: the largest keeps three digits.
#[must_use]
pub fn column(si: impl IntoIterator<Item = f64>, unit: Unit) -> Digits {
    let largest = si
        .into_iter()
        .map(|si| unit.from_si(si).abs())
        .filter(|value| value.is_finite())
        .fold(0.0, f64::max);
    if largest == 0.0 {
        return Digits::Places(0);
    }
    // Counted by comparing: no figure here is beyond a few decades.
    let mut places: i8 = 2;
    let mut reach = 9.995;
    while largest >= reach && places > -9 {
        places -= 1;
        reach *= 10.0;
    }
    let mut reach = 0.9995;
    while places >= 2 && largest < reach && places < 9 {
        places += 1;
        reach /= 10.0;
    }
    Digits::Places(places)
}
