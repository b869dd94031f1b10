//! What a motion amounts to.

#![allow(
    clippy::needless_range_loop,
    clippy::manual_memcpy,
    reason = "several lists are read at one place, and no closure may stand where a pack is worked on"
)]

use quantity::si::{Angle, Duration, Length, Rotation, Speed};

use pulp::Simd;

use super::contact::{Contact, Tyre};
use super::dynamics::Body;
use super::integrate::{Cubic, Node};
use super::motion::{FORWARD, HEADING, SIDEWAYS, SPIN, STATES, STEER, State, X, Y, YAW};
use super::number::Number;
use super::pack::{MOST_LANES, Pack};
use super::vehicle::Vehicle;

/// Below this rolling speed a wheel with its brake on counts as locked (m/s).
const LOCKED_M_S: f64 = 0.05;

/// Above this speed of its hub (m/s).
pub(super) const MOVING_M_S: f64 = 1.0;

/// Above this speed of both front hubs along their wheels a ratio of speeds says something (m/s).
const STEERING_M_S: f64 = 2.0;

/// Longest stretch over which that, or how far a wheel is from standing, is taken as straight (s).
const PART_S: f64 = 0.01;

/// Moments from which another run can begin lie no further apart (s): a car turns by a degree or two between.
pub(super) const MOMENTS_APART_S: f64 = 0.02;

/// A front wheel that rolls slower than this share of its hub's speed counts as locked ...
const FRONT_SHARE: f64 = 0.1;

/// ... if it lasts so long (s).
const FRONT_AT_LEAST_S: f64 = 0.05;

/// A motion, sampled at even times.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// Time (s).
    pub t_s: Vec<f64>,
    /// Centre of gravity along the way in (m).
    pub x_m: Vec<f64>,
    /// Centre of gravity to the left of the way in (m).
    pub y_m: Vec<f64>,
    /// Heading (rad).
    pub heading_rad: Vec<f64>,
    /// Speed along the car (m/s).
    pub u_m_s: Vec<f64>,
    /// Speed across the car, to the left (m/s).
    pub v_m_s: Vec<f64>,
    /// Yaw rate (rad/s).
    pub yaw_rate_rad_s: Vec<f64>,
    /// Steer of the front wheels (rad).
    pub steer_rad: Vec<f64>,
    /// Wheels, in the order of [`Wheel::ALL`](crate::car::Wheel::ALL) (rad/s).
    pub wheel_rad_s: [Vec<f64>; 4],
}

/// Where wheels went, at the times of a [`Trace`], in the order of [`Wheel::ALL`](crate::car::Wheel::ALL).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tracks {
    /// Along the way in (m).
    pub x_m: [Vec<f64>; 4],
    /// To the left of the way in (m).
    pub y_m: [Vec<f64>; 4],
    /// Whether the wheel stands while it moves over the ground.
    pub stands: [Vec<bool>; 4],
}

/// How wheels locked.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Locking {
    /// When both rear wheels first stood while the car moved.
    pub rear_from: Option<Duration>,
    /// For how long, all stretches together.
    pub rear_for: Duration,
    /// For how long only the rear wheel inside the turn stood.
    pub inner_only_for: Duration,
    /// For how long both front wheels stood or nearly so, in stretches of 0.05 s or more.
    pub front_for: Duration,
    /// For how long both front wheels were dragged so far that they no longer steered, the rear brakes on.
    pub front_dragged_for: Duration,
    /// Front wheels' rolling speed over their hubs' speed, on average while the lever was pulled; `None`: it never was.
    pub front_speed_ratio: Option<f64>,
}

/// How wheels lock along a path, as it goes on.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct SoFar {
    pub(super) rear_for_s: f64,
    pub(super) ratio: (f64, f64),
}

/// What a run amounts to.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Tally {
    /// When the lever was let go (s).
    pub(super) released_s: Option<f64>,
    /// Heading then (rad).
    pub(super) at_release_rad: Option<f64>,
    /// Heading at the end (rad).
    pub(super) end_rad: f64,
    /// For how long both rear wheels stood (s).
    pub(super) rear_for_s: f64,
    /// Front wheels' rolling speed over their hubs' speed, on average while the lever was pulled.
    pub(super) front_speed_ratio: Option<f64>,
    /// What that is the mean of: its sum over time, and over how long (s).
    pub(super) ratio: (f64, f64),
    /// Its way, where that is kept.
    pub(super) way: Vec<Place>,
    /// The moments from which it can go on in another way, where these are kept.
    pub(super) marks: Vec<Mark>,
}

