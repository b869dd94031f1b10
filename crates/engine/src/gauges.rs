//! Two gauges, before and behind the bias valve: where the valve really is, against the sheet, and which reading next
//! tells most.
//!
//! `p_rear = p_front` up to the knee, `p_knee + slope (p_front − p_knee)` above. Each setting that was read has a knee of
//! its own, the slope is common; over the settings the knees lie on a straight line, as a spring and a thread make it.

use quantity::si::Pressure;
use thiserror::Error;

use crate::car::{BiasValve, Car, Knee, MeasuredValve, Setting};
use crate::fit::{Estimate, Fitted, Problem, SD_IN_HALF_WIDTH, Sample, found, widened};

/// What a workshop gauge is read to, 95 % half-width (judgement).
pub const GAUGE: Pressure = Pressure::from_pa(1e5);

/// Pressures before the valve that a next reading is tried at, in bar: what a foot holds still.
const CANDIDATES_BAR: [f64; 9] = [15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0];

/// Slopes that a valve can have: at the upper limit it would hardly be one.
const SLOPES: (f64, f64) = (0.0, 0.95);

/// How a knee that was read stands to the sheet's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KneeAgainst {
    /// The sheet's lies within what the readings leave open.
    Agrees,
    /// The valve reduces later than the sheet says: more rear.
    Later,
    /// The valve reduces earlier than the sheet says: less rear.
    Earlier,
    /// The sheet says nothing of this setting.
    NotOnSheet,
}

/// A setting that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtSetting {
    /// Turns or position; `None`: the valve has no knob, or nobody noted it.
    pub setting: Option<f64>,
    /// Where the valve starts to reduce; `None`: every reading lies below it.
    pub knee: Option<Estimate<Pressure>>,
    /// The knee is no lower than this.
    pub at_least: Pressure,
    /// What the sheet has there.
    pub sheet: Option<Pressure>,
    /// How the two stand.
    pub against: KneeAgainst,
}

/// Knee over setting: a straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnobLaw {
    /// Setting at which it is known best.
    pub about: f64,
    /// Knee there, and its standard error.
    pub knee: (Pressure, Pressure),
    /// Rise per turn or position, and its standard error.
    pub per_step: (Pressure, Pressure),
}

impl KnobLaw {
    /// Knee at a setting, and its standard error.
    #[must_use]
    pub fn at(&self, setting: f64) -> (Pressure, Pressure) {
        let away = setting - self.about;
        (
            self.knee.0 + self.per_step.0 * away,
            Pressure::from_pa(self.knee.1.pa().hypot(self.per_step.1.pa() * away)),
        )
    }

    /// Setting for a knee; `None` where the knob moves nothing.
    #[must_use]
    pub fn setting(&self, knee: Pressure) -> Option<f64> {
        (self.per_step.0.pa() > 0.0).then(|| self.about + (knee - self.knee.0) / self.per_step.0)
    }
}

/// The reading that would tell most if it were taken next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextGauge {
    /// At what setting.
    pub setting: Option<f64>,
    /// Pressure to hold before the valve.
    pub front: Pressure,
    /// Standard error of the knee there now; `None`: not known at all.
    pub now: Option<Pressure>,
    /// And with that reading.
    pub then: Pressure,
}

/// What gauges say of a valve.
#[derive(Clone, Debug, PartialEq)]
pub struct ValveRead {
    /// Outlet's rise over inlet's above the knee; `None`: the readings do not settle it, and the sheet's was taken.
    pub slope: Option<Estimate<f64>>,
    /// The slope that was computed with.
    pub slope_taken: f64,
    /// Each setting that was read, rising.
    pub settings: Vec<AtSetting>,
    /// The knob's law, where two settings or more were read above the knee.
    pub law: Option<KnobLaw>,
    /// What is left between readings and law, root mean square.
    pub residual: Pressure,
    /// The readings scatter more than the gauges should; all errors were widened by this.
    pub widened_by: Option<f64>,
    /// The next reading.
    pub next: Option<NextGauge>,
}

/// Why nothing can be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum GaugesFault {
    /// There is no valve.
    #[error("the car has no bias valve: front and rear gauge should show the same")]
    NoValve,
    /// Nothing was read.
    #[error("no reading of two gauges is there")]
    NoReading,
    /// The knee moves with the load.
    #[error(
        "this valve's knee moves with the load on the rear axle: two gauges at one load do not give its law"
    )]
    SensesLoad,
    /// The rear shows more than the front.
    #[error("the rear gauge shows more than the front one: gauges swapped, or one of them is off")]
    RearAboveFront,
    /// No law comes near.
    #[error("no knee and slope come near these readings")]
    NoFit,
}

