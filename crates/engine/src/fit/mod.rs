//! Curves through readings of which both numbers may be off: bounded non-linear least squares, and intervals that keep
//! their promise beside a bound.
//!
//! A reading is a pair, such as a pressure on a gauge and a travel on a tape. Its misfit is its shortest way to the
//! curve, counted in standard deviations of both instruments: `min over p of ((x − x(p))/σₓ)² + ((p̂ − p)/σ_p)²`.
//! The sum of their squares is minimised by the Levenberg-Marquardt method with limits on the parameters (crate
//! `rmpfit`, a port of MINPACK's routine). It keeps a parameter *on* its limit and frees it again when the slope says
//! so; a change of variables (`θ = s²`) would make the slope vanish there, and the covariance with it. Of 4,000 noisy
//! pulls without air 1,991 end on the limit; by a change of variables (crate `levenberg-marquardt`) 614 of these had a
//! singular covariance, and a fit took 19 µs against 8 µs.

mod figure;
mod interval;

use rmpfit::{MPConfig, MPFitter, MPPar, MPResult};

pub use figure::Estimate;
pub(crate) use figure::{SD_IN_HALF_WIDTH, found, widened};
use interval::Bounded;
pub(crate) use interval::Limits;

/// A pair of readings with the standard deviations of both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sample {
    /// Which of several curves with common parameters it belongs to.
    pub(crate) group: usize,
    /// What the curve runs over.
    pub(crate) at: f64,
    pub(crate) at_sd: f64,
    /// What the curve gives.
    pub(crate) value: f64,
    pub(crate) value_sd: f64,
}

/// A curve that rises over `at`, with its group and its parameters: value and slope.
pub(crate) type Curve<'a> = dyn Fn(usize, f64, &[f64]) -> (f64, f64) + 'a;

/// What is to be fitted.
pub(crate) struct Problem<'a> {
    pub(crate) readings: &'a [Sample],
    pub(crate) curve: &'a Curve<'a>,
    /// Lower and upper limit of each parameter.
    pub(crate) limits: &'a [(f64, f64)],
    pub(crate) start: &'a [f64],
    /// A step of each parameter that is small, but moves the curve.
    pub(crate) steps: &'a [f64],
}

/// A fit.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    /// The parameters, within their limits.
    pub(crate) best: Vec<f64>,
    /// Covariance for the instruments' own standard deviations; `None` where the readings do not settle
    /// every parameter.
    pub(crate) covariance: Option<Vec<Vec<f64>>>,
    /// Sum of the squared misfits.
    pub(crate) misfit: f64,
    /// Misfit of each reading, signed: positive where the value was read too high.
    pub(crate) misfits: Vec<f64>,
}

impl Fitted {
    /// Standard deviation of a parameter; infinite where it is not settled.
    pub(crate) fn sd(&self, parameter: usize) -> f64 {
        self.covariance.as_ref().map_or(f64::INFINITY, |covariance| {
            covariance[parameter][parameter].max(0.0).sqrt()
        })
    }

    /// Correlation of two parameters.
    pub(crate) fn correlation(&self, one: usize, other: usize) -> f64 {
        self.covariance.as_ref().map_or(1.0, |covariance| {
            covariance[one][other] / (covariance[one][one] * covariance[other][other]).sqrt()
        })
    }
}

struct Fitter<'a> {
    problem: &'a Problem<'a>,
    parameters: Vec<MPPar>,
    config: MPConfig,
}

impl MPFitter for Fitter<'_> {
    fn eval(&mut self, params: &[f64], deviates: &mut [f64]) -> MPResult<()> {
        for (deviate, reading) in deviates.iter_mut().zip(self.problem.readings) {
            *deviate = misfit(reading, self.problem.curve, params);
        }
        Ok(())
    }

    fn number_of_points(&self) -> usize {
        self.problem.readings.len()
    }

    fn config(&self) -> &MPConfig {
        &self.config
    }

    fn parameters(&self) -> &[MPPar] {
        &self.parameters
    }
}