/// A moment of a run from which another run can begin, with what the run came to so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mark {
    pub(super) time_s: f64,
    pub(super) state: State,
    pub(super) rear_for_s: f64,
    pub(super) ratio: (f64, f64),
}

/// Where a car is, and how it moves, at the end of a step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Place {
    pub(super) time_s: f64,
    pub(super) x_m: f64,
    pub(super) y_m: f64,
    pub(super) heading_rad: f64,
    pub(super) forward_m_s: f64,
    pub(super) sideways_m_s: f64,
    pub(super) yaw_rad_s: f64,
    /// Over the ground, along and to the left of the way in.
    pub(super) over_ground_m_s: (f64, f64),
    /// How the speeds along and across the car change at the start and at the end of the step that ends here (m/s²).
    pub(super) gains_m_s2: [(f64, f64); 2],
}

/// Below this speed a path has no direction (m/s).
const PATH_FROM_M_S: f64 = 1.0;

impl Place {
    /// At the start of a run.
    pub(super) fn of(time_s: f64, state: &State) -> Self {
        let mut rates = [0.0; STATES];
        moves(state, &mut rates);
        Self::after(time_s, state, &rates, &rates)
    }

    /// At the end of a step, with how the figures changed at its start and change at its end.
    pub(super) fn after(time_s: f64, state: &State, leaving: &State, arriving: &State) -> Self {
        Self {
            time_s,
            x_m: state[X],
            y_m: state[Y],
            heading_rad: state[HEADING],
            forward_m_s: state[FORWARD],
            sideways_m_s: state[SIDEWAYS],
            yaw_rad_s: state[YAW],
            over_ground_m_s: (arriving[X], arriving[Y]),
            gains_m_s2: [leaving, arriving].map(|rates| (rates[FORWARD], rates[SIDEWAYS])),
        }
    }

    /// How far the car looks into a bend to a side against the direction of its path (rad); `None` where it is too slow for
    /// its path to have one.
    pub(super) fn nose_in_rad(&self, side: f64) -> Option<f64> {
        let (forward, sideways) = (self.forward_m_s, self.sideways_m_s);
        (forward.hypot(sideways) >= PATH_FROM_M_S).then(|| -side * sideways.atan2(forward))
    }

    /// At a moment from here to another place: cubics through places, heading and speeds with how they change.
    pub(super) fn between(&self, after: &Self, time_s: f64) -> Self {
        let length_s = after.time_s - self.time_s;
        if length_s <= 0.0 {
            return *after;
        }
        let share = ((time_s - self.time_s) / length_s).clamp(0.0, 1.0);
        let rest = 1.0 - share;
        let straight = |from: f64, to: f64| from + share * (to - from);
        let cubic = |from: f64, to: f64, leaving: f64, arriving: f64| {
            let rise = to - from;
            let (first, last) = (leaving * length_s - rise, rise - arriving * length_s);
            from + share * (rise + rest * (first * rest + last * share))
        };
        let (leaving, arriving) = (self.over_ground_m_s, after.over_ground_m_s);
        let [first, last] = after.gains_m_s2;
        Self {
            time_s,
            x_m: cubic(self.x_m, after.x_m, leaving.0, arriving.0),
            y_m: cubic(self.y_m, after.y_m, leaving.1, arriving.1),
            heading_rad: cubic(
                self.heading_rad,
                after.heading_rad,
                self.yaw_rad_s,
                after.yaw_rad_s,
            ),
            forward_m_s: cubic(self.forward_m_s, after.forward_m_s, first.0, last.0),
            sideways_m_s: cubic(self.sideways_m_s, after.sideways_m_s, first.1, last.1),
            yaw_rad_s: straight(self.yaw_rad_s, after.yaw_rad_s),
            over_ground_m_s: (straight(leaving.0, arriving.0), straight(leaving.1, arriving.1)),
            gains_m_s2: [first, last],
        }
    }
}

