//! How sure a figure is: draws over the tolerances of what it was computed from.

use rayon::prelude::{IntoParallelIterator, ParallelIterator};

use crate::car::{Car, Draw, Inputs, Prepared, Slot};

/// How many draws a headline figure is given from, where nothing else is said.
pub const DRAWS: u32 = 1024;

/// Most draws that the sequence can give.
pub const MOST_DRAWS: u32 = 1 << 16;

/// What to draw, and how often.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sampling {
    /// Number of draws; 0: none, at most [`MOST_DRAWS`].
    pub draws: u32,
    /// Seed of the sequence's scrambling: the same seed gives the same draws, whatever the number of threads.
    pub seed: u32,
}

impl Default for Sampling {
    fn default() -> Self {
        Self {
            draws: DRAWS,
            seed: 1,
        }
    }
}

/// A figure over the draws: its 5 % and 95 % quantiles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Below it lie 5 % of the draws.
    pub low: f64,
    /// Below it lie 95 % of the draws.
    pub high: f64,
}

/// What a question answered in every drawn car, in the order of the draws. Cars that no drawn figures make (a shoe that
/// locks itself) are left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Study<T> {
    /// Answers.
    pub answers: Vec<T>,
    /// Draws that made no car.
    pub impossible: u32,
}

impl<T> Study<T> {
    /// 5–95 % range of a figure; `None` where no draw has it.
    #[must_use]
    pub fn range(&self, figure: impl Fn(&T) -> Option<f64>) -> Option<Range> {
        self.range_of(0.90, figure)
    }

    /// Range of a figure that holds a share of the draws, as much left out above it as below; `None` where no draw has it.
    #[must_use]
    pub fn range_of(&self, holds: f64, figure: impl Fn(&T) -> Option<f64>) -> Option<Range> {
        let beyond = (1.0 - holds) / 2.0;
        let mut values: Vec<f64> = self
            .answers
            .iter()
            .filter_map(figure)
            .filter(|value| value.is_finite())
            .collect();
        values.sort_by(f64::total_cmp);
        Some(Range {
            low: quantile(&values, beyond)?,
            high: quantile(&values, 1.0 - beyond)?,
        })
    }

    /// Share of the draws of which something is true; `None` without draws.
    #[must_use]
    pub fn chance(&self, verdict: impl Fn(&T) -> bool) -> Option<f64> {
        let all = u32::try_from(self.answers.len()).ok().filter(|&all| all > 0)?;
        let held = u32::try_from(self.answers.iter().filter(|answer| verdict(answer)).count()).ok()?;
        Some(f64::from(held) / f64::from(all))
    }
}

/// Quantile of rising values, straight between them.
fn quantile(rising: &[f64], share: f64) -> Option<f64> {
    let last = rising.len().checked_sub(1)?;
    let place = share * f64::from(u32::try_from(last).ok()?);
    let below = place.floor();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 0 and the length"
    )]
    let index = below as usize;
    let (low, high) = (rising[index], rising[(index + 1).min(last)]);
    Some(low + (high - low) * (place - below))
}

/// Draws of the toleranced keys: one number a key, a scrambled Sobol sequence over all of them together, so that few
/// draws fill the space evenly. Both sides of the car share a key and are drawn alike.
#[must_use]
pub fn draw(toleranced: &[Slot], sampling: Sampling, number: u32) -> Draw {
    let mut shares = Vec::with_capacity(toleranced.len());
    for (set, slots) in (0_u32..).zip(toleranced.chunks(4)) {
        // The sequence has 256 dimensions, four at a time; further keys, which no sheet has, go through a second
        // scrambling.
        let (set, seed) = (set % 64, sampling.seed.wrapping_add(set / 64));
        for (&slot, share) in slots.iter().zip(sobol_burley::sample_4d(number, set, seed)) {
            // Shares are multiples of 2⁻²⁴; the middle of each cell keeps the ends of the distribution out.
            shares.push((slot, f64::from(share) + f64::from(f32::EPSILON) / 4.0));
        }
    }
    Draw::of(shares)
}

/// An even draw between −1 and 1 of something that stands on no sheet, `place` counting what is drawn so. The keys'
/// draws stand in the first dimensions of the sequence, these in the last.
#[must_use]
pub fn drawn_evenly(sampling: Sampling, number: u32, place: usize) -> f64 {
    let place = u32::try_from(place % 16).unwrap_or(0);
    2.0 * f64::from(sobol_burley::sample(number, 255 - place, sampling.seed)) - 1.0
}

/// The cars that a sheet's tolerances allow.
pub(crate) struct Drawn<'a> {
    prepared: Prepared<'a>,
    toleranced: &'a [Slot],
    sampling: Sampling,
}

impl<'a> Drawn<'a> {
    pub(crate) fn of(inputs: &'a Inputs, toleranced: &'a [Slot], sampling: Sampling) -> Self {
        Self {
            prepared: Prepared::of(inputs, toleranced),
            toleranced,
            sampling,
        }
    }

    /// Numbers of the draws.
    pub(crate) fn numbers(&self) -> core::ops::Range<u32> {
        0..self.sampling.draws.min(MOST_DRAWS)
    }

    /// The car of one draw; `None` where its figures make none.
    pub(crate) fn car(&self, number: u32) -> Option<Car> {
        self.prepared.drawn(&draw(self.toleranced, self.sampling, number))
    }
}

/// Asks a question of every drawn car, on all cores; the answers come in the order of the draws.
pub fn study<T: Send>(
    inputs: &Inputs,
    toleranced: &[Slot],
    sampling: Sampling,
    question: impl Fn(&Car) -> T + Sync,
) -> Study<T> {
    let asked = crate::wanted::asked();
    let drawn = Drawn::of(inputs, toleranced, sampling);
    let answers: Vec<Option<T>> = drawn
        .numbers()
        .into_par_iter()
        .map(|number| {
            asked.go_on();
            drawn.car(number).map(|car| question(&car))
        })
        .collect();
    let all = answers.len();
    let answers: Vec<T> = answers.into_iter().flatten().collect();
    let impossible = u32::try_from(all - answers.len()).unwrap_or(u32::MAX);
    Study { answers, impossible }
}