struct Group {
    setting: Option<f64>,
    readings: Vec<(f64, f64)>,
}

/// Reads a valve off gauges. `car` is the sheet without these readings: what they are held against.
///
/// # Errors
/// Why nothing can be told.
pub fn read_valve(car: &Car, readings: &[MeasuredValve], gauge: Pressure) -> Result<ValveRead, GaugesFault> {
    let valve = car.bias_valve.as_ref().ok_or(GaugesFault::NoValve)?;
    if valve.senses_load() {
        return Err(GaugesFault::SensesLoad);
    }
    if readings.is_empty() {
        return Err(GaugesFault::NoReading);
    }
    let sd = gauge.pa() / 1e5 / SD_IN_HALF_WIDTH;
    let groups = groups(readings);
    let off_by = 3.0 * core::f64::consts::SQRT_2 * sd;
    if groups
        .iter()
        .flat_map(|group| &group.readings)
        .any(|&(front, rear)| rear > front + 2.0 * off_by)
    {
        return Err(GaugesFault::RearAboveFront);
    }
    // A reading at or below the knee only says that the knee is no lower.
    let reduces = |&(front, rear): &(f64, f64)| rear < front - off_by;
    let reduced: Vec<&Group> = groups
        .iter()
        .filter(|group| group.readings.iter().any(reduces))
        .collect();
    let settled = reduced.iter().any(|group| {
        let mut fronts: Vec<f64> = group
            .readings
            .iter()
            .filter(|reading| reduces(reading))
            .map(|&(front, _)| front)
            .collect();
        fronts.sort_by(f64::total_cmp);
        matches!((fronts.first(), fronts.last()), (Some(first), Some(last)) if last - first > 2.0 * off_by)
    });
    let fit = Fit {
        valve,
        sd,
        settled,
        reduced: &reduced,
    };
    fit.told(&groups)
}

/// Readings by their setting, settings rising; those without one first.
fn groups(readings: &[MeasuredValve]) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for reading in readings {
        let setting = reading.setting.map(number);
        let pair = (reading.front.pa() / 1e5, reading.rear.pa() / 1e5);
        let same = |group: &&mut Group| match (group.setting, setting) {
            (Some(one), Some(other)) => (one - other).abs() < 1e-6,
            (one, other) => one == other,
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.readings.push(pair),
            None => groups.push(Group {
                setting,
                readings: vec![pair],
            }),
        }
    }
    for group in &mut groups {
        group
            .readings
            .sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1)));
    }
    groups.sort_by(|one, other| {
        let key = |group: &Group| group.setting.unwrap_or(f64::NEG_INFINITY);
        key(one).total_cmp(&key(other))
    });
    groups
}

fn number(setting: Setting) -> f64 {
    match setting {
        Setting::Turns(turns) => turns.turns(),
        Setting::Position(position) => f64::from(position),
    }
}

/// The knee that one reading gives with a slope that is known: `(p_rear − s p_front)/(1 − s)`, not below nothing.
#[must_use]
pub fn knee_of(front: Pressure, rear: Pressure, slope: f64) -> Pressure {
    ((rear - front * slope) / (1.0 - slope)).max(Pressure::ZERO)
}

struct Fit<'a> {
    valve: &'a BiasValve,
    sd: f64,
    /// Whether the readings settle the slope.
    settled: bool,
    reduced: &'a [&'a Group],
}