/// The places of a path.
pub(super) fn way(path: &[Node]) -> Vec<Place> {
    let first = path.first().map(|node| Place::of(node.time_s, &node.state));
    let steps = path.windows(2).map(|pair| {
        let (before, node) = (&pair[0], &pair[1]);
        Place::after(node.time_s, &node.state, &before.leaving, &node.arriving)
    });
    first.into_iter().chain(steps).collect()
}

/// How much of a step something that changes from one value to another is above zero, and from which share of it on.
pub(super) fn above(from: f64, to: f64) -> (f64, f64) {
    match (from > 0.0, to > 0.0) {
        (true, true) => (0.0, 1.0),
        (false, false) => (1.0, 0.0),
        (false, true) => {
            let share = from / (from - to);
            (share, 1.0 - share)
        }
        (true, false) => (0.0, from / (from - to)),
    }
}

/// Into how many parts a step is taken in which something that is told is read: far slower than wheels stop, on ice, it
/// is not straight.
fn parts(step_s: f64) -> f64 {
    (step_s / PART_S).ceil().max(1.0)
}

/// Whether its ends alone do not say how much of a step something is above zero.
pub(super) fn hangs_on_its_course(step_s: f64, (from, to): (f64, f64)) -> bool {
    step_s > PART_S && (from > 0.0) != (to > 0.0)
}

/// How long both rear wheels stood in a step, or until a moment of it (s), from how far they were within the bounds of locked
/// ones at its ends.
pub(super) fn stood_s(body: &Body<f64>, step: &Cubic<'_>, (from, to): (f64, f64), until_s: f64) -> f64 {
    if !hangs_on_its_course(step.length_s, (from, to)) {
        return above(from, to).1 * until_s;
    }
    let parts = parts(until_s);
    let part_s = until_s / parts;
    let (mut stood_s, mut before, mut part) = (0.0, from, 1.0);
    while part <= parts {
        let after = rear_stand(body, &step.at(part_s * part));
        stood_s += above(before, after).1 * part_s;
        before = after;
        part += 1.0;
    }
    stood_s
}

/// How far a rear wheel is within the bounds of a locked one.
fn rear_locked(contact: &Contact, braked: bool) -> f64 {
    if !braked {
        return -1.0;
    }
    (LOCKED_M_S - contact.rolling_m_s.abs()).min(contact.along_m_s.hypot(contact.across_m_s) - MOVING_M_S)
}

fn front_locked(contact: &Contact) -> f64 {
    (FRONT_SHARE * contact.along_m_s.abs() - contact.rolling_m_s.abs())
        .min(contact.along_m_s.abs() - MOVING_M_S)
}

/// How far a front wheel is below the share of its own speed at which it still steers.
fn front_dragged(contact: &Contact, keeps: f64) -> f64 {
    (keeps * contact.along_m_s - contact.rolling_m_s).min(contact.along_m_s - MOVING_M_S)
}

/// What a step adds: how far both rear wheels are within the bounds of locked ones at its ends, where they are braked; and to
/// the sum of the front wheels' speed ratio, with how long that counts.
#[derive(Clone, Copy, Debug)]
pub(super) struct StepAdds {
    pub(super) rear: Option<(f64, f64)>,
    pub(super) ratio: (f64, f64),
}

/// Moments within a step that begins at `from_s`, evenly and no further apart than [`MOMENTS_APART_S`], each with its place;
/// and the place at the step's end.
pub(super) fn marks_within(
    body: &Body<f64>,
    from_s: f64,
    step: &Cubic<'_>,
    so_far: SoFar,
    adds: StepAdds,
) -> (Vec<(Mark, Place)>, Place) {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a step has a handful of moments"
    )]
    let count = (step.length_s / MOMENTS_APART_S - 1e-9).ceil().max(1.0) as u32;
    let mut marks = Vec::with_capacity(count as usize);
    let mut leaving = *step.from_rates;
    for number in 1..count {
        let share = f64::from(number) / f64::from(count);
        let at_s = share * step.length_s;
        let (state, arriving) = (step.at(at_s), step.rates_at(at_s));
        let stood_s = adds.rear.map_or(0.0, |ends| stood_s(body, step, ends, at_s));
        let mark = Mark {
            time_s: from_s + at_s,
            state,
            rear_for_s: so_far.rear_for_s + stood_s,
            ratio: (
                so_far.ratio.0 + share * adds.ratio.0,
                so_far.ratio.1 + share * adds.ratio.1,
            ),
        };
        marks.push((mark, Place::after(mark.time_s, &state, &leaving, &arriving)));
        leaving = arriving;
    }
    let end_s = from_s + step.length_s;
    (marks, Place::after(end_s, step.to, &leaving, step.to_rates))
}

