//! From one temperature to the next.
//!
//! The equations are those of [`thermal`](crate::thermal), two nodes a corner; both sides of an axle are alike, so one
//! of each is followed. They are not linear (radiation, iron's specific heat, friction that decides who takes the heat),
//! and they are not stiff: the quickest part of them, a disc in the wind, takes minutes. Measured on a stage of 20 minutes
//! with 75 stops and an hour of soak, to 2·10⁻⁵ K: the explicit pair of order five of `differential-equations` takes
//! 0.58 ms, the same pair written out here 0.59 ms, its pair of order eight 1.07 ms; exponentials that are exact for
//! coefficients held still over a sixteenth of a stretch take 0.48 ms and miss by 7·10⁻³ K, since nothing in it stands
//! still but the soak. So the library does it.

use differential_equations::prelude::{
    CrossingDirection, Event, EventConfig, ExplicitRungeKutta, IVP, ODE, Status,
};
use thiserror::Error;

use super::shared::Shares;
use super::stage::{By, Stretch};
use crate::GRAVITY_M_S2;
use crate::thermal::{Corner, Fade, Flow, Held, Moving, Nodes, to_the_end};
use crate::trapped::Part;

/// Figures of the state, all heat in J: what disc and caliper of a front wheel hold over 0 °C, those of a rear wheel, then
/// what both front brakes made, what both rear ones made, what the air took of all four and what they radiated. Heat, and
/// not temperature, is followed: so nothing of it can be lost on the way, whatever iron's specific heat does.
pub(super) const STATES: usize = 8;

/// Heat, see [`STATES`].
pub(super) type State = [f64; STATES];

/// A drag of the rear brakes at which nobody drives on: a tenth of the car's weight (judgement).
pub const NOBODY_DRIVES_ON: f64 = 0.10;

/// How exactly time is stepped through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exactness {
    /// Error of a step over a figure.
    pub relative: f64,
    /// Error of a step in K.
    pub absolute_k: f64,
}

impl Default for Exactness {
    fn default() -> Self {
        Self {
            relative: 1e-9,
            absolute_k: 1e-6,
        }
    }
}

/// The temperatures could not be followed.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("the temperatures cannot be followed beyond {at_s:.1} s")]
pub struct HeatFault {
    /// When.
    pub at_s: f64,
}

/// What a car does to its brakes, prepared.
#[derive(Clone, Debug)]
pub(super) struct Vehicle {
    pub(super) corners: [Corner; 2],
    pub(super) fades: [Fade; 2],
    pub(super) weight_n: f64,
    pub(super) air_k: f64,
    /// What the lever shuts in where its by-pass stays covered.
    pub(super) dragging: Vec<Part>,
}

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

struct Doing<'a> {
    vehicle: &'a Vehicle,
    stretch: Stretch,
    shares: Shares,
}

impl Vehicle {
    /// Temperatures of a front and of a rear wheel's nodes.
    pub(super) fn nodes(&self, state: &State) -> [Nodes; 2] {
        [0, 1].map(|axle| {
            self.corners[axle].nodes(Held {
                disc_j: state[2 * axle],
                caliper_j: state[2 * axle + 1],
            })
        })
    }

    /// All as warm as the air, nothing made yet.
    pub(super) fn cold(&self) -> State {
        let air = self.as_the_air();
        let [front, rear] = [0, 1].map(|axle: usize| self.corners[axle].held(air));
        [
            front.disc_j,
            front.caliper_j,
            rear.disc_j,
            rear.caliper_j,
            0.0,
            0.0,
            0.0,
            0.0,
        ]
    }

    const fn as_the_air(&self) -> Nodes {
        Nodes {
            disc_k: self.air_k,
            caliper_k: self.air_k,
        }
    }

