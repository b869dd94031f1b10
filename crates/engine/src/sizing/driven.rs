//! Limits that a car has to be driven for: the stage over which the fluid must not come near boiling, the turn that has to
//! come round. What is driven costs a thousand times what is pulled, so that it is asked last, and of as few as will do.

use std::collections::BTreeSet;

use quantity::si::TemperatureDifference;

use super::{Best, Breaks, Found, FoundRow, Limits, Picked, Space};
use crate::car::{Car, Prepared};
use crate::conditions::Conditions;
use crate::coupling::deciding;
use crate::figures::usual;
use crate::heat::{HeatBench, Stage};
use crate::loads::Laden;
use crate::turn::{Depth, Ready, Technique, TurnBench, TurnFault, TurnVerdict, briefs_of_each};

/// So many cars are driven through the turn at most.
pub const MOST_TURNS: usize = 500;
/// Of so many sets of brakes, those that are least off in all else, the fluid is looked at for the nearest miss.
pub(super) const MOST_STAGES: usize = 500;
/// So often at most the rest is searched again without those that did not come round.
const MOST_ROUNDS: usize = 12;

/// What the fluid has to keep over a stage and in the soak after it.
#[derive(Clone, Debug, PartialEq)]
pub struct FluidLimit {
    /// What is driven.
    pub stage: Stage,
    /// The least that is left to its wet boiling point, on the axle where it is less.
    pub least: TemperatureDifference,
}

impl FluidLimit {
    /// By how much a car keeps it; below zero: by how much it does not. `None` where its temperatures cannot be followed.
    pub(super) fn kept_by(&self, car: &Car, conditions: &Conditions) -> Option<TemperatureDifference> {
        let heat = HeatBench::of(car, conditions).drive(&self.stage).ok()?;
        let left = heat.front.to_wet.min(heat.rear.to_wet);
        Some(TemperatureDifference::from_dk(left.dk() - self.least.dk()))
    }
}

/// Whether a turn is as good as is wanted: what comes round late is less than what comes round, and all else is neither.
#[must_use]
pub fn is_as_good(verdict: Option<TurnVerdict>, wanted: TurnVerdict) -> bool {
    let rank = |verdict| match verdict {
        TurnVerdict::ComesRound => 2,
        TurnVerdict::ComesRoundLate => 1,
        TurnVerdict::Spins | TurnVerdict::Ploughs | TurnVerdict::RotatesLittle => 0,
    };
    verdict.is_some_and(|verdict| rank(verdict) > 0 && rank(verdict) >= rank(wanted))
}

/// What the usual turn comes to in each of several cars, on the level, on the ground that is asked about; `None` where one
/// cannot be driven.
#[must_use]
pub fn turned(cars: &[Car], conditions: &Conditions) -> Vec<Option<TurnVerdict>> {
    let ready = |car: &Car| -> Ready {
        let surface = conditions.surface_of(car).ok_or(TurnFault::NoSurface)?;
        let laden = Laden::of(car, conditions.aboard);
        let pull = conditions.pull_at(car, surface.peak);
        let reading = deciding(car, &laden, pull, conditions.warmth);
        let bench = TurnBench::of(car, &laden, &surface, reading)?;
        let technique = Technique {
            hand: pull.hand,
            ..usual(&surface, car, conditions.speed)
        };
        Ok((bench, technique))
    };
    let runs: Vec<Ready> = cars.iter().map(ready).collect();
    briefs_of_each(&runs, Depth::Word(None))
        .into_iter()
        .map(|brief| brief.ok().map(|brief| brief.verdict))
        .collect()
}

impl Space<'_> {
    /// Looks through all of it. `told` hears how much is done, from 0 to 1.
    ///
    /// Where a turn is wanted, those that no other is better than are driven; those that do not come round are left out, and
    /// the rest is searched again, until all that are left do. At most [`MOST_TURNS`] are driven: how many were, and whether
    /// any were left undriven, stands in what was found.
    pub fn search(&self, limits: &Limits, conditions: &Conditions, told: &(dyn Fn(f64) + Sync)) -> Found {
        let Some(wanted) = limits.turn else {
            return self.search_but(&BTreeSet::new(), limits, conditions, told);
        };
        let prepared = Prepared::of(self.inputs, &[]);
        let (mut away, mut round) = (BTreeSet::new(), BTreeSet::new());
        let mut found = self.search_but(&away, limits, conditions, &|share| told(share / 2.0));
        for _ in 0..MOST_ROUNDS {
            let driven = away.len() + round.len();
            let new: Vec<Picked> = found
                .best
                .clone()
                .into_rows()
                .into_iter()
                .map(|row| row.picked)
                .filter(|picked| !round.contains(picked))
                .take(MOST_TURNS - driven)
                .collect();
            if new.is_empty() {
                break;
            }
            told(0.5 + 0.5 * super::share(driven, MOST_TURNS));
            let before = away.len();
            for (picked, comes_round) in self.driven(&prepared, new, conditions, wanted) {
                if comes_round { &mut round } else { &mut away }.insert(picked);
            }
            if away.len() > before {
                found = self.search_but(&away, limits, conditions, &|_| ());
            }
        }
        let all = found.best.len();
        found.best = kept(found.best, |row| round.contains(&row.picked));
        found.undriven = all - found.best.len();
        found.driven = away.len() + round.len();
        found.broken[Breaks::Turn as usize] = away.len();
        told(1.0);
        found
    }

    /// Whether the turn is as good as is wanted, of each of some cars.
    fn driven(
        &self,
        prepared: &Prepared<'_>,
        picked: Vec<Picked>,
        conditions: &Conditions,
        wanted: TurnVerdict,
    ) -> Vec<(Picked, bool)> {
        let car = |picked: Picked| {
            let car = prepared.with(&self.patch(&picked)).ok()?;
            Some((picked, car))
        };
        let (picked, cars): (Vec<Picked>, Vec<Car>) = picked.into_iter().filter_map(car).unzip();
        let verdicts = turned(&cars, conditions);
        let good = verdicts.into_iter().map(|verdict| is_as_good(verdict, wanted));
        picked.into_iter().zip(good).collect()
    }
}

fn kept(best: Best, keeps: impl Fn(&FoundRow) -> bool) -> Best {
    let mut kept = Best::default();
    for row in best.into_rows().into_iter().filter(keeps) {
        kept.take(row);
    }
    kept
}