/// The moments of a path from which another run can begin: the start and the end of every step, and some within a long one;
/// and the places there.
pub(super) fn marks<T: Tyre>(vehicle: &Vehicle<T>, path: &[Node]) -> (Vec<Mark>, Vec<Place>) {
    let body = vehicle.body();
    let (mut marks, mut places) = (Vec::with_capacity(path.len()), Vec::with_capacity(path.len()));
    let mut so_far = SoFar::default();
    for (at, node) in path.iter().enumerate() {
        let mut place = Place::of(node.time_s, &node.state);
        if let Some(before) = at.checked_sub(1).map(|before| &path[before]) {
            let step = step_between(before, node);
            let rear = node
                .rear_braked
                .then(|| (rear_stand(&body, &before.state), rear_stand(&body, &node.state)));
            let ratio = if node.pulled {
                front_ratio(vehicle, before, node)
            } else {
                (0.0, 0.0)
            };
            let adds = StepAdds { rear, ratio };
            let (within, end) = marks_within(&body, before.time_s, &step, so_far, adds);
            for (mark, place) in within {
                marks.push(mark);
                places.push(place);
            }
            place = Place {
                time_s: node.time_s,
                ..end
            };
            if let Some(ends) = rear {
                so_far.rear_for_s += stood_s(&body, &step, ends, step.length_s);
            }
            so_far.ratio = (so_far.ratio.0 + ratio.0, so_far.ratio.1 + ratio.1);
        }
        places.push(place);
        marks.push(Mark {
            time_s: node.time_s,
            state: node.state,
            rear_for_s: so_far.rear_for_s,
            ratio: so_far.ratio,
        });
    }
    (marks, places)
}

/// How the wheels locked along a path. `keeps`: below this share of its own speed a front wheel no longer steers.
pub(super) fn locking<T: Tyre>(vehicle: &Vehicle<T>, path: &[Node], keeps: f64) -> Locking {
    let mut locking = Locking::default();
    let (mut rear_s, mut inner_s, mut front_s, mut standing_s) = (0.0, 0.0, 0.0, 0.0);
    let mut dragged_s = 0.0;
    let (mut ratio, mut pulled_s) = (0.0, 0.0);
    let mut contacts = path.first().map(|node| vehicle.contacts(&node.state));
    for (before, after, starts_s, part_s) in path.windows(2).flat_map(in_parts) {
        let Some(from) = contacts else {
            continue;
        };
        let to = vehicle.contacts(&between(before, after, starts_s + part_s));
        contacts = Some(to);
        let rear = |wheel: usize| {
            (
                rear_locked(&from[wheel], after.rear_braked),
                rear_locked(&to[wheel], after.rear_braked),
            )
        };
        let (left, right) = (rear(2), rear(3));
        let (starts, both) = above(left.0.min(right.0), left.1.min(right.1));
        if both > 0.0 {
            rear_s += both * part_s;
            locking.rear_from = locking
                .rear_from
                .or(Some(Duration::from_s(starts_s + starts * part_s)));
        }
        let inner = if after.state[YAW] >= 0.0 { left } else { right };
        inner_s += (above(inner.0, inner.1).1 - both).max(0.0) * part_s;
        let (_, front) = above(
            front_locked(&from[0]).min(front_locked(&from[1])),
            front_locked(&to[0]).min(front_locked(&to[1])),
        );
        standing_s += front * part_s;
        if front < 1.0 {
            if standing_s >= FRONT_AT_LEAST_S {
                front_s += standing_s;
            }
            standing_s = 0.0;
        }
        if after.rear_braked {
            let both = |contacts: &[Contact; 4]| {
                front_dragged(&contacts[0], keeps).min(front_dragged(&contacts[1], keeps))
            };
            dragged_s += above(both(&from), both(&to)).1 * part_s;
        }
    }
    for pair in path.windows(2) {
        if pair[1].pulled {
            let (sum, for_s) = front_ratio(vehicle, &pair[0], &pair[1]);
            ratio += sum;
            pulled_s += for_s;
        }
    }
    if standing_s >= FRONT_AT_LEAST_S {
        front_s += standing_s;
    }
    locking.rear_for = Duration::from_s(rear_s);
    locking.inner_only_for = Duration::from_s(inner_s);
    locking.front_for = Duration::from_s(front_s);
    locking.front_dragged_for = Duration::from_s(dragged_s);
    locking.front_speed_ratio = (pulled_s > 0.0).then(|| ratio / pulled_s);
    locking
}

