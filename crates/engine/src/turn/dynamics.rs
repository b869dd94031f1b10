//! The equations of motion, once for a car and for a pack of cars.
//!
//! ```text
//! m (u̇ − r v) = ΣF_x      m (v̇ + r u) = ΣF_y      I_z ṙ = Σ(x_i F_yi − y_i F_xi)
//! (diag(J) + I_in c cᵀ) ω̇ = T_ties + T_engine − T_brakes − R F_along
//! ```
//!
//! Loads follow the body's own accelerations with a lag; along the car by the height of the centre of gravity over the
//! wheelbase, across it by that over the track, each axle taking its share of the roll. Left out: rolling resistance,
//! air, the difference between the steer of the two front wheels, the suspension's own motions.

#![allow(
    clippy::needless_range_loop,
    clippy::manual_memcpy,
    reason = "several lists are read at one place, and no closure may stand where a pack is worked on"
)]

use super::driveline::Carried;
use super::motion::{
    FORWARD, HEADING, INPUT, LEVER, PUSH, REAR, SIDEWAYS, SPIN, STATES, STEER, SWAY, X, Y, YAW,
};
use super::number::Number;
use super::pack::figures;
use crate::thresholds::LOOKS_WITHIN;

/// Number of stops, things with dry friction: the four brakes and the engine.
pub(super) const STOPS: usize = 5;

/// How fast plates feel what enters their differential (s): so short that it is known at any moment, and not so short that the
/// equations have to be solved within themselves.
const INPUT_LAG_S: f64 = 0.003;

/// How fast a driver who steers into the slide closes in on where the front axle is going (s) (judgement).
const STEERING_LAG_S: f64 = 0.08;

/// How far behind the hands of a driver are who drives round a bend (s) (judgement) ...
pub const HANDS_LAG_S: f64 = 0.10;

/// ... how far ahead a driver who knows the car looks in a slide (s) (judgement) ...
pub const HANDS_LEAD_S: f64 = 0.20;

/// ... and how fast hands turn the front wheels at most (rad/s): some 1,000° a second at the steering wheel (judgement).
pub const HANDS_RAD_S: f64 = 1.2;

figures! {
    /// A car's figures.
    Body {
        mass_kg: N,
        per_mass: N,
        per_yaw_inertia: N,
        cg_height_m: N,
        per_wheelbase: N,
        per_track: [N; 2],
        /// The mass as each axle takes its share of the roll.
        rolled_kg: [N; 2],
        /// Static loads of front and rear axle (N).
        axles_n: [N; 2],
        /// Where each axle stands, ahead of the centre of gravity (m).
        ahead_m: [N; 2],
        half_track_m: [N; 2],
        radii_m: [N; 2],
        gear: N,
        pinion_turns: [N; 4],
        /// The pinion's turns per turn of each axle's case.
        axle_turns: [N; 2],
        centre_turns: N,
        per_centre_turns: N,
        rear_gain: N,
        rear_threshold: N,
        lever_gain: N,
        lever_threshold: N,
        per_transfer_lag: N,
        per_pressure_lag: N,
        /// One where an axle's plates feel what enters.
        feel: [N; 2],
    }
}

figures! {
    /// A figure that changes at a steady rate, from a segment's start on.
    Ramp {
        from: N,
        rise: N,
    }
}

figures! {
    /// What is asked of a car in a segment.
    Doing {
        from_s: N,
        per_s: N,
        front_nm: Ramp<N>,
        rear_pa: Ramp<N>,
        lever: Ramp<N>,
        /// At the crank, where it pulls.
        engine_nm: Ramp<N>,
        /// One where it pulls.
        pulling: N,
        /// Drag of a closed engine [N m].
        engine_drag_nm: N,
        steer_rate: N,
        /// One where the driver steers into the slide.
        into: N,
        lock_rad: N,
        fastest_rad_s: N,
        /// One where the driver eases the throttle as the car looks off its path.
        eases: N,
        /// One where the driver wants round a bend; where the road goes on, and the slip at which the front gives most.
        round: N,
        towards_rad: N,
        most_rad: N,
    }
}

figures! {
    /// What is held and how the others turn, as the equations see it.
    Firm {
        /// Way in which each stop turns; zero: it is held.
        ways: [N; STOPS],
        /// Accelerations over torques.
        response: [[N; 4]; 4],
        mass: [[N; 4]; 4],
        inputs: Entering<N>,
    }
}

