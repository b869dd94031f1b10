//! A measured pull taken apart: what of the travel is clearance, what is flex, what is air. It is the volume law of
//! [`crate::network`], turned round.
//!
//! `x(p) = free play + ratio · (free stroke + V(p)/A)`, with the volume law's clearance, flex and air as unknowns; hoses
//! and fluid are what lengths and bores make them. Clearance shifts the curve, flex tilts it, air bends it where the
//! pressure is low. Gauge and tape may both be off; each figure comes with its standard error and an interval that holds
//! the truth in 95 of 100 pulls.

mod advice;
mod curve;
mod pedal;

use quantity::si::{Flex, Length, Pressure, Volume};
use thiserror::Error;

use crate::car::{Car, LeverKind, PullPoint};
use crate::fit::{Fitted, Problem, SD_IN_HALF_WIDTH, Sample, found, widened};
pub(crate) use curve::PullCurve;

pub use crate::fit::Estimate;
pub use advice::{Advice, NextReading};
pub use pedal::{PedalApart, PedalPoint, Presses, TwoPresses, pedal_apart, two_presses};

/// How well a pull was read: 95 % half-widths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instruments {
    /// Of the gauge.
    pub gauge: Pressure,
    /// Of the tape at the grip.
    pub tape: Length,
}

impl Default for Instruments {
    /// A workshop gauge is read to 1 bar, a tape at a grip that is being pulled to 2 mm (judgement).
    fn default() -> Self {
        Self {
            gauge: Pressure::from_pa(1e5),
            tape: Length::from_m(2e-3),
        }
    }
}

/// A gauge tells nothing below this many of its half-widths: its error there is as large as the reading, and bends the
/// curve more than air does.
const BLIND_BELOW: f64 = 2.0;

/// Three figures are told apart while none of their intervals is wider than half of what the three take together
/// (judgement: beyond it, two of them can change places).
const TOLD_APART_WIDTH: f64 = 0.5;

/// What takes travel and is not known from the sheet's lengths and bores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PullPart {
    /// Pads or shoes on their way to disc or drum.
    Clearance,
    /// Calipers, pads, shoes giving way.
    Flex,
    /// Air.
    Air,
}

impl PullPart {
    /// All three, in the order of every list of them.
    pub const ALL: [Self; 3] = [Self::Clearance, Self::Flex, Self::Air];
}

/// A pull taken apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Apart {
    /// Pad to disc, a side; of drums the travel of each cylinder piston.
    pub clearance: Estimate<Length>,
    /// Volume taken per pressure, a wheel, hoses at their own growth.
    pub flex: Estimate<Flex>,
    /// Air at rest, in the whole branch.
    pub air: Estimate<Volume>,
    /// Grip travel that each takes at the highest pressure read, in the order of [`PullPart::ALL`].
    pub travel: [Estimate<Length>; 3],
    /// Grip travel that free play, free stroke, hoses and fluid take there.
    pub known_travel: Length,
    /// Highest pressure read.
    pub top: Pressure,
    /// Whether these readings tell the three from one another.
    pub told_apart: bool,
    /// The two that they confuse most.
    pub confused: (PullPart, PullPart),
    /// What is left between readings and curve, root mean square over the readings that count.
    pub residual: Pressure,
    /// How many readings count.
    pub counted: usize,
    /// Readings that tell nothing, by their place in the list: below what the gauge can tell, or at a limiting valve's
    /// cap.
    pub left_out: Vec<usize>,
    /// The readings scatter more than the instruments should; all errors were widened by this.
    pub widened_by: Option<f64>,
    /// The reading that lies farthest off, by its place in the list, where one stands out.
    pub stands_out: Option<usize>,
    /// The reading that would tell most if it were taken next.
    pub next: Option<NextReading>,
    /// What to do, the weightiest first; each only where the fit supports it.
    pub advice: Vec<Advice>,
    /// The fitted curve: travel of the grip and pressure, for a picture.
    pub curve: Vec<(Length, Pressure)>,
}