/// The front axle's rolling speed over its hubs' speed along the wheels, `(ω₁ + ω₂)R/(u₁ + u₂)`, summed over a step by
/// trapezoids, and over how long: while both hubs go forward fast enough for it to say something. Both wheels are taken
/// together: what the coupling drags is their mean, and the body's turning leaves that.
pub(super) fn front_ratio<T: Tyre>(vehicle: &Vehicle<T>, before: &Node, after: &Node) -> (f64, f64) {
    let step_s = after.time_s - before.time_s;
    let parts = parts(step_s);
    let part_s = step_s / parts;
    let at = |time_s: f64| {
        let [left, right, ..] = vehicle.contacts(&between(before, after, time_s));
        (left.along_m_s.min(right.along_m_s) > STEERING_M_S)
            .then(|| (left.rolling_m_s + right.rolling_m_s) / (left.along_m_s + right.along_m_s))
    };
    let (mut sum, mut for_s) = (0.0, 0.0);
    let mut from = at(before.time_s);
    let mut part = 1.0;
    while part <= parts {
        let to = at(before.time_s + part * part_s);
        if let (Some(from), Some(to)) = (from, to) {
            sum += 0.5 * (from + to) * part_s;
            for_s += part_s;
        }
        from = to;
        part += 1.0;
    }
    (sum, for_s)
}

/// How far both rear wheels are within the bounds of locked ones, their brakes on.
#[inline(always)]
pub(super) fn rear_stand<N: Number>(body: &Body<N>, state: &[N; STATES]) -> N {
    let steer = (state[YAW].same(0.0), state[YAW].same(1.0));
    let mut least = steer.0.same(f64::INFINITY);
    for wheel in 2..4 {
        let meets = body.meets(wheel, state, steer.0, steer);
        let hub = meets
            .along_m_s
            .times_plus(meets.along_m_s, meets.across_m_s * meets.across_m_s)
            .sqrt();
        let slow = (-meets.rolling_m_s.abs()).plus(LOCKED_M_S);
        least = least.least(slow).least(hub.plus(-MOVING_M_S));
    }
    least
}

/// A pack's states with their rates.
type Ends<'a, S> = (&'a [Pack<S>; STATES], &'a [Pack<S>; STATES]);