    /// Force of both rear brakes that drag.
    pub(super) fn drag_n(&self, shares: &Shares, rear: Nodes) -> f64 {
        if self.dragging.is_empty() {
            return 0.0;
        }
        let (gain_n_pa, threshold_pa) = shares.rear_law();
        let wheels: usize = self.dragging.iter().map(|part| part.wheels.len()).sum();
        let mean_pa: f64 = self
            .dragging
            .iter()
            .map(|part| {
                let pressure_pa = part.pressure_pa(part.warmth_m3(self.as_the_air(), rear));
                #[allow(clippy::cast_precision_loss, reason = "at most four wheels")]
                let share = part.wheels.len() as f64 / wheels as f64;
                share * (pressure_pa - threshold_pa).max(0.0)
            })
            .sum();
        gain_n_pa * mean_pa * self.fades[1].torque_k(rear.disc_k)
    }

    /// Pressure that warmth makes in what is shut in: the highest.
    pub(super) fn shut_in_pa(&self, rear: Nodes) -> f64 {
        self.dragging
            .iter()
            .map(|part| part.pressure_pa(part.warmth_m3(self.as_the_air(), rear)))
            .fold(0.0, f64::max)
    }
}

impl Doing<'_> {
    fn rates(&self, time_s: f64, [front, rear]: [Nodes; 2]) -> State {
        let vehicle = self.vehicle;
        let speed = self.stretch.speed_at(time_s).max(0.0);
        let (mut front_n, mut rear_n) = (0.0, 0.0);
        if self.stretch.braked > 0.0 {
            match self.stretch.by {
                By::Handbrake => rear_n = self.stretch.braked * vehicle.weight_n,
                By::Pedal => {
                    let shared = self.shares.share(
                        self.stretch.braked,
                        vehicle.fades[0].torque_k(front.disc_k),
                        vehicle.fades[1].torque_k(rear.disc_k),
                    );
                    (front_n, rear_n) = (shared.front_n, shared.rear_n);
                }
            }
        }
        if speed > 0.0 && !vehicle.dragging.is_empty() {
            rear_n = rear_n.max(vehicle.drag_n(&self.shares, rear));
        }
        let moving = Moving::at(speed);
        let heats = [front_n * speed / 2.0, rear_n * speed / 2.0];
        let flow = |axle: usize, nodes: Nodes| -> Flow {
            vehicle.corners[axle].flow(nodes, heats[axle], moving, vehicle.air_k)
        };
        let (ahead, behind) = (flow(0, front), flow(1, rear));
        let lost: f64 = (0..2)
            .map(|axle| vehicle.corners[axle].lost_at_once() * heats[axle])
            .sum();
        [
            ahead.disc_w,
            ahead.caliper_w,
            behind.disc_w,
            behind.caliper_w,
            2.0 * heats[0],
            2.0 * heats[1],
            2.0 * (ahead.to_air_w + behind.to_air_w + lost),
            2.0 * (ahead.radiated_w + behind.radiated_w),
        ]
    }

    fn point(&self, time_s: f64, state: &State) -> Point {
        let nodes = self.vehicle.nodes(state);
        let rates = self.rates(time_s, nodes);
        let [front, rear] = [0, 1].map(|axle: usize| {
            self.vehicle.corners[axle].warming(nodes[axle], rates[2 * axle], rates[2 * axle + 1])
        });
        Point {
            time_s,
            state: *state,
            at_k: [
                nodes[0].disc_k,
                nodes[0].caliper_k,
                nodes[1].disc_k,
                nodes[1].caliper_k,
            ],
            warming_k_s: [front.0, front.1, rear.0, rear.1],
        }
    }
}

impl ODE<f64, State> for Doing<'_> {
    fn diff(&self, time_s: f64, state: &State, rates: &mut State) {
        *rates = self.rates(time_s, self.vehicle.nodes(state));
    }
}

/// Nobody drives on against such a drag.
impl Event<f64, State> for Doing<'_> {
    fn config(&self) -> EventConfig {
        EventConfig::new(CrossingDirection::Positive, Some(1))
    }

    fn event(&self, _time_s: f64, state: &State) -> f64 {
        self.vehicle.drag_n(&self.shares, self.vehicle.nodes(state)[1]) / self.vehicle.weight_n
            - NOBODY_DRIVES_ON
    }
}

