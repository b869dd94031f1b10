//! A figure from a fit, as it is told: value, standard error, interval.

use statrs::distribution::{ChiSquared, ContinuousCDF, StudentsT};

use super::{Fitted, Problem};

/// Standard deviations in a 95 % half-width.
pub(crate) const SD_IN_HALF_WIDTH: f64 = 1.959_963_985;

/// Chance with which an interval holds the truth.
pub(crate) const HOLDS: f64 = 0.95;

/// Misfits that readings of the stated quality show once in a hundred pulls: beyond it they were worse than stated.
const WORSE_THAN_STATED: f64 = 0.99;

/// A figure with its standard error and the interval that holds it in 95 of 100 pulls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate<T> {
    /// Most likely, and not below nothing.
    pub value: T,
    /// Standard error.
    pub se: T,
    /// Lower end.
    pub low: T,
    /// Upper end.
    pub high: T,
    /// The lower end is nothing at all: the interval is one-sided, "no more than".
    pub from_nothing: bool,
}

impl<T> Estimate<T> {
    pub(crate) fn map<U>(self, of: impl Fn(T) -> U) -> Estimate<U> {
        Estimate {
            value: of(self.value),
            se: of(self.se),
            low: of(self.low),
            high: of(self.high),
            from_nothing: self.from_nothing,
        }
    }
}

/// How much wider than the instruments' own the errors are, by the scatter of the readings: `None` while they are as
/// good as stated. Source: the ratio of Birge, Physical Review 40 (1932) 207, with Student's quantile in place of the
/// normal one (from memory).
pub(crate) fn widened(misfit: f64, counted: usize, fitted: usize) -> Option<Widened> {
    let freedom = counted.checked_sub(fitted).filter(|&freedom| freedom > 0)?;
    let freedom = u32::try_from(freedom).map_or(f64::MAX, f64::from);
    let most = ChiSquared::new(freedom).ok()?.inverse_cdf(WORSE_THAN_STATED);
    if misfit <= most {
        return None;
    }
    let ratio = (misfit / freedom).sqrt();
    let quantile = StudentsT::new(0.0, 1.0, freedom)
        .ok()?
        .inverse_cdf(0.5 + 0.5 * HOLDS);
    Some(Widened {
        ratio,
        of_interval: ratio * quantile / SD_IN_HALF_WIDTH,
    })
}

/// How much wider.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Widened {
    /// Standard errors.
    pub(crate) ratio: f64,
    /// Intervals.
    of_interval: f64,
}

/// A figure from a fit: most likely value, standard error, interval above nothing.
pub(crate) fn found(
    problem: &Problem<'_>,
    fitted: &Fitted,
    number: usize,
    widened: Option<Widened>,
) -> Estimate<f64> {
    let sd = fitted.sd(number);
    let value = fitted.best[number];
    let wider = widened.map_or(1.0, |widened| widened.of_interval);
    let ends = problem.interval(fitted, number, HOLDS, wider);
    Estimate {
        value,
        se: sd * widened.map_or(1.0, |widened| widened.ratio),
        low: ends.low.min(value),
        high: ends.high.max(value),
        from_nothing: ends.from_bound,
    }
}