/// [`front_ratio`] of a step of each lane of a pack in which the lever is pulled: sums, and over how long.
#[inline(always)]
pub(super) fn front_ratios<S: Simd>(
    body: &Body<Pack<S>>,
    (from, leaving): Ends<'_, S>,
    (to, arriving): Ends<'_, S>,
    (lengths_s, pulled): (&[f64; MOST_LANES], &[f64; MOST_LANES]),
    length_s: Pack<S>,
) -> ([f64; MOST_LANES], [f64; MOST_LANES]) {
    let simd = length_s.simd();
    let (zero, one) = (length_s.same(0.0), length_s.same(1.0));
    let mut parts = [0.0_f64; MOST_LANES];
    let mut most = 0.0_f64;
    for lane in 0..S::F64_LANES {
        if pulled[lane] > 0.5 {
            parts[lane] = self::parts(lengths_s[lane]);
            most = most.max(parts[lane]);
        }
    }
    let (mut sum, mut counted) = (zero, zero);
    let (mut before, mut counts_before) = (zero, zero);
    let mut part = 0.0;
    while part <= most {
        let (mut shares, mut counts) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
        for lane in 0..S::F64_LANES {
            if part <= parts[lane] && parts[lane] > 0.0 {
                (shares[lane], counts[lane]) = (part / parts[lane], 1.0);
            }
        }
        let (share, counts) = (Pack::of(simd, &shares), Pack::of(simd, &counts));
        let rest = one - share;
        let mut state = *from;
        for place in [FORWARD, SIDEWAYS, YAW, SPIN, SPIN + 1, STEER] {
            let rise = to[place] - from[place];
            let first = leaving[place] * length_s - rise;
            let last = rise - arriving[place] * length_s;
            let bend = first.times_plus(rest, last * share);
            state[place] = share.times_plus(rest.times_plus(bend, rise), from[place]);
        }
        let steer = state[STEER].sin_cos();
        let left = body.meets(0, &state, zero, steer);
        let right = body.meets(1, &state, zero, steer);
        let says = left
            .along_m_s
            .least(right.along_m_s)
            .above(zero.same(STEERING_M_S));
        let ratio = (left.rolling_m_s + right.rolling_m_s) / (left.along_m_s + right.along_m_s);
        let now = Pack::choose(says, ratio, zero);
        let counts = Pack::choose(says, counts, zero);
        if part > 0.0 {
            let both = counts * counts_before;
            sum = sum + (before + now).times(0.5) * both;
            counted = counted + both;
        }
        (before, counts_before) = (now, counts);
        part += 1.0;
    }
    let (mut sums, mut counted) = (sum.array(), counted.array());
    for lane in 0..S::F64_LANES {
        if parts[lane] > 0.0 {
            let part_s = lengths_s[lane] / parts[lane];
            sums[lane] *= part_s;
            counted[lane] *= part_s;
        }
    }
    (sums, counted)
}

/// The rates of places and heading that a state's own speeds make.
pub(super) fn moves(state: &State, rates: &mut State) {
    let (sin, cos) = state[HEADING].sin_cos();
    rates[X] = state[FORWARD] * cos - state[SIDEWAYS] * sin;
    rates[Y] = state[FORWARD] * sin + state[SIDEWAYS] * cos;
    rates[HEADING] = state[YAW];
}

/// State at a time, between the nodes round it: the cubics through their figures and rates.
fn between(before: &Node, after: &Node, time_s: f64) -> State {
    if after.time_s <= before.time_s {
        return after.state;
    }
    step_between(before, after).at(time_s - before.time_s)
}

fn step_between<'a>(before: &'a Node, after: &'a Node) -> Cubic<'a> {
    Cubic {
        length_s: after.time_s - before.time_s,
        from: &before.state,
        from_rates: &before.leaving,
        to: &after.state,
        to_rates: &after.arriving,
    }
}

/// The parts of the step between two nodes, each with its start and its length (s).
fn in_parts(pair: &[Node]) -> impl Iterator<Item = (&Node, &Node, f64, f64)> {
    let (before, after) = (&pair[0], &pair[1]);
    let step_s = after.time_s - before.time_s;
    let parts = parts(step_s);
    let part_s = step_s / parts;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a step has a handful of parts"
    )]
    let count = parts as u32;
    (0..count).map(move |part| (before, after, before.time_s + f64::from(part) * part_s, part_s))
}

/// State at a time.
pub(super) fn at(path: &[Node], time_s: f64) -> Option<State> {
    let after = path.partition_point(|node| node.time_s < time_s);
    match (path.get(after.wrapping_sub(1)), path.get(after)) {
        (Some(before), Some(after)) => Some(between(before, after, time_s)),
        (None, Some(only)) | (Some(only), None) => Some(only.state),
        (None, None) => None,
    }
}

