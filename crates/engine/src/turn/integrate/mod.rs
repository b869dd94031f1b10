//! From one motion to the next: steps in time, and the moments at which something stops or lets go.
//!
//! The steps are those of ROS34PW2, a linearly implicit method of third order with four stages (Rang and Angermann, 2005;
//! coefficients from memory, its order seen to by a test). Its order does not hang on an exact Jacobian matrix, so only
//! what can be stiff is solved for: the body's three speeds and the four wheels, and each lag by itself. Plates near
//! rest and tyres near standstill are stiff by up to four orders of magnitude: a tyre that starts with a slope of 16 and
//! counts its slip over 0.1 m/s gives its wheel a time constant of 20 µs. Beside it stands the classic explicit method of
//! fourth order with a fixed step, which shares nothing with it but the equations and shows how exact it is; in a turn
//! that never comes to rest it takes two to four times as long for the same error (`benches`), and coming to rest it
//! needs steps of some 50 µs.

mod implicit;

use quantity::si::Duration;
use thiserror::Error;

pub(super) use self::implicit::{Beginning, Moving, step};
use super::contact::Tyre;
use super::dynamics::{Look, STOPS, Slopes};
use super::following::{Following, longest_s};
use super::friction;
use super::motion::{FORWARD, HEADING, SIDEWAYS, SPIN, State, spin};
use super::script::Segment;
use super::vehicle::{Stretch, Vehicle};

/// How time is stepped through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stepping {
    /// Linearly implicit, with steps as long as an estimate of their error allows.
    Adaptive {
        /// Error of a step over what is usual of each figure.
        tolerance: f64,
    },
    /// The same steps, no run beside another: slower, for comparison.
    Alone {
        /// As [`Adaptive`](Self::Adaptive)'s.
        tolerance: f64,
    },
    /// Explicit, with steps of one length: slow, for comparison.
    Fixed {
        /// Length of a step.
        step: Duration,
    },
}

impl Default for Stepping {
    fn default() -> Self {
        Self::Adaptive { tolerance: TOLERANCE }
    }
}

/// Tolerance at which headings are right to 0.1°, places to 20 mm and times to 10 ms with room to spare.
pub const TOLERANCE: f64 = 1e-4;

/// The step that is tried first (s).
pub(super) const FIRST_S: f64 = 8e-3;

/// Shortest step that is tried (s).
pub(super) const SHORTEST_S: f64 = 1e-9;

/// How closely events are located (s) ...
const EVENT_S: f64 = 1e-7;

/// ... or so little beyond the moment, as a stop's speed (rad/s), as a share of what it can hold or as a heading (rad).
const EVENT_SURPLUS: f64 = 1e-6;

/// Most steps of one drive.
pub(super) const MOST_STEPS: u32 = 2_000_000;

/// The integration could not go on.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("the motion cannot be followed beyond {at_s:.4} s")]
pub struct MotionFault {
    /// When.
    pub at_s: f64,
}

/// A motion at the end of a step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node {
    pub(super) time_s: f64,
    pub(super) state: State,
    /// How the figures change at the end of the step that ends here ...
    pub(super) arriving: State,
    /// ... and at the start of the one that begins.
    pub(super) leaving: State,
    /// The hand is on the lever in the step that ends here.
    pub(super) pulled: bool,
    /// The rear brakes have friction.
    pub(super) rear_braked: bool,
}

/// What ends a drive before its segments do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Until {
    /// The heading has moved by so much, to whichever side (rad).
    Heading(f64),
    /// Both rear wheels stand, or the car moves slower than this (m/s).
    RearStands(f64),
}

/// How a drive ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ended {
    /// With its segments.
    All,
    /// As it was to: [`Until`].
    Reached,
    /// It need not be followed any longer.
    Over,
}

/// What is known at the start of a step.
pub(super) struct Start {
    pub(super) time_s: f64,
    pub(super) state: State,
    pub(super) look: Look<f64>,
    /// How the figures changed when the step before ended.
    pub(super) arrived: State,
}