/// Why a pull cannot be taken apart.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PullFault {
    /// The car has none.
    #[error("the car has no handbrake lever to pull")]
    NoLever,
    /// A cable makes no pressure.
    #[error("a cable works the rear brakes: it makes no pressure to read")]
    Cable,
    /// Three unknowns want three readings.
    #[error(
        "{usable} of the readings show a pressure that the gauge can tell; three figures want three readings or more"
    )]
    TooFew {
        /// How many tell something.
        usable: usize,
    },
    /// No curve of this car comes near.
    #[error("no clearance, flex and air of this car come near these readings: look at units, zero and bore")]
    NoFit,
}

/// Takes a pull apart.
///
/// # Errors
/// What keeps it from being taken apart.
pub fn take_apart(car: &Car, points: &[PullPoint], instruments: Instruments) -> Result<Apart, PullFault> {
    match car.lever.as_ref().map(|lever| &lever.kind) {
        None => return Err(PullFault::NoLever),
        Some(LeverKind::Cable(_)) => return Err(PullFault::Cable),
        Some(LeverKind::Inline(_) | LeverKind::Separate(..)) => {}
    }
    let curve = PullCurve::of(car).ok_or(PullFault::NoLever)?;
    let gauge_sd = instruments.gauge.pa() / 1e5 / SD_IN_HALF_WIDTH;
    let tape_sd = instruments.tape.m() * 1e3 / SD_IN_HALF_WIDTH;
    let in_order = sorted(points);
    let least_bar = BLIND_BELOW * instruments.gauge.pa() / 1e5;
    let tells = |point: &PullPoint| {
        let bar = point.pressure.pa() / 1e5;
        bar >= least_bar && bar < curve.cap_bar() - 2.0 * gauge_sd
    };
    let counting: Vec<usize> = in_order
        .iter()
        .copied()
        .filter(|&place| tells(&points[place]))
        .collect();
    let mut left_out: Vec<usize> = (0..points.len())
        .filter(|place| !counting.contains(place))
        .collect();
    left_out.sort_unstable();
    if counting.len() < 3 {
        return Err(PullFault::TooFew {
            usable: counting.len(),
        });
    }
    let readings: Vec<Sample> = counting
        .iter()
        .map(|&place| Sample {
            group: 0,
            at: points[place].pressure.pa() / 1e5,
            at_sd: gauge_sd,
            value: points[place].travel.m() * 1e3,
            value_sd: tape_sd,
        })
        .collect();
    let over = |_: usize, bar: f64, parts: &[f64]| curve.travel_mm(bar, parts);
    let problem = Problem {
        readings: &readings,
        curve: &over,
        limits: &[(0.0, f64::INFINITY); 3],
        start: &curve.sheet(),
        steps: &[1e-3, 1e-4, 1e-3],
    };
    let fitted = problem.fit().ok_or(PullFault::NoFit)?;
    Ok(Told {
        curve: &curve,
        problem: &problem,
        fitted: &fitted,
        least_bar,
        car,
    }
    .apart(&counting, left_out))
}

/// Places of the readings in the order of their pressures; the same readings give the same order, however they came.
fn sorted(points: &[PullPoint]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..points.len()).collect();
    places.sort_by(|&one, &other| {
        let key = |place: usize| (points[place].travel.m(), points[place].pressure.pa());
        let (one, other) = (key(one), key(other));
        one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1))
    });
    places
}

/// A fit that is being told.
struct Told<'a> {
    curve: &'a PullCurve,
    problem: &'a Problem<'a>,
    fitted: &'a Fitted,
    least_bar: f64,
    car: &'a Car,
}