/// A path sampled every so often until it is over at a moment (s), or with its last step; its end too.
pub(super) fn trace(path: &[Node], every: Duration, over_s: f64) -> Trace {
    let mut trace = Trace::default();
    let (Some(first), Some(last)) = (path.first(), path.last()) else {
        return trace;
    };
    let last_s = last.time_s.min(over_s);
    let mut after = 1;
    let mut step = 0_u32;
    loop {
        let wanted = first.time_s + f64::from(step) * every.s();
        let time_s = if wanted > last_s - 1e-9 { last_s } else { wanted };
        while after + 1 < path.len() && path[after].time_s < time_s {
            after += 1;
        }
        let state = path
            .get(after)
            .map_or(first.state, |node| between(&path[after - 1], node, time_s));
        trace.t_s.push(time_s);
        trace.x_m.push(state[X]);
        trace.y_m.push(state[Y]);
        trace.heading_rad.push(state[HEADING]);
        trace.u_m_s.push(state[FORWARD]);
        trace.v_m_s.push(state[SIDEWAYS]);
        trace.yaw_rate_rad_s.push(state[YAW]);
        trace.steer_rad.push(state[STEER]);
        for (wheel, spins) in trace.wheel_rad_s.iter_mut().enumerate() {
            spins.push(state[SPIN + wheel]);
        }
        if time_s >= last_s {
            return trace;
        }
        step += 1;
    }
}

/// Where the wheels of a trace went, and where they stood.
pub(super) fn tracks<T: Tyre>(vehicle: &Vehicle<T>, trace: &Trace) -> Tracks {
    let mut tracks = Tracks::default();
    for (at, heading) in trace.heading_rad.iter().enumerate() {
        let mut state = [0.0; STATES];
        (state[X], state[Y], state[HEADING]) = (trace.x_m[at], trace.y_m[at], *heading);
        (state[FORWARD], state[SIDEWAYS]) = (trace.u_m_s[at], trace.v_m_s[at]);
        (state[YAW], state[STEER]) = (trace.yaw_rate_rad_s[at], trace.steer_rad[at]);
        for wheel in 0..4 {
            state[SPIN + wheel] = trace.wheel_rad_s[wheel][at];
        }
        let contacts = vehicle.contacts(&state);
        let places = corners_at(vehicle, &state);
        for wheel in 0..4 {
            tracks.x_m[wheel].push(places[wheel].0);
            tracks.y_m[wheel].push(places[wheel].1);
            tracks.stands[wheel].push(if wheel < 2 {
                front_locked(&contacts[wheel]) > 0.0
            } else {
                rear_locked(&contacts[wheel], true) > 0.0
            });
        }
    }
    tracks
}

/// Where the four corners of wheelbase and tracks stand, given the centre of gravity and the heading (m).
pub(super) fn corners<T: Tyre>(
    vehicle: &Vehicle<T>,
    x_m: f64,
    y_m: f64,
    heading_rad: f64,
) -> [(f64, f64); 4] {
    let (sin, cos) = heading_rad.sin_cos();
    [0, 1, 2, 3].map(|wheel| {
        let (ahead, left) = vehicle.place(wheel);
        (x_m + ahead * cos - left * sin, y_m + ahead * sin + left * cos)
    })
}

fn corners_at<T: Tyre>(vehicle: &Vehicle<T>, state: &State) -> [(f64, f64); 4] {
    corners(vehicle, state[X], state[Y], state[HEADING])
}

/// Room that the corners take from a moment on: across and along the way in.
pub(super) fn room<T: Tyre>(vehicle: &Vehicle<T>, path: &[Node], from_s: f64) -> [Length; 2] {
    let (mut low, mut high) = (
        (f64::INFINITY, f64::INFINITY),
        (f64::NEG_INFINITY, f64::NEG_INFINITY),
    );
    for node in path.iter().filter(|node| node.time_s >= from_s) {
        for (x, y) in corners_at(vehicle, &node.state) {
            low = (low.0.min(x), low.1.min(y));
            high = (high.0.max(x), high.1.max(y));
        }
    }
    [
        Length::from_m((high.1 - low.1).max(0.0)),
        Length::from_m((high.0 - low.0).max(0.0)),
    ]
}

/// Yaw rate of the largest size along a path.
pub(super) fn yaw_rate_peak(path: &[Node]) -> Rotation {
    let peak = path
        .iter()
        .map(|node| node.state[YAW])
        .fold(
            0.0_f64,
            |peak, rate| if rate.abs() > peak.abs() { rate } else { peak },
        );
    Rotation::from_rad_s(peak)
}

/// Speed of the centre of gravity.
pub(super) fn speed(state: &State) -> Speed {
    Speed::from_m_s(state[FORWARD].hypot(state[SIDEWAYS]))
}

/// Heading.
pub(super) fn heading(state: &State) -> Angle {
    Angle::from_rad(state[HEADING])
}
