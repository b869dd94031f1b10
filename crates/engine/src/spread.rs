//! The spread of a toleranced amount, as a distribution.

use quantity::{Amount, Spread};
use statrs::function::erf::{erfc, erfc_inv};

/// Standard deviations that hold 95 % of a normal distribution on both sides.
const SIGMAS_OF_95: f64 = 1.959_963_984_540_054;

/// One drawn value of an amount: the quantile at `share` (0 to 1) of its distribution, cut off at the hard range.
/// SI in, SI out.
#[must_use]
pub fn drawn_si(amount: &Amount, share: f64, hard_si: Option<(f64, f64)>) -> f64 {
    let (low, high) = hard_si.unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    match amount.spread {
        Spread::Exact => amount.si,
        Spread::Uniform { low_si, high_si } => {
            let (low, high) = (low_si.max(low), high_si.min(high));
            low + (high - low) * share
        }
        Spread::Normal { half_width_si } => {
            let sigma = half_width_si / SIGMAS_OF_95;
            let below = |value: f64| 0.5 * erfc(-(value - amount.si) / (sigma * core::f64::consts::SQRT_2));
            let (from, to) = (below(low), below(high));
            let share = from + (to - from) * share;
            let normal = -core::f64::consts::SQRT_2 * erfc_inv(2.0 * share);
            (amount.si + sigma * normal).clamp(low, high)
        }
    }
}