impl Problem<'_> {
    /// Fits. `None` where there are fewer readings than parameters, or nothing finite comes of it.
    pub(crate) fn fit(&self) -> Option<Fitted> {
        let best = self.least(self.start, self.limits, None)?;
        Some(self.around(best))
    }

    /// Interval of one parameter that holds its truth with the chance `holds`; the others are free, so that one of them
    /// at its own limit narrows nothing. `widened` is what the instruments' errors are to be widened by.
    pub(crate) fn interval(&self, fitted: &Fitted, number: usize, holds: f64, widened: f64) -> Limits {
        let bound = self.limits[number].0;
        let nothing_known = Limits {
            low: bound,
            high: f64::INFINITY,
            from_bound: true,
        };
        let sd = fitted.sd(number) * widened;
        if !sd.is_finite() {
            return nothing_known;
        }
        let mut limits = vec![(f64::NEG_INFINITY, f64::INFINITY); self.limits.len()];
        limits[number] = self.limits[number];
        let Some(best) = self.least(&fitted.best, &limits, None) else {
            return nothing_known;
        };
        let least = self.squares(&best);
        let worse_by = |value: f64| {
            // From the straight way along the valley, so that few steps are left.
            let mut start = best.clone();
            if let Some(covariance) = &fitted.covariance {
                let share = (value - best[number]) / covariance[number][number];
                for (other, start) in start.iter_mut().enumerate() {
                    *start += share * covariance[number][other];
                }
            }
            start[number] = value;
            self.least(&start, &limits, Some(number))
                .map_or(f64::INFINITY, |held| {
                    (self.squares(&held) - least) / (widened * widened)
                })
        };
        let bounded = Bounded {
            worse_by: &worse_by,
            best: best[number],
            sd,
            bound,
            holds,
        };
        bounded.limits()
    }

    fn squares(&self, parameters: &[f64]) -> f64 {
        self.readings
            .iter()
            .map(|reading| misfit(reading, self.curve, parameters).powi(2))
            .sum()
    }

    /// The parameters of the least sum of squares within limits, one of them held where it starts.
    fn least(&self, start: &[f64], limits: &[(f64, f64)], held: Option<usize>) -> Option<Vec<f64>> {
        if held.is_some() && limits.len() == 1 {
            return Some(start.to_vec());
        }
        let parameters = limits
            .iter()
            .zip(self.steps)
            .enumerate()
            .map(|(number, (&(low, high), &step))| MPPar {
                fixed: held == Some(number),
                limited_low: low.is_finite(),
                limited_up: high.is_finite(),
                limit_low: low,
                limit_up: high,
                step,
                ..MPPar::new()
            })
            .collect();
        let mut fitter = Fitter {
            problem: self,
            parameters,
            config: MPConfig {
                ftol: 1e-12,
                xtol: 1e-12,
                ..MPConfig::new()
            },
        };
        let mut best = start.to_vec();
        fitter.mpfit(&mut best).ok()?;
        best.iter().all(|value| value.is_finite()).then_some(best)
    }

    /// Misfits and covariance at given parameters.
    pub(crate) fn around(&self, best: Vec<f64>) -> Fitted {
        let misfits: Vec<f64> = self
            .readings
            .iter()
            .map(|reading| misfit(reading, self.curve, &best))
            .collect();
        let slopes: Vec<Vec<f64>> = self
            .readings
            .iter()
            .map(|reading| slope(reading, self.curve, &best, self.steps))
            .collect();
        let count = best.len();
        let mut squares = vec![vec![0.0; count]; count];
        for row in &slopes {
            for one in 0..count {
                for other in 0..count {
                    squares[one][other] += row[one] * row[other];
                }
            }
        }
        Fitted {
            misfit: misfits.iter().map(|misfit| misfit * misfit).sum(),
            covariance: inverse(&squares),
            misfits,
            best,
        }
    }

    /// Covariance if one more reading were taken, where the fitted curve is at `at`.
    pub(crate) fn with_one_more(&self, fitted: &Fitted, group: usize, at: f64, sd: (f64, f64)) -> Fitted {
        let (at_sd, value_sd) = sd;
        let one_more = Sample {
            group,
            at,
            at_sd,
            value: (self.curve)(group, at, &fitted.best).0,
            value_sd,
        };
        let readings: Vec<Sample> = self.readings.iter().copied().chain([one_more]).collect();
        Problem {
            readings: &readings,
            ..*self
        }
        .around(fitted.best.clone())
    }
}

