//! Pad friction from pressure against deceleration.
//!
//! While no wheel slips: `x_f F_f(p_f) + x_r F_r(p_r) = (m + Σ J/R²) a − W(v)`, F what the sheet's brakes ask of the
//! ground, x their friction over the sheet's, W rolling and air. Front and rear are told apart only where stops differ in
//! their split; else both are scaled together.

use engine::brake::{TorqueLaw, Warmth};
use engine::car::{Axle, Brake, Car, LeverKind};
use engine::loads::Laden;
use engine::network::torque_laws;
use quantity::si::{Pressure, Temperature};

use crate::channel::Channel;
use crate::events::{Event, Looked, SLIPS, WorkedBy, step_of};

/// Means are taken over this long (s), and not before the brakes have come up.
const WINDOW_S: f64 = 0.20;
const SETTLES_S: f64 = 0.35;
/// In it a pressure may move by this much, or this share of itself.
const STANDS_STILL_PA: f64 = 4e5;
const STANDS_STILL_SHARE: f64 = 0.12;
/// A pull slips the rear on purpose; while it turns, its brake's torque still reaches the ground.
const SLIPS_BY_HAND: f64 = 0.6;
/// Below this speed engine, clutch and grades count for more than the brakes (m/s).
const SLOWEST_M_S: f64 = 4.0;
/// Rolling resistance over weight, and drag area in m² times its coefficient (from memory: a saloon on road tyres).
const ROLLING: f64 = 0.015;
const DRAG_AREA_M2: f64 = 0.8;
const AIR_KG_M3: f64 = 1.2;
/// Those two may be off by this share, the mass by that (judgement).
const RESISTANCE_OFF: f64 = 0.4;
const MASS_OFF: f64 = 0.02;
/// Front and rear are told apart where both come out to this (standard error over the figure; judgement).
const TOLD_APART: f64 = 0.08;
/// Width of a step of temperature (K), and windows that one wants.
const STEP_K: f64 = 50.0;
const LEAST_WINDOWS: usize = 5;

/// Friction of one axle's pads or linings.
#[derive(Clone, Debug, PartialEq)]
pub struct Pads {
    /// Which axle.
    pub axle: Axle,
    /// Friction over the sheet's; and its standard error, mass and resistances among it.
    pub over_sheet: (f64, f64),
    /// Friction, and its standard error.
    pub friction: (f64, f64),
    /// The sheet's.
    pub sheet: f64,
    /// The same by temperature of the disc, where it was logged.
    pub by_temperature: Vec<AtTemperature>,
}

/// Friction at a temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtTemperature {
    /// Middle of the step.
    pub disc: Temperature,
    /// Friction, and its standard error by scatter alone.
    pub friction: (f64, f64),
    /// Windows that it rests on.
    pub windows: usize,
}

/// What the stops settle.
#[derive(Clone, Debug, PartialEq)]
pub enum PadsFound {
    /// Front and rear each.
    Both(Pads, Pads),
    /// Only one figure for both: the stops do not differ in their split.
    Together(Pads, Pads),
}

/// Means of one window.
struct Window {
    front_n: f64,
    rear_n: f64,
    /// What the brakes must have made (N).
    made_n: f64,
    resisted_n: f64,
    disc_k: [Option<f64>; 2],
}

