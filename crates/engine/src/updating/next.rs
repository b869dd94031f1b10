//! The reading that would settle most if it were taken next.

use super::reading::{Read, Reading};
use super::{STEP, Updated, could_be_taken};
use crate::car::Prepared;
use crate::conditions::Conditions;
use crate::figures::Headlined;
use crate::headline::HeadlineFigures;

/// A way of taking readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingWay {
    /// The pedal, engine running.
    PedalOn,
    /// The pedal without assistance.
    PedalOff,
    /// The hand against a gauge.
    HandForce,
    /// The grip's travel against a gauge.
    GripTravel,
    /// A torque wrench on a rear hub.
    RearWheel,
    /// A torque wrench on a front hub.
    FrontWheel,
}

/// What a way of taking readings would settle of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct NextReading {
    /// The figure.
    pub figure: Headlined,
    /// The way.
    pub way: ReadingWay,
    /// What would be set, and read.
    pub reads: Vec<Read>,
    /// Share of the variance that is left of the figure that it would take away.
    pub settles: f64,
}

impl ReadingWay {
    const fn of(read: &Read) -> Self {
        match read {
            Read::Pedal { engine_on: true, .. } => Self::PedalOn,
            Read::Pedal { .. } => Self::PedalOff,
            Read::Hand { .. } => Self::HandForce,
            Read::Travel { .. } => Self::GripTravel,
            Read::Wheel { wheel, .. } => match wheel.axle() {
                crate::car::Axle::Front => Self::FrontWheel,
                crate::car::Axle::Rear => Self::RearWheel,
            },
        }
    }
}

impl Updated {
    /// For every headline figure the ways of taking readings, what settles most of it first; the figure taken as straight over
    /// what is left of the tolerances, a centre that is left open as it decides. Figures that are settled are left out.
    #[must_use]
    pub fn next(&self, conditions: &Conditions) -> Vec<NextReading> {
        let Some(car) = self.likeliest() else {
            return Vec::new();
        };
        let ways = could_be_taken(&car);
        let readings: Vec<Reading> = ways
            .iter()
            .flatten()
            .map(|&read| Reading {
                read,
                entry: 0,
                point: 0,
            })
            .collect();
        let prepared = self.prepared();
        let made = self.made(&prepared, &self.middle, &readings);
        let slopes = self.slopes(&prepared, &self.middle, &readings, &made);
        let mut found = Vec::new();
        for figure in [
            Headlined::FrontFirstBy,
            Headlined::InHand,
            Headlined::HandForce,
            Headlined::Travel,
            Headlined::Pressure,
        ] {
            let Some(rise) = self.rise(&prepared, figure, conditions) else {
                continue;
            };
            let now = self.triangle.variance(&rise);
            if now <= 0.0 {
                continue;
            }
            let mut first = 0;
            let mut of_figure: Vec<NextReading> = Vec::new();
            for reads in &ways {
                let rows = &slopes[first..first + reads.len()];
                first += reads.len();
                let Some(read) = reads.first() else { continue };
                of_figure.push(NextReading {
                    figure,
                    way: ReadingWay::of(read),
                    reads: reads.clone(),
                    settles: self.taken_away(&rise, rows) / now,
                });
            }
            of_figure.sort_by(|one, other| other.settles.total_cmp(&one.settles));
            found.extend(of_figure);
        }
        found
    }

    /// Slopes of a figure over the deviates.
    fn rise(&self, prepared: &Prepared<'_>, figure: Headlined, conditions: &Conditions) -> Option<Vec<f64>> {
        let at = |deviates: &[f64]| {
            let headline = HeadlineFigures::of(&self.with(prepared, deviates)?, conditions)?;
            figure.of(&headline).filter(|value| value.is_finite())
        };
        at(&self.middle)?;
        let slope = |input: usize| {
            let mut moved = self.middle.clone();
            moved[input] += STEP;
            let more = at(&moved);
            moved[input] -= 2.0 * STEP;
            match (more, at(&moved)) {
                (Some(more), Some(less)) => (more - less) / (2.0 * STEP),
                _ => 0.0,
            }
        };
        Some((0..self.slots.len()).map(slope).collect())
    }

    /// What readings take off a variance, one after the other: `(gᵀ C j)²/(1 + jᵀ C j)` each, C as the ones before leave it.
    fn taken_away(&self, rise: &[f64], rows: &[Vec<f64>]) -> f64 {
        let dot = |one: &[f64], other: &[f64]| -> f64 { one.iter().zip(other).map(|(a, b)| a * b).sum() };
        // C·j of the rows so far, each over the root of 1 + jᵀ C j.
        let mut taken: Vec<Vec<f64>> = Vec::new();
        let mut all = 0.0;
        for row in rows {
            let mut moved = self.triangle.solve_whole(row);
            for before in &taken {
                let share = dot(before, row);
                for (moved, before) in moved.iter_mut().zip(before) {
                    *moved -= share * before;
                }
            }
            let over = (1.0 + dot(row, &moved)).sqrt();
            for moved in &mut moved {
                *moved /= over;
            }
            all += dot(rise, &moved).powi(2);
            taken.push(moved);
        }
        all
    }
}