figures! {
    /// What enters the two axles' differentials: the bracket (what comes through the pinion) and what the centre moves,
    /// each a sum of these shares.
    Entering {
        /// Inertia before the differentials [kg m²].
        inertia_kg_m2: N,
        /// The bracket's share of the pinion's own.
        pinion: N,
        /// Its shares of what the constraint takes on front and rear axle.
        bracket: [N; 2],
        /// The centre's share of its own torque.
        centre: N,
        centre_of_bracket: N,
        centre_of_axles: [N; 2],
    }
}

/// What any car of a pack does; what none does is not looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Any {
    pub(super) pulling: bool,
    pub(super) into: bool,
    pub(super) eases: bool,
    pub(super) round: bool,
    pub(super) feel: [bool; 2],
    /// A constraint takes part in what enters a differential.
    pub(super) constrained: bool,
}

/// A wheel on the ground: load, and speeds along, across and of rolling.
#[derive(Clone, Copy, Debug)]
pub(super) struct Meets<N> {
    pub(super) load_n: N,
    pub(super) along_m_s: N,
    pub(super) across_m_s: N,
    pub(super) rolling_m_s: N,
}

/// A tie between two shafts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Between {
    FrontWheels,
    RearWheels,
    Axles,
}

/// What a car or a pack of them has for itself: tyres, ties, and a valve that follows the load.
pub(super) trait Parts<N> {
    /// Force of the ground along and across a wheel (N).
    fn force(&self, wheel: usize, meets: &Meets<N>) -> (N, N);

    /// How both change with the speeds along, across and of rolling, and with the load.
    fn slopes(&self, wheel: usize, meets: &Meets<N>) -> [[N; 4]; 2];

    /// What a tie carries over a speed difference under an input torque.
    fn tie(&self, between: Between, difference_rad_s: N, input_nm: N) -> Carried<N>;

    /// Pressure that the rear brakes are asked for, given what the segment says of it.
    fn rear_asked_pa(&self, said_pa: N, time_s: N, loads_n: &[N; 4]) -> N;
}

/// The equations with everything that holds for a while.
pub(super) struct Equations<'a, N, P> {
    pub(super) body: &'a Body<N>,
    pub(super) doing: &'a Doing<N>,
    pub(super) firm: &'a Firm<N>,
    pub(super) any: Any,
    pub(super) parts: &'a P,
}

/// Everything that one look at the equations gives.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look<N> {
    pub(super) rates: [N; STATES],
    /// Torques on the wheels without any dry friction [N m].
    pub(super) torques_nm: [N; 4],
    /// What each stop can hold [N m].
    pub(super) frictions_nm: [N; STOPS],
}

/// What each tie carries, in the terms of the axles' and wheels' speed differences.
struct Links<N> {
    /// Torque and its slope over the difference.
    centre: (N, N),
    /// Between the wheels of front and rear axle.
    axles: [Carried<N>; 2],
}

/// Number of figures behind the seven that the implicit part solves for: those from the load transfer on.
pub(super) const BEHIND: usize = STATES - PUSH;

/// How rates change with the figures: the seven that the implicit part solves for, and each of those behind them.
pub(super) struct Slopes<N> {
    /// Rates of u, v, r and the four wheels over those seven.
    pub(super) moving: [[N; 7]; 7],
    /// The same over each figure behind them.
    pub(super) over: [[N; 7]; BEHIND],
    /// Rate of each figure behind them over itself ...
    pub(super) itself: [N; BEHIND],
    /// ... and over the seven.
    pub(super) back: [[N; 7]; BEHIND],
    /// Of which figures behind them the rate is taken to change with the seven.
    pub(super) comes_back: [bool; BEHIND],
}

/// `a · b` of four.
#[inline(always)]
fn dot<N: Number>(one: &[N; 4], other: &[N; 4]) -> N {
    let mut sum = one[0] * other[0];
    for place in 1..4 {
        sum = one[place].times_plus(other[place], sum);
    }
    sum
}

/// Speeds of the four wheels in a motion.
#[inline(always)]
fn spin<N: Copy>(state: &[N; STATES]) -> [N; 4] {
    [state[SPIN], state[SPIN + 1], state[SPIN + 2], state[SPIN + 3]]
}