impl Looked<'_> {
    pub(crate) fn friction(&self, events: &[Event], car: &Car, laden: &Laden) -> Option<PadsFound> {
        let windows = self.windows(events, car, laden);
        if windows.len() < 2 * LEAST_WINDOWS {
            return None;
        }
        let both = two(&windows);
        let (x, told) = match both {
            Some((x, se)) if se[0] < TOLD_APART * x[0] && se[1] < TOLD_APART * x[1] => {
                ([(x[0], se[0]), (x[1], se[1])], true)
            }
            _ => {
                let together = one(&windows)?;
                ([together, together], false)
            }
        };
        // What mass and resistances may be off by moves every window alike.
        let resisted = windows.iter().map(|window| window.resisted_n).sum::<f64>();
        let made = windows.iter().map(|window| window.made_n).sum::<f64>();
        let alike = MASS_OFF.hypot(RESISTANCE_OFF * resisted / made.max(1.0));
        let pads = |axle: Axle, (x, se): (f64, f64), other: f64| {
            let sheet = friction_of(car, axle);
            let power = power(car.brake(axle));
            let mu = |x: f64| sheet * x.max(0.0).powf(power);
            let se = se.hypot(alike * x);
            Pads {
                axle,
                over_sheet: (x.max(0.0).powf(power), power * se),
                friction: (mu(x), sheet * power * se),
                sheet,
                by_temperature: by_temperature(&windows, axle, other, &mu),
            }
        };
        let front = pads(Axle::Front, x[0], x[1].0);
        let rear = pads(Axle::Rear, x[1], x[0].0);
        Some(if told {
            PadsFound::Both(front, rear)
        } else {
            PadsFound::Together(front, rear)
        })
    }

    fn windows(&self, events: &[Event], car: &Car, laden: &Laden) -> Vec<Window> {
        let laws = torque_laws(car, Warmth::Warm);
        let second = match car.lever.as_ref().map(|lever| &lever.kind) {
            Some(LeverKind::Separate(_, brake)) => Some(TorqueLaw::of_disc(brake, Warmth::Warm)),
            _ => None,
        };
        let radius = [car.tyres.front_radius.m(), car.tyres.rear_radius.m()];
        let axle_n = |axle: usize, law: &TorqueLaw, pa: f64| {
            2.0 * law.torque(Pressure::from_pa(pa.max(0.0))).nm() / radius[axle]
        };
        let turning_kg = 2.0 * car.tyres.wheel_inertia.kg_m2() * (radius[0].powi(-2) + radius[1].powi(-2))
            + car.drivetrain.input_inertia.kg_m2() * car.drivetrain.final_drive.powi(2) / radius[1].powi(2);
        let mass_kg = laden.mass.kg();
        let time = &self.log.time_s;
        let mut windows = Vec::new();
        for event in events.iter().filter(|event| !event.has_gap) {
            // Where a second pair of calipers does the pull, the rear sensor stands in their line.
            let rear_law = match (event.by, &second) {
                (WorkedBy::Hand, Some(second)) => second,
                _ => &laws[2],
            };
            let (first, last) = event.rows;
            let mut row = first + time[first..=last].partition_point(|&at| at < time[first] + SETTLES_S);
            while row < last {
                let end = row + time[row..=last].partition_point(|&at| at < time[row] + WINDOW_S);
                let rows: Vec<[f64; 4]> = (row..end)
                    .filter_map(|row| {
                        let slips = self.slip(row).unwrap_or(0.0);
                        let speed = self.speed(row)?;
                        let most = if event.by == WorkedBy::Hand {
                            SLIPS_BY_HAND
                        } else {
                            SLIPS
                        };
                        if slips > most || speed < SLOWEST_M_S {
                            return None;
                        }
                        Some([
                            self.front(row).or(Some(0.0))?,
                            self.rear(row)?,
                            self.slowing(row)?,
                            speed,
                        ])
                    })
                    .collect();
                let all = end - row;
                let middle_row = usize::midpoint(row, end.min(last));
                row = end.max(row + 1);
                if rows.len() < 3 || rows.len() * 10 < all * 8 || !stands(&rows, 0) || !stands(&rows, 1) {
                    continue;
                }
                let count = f64::from(u32::try_from(rows.len()).unwrap_or(1));
                let mean = |column: usize| rows.iter().map(|row| row[column]).sum::<f64>() / count;
                let (slowing, speed) = (mean(2), mean(3));
                let resisted_n = ROLLING * laden.weight_n() + 0.5 * AIR_KG_M3 * DRAG_AREA_M2 * speed * speed;
                windows.push(Window {
                    front_n: rows.iter().map(|row| axle_n(0, &laws[0], row[0])).sum::<f64>() / count,
                    rear_n: rows.iter().map(|row| axle_n(1, rear_law, row[1])).sum::<f64>() / count,
                    made_n: (mass_kg + turning_kg) * slowing - resisted_n,
                    resisted_n,
                    disc_k: [Channel::FrontDisc, Channel::RearDisc]
                        .map(|channel| self.log.at(channel, middle_row)),
                });
            }
        }
        windows
    }
}

