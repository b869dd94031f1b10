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
    CrossingDirection, Event, EventConfig, ExplicitRungeKutta, IVP, ODE, Solution, Status,
};
use thiserror::Error;

use super::drag::NOBODY_DRIVES_ON;
use super::shared::Shares;
use super::stage::{By, Stretch};
use super::vehicle::Vehicle;
use super::way::{Point, State};
use crate::thermal::{Flow, Moving, Nodes, to_the_end};

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

struct Doing<'a> {
    vehicle: &'a Vehicle,
    stretch: Stretch,
    shares: Shares,
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

impl Doing<'_> {
    /// Solves from a time to another. `watched`: the brakes' drag may end it.
    fn solve(
        &self,
        (starts_s, start): (f64, State),
        ends_s: f64,
        exactness: Exactness,
        watched: bool,
    ) -> Result<Solution<f64, State>, HeatFault> {
        // The moment is found on the curve between two steps, which is less exact than they are.
        let longest_s = if watched { 0.25 } else { f64::INFINITY };
        let fastest = self.stretch.from_m_s.max(self.stretch.to_m_s);
        let [front, rear] = &self.vehicle.corners;
        let quickest_s = front.quickest_s(fastest).min(rear.quickest_s(fastest));
        let method = ExplicitRungeKutta::dopri5()
            // The method is steady up to three times that, and gives up where it thinks that it is not.
            .h_max(longest_s.min(2.0 * quickest_s))
            .rtol(exactness.relative)
            // A kelvin of the smallest node is some 2 kJ.
            .atol(2e3 * exactness.absolute_k)
            .max_steps(1_000_000);
        let solution = to_the_end(ends_s, |ends_s| {
            let problem = IVP::ode(self, starts_s, ends_s, start).method(method.clone());
            if watched {
                problem.event(self).solve()
            } else {
                problem.solve()
            }
        });
        solution.map_err(|_| HeatFault { at_s: starts_s })
    }

    /// Steps from a time to another and hands every step to `path`, its start too.
    fn step(
        &self,
        from: (f64, State),
        ends_s: f64,
        exactness: Exactness,
        path: &mut Vec<Point>,
    ) -> Result<(), HeatFault> {
        let solution = self.solve(from, ends_s, exactness, false)?;
        for (&time_s, state) in solution.t.iter().zip(&solution.y) {
            if !state.iter().all(|figure| figure.is_finite()) {
                return Err(HeatFault { at_s: time_s });
            }
            path.push(self.point(time_s, state));
        }
        Ok(())
    }

    /// When, within a step, nobody drives on.
    fn gives_up_s(&self, from: &Point, until_s: f64, exactness: Exactness) -> Result<Option<f64>, HeatFault> {
        let watched = self.solve((from.time_s, from.state), until_s, exactness, true)?;
        let given_up = matches!(watched.status, Status::Interrupted);
        Ok(watched.t.last().copied().filter(|_| given_up))
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
    let first = path.len();
    doing.step((stretch.starts_s, start), ends_s, exactness, path)?;
    if stretch.stands() || vehicle.dragging.is_empty() {
        return Ok(false);
    }
    if vehicle.nobody_drives_on(&shares, &path[first]) {
        path.truncate(first + 1);
        return Ok(true);
    }
    for second in first + 1..path.len() {
        let (from, to) = (path[second - 1], path[second]);
        if vehicle.stops_driving_s(&shares, &from, &to).is_none() {
            continue;
        }
        // What is found between two steps is a time; the heat then is stepped to.
        if let Some(gives_up_s) = doing.gives_up_s(&from, to.time_s, exactness)? {
            path.truncate(second - 1);
            doing.step((from.time_s, from.state), gives_up_s, exactness, path)?;
            return Ok(true);
        }
    }
    Ok(false)
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