impl Fit<'_> {
    fn told(&self, groups: &[Group]) -> Result<ValveRead, GaugesFault> {
        let readings: Vec<Sample> = self
            .reduced
            .iter()
            .enumerate()
            .flat_map(|(group, each)| {
                each.readings.iter().map(move |&(front, rear)| Sample {
                    group,
                    at: front,
                    at_sd: self.sd,
                    value: rear,
                    value_sd: self.sd,
                })
            })
            .collect();
        let count = self.reduced.len();
        let slope_of_sheet = self.valve.slope.clamp(SLOPES.0, SLOPES.1);
        let slope = |parameters: &[f64]| {
            if self.settled {
                parameters.get(count).copied().unwrap_or(slope_of_sheet)
            } else {
                slope_of_sheet
            }
        };
        let curve = |group: usize, front: f64, parameters: &[f64]| {
            let knee = parameters.get(group).copied().unwrap_or(front);
            if front <= knee {
                (front, 1.0)
            } else {
                let slope = slope(parameters);
                (knee + slope * (front - knee), slope)
            }
        };
        let mut limits = vec![(0.0, 400.0); count];
        let mut start: Vec<f64> = self.reduced.iter().map(|group| self.first_guess(group)).collect();
        let mut steps = vec![1e-3; count];
        if self.settled {
            limits.push(SLOPES);
            start.push(slope_of_sheet);
            steps.push(1e-5);
        }
        let problem = Problem {
            readings: &readings,
            curve: &curve,
            limits: &limits,
            start: &start,
            steps: &steps,
        };
        let at = |group: &Group| self.setting_of(group);
        if count == 0 {
            return Ok(ValveRead {
                slope: None,
                slope_taken: slope_of_sheet,
                settings: groups.iter().map(at).collect(),
                law: None,
                residual: Pressure::ZERO,
                widened_by: None,
                next: Some(self.above_all(groups)),
            });
        }
        let fitted = problem.fit().ok_or(GaugesFault::NoFit)?;
        let wider = widened(fitted.misfit, readings.len(), start.len());
        let knees: Vec<Estimate<Pressure>> = (0..count)
            .map(|group| found(&problem, &fitted, group, wider).map(|bar| Pressure::from_pa(bar * 1e5)))
            .collect();
        let mut settings: Vec<AtSetting> = groups.iter().map(at).collect();
        for (group, knee) in self.reduced.iter().zip(&knees) {
            for setting in settings
                .iter_mut()
                .filter(|setting| setting.setting == group.setting)
            {
                setting.knee = Some(*knee);
                setting.against = against(knee, setting.sheet);
            }
        }
        let points: Vec<(f64, f64)> = self
            .reduced
            .iter()
            .zip(&fitted.best)
            .filter_map(|(group, knee)| Some((group.setting?, *knee)))
            .collect();
        let covariance = fitted.covariance.as_deref().unwrap_or(&[]);
        let ratio = wider.map_or(1.0, |wider| wider.ratio);
        let law = (points.len() == count && count >= 2)
            .then(|| law(&points, covariance, ratio))
            .flatten();
        let left: f64 = readings
            .iter()
            .map(|reading| (reading.value - curve(reading.group, reading.at, &fitted.best).0).powi(2))
            .sum();
        Ok(ValveRead {
            slope: self.settled.then(|| found(&problem, &fitted, count, wider)),
            slope_taken: slope(&fitted.best),
            law,
            residual: Pressure::from_pa(
                (left / u32::try_from(readings.len()).map_or(1.0, f64::from)).sqrt() * 1e5,
            ),
            widened_by: wider.map(|wider| wider.ratio),
            next: self.next(&problem, &fitted),
            settings,
        })
    }

    fn first_guess(&self, group: &Group) -> f64 {
        group.readings.last().map_or(0.0, |&(front, rear)| {
            let bar = |bar: f64| Pressure::from_pa(bar * 1e5);
            knee_of(bar(front), bar(rear), self.valve.slope.min(SLOPES.1)).pa() / 1e5
        })
    }

    fn setting_of(&self, group: &Group) -> AtSetting {
        let off_by = 3.0 * core::f64::consts::SQRT_2 * self.sd;
        let highest_even = group
            .readings
            .iter()
            .filter(|&&(front, rear)| rear >= front - off_by)
            .map(|&(front, _)| front)
            .fold(0.0, f64::max);
        let sheet = match (&self.valve.knee, group.setting) {
            (Knee::Knob { at, .. }, Some(setting)) => {
                let inside = at.first().is_some_and(|first| setting >= first.0 - 1e-6)
                    && at.last().is_some_and(|last| setting <= last.0 + 1e-6);
                let at: Vec<(f64, f64)> = at.iter().map(|&(turns, knee)| (turns, knee.pa())).collect();
                inside.then(|| Pressure::from_pa(crate::interpolate::clamped(&at, setting, |turns| turns)))
            }
            _ => Some(self.valve.knee_at(quantity::si::Force::ZERO)),
        };
        let at_least = Pressure::from_pa(highest_even * 1e5);
        AtSetting {
            setting: group.setting,
            knee: None,
            at_least,
            sheet,
            against: match sheet {
                None => KneeAgainst::NotOnSheet,
                Some(knee) if knee + Pressure::from_pa(off_by * 1e5) < at_least => KneeAgainst::Later,
                Some(_) => KneeAgainst::Agrees,
            },
        }
    }

    /// Where every reading lay below the knee: well above the highest, or above the sheet's knee.
    fn above_all(&self, groups: &[Group]) -> NextGauge {
        let group = groups.first();
        let highest = group
            .and_then(|group| group.readings.last())
            .map_or(0.0, |&(front, _)| front);
        let sheet = group.and_then(|group| self.setting_of(group).sheet);
        let beyond = highest.max(sheet.map_or(0.0, |knee| knee.pa() / 1e5)) + 15.0;
        let front = CANDIDATES_BAR
            .into_iter()
            .find(|&bar| bar >= beyond)
            .unwrap_or(beyond);
        NextGauge {
            setting: group.and_then(|group| group.setting),
            front: Pressure::from_pa(front * 1e5),
            now: None,
            then: Pressure::from_pa(
                self.sd * 1e5 * (1.0_f64 + self.valve.slope.powi(2)).sqrt()
                    / (1.0 - self.valve.slope.min(SLOPES.1)),
            ),
        }
    }

    /// The reading that narrows the least certain knee most, of those at settings that were read.
    fn next(&self, problem: &Problem<'_>, fitted: &Fitted) -> Option<NextGauge> {
        let worst =
            (0..self.reduced.len()).max_by(|&one, &other| fitted.sd(one).total_cmp(&fitted.sd(other)))?;
        let (bar, then) = CANDIDATES_BAR
            .into_iter()
            .map(|bar| {
                let with = problem.with_one_more(fitted, worst, bar, (self.sd, self.sd));
                (bar, with.sd(worst))
            })
            .min_by(|one, other| one.1.total_cmp(&other.1))?;
        let now = fitted.sd(worst);
        let setting = self.reduced[worst].setting;
        Some(NextGauge {
            setting,
            front: Pressure::from_pa(bar * 1e5),
            now: now.is_finite().then(|| Pressure::from_pa(now * 1e5)),
            then: Pressure::from_pa(then * 1e5),
        })
    }
}