/// Follows one stretch and hands every step to `path`, its start too. Answers whether the brakes' drag ended it.
pub(super) fn follow(
    vehicle: &Vehicle,
    stretch: Stretch,
    shares: Shares,
    exactness: Exactness,
    start: State,
    path: &mut Vec<Point>,
) -> Result<bool, HeatFault> {
    let doing = Doing {
        vehicle,
        stretch,
        shares,
    };
    let ends_s = stretch.starts_s + stretch.lasts_s;
    let lost = |at_s: f64| HeatFault { at_s };
    let may_drag = stretch.from_m_s.max(stretch.to_m_s) > 0.0 && !vehicle.dragging.is_empty();
    // A kelvin of the smallest node is some 2 kJ.
    let fastest = stretch.from_m_s.max(stretch.to_m_s);
    let quickest_s = vehicle.corners[0]
        .quickest_s(fastest)
        .min(vehicle.corners[1].quickest_s(fastest));
    let mut method = ExplicitRungeKutta::dopri5()
        // The method is steady up to three times that, and gives up where it thinks that it is not.
        .h_max(2.0 * quickest_s)
        .rtol(exactness.relative)
        .atol(2e3 * exactness.absolute_k)
        .max_steps(1_000_000);
    if may_drag {
        // The moment is found on the curve between two steps, which is less exact than they are.
        method = method.h_max(0.25_f64.min(2.0 * quickest_s));
    }
    let until = |ends_s: f64| IVP::ode(&doing, stretch.starts_s, ends_s, start).method(method.clone());
    let mut gives_up = None;
    if may_drag {
        let watched = to_the_end(ends_s, |ends_s| until(ends_s).event(&doing).solve());
        let watched = watched.map_err(|_| lost(stretch.starts_s))?;
        if matches!(watched.status, Status::Interrupted) {
            gives_up = watched.t.last().copied();
        }
    }
    // What is found between two steps is a time; the heat then is stepped to.
    let solution = to_the_end(gives_up.unwrap_or(ends_s), |ends_s| until(ends_s).solve());
    let solution = solution.map_err(|_| lost(stretch.starts_s))?;
    for (&time_s, state) in solution.t.iter().zip(&solution.y) {
        if !state.iter().all(|figure| figure.is_finite()) {
            return Err(lost(time_s));
        }
        path.push(doing.point(time_s, state));
    }
    Ok(gives_up.is_some())
}

/// A car that stands, so long.
pub(super) const fn standing(starts_s: f64, lasts_s: f64) -> Stretch {
    Stretch {
        starts_s,
        lasts_s,
        from_m_s: 0.0,
        to_m_s: 0.0,
        braked: 0.0,
        by: By::Pedal,
    }
}

/// Weight of a car (N).
pub(super) fn weight_n(mass_kg: f64) -> f64 {
    mass_kg * GRAVITY_M_S2
}

/// The highest temperature of a node between two points of the way, and when: by the cubic that has its values and slopes.
pub(super) fn peak_between(from: &Point, to: &Point, figure: usize) -> (f64, f64) {
    let length = to.time_s - from.time_s;
    let (start, end) = (from.at_k[figure], to.at_k[figure]);
    let best = if end > start {
        (end, to.time_s)
    } else {
        (start, from.time_s)
    };
    let (rising, falling) = (from.warming_k_s[figure], to.warming_k_s[figure]);
    if !(length > 0.0 && rising > 0.0 && falling < 0.0) {
        return best;
    }
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    let slope = |at: f64| {
        6.0 * at * (1.0 - at) * (end - start) / length
            + (1.0 - 4.0 * at + 3.0 * at * at) * rising
            + (3.0 * at * at - 2.0 * at) * falling
    };
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if slope(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let at = 0.5 * (low + high);
    let (a2, a3) = (at * at, at * at * at);
    let value = (1.0 - 3.0 * a2 + 2.0 * a3) * start
        + (3.0 * a2 - 2.0 * a3) * end
        + length * ((at - 2.0 * a2 + a3) * rising + (a3 - a2) * falling);
    if value > best.0 {
        (value, from.time_s + at * length)
    } else {
        best
    }
}