impl Told<'_> {
    fn apart(&self, counting: &[usize], left_out: Vec<usize>) -> Apart {
        let readings = self.problem.readings;
        let widened = widened(self.fitted.misfit, readings.len(), 3);
        let figures = [0, 1, 2].map(|number| found(self.problem, self.fitted, number, widened));
        let top_bar = readings.iter().map(|reading| reading.at).fold(0.0, f64::max);
        let per_part_mm = self.curve.parts_mm(top_bar).map(|(part, _)| part);
        let travel: [Estimate<Length>; 3] =
            [0, 1, 2].map(|part| figures[part].map(|value| Length::from_m(value * per_part_mm[part] / 1e3)));
        let together_m: f64 = travel.iter().map(|part| part.value.m()).sum();
        let told_apart = self.fitted.covariance.is_some()
            && travel
                .iter()
                .all(|part| (part.high - part.low).m() <= TOLD_APART_WIDTH * together_m);
        let residual_bar = (readings
            .iter()
            .map(|reading| (reading.at - self.curve.bar_at(reading.value, &self.fitted.best)).powi(2))
            .sum::<f64>()
            / u32::try_from(readings.len()).map_or(1.0, f64::from))
        .sqrt();
        let mut apart = Apart {
            clearance: figures[0].map(|mm| Length::from_m(mm / 1e3)),
            flex: figures[1].map(|cm3_bar| Flex::from_m3_pa(cm3_bar * 1e-6 / 1e5)),
            air: figures[2].map(|cm3| Volume::from_m3(cm3 * 1e-6)),
            travel,
            known_travel: Length::from_m(self.curve.known_mm(top_bar).0 / 1e3),
            top: Pressure::from_pa(top_bar * 1e5),
            told_apart,
            confused: self.confused(),
            residual: Pressure::from_pa(residual_bar * 1e5),
            counted: readings.len(),
            left_out,
            widened_by: widened.map(|widened| widened.ratio),
            stands_out: self.stands_out(counting, widened.is_some()),
            next: self.next(top_bar, &per_part_mm),
            advice: Vec::new(),
            curve: self.curve.drawn(top_bar, &self.fitted.best),
        };
        apart.advice = advice::advice(&apart, self.car);
        apart
    }

    fn confused(&self) -> (PullPart, PullPart) {
        let [clearance, flex, air] = PullPart::ALL;
        [(0, 2, clearance, air), (1, 2, flex, air), (0, 1, clearance, flex)]
            .into_iter()
            .max_by(|one, other| {
                let of =
                    |pair: &(usize, usize, PullPart, PullPart)| self.fitted.correlation(pair.0, pair.1).abs();
                of(one).total_cmp(&of(other))
            })
            .map_or((clearance, air), |pair| (pair.2, pair.3))
    }

    fn stands_out(&self, counting: &[usize], worse: bool) -> Option<usize> {
        let (number, misfit) = self
            .fitted
            .misfits
            .iter()
            .enumerate()
            .max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))?;
        (worse && misfit.abs() > 3.0).then(|| counting[number])
    }

    fn next(&self, top_bar: f64, per_part_mm: &[f64; 3]) -> Option<NextReading> {
        let (at_sd, value_sd) = self
            .problem
            .readings
            .first()
            .map(|reading| (reading.at_sd, reading.value_sd))?;
        let worst_mm = |fitted: &Fitted| {
            (0..3)
                .map(|part| fitted.sd(part) * per_part_mm[part])
                .fold(0.0, f64::max)
        };
        let (bar, after) = advice::CANDIDATES_BAR
            .into_iter()
            .filter(|&bar| bar >= self.least_bar && bar <= 1.2 * top_bar && bar < self.curve.cap_bar())
            .map(|bar| {
                let after = self.problem.with_one_more(self.fitted, 0, bar, (at_sd, value_sd));
                (bar, worst_mm(&after))
            })
            .min_by(|one, other| one.1.total_cmp(&other.1))?;
        Some(NextReading {
            pressure: Pressure::from_pa(bar * 1e5),
            travel: Length::from_m(self.curve.travel_mm(bar, &self.fitted.best).0 / 1e3),
            worst_now: Length::from_m(worst_mm(self.fitted) / 1e3),
            worst_then: Length::from_m(after / 1e3),
        })
    }
}