/// The shortest way from a reading to the curve, in standard deviations; its sign is that of value over curve.
fn misfit(reading: &Sample, curve: &Curve<'_>, parameters: &[f64]) -> f64 {
    let at = nearest(reading, curve, parameters);
    let value = curve(reading.group, at, parameters).0;
    let across = (reading.value - value) / reading.value_sd;
    let along = (reading.at - at) / reading.at_sd;
    let over = if reading.at_sd > 0.0 {
        across.hypot(along)
    } else {
        across.abs()
    };
    if reading.value >= curve(reading.group, reading.at, parameters).0 {
        over
    } else {
        -over
    }
}

/// Slope of the misfit over each parameter: `−(∂x/∂θ)/√(σₓ² + (x′ σ_p)²)` at the nearest point of the curve.
fn slope(reading: &Sample, curve: &Curve<'_>, parameters: &[f64], steps: &[f64]) -> Vec<f64> {
    let at = nearest(reading, curve, parameters);
    let rise = curve(reading.group, at, parameters).1;
    let sd = reading.value_sd.hypot(rise * reading.at_sd);
    (0..parameters.len())
        .map(|number| {
            let mut moved = parameters.to_vec();
            moved[number] += steps[number];
            let above = curve(reading.group, at, &moved).0;
            moved[number] -= 2.0 * steps[number];
            let below = curve(reading.group, at, &moved).0;
            -(above - below) / (2.0 * steps[number]) / sd
        })
        .collect()
}

/// Where on the curve a reading most likely belongs, never below `at` = 0.
fn nearest(reading: &Sample, curve: &Curve<'_>, parameters: &[f64]) -> f64 {
    if reading.at_sd <= 0.0 {
        return reading.at;
    }
    // Half the slope of the squared distance over `at`.
    let pull = |at: f64| {
        let (value, rise) = curve(reading.group, at, parameters);
        (value - reading.value) * rise / (reading.value_sd * reading.value_sd)
            + (at - reading.at) / (reading.at_sd * reading.at_sd)
    };
    let here = reading.at.max(0.0);
    let first = pull(here);
    if first == 0.0 || (here == 0.0 && first > 0.0) {
        return here;
    }
    // Away from the reading until the pull turns; the curve cannot be farther than its own crossing of the value.
    let mut far = here;
    let mut reach = reading.at_sd;
    for _ in 0..60 {
        far = if first > 0.0 {
            (here - reach).max(0.0)
        } else {
            here + reach
        };
        if (pull(far) > 0.0) != (first > 0.0) || far == 0.0 {
            break;
        }
        reach *= 2.0;
    }
    if far == 0.0 && pull(0.0) > 0.0 {
        return 0.0;
    }
    let (low, high) = (here.min(far), here.max(far));
    // The pull that never turns leaves the curve at the value itself.
    crate::solve::root_within(low, high, 1e-11 * (1.0 + high), pull).unwrap_or(here)
}

/// Inverse of a symmetric matrix; `None` where it is as good as singular.
fn inverse(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let count = matrix.len();
    let scale: Vec<f64> = (0..count).map(|one| matrix[one][one].sqrt()).collect();
    if scale.iter().any(|scale| !(scale.is_finite() && *scale > 0.0)) {
        return None;
    }
    let mut left: Vec<Vec<f64>> = (0..count)
        .map(|one| {
            (0..count)
                .map(|other| matrix[one][other] / (scale[one] * scale[other]))
                .collect()
        })
        .collect();
    let mut right: Vec<Vec<f64>> = (0..count)
        .map(|one| {
            (0..count)
                .map(|other| f64::from(u8::from(one == other)))
                .collect()
        })
        .collect();
    for column in 0..count {
        let pivot = (column..count)
            .max_by(|&one, &other| left[one][column].abs().total_cmp(&left[other][column].abs()))?;
        if left[pivot][column].abs() < 1e-11 {
            return None;
        }
        left.swap(column, pivot);
        right.swap(column, pivot);
        let over = left[column][column];
        for at in 0..count {
            left[column][at] /= over;
            right[column][at] /= over;
        }
        for row in 0..count {
            if row == column {
                continue;
            }
            let times = left[row][column];
            for at in 0..count {
                left[row][at] -= times * left[column][at];
                right[row][at] -= times * right[column][at];
            }
        }
    }
    Some(
        (0..count)
            .map(|one| {
                (0..count)
                    .map(|other| right[one][other] / (scale[one] * scale[other]))
                    .collect()
            })
            .collect(),
    )
}
