//! How much of a figure's variance goes with each of its inputs: of any function, whatever it computes.
//!
//! Two sets of points fill the space of inputs, A and B. For each input i stands a third, A with its i-th column taken
//! from B. Between a point of A and its twin only input i differs, so that their figures differ by what i does with all the
//! others as they are; between that twin and B everything but i differs.
//!
//! - Total-order index (Jansen 1999): `S_Ti = Σ(f(A) − f(A with i of B))² / (2 N V)`. What would be left of the variance if
//!   everything but i were known: i by itself and together with others.
//! - First-order index (Jansen 1999): `S_i = 1 − Σ(f(B) − f(A with i of B))² / (2 N V)`. What knowing i alone takes away.
//!
//! Both as in Saltelli, Annoni, Azzini, Campolongo, Ratto and Tarantola: Variance based sensitivity analysis of model
//! output. Design and estimator for the total sensitivity index. Computer Physics Communications 181 (2010) 259–270,
//! table 2. The points are a scrambled Sobol sequence over both sets together.

use std::sync::atomic::{AtomicU32, Ordering};

use rayon::prelude::{IntoParallelIterator, ParallelIterator};

use crate::ranges::MOST_DRAWS;

/// Base points where nothing else is said: each costs as many evaluations as there are inputs, and two.
pub const BASE: u32 = 1024;

/// Fewest pairs of figures that anything is said from.
const FEWEST: f64 = 32.0;

/// Where the points lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Design {
    /// Points of A and of B, at most [`MOST_DRAWS`].
    pub base: u32,
    /// Seed of the sequence's scrambling.
    pub seed: u32,
}

impl Default for Design {
    fn default() -> Self {
        Self { base: BASE, seed: 1 }
    }
}

/// A point: for each input the share of its distribution that lies below it, between 0 and 1.
pub type Point = Vec<f64>;

/// What of a figure's variance goes with one input. Both are 0 where the figure does not vary.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Index {
    /// By itself: the first-order index. Within the sampling error of 0 to 1, and cut off there.
    pub alone: f64,
    /// By itself and together with others: the total-order index.
    pub total: f64,
    /// 95 % half-width of the total as a plain sample of so many points would have it; these fill the space more evenly.
    pub unsure: f64,
}

/// The indices of a figure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Indices {
    /// An index an input, in their order; empty where too few points have the figure.
    pub of: Vec<Index>,
    /// Variance of the figure over the points.
    pub variance: f64,
}

/// Sums over the points of A and their twins, of one figure.
#[derive(Clone, Debug)]
struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
    /// Per input: pairs, squared differences and their squares against A; pairs and squared differences against B.
    against: Vec<[f64; 5]>,
}

impl Sums {
    fn new(inputs: usize) -> Self {
        Self {
            count: 0.0,
            sum: 0.0,
            squares: 0.0,
            against: vec![[0.0; 5]; inputs],
        }
    }

    /// Takes in a figure at a point of A, at the same of B, and at A with each input of B. `near` is any value of the
    /// figure's order: squares of what differs from it do not lose their digits.
    fn take(&mut self, near: f64, [a, b]: [f64; 2], twins: &[f64]) {
        for value in [a - near, b - near] {
            if value.is_finite() {
                self.count += 1.0;
                self.sum += value;
                self.squares += value * value;
            }
        }
        for (sums, twin) in self.against.iter_mut().zip(twins) {
            let (from_a, from_b) = ((a - twin).powi(2), (b - twin).powi(2));
            if from_a.is_finite() {
                sums[0] += 1.0;
                sums[1] += from_a;
                sums[2] += from_a * from_a;
            }
            if from_b.is_finite() {
                sums[3] += 1.0;
                sums[4] += from_b;
            }
        }
    }

    fn add(&mut self, other: &Self) {
        self.count += other.count;
        self.sum += other.sum;
        self.squares += other.squares;
        for (sums, more) in self.against.iter_mut().zip(&other.against) {
            for (sum, more) in sums.iter_mut().zip(more) {
                *sum += more;
            }
        }
    }

    fn indices(&self) -> Indices {
        if self.count < FEWEST {
            return Indices::default();
        }
        let mean = self.sum / self.count;
        let variance = (self.squares / self.count - mean * mean).max(0.0);
        let index = |&[pairs, from_a, fourth, others, from_b]: &[f64; 5]| {
            if pairs < FEWEST || others < FEWEST || variance <= 0.0 {
                return Index::default();
            }
            let (of_a, of_b) = (from_a / pairs, from_b / others);
            let spread = (fourth / pairs - of_a * of_a).max(0.0);
            Index {
                alone: (1.0 - of_b / (2.0 * variance)).clamp(0.0, 1.0),
                total: of_a / (2.0 * variance),
                unsure: 1.96 * (spread / pairs).sqrt() / (2.0 * variance),
            }
        };
        Indices {
            of: self.against.iter().map(index).collect(),
            variance,
        }
    }
}

/// A share of the sequence: `place` counts the columns of A, then those of B.
fn share(design: Design, number: u32, place: usize) -> f64 {
    let place = u32::try_from(place).unwrap_or(u32::MAX);
    // As in `ranges::draw`: 256 dimensions, then a second scrambling; the middle of each cell.
    let (dimension, seed) = (place % 256, design.seed.wrapping_add(place / 256));
    f64::from(sobol_burley::sample(number, dimension, seed)) + f64::from(f32::EPSILON) / 4.0
}