/// Follows a vehicle through segments of time and hands every node to `path`, the start too. Stops early where `until`
/// says so, or `following`.
pub(super) fn drive<T: Tyre>(
    vehicle: &Vehicle<T>,
    start: State,
    segments: &[Segment],
    stepping: Stepping,
    (until, following): (Option<Until>, &mut Option<Following>),
    path: &mut Vec<Node>,
) -> Result<Ended, MotionFault> {
    let Some(first) = segments.first() else {
        return Ok(Ended::All);
    };
    let until_rad = match until {
        Some(Until::Heading(rad)) => Some(rad),
        _ => None,
    };
    let mut state = start;
    let mut time_s = first.from_s;
    let mut joined = first.joined();
    state = joined_up(vehicle, first, &state);
    let mut mode = vehicle.mode(&state, first, time_s);
    let mut step_s = match stepping {
        Stepping::Adaptive { .. } | Stepping::Alone { .. } => FIRST_S,
        Stepping::Fixed { step } => step.s(),
    };
    let mut steps = 0_u32;
    for doing in segments.iter().filter(|segment| segment.to_s > segment.from_s) {
        if doing.joined() != joined {
            joined = doing.joined();
            state = joined_up(vehicle, doing, &state);
            mode = vehicle.mode(&state, doing, time_s);
        }
        let mut stretch = Stretch::new(vehicle, doing, mode);
        let look = stretch.look(time_s, &state);
        let mut from = Start {
            time_s,
            state,
            arrived: look.rates,
            look,
        };
        if stretch.surplus(&from.state, &from.look) < 0.0 {
            stretch.decide(&mut from);
        }
        match path.last_mut() {
            Some(last) => last.leaving = from.look.rates,
            None => path.push(stretch.node(&from)),
        }
        while doing.to_s - from.time_s > 1e-12 {
            steps += 1;
            if steps > MOST_STEPS {
                return Err(MotionFault { at_s: from.time_s });
            }
            stretch.turn_free_stops(&from.state, &from.look.frictions_nm);
            let reached = stretch.step(&mut from, stepping, &mut step_s, until_rad)?;
            path.push(stretch.node(&from));
            if reached || until.is_some_and(|until| until.rests(&from.state)) {
                return Ok(Ended::Reached);
            }
            if following
                .as_mut()
                .is_some_and(|following| following.ends(from.time_s, &from.state))
            {
                return Ok(Ended::Over);
            }
        }
        (time_s, state, mode) = (doing.to_s, from.state, stretch.mode);
    }
    Ok(Ended::All)
}

impl Until {
    fn rests(self, state: &State) -> bool {
        match self {
            Self::Heading(_) => false,
            Self::RearStands(slowest_m_s) => {
                (state[SPIN + 2].abs() <= 0.0 && state[SPIN + 3].abs() <= 0.0)
                    || state[FORWARD].hypot(state[SIDEWAYS]) < slowest_m_s
            }
        }
    }
}

/// A step as the cubics through both its ends' figures and rates.
pub(super) struct Cubic<'a> {
    pub(super) length_s: f64,
    pub(super) from: &'a State,
    pub(super) from_rates: &'a State,
    pub(super) to: &'a State,
    pub(super) to_rates: &'a State,
}

impl Cubic<'_> {
    /// The motion so long after the step's start (s).
    pub(super) fn at(&self, time_s: f64) -> State {
        let share = (time_s / self.length_s).clamp(0.0, 1.0);
        let mut state = *self.from;
        for (place, figure) in state.iter_mut().enumerate() {
            let rise = self.to[place] - self.from[place];
            let first = self.from_rates[place] * self.length_s - rise;
            let last = rise - self.to_rates[place] * self.length_s;
            *figure += share * (rise + (1.0 - share) * (first * (1.0 - share) + last * share));
        }
        state
    }
}

impl Cubic<'_> {
    /// How the figures change so long after the step's start (s).
    pub(super) fn rates_at(&self, time_s: f64) -> State {
        let share = (time_s / self.length_s).clamp(0.0, 1.0);
        let rest = 1.0 - share;
        let mut rates = *self.from;
        for (place, rate) in rates.iter_mut().enumerate() {
            let rise = (self.to[place] - self.from[place]) / self.length_s;
            let (first, last) = (self.from_rates[place], self.to_rates[place]);
            *rate = rest * (1.0 - 3.0 * share) * first
                + share * (1.0 - 3.0 * rest) * last
                + 6.0 * share * rest * rise;
        }
        rates
    }
}

/// Where something falls below zero, between two moments: regula falsi with the far end's value halved (the Illinois
/// rule), and a halving now and then.
#[derive(Clone, Copy)]
pub(super) struct Bracket {
    low: (f64, f64),
    high: (f64, f64),
    side: i8,
    round: u8,
}

impl Bracket {
    pub(super) const fn new(length: f64, at_start: f64, at_end: f64) -> Self {
        Self {
            low: (0.0, at_start),
            high: (length, at_end),
            side: 0,
            round: 0,
        }
    }

    /// The next moment to look at; `None` where it is known closely enough.
    pub(super) fn next(&self) -> Option<f64> {
        let known = self.round > 0 && self.side == 1 && self.high.1 > -EVENT_SURPLUS;
        if known || self.high.0 - self.low.0 < EVENT_S || self.round > 60 {
            return None;
        }
        let secant = (self.low.0 * self.high.1 - self.high.0 * self.low.1) / (self.high.1 - self.low.1);
        Some(if self.round % 5 == 4 || !secant.is_finite() {
            0.5 * (self.low.0 + self.high.0)
        } else {
            secant
        })
    }

