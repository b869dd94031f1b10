//! Presses of a pedal taken apart, and two of them held against one another.

use quantity::si::{Force, Length, Pressure, Volume};

use super::{BLIND_BELOW, Estimate, Instruments, PullFault, TOLD_APART_WIDTH};
use crate::car::{Brake, Car};
use crate::fit::{Problem, SD_IN_HALF_WIDTH, Sample, found, widened};
use crate::foot::FootLaw;
use crate::interpolate::clamped;
use crate::network::{Acting, Network};

/// One reading of a press.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalPoint {
    /// Force of the foot, if it was read.
    pub foot: Option<Force>,
    /// Line pressure, before any bias valve.
    pub pressure: Pressure,
    /// Travel of the foot pad.
    pub travel: Length,
}

/// A press taken apart: pedal travel that each takes at the highest pressure read, front and rear together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalApart {
    /// Pads and shoes on their way to disc and drum.
    pub clearance: Estimate<Length>,
    /// Brakes giving way.
    pub flex: Estimate<Length>,
    /// Air.
    pub air: Estimate<Length>,
    /// Air at rest, in both circuits together.
    pub air_volume: Estimate<Volume>,
    /// Hoses and fluid, by the sheet's lengths and bores.
    pub known: Length,
    /// Highest pressure read.
    pub top: Pressure,
    /// Whether these readings tell the three from one another.
    pub told_apart: bool,
    /// Travel that is left between readings and curve, root mean square.
    pub residual: Length,
}

/// What two presses say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Presses {
    /// The pedal went on moving while the pressure stood: fluid leaves, past a seal or to the outside.
    Sinks,
    /// The second press is shorter: the first brought pads or shoes nearer.
    PumpsUp,
    /// The second press is longer: fluid does not come back, or air is on its way.
    Lengthens,
    /// They are alike within what tape and gauge can tell.
    Alike,
}

/// Two presses, the second right after the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoPresses {
    /// What they say.
    pub says: Presses,
    /// Pressure that both reached, at which they are compared.
    pub at: Pressure,
    /// Travel of the first there.
    pub first: Length,
    /// Travel of the second there.
    pub second: Length,
    /// How far the difference may be off: 95 % half-width.
    pub unsure: Length,
    /// The greatest way that the pedal moved while the pressure stood, of either press.
    pub crept: Length,
}

/// Front and rear clearances of 0.1 mm, flex of 0.01 cm³/bar a wheel: what a multiple is of where the sheet has none.
const LEAST_CLEARANCE: f64 = 1e-4;
const LEAST_FLEX: f64 = 1e-13;

/// A car's pedal: travel over line pressure. Pressures in bar, travels in mm.
struct PedalCurve {
    foot: FootLaw,
    networks: [Network; 4],
    knee: Pressure,
}

impl PedalCurve {
    fn of(car: &Car) -> Self {
        let network =
            |clearance: f64, flex: f64, air_cm3: f64| Network::of(&scaled(car, clearance, flex, air_cm3));
        Self {
            foot: FootLaw::of(car),
            networks: [
                network(0.0, 0.0, 0.0),
                network(1.0, 0.0, 0.0),
                network(0.0, 1.0, 0.0),
                network(0.0, 0.0, 1.0),
            ],
            knee: car
                .bias_valve
                .as_ref()
                .map_or(Pressure::ZERO, |valve| valve.knee_at(Force::ZERO)),
        }
    }

    /// Travel that hoses and fluid take, and what one of each of the three takes.
    fn parts_mm(&self, bar: f64) -> (f64, [f64; 3]) {
        let rod = self.foot.push_rod_for(0, Pressure::from_pa(bar * 1e5));
        let [first, second] = self.foot.pressures(rod);
        let travel_mm = |network: &Network| {
            let nodes = network.pressures(&Acting {
                first,
                second,
                own: None,
                knee: self.knee,
            });
            let taken = if self.foot.is_twin() {
                network.taken_by_chambers(&nodes)
            } else {
                [network.shares_of_pedal(&nodes).total(), Volume::ZERO]
            };
            self.foot.travel(taken).m() * 1e3
        };
        let known = travel_mm(&self.networks[0]);
        (
            known,
            [1, 2, 3].map(|number| travel_mm(&self.networks[number]) - known),
        )
    }

    fn travel_mm(&self, bar: f64, parts: &[f64]) -> (f64, f64) {
        let at = |bar: f64| {
            let (known, each) = self.parts_mm(bar);
            known
                + parts
                    .iter()
                    .zip(each)
                    .map(|(part, each)| part * each)
                    .sum::<f64>()
        };
        let step = 1e-4;
        let below = (bar - step).max(0.0);
        (at(bar), (at(bar + step) - at(below)) / (bar + step - below))
    }
}

/// The car with clearance and flex of all wheels as multiples of the sheet's, and air (cm³) shared over both axles.
fn scaled(car: &Car, clearance: f64, flex: f64, air_cm3: f64) -> Car {
    let mut car = car.clone();
    for brake in [&mut car.front_brake, &mut car.rear_brake] {
        let (of_clearance, of_flex) = match brake {
            Brake::Disc(disc) => (&mut disc.clearance, &mut disc.flex),
            Brake::Drum(drum) => (&mut drum.clearance, &mut drum.flex),
        };
        *of_clearance = Length::from_m(of_clearance.m().max(LEAST_CLEARANCE) * clearance);
        *of_flex = quantity::si::Flex::from_m3_pa(of_flex.m3_pa().max(LEAST_FLEX) * flex);
    }
    let air = Volume::from_m3(air_cm3 * 1e-6);
    car.air.front = air / 2.0;
    car.air.rear = air / 2.0;
    car
}