impl<N: Number> Ramp<N> {
    #[inline(always)]
    fn at(&self, doing: &Doing<N>, time_s: N) -> N {
        (self.rise * (time_s - doing.from_s)).times_plus(doing.per_s, self.from)
    }
}

impl<N: Number> Body<N> {
    /// Loads of the four wheels (N). Along the car no axle gives more than it carries; across it no wheel does.
    #[inline(always)]
    pub(super) fn loads_n(&self, state: &[N; STATES]) -> [N; 4] {
        let [front_n, rear_n] = self.axles_n;
        let rearward = (self.mass_kg * state[PUSH] * self.cg_height_m)
            .divided(self.per_wheelbase)
            .within(-rear_n, front_n);
        let axles = [front_n - rearward, rear_n + rearward];
        let mut loads = [rearward; 4];
        for axle in 0..2 {
            let half = axles[axle].times(0.5);
            let across = (self.rolled_kg[axle] * state[SWAY] * self.cg_height_m)
                .divided(self.per_track[axle])
                .within(-half, half);
            loads[2 * axle] = half - across;
            loads[2 * axle + 1] = half + across;
        }
        loads
    }

    /// Where a wheel stands from the centre of gravity: ahead and to the left (m).
    #[inline(always)]
    pub(super) fn place(&self, wheel: usize) -> (N, N) {
        let half = self.half_track_m[wheel / 2];
        (
            self.ahead_m[wheel / 2],
            if wheel.is_multiple_of(2) { half } else { -half },
        )
    }

    /// What a force along and across a wheel does to u, v and r; `steer`: sine and cosine of where it points.
    #[inline(always)]
    fn moved_by(&self, wheel: usize, (sin, cos): (N, N), (along, across): (N, N)) -> [N; 3] {
        let (ahead, left) = self.place(wheel);
        let (x, y) = if wheel < 2 {
            (
                (along * cos).less(across, sin),
                along.times_plus(sin, across * cos),
            )
        } else {
            (along, across)
        };
        [
            x.divided(self.per_mass),
            y.divided(self.per_mass),
            (ahead * y).less(left, x).divided(self.per_yaw_inertia),
        ]
    }

    /// How a wheel meets the ground.
    #[inline(always)]
    pub(super) fn meets(&self, wheel: usize, state: &[N; STATES], load_n: N, steer: (N, N)) -> Meets<N> {
        let (ahead, left) = self.place(wheel);
        let along = state[FORWARD].less(state[YAW], left);
        let across = state[YAW].times_plus(ahead, state[SIDEWAYS]);
        let (sin, cos) = steer;
        let (along, across) = if wheel < 2 {
            (
                along.times_plus(cos, across * sin),
                (across * cos).less(along, sin),
            )
        } else {
            (along, across)
        };
        Meets {
            load_n,
            along_m_s: along,
            across_m_s: across,
            rolling_m_s: state[SPIN + wheel] * self.radii_m[wheel / 2],
        }
    }
}