fn against(knee: &Estimate<Pressure>, sheet: Option<Pressure>) -> KneeAgainst {
    match sheet {
        None => KneeAgainst::NotOnSheet,
        Some(sheet) if sheet < knee.low => KneeAgainst::Later,
        Some(sheet) if sheet > knee.high => KneeAgainst::Earlier,
        Some(_) => KneeAgainst::Agrees,
    }
}

/// A straight line through knees (bar) over settings, weighted by their variances; the slope's part that they share
/// moves all of them and stays in the error.
fn law(points: &[(f64, f64)], covariance: &[Vec<f64>], ratio: f64) -> Option<KnobLaw> {
    let variance = |number: usize| covariance.get(number).and_then(|row| row.get(number)).copied();
    let weights: Vec<f64> = (0..points.len())
        .map(|number| Some(1.0 / variance(number)?))
        .collect::<Option<_>>()?;
    let all: f64 = weights.iter().sum();
    let about = points
        .iter()
        .zip(&weights)
        .map(|(point, weight)| point.0 * weight)
        .sum::<f64>()
        / all;
    let middle = points
        .iter()
        .zip(&weights)
        .map(|(point, weight)| point.1 * weight)
        .sum::<f64>()
        / all;
    let spread: f64 = points
        .iter()
        .zip(&weights)
        .map(|(point, weight)| weight * (point.0 - about).powi(2))
        .sum();
    if spread.is_nan() || spread <= 0.0 {
        return None;
    }
    let rise = points
        .iter()
        .zip(&weights)
        .map(|(point, weight)| weight * (point.0 - about) * (point.1 - middle))
        .sum::<f64>()
        / spread;
    // Each figure is a weighted sum of the knees; its variance takes their covariances in.
    let error = |share: &dyn Fn(usize) -> f64| {
        let variance: f64 = covariance
            .iter()
            .enumerate()
            .take(points.len())
            .flat_map(|(one, row)| {
                let row = row.iter().enumerate().take(points.len());
                row.map(move |(other, both)| (one, other, both))
            })
            .map(|(one, other, both)| share(one) * share(other) * both)
            .sum();
        variance.max(0.0).sqrt() * ratio
    };
    let of_middle = error(&|number| weights[number] / all);
    let of_rise = error(&|number| weights[number] * (points[number].0 - about) / spread);
    let bar = |bar: f64| Pressure::from_pa(bar * 1e5);
    Some(KnobLaw {
        about,
        knee: (bar(middle), bar(of_middle)),
        per_step: (bar(rise), bar(of_rise)),
    })
}
