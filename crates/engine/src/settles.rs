//! What knowing each toleranced key of a sheet would settle of each figure: by itself, and together with others. It takes
//! many times as many cars as a range does; [`crate::figures`] has an estimate from the range's own draws.
//!
//! What a sheet leaves open takes part like a tolerance: which of its kinds an unknown centre is, where its coupling
//! turns, how its curve goes on.

use crate::car::{Car, Draw, Inputs, Prepared, Slot};
use crate::conditions::Conditions;
use crate::drivetrain::CouplingReading;
use crate::figures::Headlined;
use crate::headline::HeadlineFigures;
use crate::lever::LeverBench;
use crate::sensitivity::{Design, Index, Indices, Point, indices};
use crate::turn::{Assumed, Depth, Manoeuvre, Ready, TurnFault, TurnVerdict, briefs_of_each};

/// What knowing one key would settle of a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// The key.
    pub slot: Slot,
    /// How much of the figure's variance.
    pub index: Index,
}

/// What knowing each key would settle of one figure.
#[derive(Clone, Debug, PartialEq)]
pub struct OfFigure<Figure> {
    /// The figure.
    pub figure: Figure,
    /// Toleranced keys, by what they settle in all, most first. Empty where the figure is too seldom there.
    pub keys: Vec<Settled>,
    /// Variance of the figure over the cars that the tolerances allow, in SI. 0: it is settled.
    pub variance_si: f64,
}

/// A figure of the turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfTurn {
    /// Heading at the end.
    Heading,
    /// Whether it comes round.
    ComesRound,
}

impl OfTurn {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Heading, Self::ComesRound];

    /// Name in machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Heading => "heading_rad",
            Self::ComesRound => "comes_round",
        }
    }
}

/// Where drawn cars come from: keys, and the car of a share of each one's tolerance.
pub trait DrawnFrom: Sync {
    /// The keys.
    fn slots(&self) -> &[Slot];

    /// The car of a point: a share a key. `None` where the figures together make none.
    fn car(&self, point: &Point) -> Option<Car>;
}

/// A sheet as it stands.
#[derive(Debug)]
pub struct DrawnSheet<'a> {
    prepared: Prepared<'a>,
    toleranced: &'a [Slot],
}

impl<'a> DrawnSheet<'a> {
    /// Of what it says, and the keys that carry a tolerance.
    #[must_use]
    pub fn of(inputs: &'a Inputs, toleranced: &'a [Slot]) -> Self {
        Self {
            prepared: Prepared::of(inputs, toleranced),
            toleranced,
        }
    }
}

impl DrawnFrom for DrawnSheet<'_> {
    fn slots(&self) -> &[Slot] {
        self.toleranced
    }

    fn car(&self, point: &Point) -> Option<Car> {
        let shares = self.toleranced.iter().copied().zip(point.iter().copied());
        self.prepared.drawn(&Draw::of(shares.collect()))
    }
}

fn in_order<Figure>(figure: Figure, toleranced: &[Slot], found: Indices) -> OfFigure<Figure> {
    let mut keys: Vec<Settled> = toleranced
        .iter()
        .zip(found.of)
        .map(|(&slot, index)| Settled { slot, index })
        .collect();
    keys.sort_by(|one, other| other.index.total.total_cmp(&one.index.total));
    OfFigure {
        figure,
        keys,
        variance_si: found.variance,
    }
}

/// For every headline figure what each toleranced key settles. `told` hears how much is done, from 0 to 1.
#[must_use]
pub fn settles(
    from: &dyn DrawnFrom,
    conditions: &Conditions,
    design: Design,
    told: &(dyn Fn(f64) + Sync),
) -> Vec<OfFigure<Headlined>> {
    let figures = |point: &Point| {
        let headline = from
            .car(point)
            .and_then(|car| HeadlineFigures::of(&car, conditions));
        Headlined::ALL.map(|figure| {
            headline
                .as_ref()
                .and_then(|headline| figure.of_drawn(headline))
                .unwrap_or(f64::NAN)
        })
    };
    let rows = |points: &[Point]| points.iter().map(figures).collect();
    let found = indices(from.slots().len(), design, rows, told);
    Headlined::ALL
        .into_iter()
        .zip(found)
        .map(|(figure, found)| in_order(figure, from.slots(), found))
        .collect()
}

/// The same for the turn, every car driven alike. Each takes its own reading of a centre that the sheet leaves open.
#[must_use]
pub fn settles_of_turn(
    manoeuvre: &Manoeuvre,
    from: &dyn DrawnFrom,
    design: Design,
    told: &(dyn Fn(f64) + Sync),
) -> Vec<OfFigure<OfTurn>> {
    let ready = |point: &Point| -> Ready {
        let car = from.car(point).ok_or(TurnFault::NoLever)?;
        let own = Manoeuvre {
            reading: reading(manoeuvre, &car),
            ..manoeuvre.clone()
        };
        Ok((own.bench(&car)?, manoeuvre.technique))
    };
    let rows = |points: &[Point]| {
        let runs: Vec<Ready> = points.iter().map(ready).collect();
        briefs_of_each(&runs, Depth::Moment)
            .into_iter()
            .map(|brief| {
                brief.map_or([f64::NAN; 2], |brief| {
                    let round = brief.verdict == TurnVerdict::ComesRound;
                    [brief.heading.end.rad(), f64::from(u8::from(round))]
                })
            })
            .collect()
    };
    let found = indices(from.slots().len(), design, rows, told);
    OfTurn::ALL
        .into_iter()
        .zip(found)
        .map(|(figure, found)| in_order(figure, from.slots(), found))
        .collect()
}

/// The reading of the centre that a drawn car takes.
fn reading(manoeuvre: &Manoeuvre, car: &Car) -> Assumed {
    let conditions = &manoeuvre.conditions;
    let drawn = || -> Option<CouplingReading> {
        car.drivetrain.reading_drawn?;
        let surface = conditions.surface_of(car)?;
        let pull = conditions.pull_at(car, surface.peak);
        let bench = LeverBench::of(car, conditions.warmth)?;
        bench.answer(&conditions.laden(car), pull).drawn(car).reading
    };
    drawn().map_or(manoeuvre.reading, |reading| Assumed {
        warmth: manoeuvre.reading.warmth,
        stepping: manoeuvre.reading.stepping,
        ..Assumed::of(&reading)
    })
}
