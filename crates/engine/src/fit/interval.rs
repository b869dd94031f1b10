//! Intervals of a figure that cannot pass a bound.

use statrs::distribution::{ContinuousCDF, Normal};

use crate::solve::root_within;

/// An interval that holds the truth with the promised chance, whatever the truth is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Limits {
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// Whether the lower end is the bound itself.
    pub(crate) from_bound: bool,
}

/// How much worse than the best a truth may fit, for a figure that is known to be no less than `bound`.
pub(crate) struct Bounded<'a> {
    /// Sum of squares with the figure held at a value, over the least with the figure within its bound.
    pub(crate) worse_by: &'a dyn Fn(f64) -> f64,
    /// Where it is least.
    pub(crate) best: f64,
    /// Standard deviation of the figure, near enough.
    pub(crate) sd: f64,
    pub(crate) bound: f64,
    /// Chance with which the interval holds the truth.
    pub(crate) holds: f64,
}

impl Bounded<'_> {
    /// All values that fit hardly worse than the best.
    ///
    /// How much worse is allowed depends on how far the value lies from the bound: one rule gives a one-sided interval
    /// beside it and the ordinary one far from it, and none is ever empty. Source: Feldman and Cousins, Physical Review
    /// D 57 (1998) 3873, section IV.B, with the likelihood ratio of the fit in place of the normal distribution's.
    pub(crate) fn limits(&self) -> Limits {
        let over = |value: f64| {
            let allowed = allowed((value - self.bound) / self.sd, self.holds);
            (self.worse_by)(value) - allowed * allowed
        };
        let mut reach = 2.0 * self.sd;
        let mut high = self.best + reach;
        for _ in 0..40 {
            if over(high) > 0.0 {
                break;
            }
            reach *= 1.5;
            high = self.best + reach;
        }
        let accuracy = 1e-4 * self.sd;
        // Without an end within reach the value is not bounded above.
        let high = root_within(self.best, high, accuracy, over).unwrap_or(f64::INFINITY);
        let from_bound = self.best <= self.bound || over(self.bound) <= 0.0;
        let low = if from_bound {
            self.bound
        } else {
            root_within(self.bound, self.best, accuracy, over).unwrap_or(self.bound)
        };
        Limits {
            low,
            high,
            from_bound,
        }
    }
}

/// How far above a truth (`over_bound` standard deviations above its bound) an estimate may lie so that the estimates
/// accepted, in the order of their likelihood over the greatest that the bound allows, have the chance `holds`.
fn allowed(over_bound: f64, holds: f64) -> f64 {
    let normal = Normal::standard();
    let (one_sided, two_sided) = (normal.inverse_cdf(holds), normal.inverse_cdf(0.5 + 0.5 * holds));
    if over_bound <= 0.0 {
        return one_sided;
    }
    if over_bound >= two_sided {
        return two_sided;
    }
    // Not found, the wider of both holds.
    root_within(one_sided, two_sided, 1e-10, |above| {
        let below = if above <= over_bound {
            above
        } else {
            (over_bound * over_bound + above * above) / (2.0 * over_bound)
        };
        normal.cdf(above) - normal.cdf(-below) - holds
    })
    .unwrap_or(two_sided)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Limits of a mean that cannot be negative, read with a standard deviation of 1.
    fn of_mean(estimate: f64, holds: f64) -> (f64, f64) {
        let worse_by = |truth: f64| (truth - estimate).powi(2) - estimate.min(0.0).powi(2);
        let bounded = Bounded {
            worse_by: &worse_by,
            best: estimate.max(0.0),
            sd: 1.0,
            bound: 0.0,
            holds,
        };
        let limits = bounded.limits();
        (limits.low, limits.high)
    }

    /// Feldman and Cousins, table X (from memory, two decimals). At 90 % the lower end leaves the bound at 1.28, above
    /// which the normal distribution has a tenth.
    #[test]
    fn limits_are_those_of_the_table() {
        for (estimate, holds, low, high) in [
            (-3.0, 0.90, 0.00, 0.26),
            (-3.0, 0.95, 0.00, 0.42),
            (0.0, 0.90, 0.00, 1.64),
            (0.0, 0.95, 0.00, 1.96),
            (1.0, 0.90, 0.00, 2.64),
            (1.0, 0.95, 0.00, 2.96),
        ] {
            let found = of_mean(estimate, holds);
            assert!(
                (found.0 - low).abs() < 0.006 && (found.1 - high).abs() < 0.006,
                "{estimate} at {holds}: {found:?}"
            );
        }
        assert!(of_mean(1.281, 0.90).0 < 1e-9 && of_mean(1.283, 0.90).0 > 0.0);
        let far = of_mean(6.0, 0.95);
        assert!((far.0 - 4.040).abs() < 0.001 && (far.1 - 7.960).abs() < 0.001);
    }

    /// For any truth the estimates whose interval holds it make up 95 %, by summing the normal distribution.
    #[test]
    fn every_truth_is_held_in_95_of_100() {
        let normal = Normal::standard();
        for truth in [0.0, 0.1, 0.5, 1.0, 1.7, 2.5, 4.0] {
            let step = 0.005;
            let held: f64 = (-1200..1200)
                .map(|number| truth + f64::from(number) * step)
                .filter(|&estimate| {
                    let (low, high) = of_mean(estimate, 0.95);
                    low <= truth && truth <= high
                })
                .map(|estimate| {
                    normal.cdf(estimate - truth + 0.5 * step) - normal.cdf(estimate - truth - 0.5 * step)
                })
                .sum();
            assert!((held - 0.95).abs() < 0.002, "{truth}: {held}");
        }
    }
}