impl<N: Number, P: Parts<N>> Equations<'_, N, P> {
    /// What the brakes and the engine can hold [N m].
    #[inline(always)]
    fn frictions_nm(&self, time_s: N, state: &[N; STATES]) -> [N; STOPS] {
        let (body, doing) = (self.body, self.doing);
        let zero = time_s.same(0.0);
        let front = doing.front_nm.at(doing, time_s).most(zero);
        let rear = body.rear_gain * (state[REAR] - body.rear_threshold).most(zero)
            + body.lever_gain * (state[LEVER] - body.lever_threshold).most(zero);
        [front, front, rear, rear, doing.engine_drag_nm]
    }

    /// Engine's torque at the pinion as the differentials feel it [N m].
    #[inline(always)]
    fn engine_nm(&self, time_s: N, state: &[N; STATES]) -> N {
        let doing = self.doing;
        let drag = self.firm.ways[4] * doing.engine_drag_nm;
        if !self.any.pulling {
            return -drag;
        }
        let mut pulls = doing.engine_nm.at(doing, time_s) * self.body.gear;
        if self.any.eases {
            let eased = pulls * Self::looks_along(self.drift(state));
            pulls = N::choose(doing.eases.above(drag.same(0.5)), eased, pulls);
        }
        pulls - drag
    }

    /// The path's direction off the heading (rad).
    #[inline(always)]
    fn drift(&self, state: &[N; STATES]) -> N {
        N::angle(state[SIDEWAYS], state[FORWARD].most(state[FORWARD].same(0.1)))
    }

    /// One where a car looks along its path, and zero where it no longer counts as going along.
    #[inline(always)]
    fn looks_along(drift: N) -> N {
        (-drift.abs().over(LOOKS_WITHIN.rad()))
            .plus(1.0)
            .most(drift.same(0.0))
    }

    #[inline(always)]
    fn links(&self, spin: &[N; 4], engine_nm: N, inputs_nm: [N; 2]) -> Links<N> {
        let (body, parts) = (self.body, self.parts);
        let turns = body.centre_turns;
        let difference = (spin[0] + spin[1] - spin[2] - spin[3]).times(0.5);
        let input_nm = (engine_nm * (body.axle_turns[0] + body.axle_turns[1])).divided(body.per_centre_turns);
        let centre = parts.tie(Between::Axles, turns * difference, input_nm);
        Links {
            centre: (turns * centre.torque_nm, turns * turns * centre.of_difference),
            axles: [
                parts.tie(Between::FrontWheels, spin[0] - spin[1], inputs_nm[0]),
                parts.tie(Between::RearWheels, spin[2] - spin[3], inputs_nm[1]),
            ],
        }
    }

    /// One look.
    #[inline(always)]
    pub(super) fn look(&self, time_s: N, state: &[N; STATES]) -> Look<N> {
        let (body, doing, firm) = (self.body, self.doing, self.firm);
        let zero = time_s.same(0.0);
        let loads = body.loads_n(state);
        let steer = state[STEER].sin_cos();
        let (sin, cos) = steer;
        let (mut force_x, mut force_y, mut moment) = (zero, zero, zero);
        let engine_nm = self.engine_nm(time_s, state);
        let spins = spin(state);
        let links = self.links(&spins, engine_nm, [state[INPUT], state[INPUT + 1]]);
        let half = links.centre.0.times(0.5);
        let [front, rear] = [links.axles[0].torque_nm, links.axles[1].torque_nm];
        let mut torques = [-half - front, -half + front, half - rear, half + rear];
        for wheel in 0..4 {
            let meets = body.meets(wheel, state, loads[wheel], steer);
            let (along_n, across_n) = self.parts.force(wheel, &meets);
            torques[wheel] = torques[wheel].less(body.radii_m[wheel / 2], along_n);
            let (x, y) = if wheel < 2 {
                (
                    (along_n * cos).less(across_n, sin),
                    along_n.times_plus(sin, across_n * cos),
                )
            } else {
                (along_n, across_n)
            };
            let (ahead, left) = body.place(wheel);
            force_x = force_x + x;
            force_y = force_y + y;
            moment = moment + (ahead * y).less(left, x);
        }
        if self.any.pulling {
            let engine_nm = engine_nm * doing.pulling;
            for wheel in 0..4 {
                torques[wheel] = engine_nm.times_plus(body.pinion_turns[wheel], torques[wheel]);
            }
        }
        let frictions = self.frictions_nm(time_s, state);
        let mut with_friction = torques;
        let engine = firm.ways[4] * frictions[4];
        for wheel in 0..4 {
            with_friction[wheel] = with_friction[wheel]
                - (firm.ways[wheel] * frictions[wheel] + engine * body.pinion_turns[wheel]);
        }
        let spun_up = firm.accelerations(&with_friction);
        let (push, sway) = (force_x.divided(body.per_mass), force_y.divided(body.per_mass));
        let (sin_heading, cos_heading) = state[HEADING].sin_cos();
        let mut rates = [zero; STATES];
        rates[X] = state[FORWARD] * cos_heading - state[SIDEWAYS] * sin_heading;
        rates[Y] = state[FORWARD].times_plus(sin_heading, state[SIDEWAYS] * cos_heading);
        rates[HEADING] = state[YAW];
        rates[FORWARD] = push + state[YAW] * state[SIDEWAYS];
        rates[SIDEWAYS] = sway - state[YAW] * state[FORWARD];
        rates[YAW] = moment.divided(body.per_yaw_inertia);
        for wheel in 0..4 {
            rates[SPIN + wheel] = spun_up[wheel];
        }
        rates[PUSH] = (push - state[PUSH]).divided(body.per_transfer_lag);
        rates[SWAY] = (sway - state[SWAY]).divided(body.per_transfer_lag);
        let said = doing.rear_pa.at(doing, time_s);
        let asked = self.parts.rear_asked_pa(said, time_s, &loads);
        rates[REAR] = (asked - state[REAR]).divided(body.per_pressure_lag);
        rates[LEVER] = (doing.lever.at(doing, time_s) - state[LEVER]).divided(body.per_pressure_lag);
        rates[STEER] = self.steer_rate(state);
        if self.any.feel != [false; 2] {
            let inputs = self.inputs_nm(engine_nm, links.centre.0, &with_friction, &spun_up);
            for axle in 0..2 {
                if self.any.feel[axle] {
                    rates[INPUT + axle] =
                        ((inputs[axle] - state[INPUT + axle]) * body.feel[axle]).over(INPUT_LAG_S);
                }
            }
        }
        Look {
            rates,
            torques_nm: torques,
            frictions_nm: frictions,
        }
    }

    /// What enters the differentials of front and rear axle at the half-shafts [N m]: what the centre takes from the front
    /// and gives to the rear, and each axle's share of what comes through the pinion, the inertia before it taken off. A
    /// locked centre and an engine that stands give what their constraint takes.
    #[inline(always)]
    fn inputs_nm(&self, engine_nm: N, centre_nm: N, torques_nm: &[N; 4], spun_up: &[N; 4]) -> [N; 2] {
        let (body, shares) = (self.body, &self.firm.inputs);
        let pinion = dot(&body.pinion_turns, spun_up);
        let mut bracket = shares.pinion * (engine_nm - shares.inertia_kg_m2 * pinion);
        let mut centre = shares.centre * centre_nm;
        if self.any.constrained {
            let missing = self.firm.missing_nm(torques_nm);
            let axles = [missing[0] + missing[1], missing[2] + missing[3]];
            for axle in 0..2 {
                bracket = shares.bracket[axle].times_plus(axles[axle], bracket);
                centre = shares.centre_of_axles[axle].times_plus(axles[axle], centre);
            }
            centre = shares.centre_of_bracket.times_plus(bracket, centre);
        }
        [
            body.axle_turns[0] * bracket - centre,
            body.axle_turns[1].times_plus(bracket, centre),
        ]
    }

    #[inline(always)]
    fn steer_rate(&self, state: &[N; STATES]) -> N {
        let doing = self.doing;
        let mut rate = doing.steer_rate;
        if self.any.into {
            rate = N::choose(doing.into.above(rate.same(0.5)), self.follow_slide(state), rate);
        }
        if self.any.round {
            rate = N::choose(doing.round.above(rate.same(0.5)), self.round(state), rate);
        }
        rate
    }

    /// As a driver steers who wants round a bend. A slide is caught first, the wheel turned for where the nose will be; as far
    /// as it is caught, the front takes the car to where the road goes on.
    #[inline(always)]
    fn round(&self, state: &[N; STATES]) -> N {
        let doing = self.doing;
        let forward = state[FORWARD].most(state[FORWARD].same(0.1));
        let across = state[YAW].times_plus(self.body.ahead_m[0], state[SIDEWAYS]);
        let (front, drift) = (N::angle(across, forward), self.drift(state));
        let most = doing.most_rad;
        let towards = (doing.towards_rad - state[HEADING] - drift).within(-most, most);
        let against = state[YAW].times(HANDS_LEAD_S).within(-most, most);
        let caught = Self::looks_along(drift);
        let wanted = (caught * (towards + against) + front - against).within(-doing.lock_rad, doing.lock_rad);
        (wanted - state[STEER])
            .over(HANDS_LAG_S)
            .within(-doing.fastest_rad_s, doing.fastest_rad_s)
    }

    /// As a driver steers who points the front wheels where the front axle is going.
    #[inline(always)]
    fn follow_slide(&self, state: &[N; STATES]) -> N {
        let doing = self.doing;
        let across = state[YAW].times_plus(self.body.ahead_m[0], state[SIDEWAYS]);
        let along = state[FORWARD].most(across.same(0.1));
        let going = N::angle(across, along).within(-doing.lock_rad, doing.lock_rad);
        (going - state[STEER])
            .over(STEERING_LAG_S)
            .within(-doing.fastest_rad_s, doing.fastest_rad_s)
    }

    /// How rates change with the figures. Loads are taken to move as far as they would without their bounds, forces to keep
    /// their direction in the car as the front wheels steer: the steps are as exact with a rough answer, only shorter.
    #[inline(always)]
    pub(super) fn slopes(&self, time_s: N, state: &[N; STATES]) -> Slopes<N> {
        let (body, firm) = (self.body, self.firm);
        let zero = time_s.same(0.0);
        let loads = body.loads_n(state);
        let steer = state[STEER].sin_cos();
        let engine_nm = self.engine_nm(time_s, state);
        let links = self.links(&spin(state), engine_nm, [state[INPUT], state[INPUT + 1]]);
        let quarter = links.centre.1.times(0.25);
        let [front, rear] = [links.axles[0].of_difference, links.axles[1].of_difference];
        let ties = [
            [-quarter - front, -quarter + front, quarter, quarter],
            [-quarter + front, -quarter - front, quarter, quarter],
            [quarter, quarter, -quarter - rear, -quarter + rear],
            [quarter, quarter, -quarter + rear, -quarter - rear],
        ];
        let pushed = (body.mass_kg * body.cg_height_m)
            .divided(body.per_wheelbase)
            .times(0.5);
        let mut moving = [[zero; 7]; 7];
        let mut over = [[zero; 7]; BEHIND];
        let mut torques = [[zero; 7]; 4];
        let mut torques_over = [[zero; 4]; BEHIND];
        for wheel in 0..4 {
            let (axle, radius) = (wheel / 2, body.radii_m[wheel / 2]);
            let meets = body.meets(wheel, state, loads[wheel], steer);
            let [of_along, of_across] = self.parts.slopes(wheel, &meets);
            let (sin, cos) = if wheel < 2 { steer } else { (zero, zero.same(1.0)) };
            let (ahead, left) = body.place(wheel);
            // Speeds of the hub along and across the wheel over u, v and r.
            let along = [cos, sin, ahead * sin - left * cos];
            let across = [-sin, cos, ahead.times_plus(cos, left * sin)];
            let (mut force_along, mut force_across) = ([zero; 4], [zero; 4]);
            for part in 0..3 {
                force_along[part] = of_along[0].times_plus(along[part], of_along[1] * across[part]);
                force_across[part] = of_across[0].times_plus(along[part], of_across[1] * across[part]);
            }
            force_along[3] = of_along[2] * radius;
            force_across[3] = of_across[2] * radius;
            for part in 0..4 {
                let column = if part < 3 { part } else { 3 + wheel };
                let done = body.moved_by(wheel, (sin, cos), (force_along[part], force_across[part]));
                for row in 0..3 {
                    moving[row][column] = moving[row][column] + done[row];
                }
                torques[wheel][column] = torques[wheel][column].less(radius, force_along[part]);
            }
            for other in 0..4 {
                torques[wheel][3 + other] = torques[wheel][3 + other] + ties[wheel][other];
            }
            // Loads, as the body is pushed along and across.
            let swayed = (body.rolled_kg[axle] * body.cg_height_m).divided(body.per_track[axle]);
            let shifts = [
                if wheel < 2 { -pushed } else { pushed },
                if wheel.is_multiple_of(2) { -swayed } else { swayed },
            ];
            let done = body.moved_by(wheel, (sin, cos), (of_along[3], of_across[3]));
            for way in 0..2 {
                for row in 0..3 {
                    over[way][row] = shifts[way].times_plus(done[row], over[way][row]);
                }
                torques_over[way][wheel] = -(radius * shifts[way] * of_along[3]);
            }
            // The front wheels, as they are steered.
            if wheel < 2 {
                let turned = (
                    (of_along[0] * meets.across_m_s).less(of_along[1], meets.along_m_s),
                    (of_across[0] * meets.across_m_s).less(of_across[1], meets.along_m_s),
                );
                let done = body.moved_by(wheel, (sin, cos), turned);
                for row in 0..3 {
                    over[STEER - PUSH][row] = over[STEER - PUSH][row] + done[row];
                }
                torques_over[STEER - PUSH][wheel] = -(radius * turned.0);
            } else {
                let way = -firm.ways[wheel];
                torques_over[REAR - PUSH][wheel] =
                    way * N::choose(state[REAR].above(body.rear_threshold), body.rear_gain, zero);
                torques_over[LEVER - PUSH][wheel] =
                    way * N::choose(state[LEVER].above(body.lever_threshold), body.lever_gain, zero);
            }
        }
        let mut back = [[zero; 7]; BEHIND];
        for way in 0..2 {
            for column in 0..7 {
                back[way][column] = moving[way][column].divided(body.per_transfer_lag);
            }
        }
        moving[0][1] = moving[0][1] + state[YAW];
        moving[0][2] = moving[0][2] + state[SIDEWAYS];
        moving[1][0] = moving[1][0] - state[YAW];
        moving[1][2] = moving[1][2] - state[FORWARD];
        for row in 0..4 {
            let response = &firm.response[row];
            for column in 0..7 {
                let of_column = [
                    torques[0][column],
                    torques[1][column],
                    torques[2][column],
                    torques[3][column],
                ];
                moving[3 + row][column] = dot(response, &of_column);
            }
            for place in 0..INPUT - PUSH {
                over[place][3 + row] = dot(response, &torques_over[place]);
            }
            for axle in 0..2 {
                if self.any.feel[axle] {
                    over[INPUT - PUSH + axle][3 + row] =
                        links.axles[axle].of_input * (response[2 * axle + 1] - response[2 * axle]);
                }
            }
        }
        if self.any.feel != [false; 2] {
            let felt = self.felt(links.centre.1.times(0.5), &moving, &torques);
            for axle in 0..2 {
                back[INPUT - PUSH + axle] = felt[axle];
            }
        }
        let one = zero.same(-1.0);
        let transfer = one.divided(body.per_transfer_lag);
        let pressure = one.divided(body.per_pressure_lag);
        let input = one.over(INPUT_LAG_S);
        let [feel_front, feel_rear] = self.any.feel;
        Slopes {
            moving,
            over,
            itself: [transfer, transfer, pressure, pressure, zero, input, input],
            back,
            comes_back: [true, true, false, false, false, feel_front, feel_rear],
        }
    }

    /// How the rates of what both axles' plates feel change with u, v, r and the wheels. [`inputs_nm`](Self::inputs_nm) is
    /// linear, so that it says how they change too. `half`: the centre's torque over each wheel's speed; `torques`: those on
    /// the wheels over the seven.
    #[inline(always)]
    fn felt(&self, half: N, moving: &[[N; 7]; 7], torques: &[[N; 7]; 4]) -> [[N; 7]; 2] {
        let zero = half.same(0.0);
        let mut felt = [[zero; 7]; 2];
        for column in 0..7 {
            let (mut of_torques, mut spun_up) = ([zero; 4], [zero; 4]);
            for wheel in 0..4 {
                of_torques[wheel] = torques[wheel][column];
                spun_up[wheel] = moving[3 + wheel][column];
            }
            let centre_nm = match column {
                0..3 => zero,
                3..5 => half,
                _ => -half,
            };
            let inputs = self.inputs_nm(zero, centre_nm, &of_torques, &spun_up);
            for axle in 0..2 {
                felt[axle][column] = (inputs[axle] * self.body.feel[axle]).over(INPUT_LAG_S);
            }
        }
        felt
    }
}

impl<N: Number> Firm<N> {
    /// Accelerations of the wheels under torques that have their friction.
    #[inline(always)]
    pub(super) fn accelerations(&self, torques_nm: &[N; 4]) -> [N; 4] {
        let mut spun_up = *torques_nm;
        for wheel in 0..4 {
            spun_up[wheel] = dot(&self.response[wheel], torques_nm);
        }
        spun_up
    }

    /// Torques by which constraints and held stops make the wheels move as they do, under torques that have their
    /// friction.
    #[inline(always)]
    pub(super) fn missing_nm(&self, torques_nm: &[N; 4]) -> [N; 4] {
        let spun_up = self.accelerations(torques_nm);
        let mut missing = *torques_nm;
        for wheel in 0..4 {
            missing[wheel] = dot(&self.mass[wheel], &spun_up) - torques_nm[wheel];
        }
        missing
    }
}
