//! The way from one step to the next: points, and the cubics between them.

use crate::thermal::Nodes;

/// Figures of the state, all heat in J: what disc and caliper of a front wheel hold over 0 °C, those of a rear wheel, then
/// what both front brakes made, what both rear ones made, what the air took of all four and what they radiated. Heat, and
/// not temperature, is followed: so nothing of it can be lost on the way, whatever iron's specific heat does.
const STATES: usize = 8;

/// Heat, see [`STATES`].
pub(super) type State = [f64; STATES];

/// A point of the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Point {
    pub(super) time_s: f64,
    pub(super) state: State,
    /// Of the nodes, in the order front disc, front caliper, rear disc, rear caliper (K).
    pub(super) at_k: [f64; 4],
    /// How fast they warm (K/s).
    pub(super) warming_k_s: [f64; 4],
}

impl Point {
    /// Of a rear wheel.
    pub(super) const fn rear(&self) -> Nodes {
        Nodes {
            disc_k: self.at_k[2],
            caliper_k: self.at_k[3],
        }
    }
}

/// A figure between two points, over the share of the time between them: the cubic that has its values and slopes
/// (Hermite), by the four corners that it does not leave (Bézier).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cubic([f64; 4]);

impl Cubic {
    /// Of a node's temperature (K), see [`Point::at_k`].
    pub(super) fn between(from: &Point, to: &Point, figure: usize) -> Self {
        let third_s = (to.time_s - from.time_s) / 3.0;
        let (start, end) = (from.at_k[figure], to.at_k[figure]);
        Self([
            start,
            start + from.warming_k_s[figure] * third_s,
            end - to.warming_k_s[figure] * third_s,
            end,
        ])
    }

    /// What it lies between.
    pub(super) const fn corners(&self) -> [f64; 4] {
        self.0
    }

    /// Of a figure that is straight in this one and another.
    pub(super) fn with(&self, other: &Self, figure: impl Fn(f64, f64) -> f64) -> Self {
        Self(std::array::from_fn(|corner| {
            figure(self.0[corner], other.0[corner])
        }))
    }

    /// At a share of the time.
    pub(super) fn at(&self, share: f64) -> f64 {
        let [start, first, second, end] = self.0;
        let left = 1.0 - share;
        left * left * (left * start + 3.0 * share * first)
            + share * share * (3.0 * left * second + share * end)
    }

    /// Its highest value, and the share of the time at which it has it: within, where it rises at first and falls at last.
    pub(super) fn peak(&self) -> (f64, f64) {
        let [start, first, second, end] = self.0;
        let best = if end > start { (end, 1.0) } else { (start, 0.0) };
        if !(first > start && second > end) {
            return best;
        }
        let slope = |share: f64| {
            let left = 1.0 - share;
            left * left * (first - start)
                + 2.0 * left * share * (second - first)
                + share * share * (end - second)
        };
        let (mut low, mut high) = (0.0_f64, 1.0_f64);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if slope(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        let share = 0.5 * (low + high);
        let value = self.at(share);
        if value > best.0 { (value, share) } else { best }
    }
}