/// Whether a pressure stands still in a window: what climbs or falls is not what the wheels feel yet.
fn stands(rows: &[[f64; 4]], column: usize) -> bool {
    let (low, high) = rows.iter().fold((f64::MAX, f64::MIN), |(low, high), row| {
        (low.min(row[column]), high.max(row[column]))
    });
    high - low < STANDS_STILL_PA.max(STANDS_STILL_SHARE * high)
}

/// Least squares for both: figures and standard errors.
fn two(windows: &[Window]) -> Option<([f64; 2], [f64; 2])> {
    let (mut ff, mut fr, mut rr, mut fy, mut ry) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for window in windows {
        ff += window.front_n * window.front_n;
        fr += window.front_n * window.rear_n;
        rr += window.rear_n * window.rear_n;
        fy += window.front_n * window.made_n;
        ry += window.rear_n * window.made_n;
    }
    let under = ff * rr - fr * fr;
    if under.is_nan() || under <= 1e-9 * ff * rr {
        return None;
    }
    let x = [(fy * rr - ry * fr) / under, (ry * ff - fy * fr) / under];
    let left: f64 = windows
        .iter()
        .map(|window| (window.made_n - x[0] * window.front_n - x[1] * window.rear_n).powi(2))
        .sum();
    let freedom = f64::from(u32::try_from(windows.len().saturating_sub(2)).ok()?).max(1.0);
    let variance = left / freedom;
    let found = x.iter().all(|x| x.is_finite() && *x > 0.0);
    found.then(|| {
        (
            x,
            [(variance * rr / under).sqrt(), (variance * ff / under).sqrt()],
        )
    })
}

/// Least squares for one figure.
fn one(windows: &[Window]) -> Option<(f64, f64)> {
    let (mut squares, mut both) = (0.0, 0.0);
    for window in windows {
        let all_n = window.front_n + window.rear_n;
        squares += all_n * all_n;
        both += all_n * window.made_n;
    }
    if squares.is_nan() || squares <= 0.0 {
        return None;
    }
    let x = both / squares;
    let left: f64 = windows
        .iter()
        .map(|window| (window.made_n - x * (window.front_n + window.rear_n)).powi(2))
        .sum();
    let freedom = f64::from(u32::try_from(windows.len().saturating_sub(1)).ok()?).max(1.0);
    (x.is_finite() && x > 0.0).then(|| (x, (left / freedom / squares).sqrt()))
}

fn by_temperature(windows: &[Window], axle: Axle, other: f64, mu: &dyn Fn(f64) -> f64) -> Vec<AtTemperature> {
    let place = usize::from(axle == Axle::Rear);
    let mut at: Vec<(f64, f64)> = windows
        .iter()
        .filter_map(|window| {
            let (own_n, other_n) = match axle {
                Axle::Front => (window.front_n, window.rear_n),
                Axle::Rear => (window.rear_n, window.front_n),
            };
            // The other axle's scatter comes on top: its share must not be the greater.
            (own_n > 0.3 * (own_n + other_n) && own_n > 100.0)
                .then_some((window.disc_k[place]?, (window.made_n - other * other_n) / own_n))
        })
        .collect();
    at.sort_by(|one, other| one.0.total_cmp(&other.0));
    at.chunk_by(|one, other| step_of(one.0, STEP_K) == step_of(other.0, STEP_K))
        .filter(|step| step.len() >= LEAST_WINDOWS)
        .map(|step| {
            let count = f64::from(u32::try_from(step.len()).unwrap_or(1));
            let mean = step.iter().map(|pair| pair.1).sum::<f64>() / count;
            let disc_k = step.iter().map(|pair| pair.0).sum::<f64>() / count;
            let scatter =
                (step.iter().map(|pair| (pair.1 - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
            let middle = mu(mean);
            AtTemperature {
                disc: Temperature::from_k(disc_k),
                friction: (middle, middle / mean.max(1e-9) * scatter / count.sqrt()),
                windows: step.len(),
            }
        })
        .collect()
}

/// Torque goes with friction to this power's inverse: a drum's shoes draw themselves on (from memory: 1.35).
fn power(brake: &Brake) -> f64 {
    match brake {
        Brake::Disc(_) => 1.0,
        Brake::Drum(_) => 1.0 / 1.35,
    }
}

fn friction_of(car: &Car, axle: Axle) -> f64 {
    match car.brake(axle) {
        Brake::Disc(disc) => disc.friction.warm,
        Brake::Drum(drum) => drum.friction.warm,
    }
}