/// Takes one press apart.
///
/// # Errors
/// What keeps it from being taken apart.
pub fn pedal_apart(
    car: &Car,
    points: &[PedalPoint],
    instruments: Instruments,
) -> Result<PedalApart, PullFault> {
    let gauge_sd = instruments.gauge.pa() / 1e5 / SD_IN_HALF_WIDTH;
    let tape_sd = instruments.tape.m() * 1e3 / SD_IN_HALF_WIDTH;
    let mut readings: Vec<Sample> = points
        .iter()
        .filter(|point| point.pressure >= instruments.gauge * BLIND_BELOW)
        .map(|point| Sample {
            group: 0,
            at: point.pressure.pa() / 1e5,
            at_sd: gauge_sd,
            value: point.travel.m() * 1e3,
            value_sd: tape_sd,
        })
        .collect();
    readings.sort_by(|one, other| {
        one.at
            .total_cmp(&other.at)
            .then(one.value.total_cmp(&other.value))
    });
    if readings.len() < 3 {
        return Err(PullFault::TooFew {
            usable: readings.len(),
        });
    }
    let curve = PedalCurve::of(car);
    let over = |_: usize, bar: f64, parts: &[f64]| curve.travel_mm(bar, parts);
    let problem = Problem {
        readings: &readings,
        curve: &over,
        limits: &[(0.0, f64::INFINITY); 3],
        start: &[1.0, 1.0, 0.1],
        steps: &[1e-3; 3],
    };
    let fitted = problem.fit().ok_or(PullFault::NoFit)?;
    let widened = widened(fitted.misfit, readings.len(), 3);
    let top_bar = readings.iter().map(|reading| reading.at).fold(0.0, f64::max);
    let (known_mm, each_mm) = curve.parts_mm(top_bar);
    let figures = [0, 1, 2].map(|part| found(&problem, &fitted, part, widened));
    let travel = [0, 1, 2].map(|part| figures[part].map(|value| Length::from_m(value * each_mm[part] / 1e3)));
    let together_m: f64 = travel.iter().map(|part| part.value.m()).sum();
    let left_mm: f64 = readings
        .iter()
        .map(|reading| (reading.value - over(0, reading.at, &fitted.best).0).powi(2))
        .sum();
    Ok(PedalApart {
        clearance: travel[0],
        flex: travel[1],
        air: travel[2],
        air_volume: figures[2].map(|cm3| Volume::from_m3(cm3 * 1e-6)),
        known: Length::from_m(known_mm / 1e3),
        top: Pressure::from_pa(top_bar * 1e5),
        told_apart: fitted.covariance.is_some()
            && travel
                .iter()
                .all(|part| (part.high - part.low).m() <= TOLD_APART_WIDTH * together_m),
        residual: Length::from_m(
            (left_mm / u32::try_from(readings.len()).map_or(1.0, f64::from)).sqrt() / 1e3,
        ),
    })
}

/// Holds two presses against one another. `None` where one of them has no reading above the gauge's error.
#[must_use]
pub fn two_presses(
    first: &[PedalPoint],
    second: &[PedalPoint],
    instruments: Instruments,
) -> Option<TwoPresses> {
    let top = |points: &[PedalPoint]| points.iter().map(|point| point.pressure.pa()).fold(0.0, f64::max);
    let at_pa = top(first).min(top(second));
    if at_pa <= instruments.gauge.pa() {
        return None;
    }
    let line = |points: &[PedalPoint]| {
        let mut line: Vec<(f64, f64)> = points
            .iter()
            .map(|point| (point.pressure.pa(), point.travel.m()))
            .collect();
        line.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1)));
        // Of several readings at one pressure the first counts: a pedal that creeps is told below.
        line.dedup_by(|later, kept| later.0 - kept.0 <= instruments.gauge.pa() * 0.5);
        line
    };
    let lines = [line(first), line(second)];
    let travel = |line: &[(f64, f64)]| clamped(line, at_pa, |at| at);
    let (first_m, second_m) = (travel(&lines[0]), travel(&lines[1]));
    // A gauge's error moves the travel by the steepness of the line there.
    let steepness = |line: &[(f64, f64)]| {
        line.windows(2)
            .last()
            .map_or(0.0, |pair| (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0))
    };
    let unsure_m = lines
        .iter()
        .map(|line| {
            instruments
                .tape
                .m()
                .hypot(instruments.gauge.pa() * steepness(line))
        })
        .fold(0.0, f64::hypot);
    let crept = crept(first, instruments).max(crept(second, instruments));
    let says = if crept.m() > 2.0 * instruments.tape.m() {
        Presses::Sinks
    } else if first_m - second_m > unsure_m {
        Presses::PumpsUp
    } else if second_m - first_m > unsure_m {
        Presses::Lengthens
    } else {
        Presses::Alike
    };
    Some(TwoPresses {
        says,
        at: Pressure::from_pa(at_pa),
        first: Length::from_m(first_m),
        second: Length::from_m(second_m),
        unsure: Length::from_m(unsure_m),
        crept,
    })
}

/// The greatest way between readings taken one after the other at one pressure, or at a falling one.
fn crept(points: &[PedalPoint], instruments: Instruments) -> Length {
    let mut most = Length::ZERO;
    for (number, start) in points.iter().enumerate() {
        if start.pressure <= instruments.gauge {
            continue;
        }
        for later in points[number + 1..]
            .iter()
            .take_while(|later| later.pressure <= start.pressure + instruments.gauge * 0.5)
        {
            most = most.max(later.travel - start.travel);
        }
    }
    most
}
