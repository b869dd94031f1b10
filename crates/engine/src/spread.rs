//! The spread of a toleranced amount, as a distribution.

use quantity::{Amount, Spread};
use statrs::function::erf::{erfc, erfc_inv};

/// Standard deviations that hold 95 % of a normal distribution on both sides.
const SIGMAS_OF_95: f64 = 1.959_963_984_540_054;

/// The distribution of an amount, cut off at the hard range, with all of it worked out that no draw changes.
#[derive(Clone, Copy, Debug)]
pub struct Law {
    amount: Amount,
    shape: Shape,
}

#[derive(Clone, Copy, Debug)]
enum Shape {
    Exact,
    Uniform {
        low: f64,
        high: f64,
    },
    Normal {
        sigma: f64,
        /// Shares below the ends of the hard range.
        cut: (f64, f64),
        hard: (f64, f64),
    },
}

impl Law {
    /// Of an amount and its hard range (SI).
    #[must_use]
    pub fn of(amount: &Amount, hard_si: Option<(f64, f64)>) -> Self {
        let (low, high) = hard_si.unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
        let shape = match amount.spread {
            Spread::Exact => Shape::Exact,
            Spread::Uniform { low_si, high_si } => Shape::Uniform {
                low: low_si.max(low),
                high: high_si.min(high),
            },
            Spread::Normal { half_width_si } => {
                let sigma = half_width_si / SIGMAS_OF_95;
                let below =
                    |value: f64| 0.5 * erfc(-(value - amount.si) / (sigma * core::f64::consts::SQRT_2));
                Shape::Normal {
                    sigma,
                    cut: (below(low), below(high)),
                    hard: (low, high),
                }
            }
        };
        Self {
            amount: *amount,
            shape,
        }
    }

    /// Whether it is this amount's.
    #[must_use]
    pub fn is_of(&self, amount: &Amount) -> bool {
        self.amount == *amount
    }

    /// The quantile at `share` (0 to 1), in SI.
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        match self.shape {
            Shape::Exact => self.amount.si,
            Shape::Uniform { low, high } => low + (high - low) * share,
            Shape::Normal {
                sigma,
                cut: (from, to),
                hard: (low, high),
            } => {
                let share = from + (to - from) * share;
                let normal = -core::f64::consts::SQRT_2 * erfc_inv(2.0 * share);
                (self.amount.si + sigma * normal).clamp(low, high)
            }
        }
    }
}

/// One drawn value of an amount: the quantile at `share` (0 to 1) of its distribution, cut off at the hard range.
/// SI in, SI out.
#[must_use]
pub fn drawn_si(amount: &Amount, share: f64, hard_si: Option<(f64, f64)>) -> f64 {
    Law::of(amount, hard_si).at(share)
}