/// The points of one number: of A, of B, then A with each input of B.
fn points(design: Design, number: u32, inputs: usize) -> Vec<Point> {
    let a: Point = (0..inputs).map(|input| share(design, number, input)).collect();
    let b: Point = (inputs..2 * inputs)
        .map(|place| share(design, number, place))
        .collect();
    let twins = (0..inputs).map(|input| {
        let mut twin = a.clone();
        twin[input] = b[input];
        twin
    });
    let twins: Vec<Point> = twins.collect();
    [a, b].into_iter().chain(twins).collect()
}

/// Base points at which every input is tried. One that changes no figure at any of them is taken to change none, and
/// costs nothing at the others: what acts in a tenth of the space is missed once in thirty times (0.9³²).
const TRIED: u32 = 32;

/// The indices of `FIGURES` figures over `inputs` inputs. `figures` evaluates a handful of points at once, a row a point
/// in their order; what a point does not have is not a number, and is left out. `told` hears how much of it is done, from 0
/// to 1, from several threads and not always in order. The same design gives the same indices, whatever their number.
pub fn indices<const FIGURES: usize>(
    inputs: usize,
    design: Design,
    figures: impl Fn(&[Point]) -> Vec<[f64; FIGURES]> + Sync,
    told: &(dyn Fn(f64) + Sync),
) -> [Indices; FIGURES] {
    let base = design.base.min(MOST_DRAWS);
    let (done, asked) = (AtomicU32::new(0), crate::wanted::asked());
    // A row a point: of A, of B, then of A with each input of B; of an input that changes nothing that of A.
    let rows = |number: u32, changes: &[bool]| {
        asked.go_on();
        let mut at = points(design, number, inputs);
        let mut place = 0;
        at.retain(|_| {
            place += 1;
            place <= 2 || changes[place - 3]
        });
        let mut found = figures(&at).into_iter();
        let mut next = || found.next().unwrap_or([f64::NAN; FIGURES]);
        let (of_a, of_b) = (next(), next());
        let twins = changes.iter().map(|&changes| if changes { next() } else { of_a });
        let rows: Vec<[f64; FIGURES]> = [of_a, of_b].into_iter().chain(twins).collect();
        told(f64::from(done.fetch_add(1, Ordering::Relaxed) + 1) / f64::from(base));
        rows
    };
    let many = |numbers: core::ops::Range<u32>, changes: &[bool]| -> Vec<Vec<[f64; FIGURES]>> {
        numbers
            .into_par_iter()
            .map(|number| rows(number, changes))
            .collect()
    };
    let mut evaluated = many(0..base.min(TRIED), &vec![true; inputs]);
    let differ = |one: &[f64; FIGURES], other: &[f64; FIGURES]| {
        one.iter()
            .zip(other)
            .any(|(one, other)| one.to_bits() != other.to_bits())
    };
    let changes: Vec<bool> = (0..inputs)
        .map(|input| evaluated.iter().any(|rows| differ(&rows[0], &rows[input + 2])))
        .collect();
    evaluated.extend(many(base.min(TRIED)..base, &changes));
    core::array::from_fn(|figure| {
        let near = evaluated
            .iter()
            .flatten()
            .map(|row| row[figure])
            .find(|value| value.is_finite())
            .unwrap_or(0.0);
        let mut all = Sums::new(inputs);
        for rows in &evaluated {
            let values: Vec<f64> = rows.iter().map(|row| row[figure]).collect();
            let mut one = Sums::new(inputs);
            one.take(near, [values[0], values[1]], &values[2..]);
            all.add(&one);
        }
        all.indices()
    })
}

/// What knowing an input alone takes off the variance of a figure, from draws that there are anyway: the correlation ratio
/// over classes of the input, `1 − (mean variance within)/(variance)`, freed of what the number of classes adds by chance
/// (Kelley's ε²: each variance over its own degrees of freedom; from memory). `None` from too few draws, or where the figure
/// does not vary.
#[must_use]
pub fn alone(shares: &[f64], figures: &[f64]) -> Option<f64> {
    let mut pairs: Vec<(f64, f64)> = shares
        .iter()
        .zip(figures)
        .map(|(&share, &figure)| (share, figure))
        .filter(|(_, figure)| figure.is_finite())
        .collect();
    let count = pairs.len();
    let number = |count: usize| u32::try_from(count).map_or(f64::INFINITY, f64::from);
    if number(count) < FEWEST {
        return None;
    }
    pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
    let squares = |pairs: &[(f64, f64)]| {
        let mean = pairs.iter().map(|pair| pair.1).sum::<f64>() / number(pairs.len());
        pairs.iter().map(|pair| (pair.1 - mean).powi(2)).sum::<f64>()
    };
    // Half the root of the number: 16 classes of 64 from 1,024 draws.
    let classes = (count.isqrt() / 2).max(4);
    let within: f64 = (0..classes)
        .map(|class| squares(&pairs[class * count / classes..(class + 1) * count / classes]))
        .sum();
    let of_all = squares(&pairs) / number(count - 1);
    (of_all > 0.0).then(|| (1.0 - within / number(count - classes) / of_all).clamp(0.0, 1.0))
}