    pub(super) fn narrow(&mut self, at: f64, value: f64) {
        self.round += 1;
        if value < 0.0 {
            self.high = (at, value);
            if self.side == 1 {
                self.low.1 *= 0.5;
            }
            self.side = 1;
        } else {
            self.low = (at, value);
            if self.side == -1 {
                self.high.1 *= 0.5;
            }
            self.side = -1;
        }
    }
}

/// The motion once what a segment joins has come together.
pub(super) fn joined_up<T: Tyre>(vehicle: &Vehicle<T>, doing: &Segment, state: &State) -> State {
    let mut state = *state;
    let spin = friction::closed(&vehicle.driveline, doing.joined(), &spin(&state));
    state[SPIN..SPIN + 4].copy_from_slice(&spin);
    state
}

impl<T: Tyre> Stretch<'_, T> {
    fn node(&self, at: &Start) -> Node {
        Node {
            time_s: at.time_s,
            state: at.state,
            arriving: at.arrived,
            leaving: at.look.rates,
            pulled: self.segment.pulled,
            rear_braked: at.look.frictions_nm[2] > 0.0,
        }
    }

    /// Stops without friction just turn the way they turn; whether one has turned round.
    pub(super) fn turn_free_stops(&mut self, state: &State, frictions_nm: &[f64; STOPS]) -> bool {
        let spin = spin(state);
        let mut turned = false;
        for (stop, &friction_nm) in frictions_nm.iter().enumerate() {
            if !self.mode.held[stop] && friction_nm <= 0.0 {
                let speed = friction::speed(&self.vehicle.driveline, stop, &spin);
                let way = if speed < 0.0 { -1.0 } else { 1.0 };
                turned |= way * self.mode.firm.ways[stop] <= 0.0;
                self.mode.firm.ways[stop] = way;
            }
        }
        turned
    }

    /// What is left before a stop comes to rest or lets go; below zero it has.
    pub(super) fn surplus(&self, state: &State, look: &Look<f64>) -> f64 {
        let driveline = &self.vehicle.driveline;
        let spin = spin(state);
        let mut least = f64::INFINITY;
        let mut any_held = false;
        for stop in 0..STOPS {
            any_held |= self.mode.held[stop];
            if !self.mode.held[stop] && look.frictions_nm[stop] > 0.0 {
                least = least.min(self.mode.firm.ways[stop] * friction::speed(driveline, stop, &spin));
            }
        }
        if any_held {
            let torques = self
                .mode
                .with_friction(driveline, &look.torques_nm, &look.frictions_nm);
            least = least.min(1.0 - self.mode.effort(driveline, &torques, &look.frictions_nm));
        }
        least.max(-10.0)
    }

    /// Looks afresh at which stops are held; whether that changed anything.
    pub(super) fn decide(&mut self, at: &mut Start) -> bool {
        let driveline = &self.vehicle.driveline;
        for stop in 0..STOPS {
            let before = spin(&at.state);
            let turning = self.mode.firm.ways[stop] * friction::speed(driveline, stop, &before);
            if !self.mode.held[stop] && at.look.frictions_nm[stop] > 0.0 && turning < 0.0 && turning > -1e-2 {
                let stopped = friction::stopped(driveline, self.segment.joined(), stop, &before);
                at.state[SPIN..SPIN + 4].copy_from_slice(&stopped);
            }
        }
        let (held, ways) = (self.mode.held, self.mode.firm.ways);
        self.mode = self.vehicle.mode(&at.state, &self.segment, at.time_s);
        at.look = self.look(at.time_s, &at.state);
        (held, ways) != (self.mode.held, self.mode.firm.ways)
    }

    /// One accepted step, cut short where something stops, lets go or the heading is reached; whether it was.
    fn step(
        &mut self,
        from: &mut Start,
        stepping: Stepping,
        step_s: &mut f64,
        until_rad: Option<f64>,
    ) -> Result<bool, MotionFault> {
        let left = self.segment.to_s - from.time_s;
        let linear = match stepping {
            Stepping::Adaptive { .. } | Stepping::Alone { .. } => {
                Some(self.equations().slopes(from.time_s, &from.state))
            }
            Stepping::Fixed { .. } => None,
        };
        let heading_left =
            |state: &State| until_rad.map_or(f64::INFINITY, |until| until - state[HEADING].abs());
        let at_start = self
            .surplus(&from.state, &from.look)
            .min(heading_left(&from.state));
        let longest_s = longest_s(at_start);
        let (mut length, mut end);
        match (stepping, &linear) {
            (Stepping::Adaptive { tolerance } | Stepping::Alone { tolerance }, Some(slopes)) => loop {
                // No crumb is left for a last step.
                let wanted = step_s.min(longest_s);
                length = if wanted >= left {
                    left
                } else if wanted > 0.5 * left {
                    0.5 * left
                } else {
                    wanted
                };
                let (to, error) = self.implicit(from, slopes, length);
                let error = error / tolerance;
                let factor = (0.85 / error.cbrt()).clamp(0.2, 3.0);
                if error <= 1.0 {
                    end = to;
                    if length >= wanted || factor < 1.0 {
                        *step_s = length * factor;
                    }
                    break;
                }
                let factor = if factor.is_finite() { factor.min(0.7) } else { 0.2 };
                *step_s = length * factor;
                if *step_s < SHORTEST_S {
                    return Err(MotionFault { at_s: from.time_s });
                }
            },
            _ => {
                length = step_s.min(left);
                end = self.explicit(from, length);
            }
        }
        let advance = |length: f64| match &linear {
            Some(slopes) => self.implicit(from, slopes, length).0,
            None => self.explicit(from, length),
        };
        let mut look = self.look(from.time_s + length, &end);
        let surplus = self.surplus(&end, &look).min(heading_left(&end));
        let mut happened = surplus < 0.0;
        if happened {
            if at_start > 0.0 {
                let curve = Cubic {
                    length_s: length,
                    from: &from.state,
                    from_rates: &from.look.rates,
                    to: &end,
                    to_rates: &look.rates,
                };
                let value =
                    |state: &State, look: &Look<f64>| self.surplus(state, look).min(heading_left(state));
                let mut bracket = Bracket::new(length, at_start, surplus);
                // On the cubic through both ends it costs no step; the steps then begin from where that has it.
                let mut on_curve = bracket;
                while let Some(middle) = on_curve.next() {
                    let state = curve.at(middle);
                    let trial = self.look(from.time_s + middle, &state);
                    on_curve.narrow(middle, value(&state, &trial));
                }
                let mut guess = Some(on_curve.high.0);
                while let Some(middle) = bracket.next() {
                    let middle = guess
                        .take()
                        .filter(|&guess| guess > 0.0 && guess < length)
                        .unwrap_or(middle);
                    let state = advance(middle);
                    let trial = self.look(from.time_s + middle, &state);
                    let value = value(&state, &trial);
                    bracket.narrow(middle, value);
                    if value < 0.0 {
                        (length, end, look) = (middle, state, trial);
                    }
                }
            } else {
                // At the brink from the start on: a crumb of a step, and another look.
                length = length.min(1e-6);
                end = advance(length);
                look = self.look(from.time_s + length, &end);
                happened = self.surplus(&end, &look).min(heading_left(&end)) < 0.0;
            }
        }
        from.time_s = if length >= left {
            self.segment.to_s
        } else {
            from.time_s + length
        };
        from.state = end;
        from.arrived = look.rates;
        from.look = look;
        if !end.iter().all(|figure| figure.is_finite()) {
            return Err(MotionFault { at_s: from.time_s });
        }
        if happened {
            if heading_left(&end) < 0.0 {
                return Ok(true);
            }
            self.decide(from);
        }
        Ok(false)
    }

    /// A step of the classic fourth-order method.
    fn explicit(&self, from: &Start, length_s: f64) -> State {
        let half = 0.5 * length_s;
        let (time_s, state) = (from.time_s, &from.state);
        let first = &from.look.rates;
        let second = self.look(time_s + half, &moved(state, first, half)).rates;
        let third = self.look(time_s + half, &moved(state, &second, half)).rates;
        let fourth = self
            .look(time_s + length_s, &moved(state, &third, length_s))
            .rates;
        let mut end = *state;
        for (place, figure) in end.iter_mut().enumerate() {
            *figure += length_s / 6.0 * (first[place] + 2.0 * (second[place] + third[place]) + fourth[place]);
        }
        end
    }

    /// An implicit step, with an estimate of its error.
    fn implicit(&self, from: &Start, slopes: &Slopes<f64>, length_s: f64) -> (State, f64) {
        let beginning = Beginning {
            time_s: from.time_s,
            state: &from.state,
            rates: &from.look.rates,
            slopes,
        };
        step(self, &beginning, length_s)
    }
}

impl<T: Tyre> Moving<f64> for Stretch<'_, T> {
    fn rates(&self, time_s: f64, state: &State) -> State {
        self.look(time_s, state).rates
    }
}

fn moved(state: &State, rates: &State, by_s: f64) -> State {
    let mut moved = *state;
    for (figure, rate) in moved.iter_mut().zip(rates) {
        *figure += by_s * rate;
    }
    moved
}
