//! Many runs at once: each in a lane of its own, with its own car, time, step and events. A lane whose run ends takes the
//! next one. The equations are those of a single run, and so are the rules of stepping; what happens seldom (a wheel comes
//! to rest or lets go, a segment ends) is done for its lane alone, by the very code of a single run. To the last digit it
//! is the same which lane a run goes in, beside which others and on which core.

#![allow(
    clippy::needless_range_loop,
    clippy::manual_memcpy,
    reason = "several lists are read at one place, and no closure may stand where a pack is worked on"
)]

use core::array::from_fn;
use core::marker::PhantomData;
use std::sync::Arc;

use pulp::{Arch, Simd, WithSimd};
use rayon::prelude::{IndexedParallelIterator, IntoParallelIterator, ParallelIterator};

use super::TurnBench;
use super::contact::{GripFigures, GripTable};
use super::demand::Demand;
use super::driveline::{Carried, Tie, TorqueCurve, plates};
use super::dynamics::{Any, Between, Body, Doing, Equations, Firm, Look, Meets, Parts, STOPS, Slopes};
use super::following::Following;
use super::friction::MOST_BRINKS;
use super::integrate::{
    Beginning, Cubic, FIRST_S, MOST_STEPS, MotionFault, Moving, Node, Start, Stepping, joined_up, step,
};
use super::lane::{Lane, Then};
use super::measure::{self, MOMENTS_APART_S, Mark, Place, Tally};
use super::motion::{HEADING, Motion, SPIN, STATES, State, YAW};
use super::number::{ByLane, Number};
use super::pack::{MOST_LANES, Pack, figures};
use super::script::Segment;
use super::technique::{Release, Technique};
use super::vehicle::Stretch;

/// Most straight parts of a curve that a lane can read; a longer one is driven alone.
const MOST_PARTS: usize = 12;

/// Where runs come from, and what comes of them goes.
pub(super) trait Source<'a>: Sync {
    /// What a run is known by.
    type Ticket: Copy;

    /// Whether a run may wait for a lane.
    fn has_some(&self) -> bool;

    /// The next run. Where none waits but some are under way from which others may follow, whoever is `idle` waits for them.
    fn next(&self, idle: bool) -> Option<(Self::Ticket, Job<'a>)>;

    /// Takes what came of a run.
    fn done(&self, ticket: Self::Ticket, tally: Result<Tally, MotionFault>);

    /// How much is over by which it may have turned out that a run is not wanted any more.
    fn over(&self) -> usize;

    /// Whether a run still is.
    fn wants(&self, ticket: Self::Ticket) -> bool;

    /// Somebody has fallen over: nobody is to wait any longer.
    fn abandon(&self);
}

/// What drives runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cores {
    /// All of them.
    All,
    /// This one.
    One,
}

/// Drives all that comes from a source.
pub(super) fn drive<'a>(source: &impl Source<'a>, cores: Cores) {
    match cores {
        Cores::One => drive_here(source),
        Cores::All => (0..rayon::current_num_threads())
            .into_par_iter()
            .with_max_len(1)
            .for_each(|_| drive_here(source)),
    }
}

fn drive_here<'a>(source: &impl Source<'a>) {
    let _leaves = Leaves(source, PhantomData);
    Arch::new().dispatch(Lanes(source, PhantomData));
}

/// Who drives; should he fall over, the others are told.
struct Leaves<'j, 'a, F: Source<'a>>(&'j F, PhantomData<&'a ()>);

impl<'a, F: Source<'a>> Drop for Leaves<'_, 'a, F> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.0.abandon();
        }
    }
}

/// A run to be made.
#[derive(Clone, Debug)]
pub(super) struct Job<'a> {
    pub(super) bench: &'a TurnBench,
    pub(super) technique: Technique,
    /// What it asks of the brakes, where that is known already.
    pub(super) demand: Option<Arc<Demand>>,
    /// Where it branches off another run; it is let go there.
    pub(super) from: Option<Mark>,
    /// How far it is followed; else to the technique's end.
    pub(super) following: Option<Following>,
    /// Whether every moment is kept from which another run can begin.
    pub(super) marks: bool,
}

struct Lanes<'j, 'a, F>(&'j F, PhantomData<&'a ()>);

impl<'a, F: Source<'a>> WithSimd for Lanes<'_, 'a, F> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        // Two numbers at a time gain nothing over one. Where there are more, one run goes in lanes too: sooner than by itself,
        // and as it would beside others.
        if S::IS_SCALAR || S::F64_LANES < 4 || S::F64_LANES > MOST_LANES {
            while let Some((ticket, job)) = self.0.next(true) {
                self.0.done(ticket, job.alone());
            }
        } else {
            Crew::all(simd, self.0);
        }
    }
}

impl Job<'_> {
    /// When the lever is let go, as far as that is known beforehand, and when the run begins (s).
    pub(super) fn begins(&self) -> (Option<f64>, f64) {
        match &self.from {
            Some(mark) => (Some(mark.time_s), mark.time_s),
            None => (Demand::known_release_s(&self.technique), 0.0),
        }
    }

    /// Whether a lane can take it.
    fn fits(&self) -> bool {
        let vehicle = self.bench.vehicle();
        let short = |tie: &Tie| match tie {
            Tie::Viscous(curve) => curve.points().len() <= MOST_PARTS,
            _ => true,
        };
        let driveline = &vehicle.driveline;
        matches!(self.bench.stepping(), Stepping::Adaptive { .. })
            && vehicle.live_valve.is_none()
            && [&driveline.front, &driveline.rear, &driveline.centre]
                .into_iter()
                .chain(&driveline.centre_let_go)
                .all(short)
    }

    /// The same as a single run.
    fn alone(&self) -> Result<Tally, MotionFault> {
        let driven = self.bench.drives(
            &self.technique,
            (self.demand.as_deref(), self.from.as_ref()),
            self.following,
        )?;
        let mut tally = self.bench.tally(&driven);
        if self.marks {
            (tally.marks, tally.way) = measure::marks(self.bench.vehicle(), &driven.path);
        } else {
            tally.way = measure::way(&driven.path);
        }
        Ok(tally)
    }
}

figures! {
    /// A tie between two shafts: plates, or the straight parts of a curve.
    Tied {
        preload_nm: N,
        bias: N,
        starts_rad_s: [N; MOST_PARTS],
        widths_rad_s: [N; MOST_PARTS],
        slopes: [N; MOST_PARTS],
        last_rad_s: N,
    }
}

impl Tied<f64> {
    fn of(tie: &Tie) -> Self {
        let mut tied = Self {
            preload_nm: 0.0,
            bias: 0.0,
            // A part that is none begins nowhere: beside a curve with more of them it takes nothing from the last.
            starts_rad_s: [f64::INFINITY; MOST_PARTS],
            widths_rad_s: [0.0; MOST_PARTS],
            slopes: [0.0; MOST_PARTS],
            last_rad_s: 0.0,
        };
        match tie {
            Tie::Open | Tie::Locked => {}
            Tie::Plates { preload_nm, bias } => (tied.preload_nm, tied.bias) = (*preload_nm, *bias),
            Tie::Viscous(curve) => {
                for (part, pair) in curve.points().windows(2).take(MOST_PARTS).enumerate() {
                    let ((low, low_nm), (high, high_nm)) = (pair[0], pair[1]);
                    tied.starts_rad_s[part] = low;
                    tied.widths_rad_s[part] = high - low;
                    tied.slopes[part] = (high_nm - low_nm) / (high - low);
                    tied.last_rad_s = high;
                }
            }
        }
        tied
    }
}

/// What cars of a pack have for themselves.
struct Own<'a, S: Simd> {
    grip: GripFigures<Pack<S>>,
    last_cell: Pack<S>,
    cells: [&'a [[f64; 4]]; MOST_LANES],
    rows: [usize; MOST_LANES],
    /// Front wheels, rear wheels, axles.
    ties: [Tied<Pack<S>>; 3],
    curves: [[Option<&'a TorqueCurve>; MOST_LANES]; 3],
    /// Whether any is of plates; how many parts the longest curve has; whether any goes on beyond its points.
    plates: [bool; 3],
    parts: [usize; 3],
    goes_on: [bool; 3],
}

impl<S: Simd> GripTable<Pack<S>> for Own<'_, S> {
    #[inline(always)]
    fn cell(&self, place: Pack<S>) -> ([Pack<S>; 4], Pack<S>) {
        place.looked_up(&self.cells, self.last_cell, &self.rows)
    }
}

impl<S: Simd> Parts<Pack<S>> for Own<'_, S> {
    #[inline(always)]
    fn force(&self, _wheel: usize, meets: &Meets<Pack<S>>) -> (Pack<S>, Pack<S>) {
        self.grip.force(self, meets)
    }

    #[inline(always)]
    fn slopes(&self, _wheel: usize, meets: &Meets<Pack<S>>) -> [[Pack<S>; 4]; 2] {
        self.grip.slopes(self, meets)
    }

    #[inline(always)]
    fn tie(&self, between: Between, difference_rad_s: Pack<S>, input_nm: Pack<S>) -> Carried<Pack<S>> {
        let which = between as usize;
        let tied = &self.ties[which];
        let zero = input_nm.same(0.0);
        let Carried {
            torque_nm: mut torque,
            of_difference: mut slope,
            of_input,
        } = if self.plates[which] {
            plates(tied.preload_nm, tied.bias, difference_rad_s, input_nm)
        } else {
            Carried {
                torque_nm: zero,
                of_difference: zero,
                of_input: zero,
            }
        };
        if self.parts[which] > 0 {
            let at = difference_rad_s.abs();
            let (mut sum, mut of_last) = (zero, tied.slopes[0]);
            for part in 0..self.parts[which] {
                let beyond = at - tied.starts_rad_s[part];
                let within = beyond.within(zero, tied.widths_rad_s[part]);
                sum = tied.slopes[part].times_plus(within, sum);
                of_last = Pack::choose(beyond.above(zero), tied.slopes[part], of_last);
            }
            torque = torque + Pack::choose(difference_rad_s.above(zero), sum, -sum);
            slope = slope + Pack::choose(at.above(tied.last_rad_s), zero, of_last);
        }
        if self.goes_on[which] {
            for lane in 0..S::F64_LANES {
                if let Some(curve) = self.curves[which][lane] {
                    let (nm, of_nm) = curve.torque_nm(difference_rad_s.get(lane));
                    torque.set(lane, &nm);
                    slope.set(lane, &of_nm);
                }
            }
        }
        Carried {
            torque_nm: torque,
            of_difference: slope,
            of_input,
        }
    }

    #[inline(always)]
    fn rear_asked_pa(&self, said_pa: Pack<S>, _time_s: Pack<S>, _loads_n: &[Pack<S>; 4]) -> Pack<S> {
        said_pa
    }
}

/// The equations of a pack.
type PackEquations<'e, 'a, S> = Equations<'e, Pack<S>, Own<'a, S>>;

/// A look at them, made apart: inlined wherever one is made it is more code than a core keeps at hand.
struct Looking<'e, 'a, S: Simd> {
    equations: &'e PackEquations<'e, 'a, S>,
    time_s: Pack<S>,
    state: &'e [Pack<S>; STATES],
}

impl<S: Simd> WithSimd for Looking<'_, '_, S> {
    type Output = Look<Pack<S>>;

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) -> Self::Output {
        self.equations.look(self.time_s, self.state)
    }
}

/// Their slopes, likewise.
struct Sloping<'e, 'a, S: Simd> {
    equations: &'e PackEquations<'e, 'a, S>,
    time_s: Pack<S>,
    state: &'e [Pack<S>; STATES],
}

impl<S: Simd> WithSimd for Sloping<'_, '_, S> {
    type Output = Slopes<Pack<S>>;

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) -> Self::Output {
        self.equations.slopes(self.time_s, self.state)
    }
}

impl<S: Simd> Moving<Pack<S>> for PackEquations<'_, '_, S> {
    #[inline(always)]
    fn rates(&self, time_s: Pack<S>, state: &[Pack<S>; STATES]) -> [Pack<S>; STATES] {
        let looking = Looking {
            equations: self,
            time_s,
            state,
        };
        time_s.simd().vectorize(looking).rates
    }
}

figures! {
    /// The motions on which held stops would give way, of all cars of a pack.
    PackBrinks {
        motions: [[N; 4]; MOST_BRINKS],
        takes: [[N; STOPS]; MOST_BRINKS],
    }
}

/// The lanes with their runs.
struct Crew<'j, 'a, S: Simd, F: Source<'a>> {
    simd: S,
    source: &'j F,
    lanes: [Option<Lane<'a, F::Ticket>>; MOST_LANES],
    /// How much was over when it was last looked whether its runs are wanted.
    over: usize,
    body: Body<Pack<S>>,
    doing: Doing<Pack<S>>,
    firm: Firm<Pack<S>>,
    brinks: PackBrinks<Pack<S>>,
    until_rad: Pack<S>,
    own: Own<'a, S>,
    any: Any,
    most_brinks: usize,
    state: [Pack<S>; STATES],
    rates: [Pack<S>; STATES],
}

impl<'j, 'a, S: Simd, F: Source<'a>> Crew<'j, 'a, S, F> {
    #[inline(always)]
    fn all(simd: S, source: &'j F) {
        let mut crew: Option<Self> = None;
        // With no run on its way there is time to wait for one.
        while let Some((ticket, job)) = source.next(true) {
            if !job.fits() {
                source.done(ticket, job.alone());
                continue;
            }
            let mut working = crew.take().unwrap_or_else(|| Self::of(simd, source, job.bench));
            working.take(0, ticket, &job);
            while working.lanes.iter().any(Option::is_some) {
                if source.has_some() {
                    for place in 0..S::F64_LANES {
                        if working.lanes[place].is_none() {
                            working.take_next(place);
                        }
                    }
                }
                working.drop_unwanted();
                working.go_on();
            }
            crew = Some(working);
        }
    }

    /// Lanes without runs; `lends` gives them figures to idle with.
    #[inline(always)]
    fn of(simd: S, source: &'j F, lends: &'a TurnBench) -> Self {
        let vehicle = lends.vehicle();
        let zero = Pack::all(simd, 0.0);
        let segment = Segment::coasting(0.0, 1.0);
        let [front, rear] = vehicle.radii_m;
        let state = Motion::rolling(10.0, front, rear).state();
        let mode = vehicle.mode(&state, &segment, 0.0);
        let mut body = Body::spread(&vehicle.body(), simd);
        as_divisors(&mut body);
        let grip = vehicle.tyre.figures();
        let open = Tied::of(&Tie::Open);
        Self {
            simd,
            source,
            lanes: from_fn(|_| None),
            over: 0,
            body,
            doing: Doing::spread(&segment.doing(0.0), simd),
            firm: Firm::spread(&mode.firm, simd),
            brinks: PackBrinks {
                motions: [[zero; 4]; MOST_BRINKS],
                takes: [[zero; STOPS]; MOST_BRINKS],
            },
            until_rad: Pack::all(simd, f64::INFINITY),
            own: Own {
                grip: GripFigures::spread(grip, simd),
                last_cell: Pack::all(simd, grip.count - 1.0),
                cells: [vehicle.tyre.cells(); MOST_LANES],
                rows: Pack::rows(simd),
                ties: [Tied::spread(&open, simd); 3],
                curves: [[None; MOST_LANES]; 3],
                plates: [false; 3],
                parts: [0; 3],
                goes_on: [false; 3],
            },
            any: Any::default(),
            most_brinks: 0,
            state: ByLane::spread(&state, simd),
            rates: [zero; STATES],
        }
    }

    /// One try of every lane.
    #[inline(always)]
    fn go_on(&mut self) {
        let simd = self.simd;
        let (mut times, mut lengths) = ([0.0; MOST_LANES], [1e-6; MOST_LANES]);
        for (place, lane) in self.lanes.iter().enumerate() {
            if let Some(lane) = lane {
                (times[place], lengths[place]) = (lane.time_s, lane.length_s);
            }
        }
        let (time_s, length_s) = (Pack::of(simd, &times), Pack::of(simd, &lengths));
        let equations = Equations {
            body: &self.body,
            doing: &self.doing,
            firm: &self.firm,
            any: self.any,
            parts: &self.own,
        };
        let sloping = Sloping {
            equations: &equations,
            time_s,
            state: &self.state,
        };
        let beginning = Beginning {
            time_s,
            state: &self.state,
            rates: &self.rates,
            slopes: &simd.vectorize(sloping),
        };
        let (end, error) = step(&equations, &beginning, length_s);
        let look = simd.vectorize(Looking {
            equations: &equations,
            time_s: time_s + length_s,
            state: &end,
        });
        let (left, turned) = self.left(&end, &look.torques_nm, &look.frictions_nm);
        let rear = measure::rear_stand(&self.body, &end).array();
        let errors = error.array();
        let (left, turned, braked) = (left.array(), turned.array(), look.frictions_nm[2].array());
        // What each lane makes of it.
        let mut then = [Then::Again; MOST_LANES];
        let mut taken = [0.0; MOST_LANES];
        let mut stood = [0.0; MOST_LANES];
        let mut pulled = [0.0; MOST_LANES];
        let mut any_pulled = false;
        for place in 0..S::F64_LANES {
            let Some(lane) = &mut self.lanes[place] else {
                continue;
            };
            let located = lane.locating.is_some();
            let tried_s = lane.length_s;
            match lane.judge(errors[place] / lane.tolerance, left[place]) {
                Ok(now) => then[place] = now,
                Err(lost) => {
                    self.lost(place, lost);
                    continue;
                }
            }
            if then[place] == Then::Again && (lane.locating.is_none() || left[place] >= 0.0) {
                continue;
            }
            if lane.locating.is_some() && left[place] < 0.0 {
                // The nearest so far beyond the event.
                lane.beyond.0 = tried_s;
                for figure in 0..STATES {
                    lane.beyond.1[figure] = end[figure].get(place);
                    lane.beyond.2[figure] = look.rates[figure].get(place);
                }
            }
            if then[place] == Then::Again {
                continue;
            }
            if !located && lane.stretch.segment.pulled {
                pulled[place] = 1.0;
                any_pulled = true;
            }
            if !located {
                taken[place] = 1.0;
                if braked[place] > 0.0 {
                    let ends = (lane.rear, rear[place]);
                    stood[place] = measure::above(ends.0, ends.1).1 * tried_s;
                    if measure::hangs_on_its_course(tried_s, ends) {
                        let mut states = [[0.0; STATES]; 4];
                        for figure in 0..STATES {
                            states[0][figure] = self.state[figure].get(place);
                            states[1][figure] = self.rates[figure].get(place);
                            states[2][figure] = end[figure].get(place);
                            states[3][figure] = look.rates[figure].get(place);
                        }
                        let step = Cubic {
                            length_s: tried_s,
                            from: &states[0],
                            from_rates: &states[1],
                            to: &states[2],
                            to_rates: &states[3],
                        };
                        stood[place] = measure::stood_s(&lane.stretch.body, &step, ends, tried_s);
                    }
                }
            }
        }
        let mut ratios = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
        if any_pulled {
            ratios = measure::front_ratios(
                &self.body,
                (&self.state, &self.rates),
                (&end, &look.rates),
                (&lengths, &pulled),
                length_s,
            );
        }
        let mut places = [Place::default(); MOST_LANES];
        for place in 0..S::F64_LANES {
            if taken[place] < 0.5 {
                continue;
            }
            let Some(lane) = &mut self.lanes[place] else {
                continue;
            };
            let long = lane.marks && lengths[place] > MOMENTS_APART_S;
            let mut states = [[0.0; STATES]; 4];
            for figure in 0..if long { STATES } else { YAW } {
                states[0][figure] = self.state[figure].get(place);
                states[1][figure] = self.rates[figure].get(place);
                states[3][figure] = look.rates[figure].get(place);
            }
            for figure in 0..if long { STATES } else { YAW + 1 } {
                states[2][figure] = end[figure].get(place);
            }
            places[place] = if long {
                let step = Cubic {
                    length_s: lengths[place],
                    from: &states[0],
                    from_rates: &states[1],
                    to: &states[2],
                    to_rates: &states[3],
                };
                let braked = braked[place] > 0.0;
                lane.marks_within(&step, (braked, rear[place]), (ratios.0[place], ratios.1[place]))
            } else {
                Place::after(0.0, &states[2], &states[1], &states[3])
            };
        }
        let kept = Pack::of(simd, &taken).above(Pack::all(simd, 0.5));
        for figure in 0..STATES {
            self.state[figure] = Pack::choose(kept, end[figure], self.state[figure]);
            self.rates[figure] = Pack::choose(kept, look.rates[figure], self.rates[figure]);
        }
        for place in 0..S::F64_LANES {
            if then[place] == Then::Again {
                continue;
            }
            let Some(lane) = &mut self.lanes[place] else {
                continue;
            };
            if taken[place] > 0.5 {
                lane.ratio += ratios.0[place];
                lane.pulled_s += ratios.1[place];
                lane.moves_on(lengths[place]);
                lane.stood(stood[place], rear[place]);
                lane.left = left[place];
            } else {
                places[place] = self.arrive(place, braked[place] > 0.0);
            }
            let state = self.state_of(place);
            if let Some(lane) = &mut self.lanes[place] {
                lane.watched(&state, places[place]);
                if lane.over {
                    self.finish(place);
                    continue;
                }
            }
            if then[place] == Then::Happened {
                if self.event(place) {
                    continue;
                }
            } else if turned[place] > 0.5 {
                let mut frictions_nm = [0.0; STOPS];
                for stop in 0..STOPS {
                    frictions_nm[stop] = look.frictions_nm[stop].get(place);
                }
                self.turn_free_stops(place, &frictions_nm);
            }
            self.carry_on(place);
        }
    }

    /// What is left before a stop comes to rest or lets go, or before the heading is reached; and whether a stop without
    /// friction has turned round.
    #[inline(always)]
    fn left(
        &self,
        state: &[Pack<S>; STATES],
        torques_nm: &[Pack<S>; 4],
        frictions_nm: &[Pack<S>; STOPS],
    ) -> (Pack<S>, Pack<S>) {
        let (body, firm) = (&self.body, &self.firm);
        let zero = self.until_rad.same(0.0);
        let one = zero.same(1.0);
        let most = zero.same(f64::INFINITY);
        let mut speeds = [zero; STOPS];
        for wheel in 0..4 {
            speeds[wheel] = state[SPIN + wheel];
            speeds[4] = body.pinion_turns[wheel].times_plus(speeds[wheel], speeds[4]);
        }
        let (mut least, mut turned) = (most, zero);
        for stop in 0..STOPS {
            let way = firm.ways[stop];
            let along = way * speeds[stop];
            let rubs = frictions_nm[stop].above(zero);
            // A held stop has no way.
            let moves = Pack::choose(way.abs().above(zero), along, most);
            least = least.least(Pack::choose(rubs, moves, most));
            let round = Pack::choose(zero.above(along), one, zero);
            turned = turned.most(Pack::choose(rubs, zero, round));
        }
        if self.most_brinks > 0 {
            let mut torques = *torques_nm;
            let engine = firm.ways[4] * frictions_nm[4];
            for wheel in 0..4 {
                torques[wheel] = torques[wheel]
                    - (firm.ways[wheel] * frictions_nm[wheel] + engine * body.pinion_turns[wheel]);
            }
            let missing = firm.missing_nm(&torques);
            for brink in 0..self.most_brinks {
                let (motion, takes) = (&self.brinks.motions[brink], &self.brinks.takes[brink]);
                let (mut work, mut held) = (zero, zero);
                for wheel in 0..4 {
                    work = motion[wheel].times_plus(missing[wheel], work);
                }
                for stop in 0..STOPS {
                    held = takes[stop].times_plus(frictions_nm[stop], held);
                }
                // A lane with fewer of them has zeros there.
                let left = one - work.abs() / held;
                let there = takes[0] + takes[1] + takes[2] + takes[3] + takes[4];
                least = least.least(Pack::choose(there.above(zero), left, most));
            }
        }
        let heading = self.until_rad - state[HEADING].abs();
        (least.most(zero.same(-10.0)).least(heading), turned)
    }

    /// A lane's motion.
    fn state_of(&self, place: usize) -> State {
        let mut state = [0.0; STATES];
        for figure in 0..STATES {
            state[figure] = self.state[figure].get(place);
        }
        state
    }

    fn set_state(&mut self, place: usize, state: &State, rates: &State) {
        for figure in 0..STATES {
            self.state[figure].set(place, &state[figure]);
            self.rates[figure].set(place, &rates[figure]);
        }
    }

    /// Takes the step that ends just beyond what was located; where that is.
    fn arrive(&mut self, place: usize, braked: bool) -> Place {
        let from = self.state_of(place);
        let mut leaving = [0.0; STATES];
        for figure in 0..STATES {
            leaving[figure] = self.rates[figure].get(place);
        }
        let Some(lane) = &mut self.lanes[place] else {
            return Place::default();
        };
        let (length_s, end, rates) = lane.beyond;
        let vehicle = lane.stretch.vehicle;
        let mut ratio = (0.0, 0.0);
        if lane.stretch.segment.pulled {
            let node = |time_s, state, rates| Node {
                time_s,
                state,
                arriving: rates,
                leaving: rates,
                pulled: true,
                rear_braked: braked,
            };
            let (before, after) = (
                node(lane.time_s, from, leaving),
                node(lane.time_s + length_s, end, rates),
            );
            ratio = measure::front_ratio(vehicle, &before, &after);
        }
        let rear = measure::rear_stand(&lane.stretch.body, &end);
        let step = Cubic {
            length_s,
            from: &from,
            from_rates: &leaving,
            to: &end,
            to_rates: &rates,
        };
        let stood_s = if braked {
            measure::stood_s(&lane.stretch.body, &step, (lane.rear, rear), length_s)
        } else {
            0.0
        };
        let there = if lane.marks {
            lane.marks_within(&step, (braked, rear), ratio)
        } else {
            Place::after(0.0, &end, &leaving, &rates)
        };
        lane.ratio += ratio.0;
        lane.pulled_s += ratio.1;
        lane.moves_on(length_s);
        lane.stood(stood_s, rear);
        self.set_state(place, &end, &rates);
        there
    }

    /// Something has happened; whether it ended the lane's doings so far.
    fn event(&mut self, place: usize) -> bool {
        let state = self.state_of(place);
        let Some(lane) = &mut self.lanes[place] else {
            return true;
        };
        if state[HEADING].abs() > lane.until_rad {
            lane.tally.released_s = Some(lane.time_s);
            lane.tally.at_release_rad = Some(state[HEADING]);
            lane.until_rad = f64::INFINITY;
            let technique = lane.technique;
            let delay_s = lane.bench.vehicle().driveline.centre_delay_s;
            lane.segments = lane.demand.as_ref().map_or_else(Vec::new, |demand| {
                demand.segments(&technique, Some(lane.time_s), delay_s)
            });
            let now = lane.time_s;
            lane.segments
                .retain(|segment| segment.from_s > now - 1e-9 && segment.to_s > segment.from_s);
            lane.segment = 0;
            lane.step_s = FIRST_S;
            self.until_rad.set(place, &f64::INFINITY);
            match lane.segments.first().copied() {
                Some(segment) => self.begin(place, &segment, &state, true),
                None => self.finish(place),
            }
            return true;
        }
        self.decide(place, &state);
        false
    }

    /// Looks afresh at which stops of a lane are held.
    fn decide(&mut self, place: usize, state: &State) {
        let Some(lane) = &mut self.lanes[place] else {
            return;
        };
        let look = lane.stretch.look(lane.time_s, state);
        let mut start = Start {
            time_s: lane.time_s,
            state: *state,
            arrived: look.rates,
            look,
        };
        lane.stretch.decide(&mut start);
        lane.left = lane
            .stretch
            .surplus(&start.state, &start.look)
            .min(lane.until_rad - start.state[HEADING].abs());
        lane.rear = measure::rear_stand(&lane.stretch.body, &start.state);
        self.set_state(place, &start.state, &start.look.rates);
        self.set_mode(place);
    }

    /// Lets a lane's stops without friction turn the way they turn.
    fn turn_free_stops(&mut self, place: usize, frictions_nm: &[f64; STOPS]) {
        let state = self.state_of(place);
        if let Some(lane) = &mut self.lanes[place]
            && lane.stretch.turn_free_stops(&state, frictions_nm)
        {
            self.set_mode(place);
        }
    }

    /// Plans a lane's next step, with its next segment where this one is over, or the next run where all are.
    fn carry_on(&mut self, place: usize) {
        let Some(lane) = &mut self.lanes[place] else {
            return;
        };
        if lane.steps > MOST_STEPS {
            let at_s = lane.time_s;
            self.lost(place, MotionFault { at_s });
            return;
        }
        if lane.stretch.segment.to_s - lane.time_s > 1e-12 {
            lane.plan();
            return;
        }
        lane.time_s = lane.stretch.segment.to_s;
        let now = lane.time_s;
        lane.segment += 1;
        let next = lane.segments.get(lane.segment).copied();
        let released = lane.tally.released_s;
        let state = self.state_of(place);
        if let Some(lane) = &mut self.lanes[place]
            && lane.tally.at_release_rad.is_none()
            && released.is_some_and(|released_s| (released_s - now).abs() < 1e-9)
        {
            lane.tally.at_release_rad = Some(state[HEADING]);
        }
        match next {
            Some(segment) => self.begin(place, &segment, &state, false),
            None => self.finish(place),
        }
    }

    /// Begins a segment.
    fn begin(&mut self, place: usize, segment: &Segment, state: &State, afresh: bool) {
        let Some(lane) = &mut self.lanes[place] else {
            return;
        };
        let vehicle = lane.stretch.vehicle;
        let before = lane.stretch.segment;
        let joins = afresh || before.joined() != segment.joined();
        let mut state = *state;
        lane.stretch.enter(segment);
        if joins {
            state = joined_up(vehicle, segment, &state);
            lane.stretch.mode = vehicle.mode(&state, segment, lane.time_s);
        }
        let look = lane.stretch.look(lane.time_s, &state);
        let surplus = lane.stretch.surplus(&state, &look);
        lane.left = surplus.min(lane.until_rad - state[HEADING].abs());
        lane.rear = measure::rear_stand(&lane.stretch.body, &state);
        let doing = lane.stretch.doing;
        self.set_state(place, &state, &look.rates);
        self.doing.set(place, &doing);
        if joins {
            self.set_centre(place);
            self.set_mode(place);
        }
        if surplus < 0.0 {
            self.decide(place, &state);
        } else {
            self.turn_free_stops(place, &look.frictions_nm);
        }
        self.gather();
        if let Some(lane) = &mut self.lanes[place] {
            lane.plan();
        }
    }

    /// A run is over; the lane takes the next.
    fn finish(&mut self, place: usize) {
        let end_rad = self.state[HEADING].get(place);
        if let Some(mut lane) = self.lanes[place].take() {
            self.source.done(lane.ticket, Ok(lane.ends(end_rad)));
        }
        self.take_next(place);
    }

    /// A run cannot be followed any further.
    fn lost(&mut self, place: usize, lost: MotionFault) {
        if let Some(lane) = self.lanes[place].take() {
            self.source.done(lane.ticket, Err(lost));
        }
        self.take_next(place);
    }

    /// Leaves the runs that are not wanted any more; their lanes take the next.
    fn drop_unwanted(&mut self) {
        let over = self.source.over();
        if over == self.over {
            return;
        }
        self.over = over;
        for place in 0..S::F64_LANES {
            if let Some(lane) = &self.lanes[place]
                && !self.source.wants(lane.ticket)
            {
                let at_s = lane.time_s;
                self.lost(place, MotionFault { at_s });
            }
        }
        self.gather();
    }

    /// Gives a lane the next run, if one waits.
    fn take_next(&mut self, place: usize) {
        while let Some((ticket, job)) = self.source.next(false) {
            if self.take(place, ticket, &job) {
                return;
            }
        }
    }

    /// Gives a lane a run; whether it has one then.
    fn take(&mut self, place: usize, ticket: F::Ticket, job: &Job<'a>) -> bool {
        let Stepping::Adaptive { tolerance } = job.bench.stepping() else {
            self.source.done(ticket, job.alone());
            return false;
        };
        if !job.fits() {
            self.source.done(ticket, job.alone());
            return false;
        }
        let (vehicle, technique) = (job.bench.vehicle(), job.technique);
        let (released_s, from_s) = job.begins();
        // Who lets go at a heading needs it again then.
        let demand = match (&job.demand, technique.release) {
            (Some(demand), Release::Heading(_)) => Some(Demand::clone(demand)),
            (None, Release::Heading(_)) => Some(job.bench.demand(&technique)),
            _ => None,
        };
        let delay_s = vehicle.driveline.centre_delay_s;
        let mut segments = match demand.as_ref().or(job.demand.as_deref()) {
            Some(demand) => demand.segments_from(&technique, released_s, delay_s, from_s),
            None => job
                .bench
                .demand(&technique)
                .segments_from(&technique, released_s, delay_s, from_s),
        };
        segments.retain(|segment| segment.to_s > segment.from_s);
        let Some(&first) = segments.first() else {
            self.source.done(ticket, job.alone());
            return false;
        };
        let state = match &job.from {
            Some(mark) => mark.state,
            None => job.bench.start(&technique),
        };
        let state = joined_up(vehicle, &first, &state);
        let until_rad = match technique.release {
            Release::Heading(angle) => angle.rad(),
            Release::At(_) | Release::Never | Release::Best => f64::INFINITY,
        };
        let mode = vehicle.mode(&state, &first, first.from_s);
        self.lanes[place] = Some(Lane {
            ticket,
            bench: job.bench,
            technique,
            stretch: Stretch::new(vehicle, &first, mode),
            demand,
            segments,
            segment: 0,
            brinks: 0,
            tolerance,
            until_rad,
            time_s: first.from_s,
            step_s: FIRST_S,
            wanted_s: 0.0,
            length_s: 0.0,
            steps: 0,
            left: 0.0,
            locating: None,
            beyond: (0.0, state, state),
            crumb: false,
            rear: 0.0,
            ratio: 0.0,
            pulled_s: 0.0,
            following: job.following,
            over: false,
            marks: job.marks,
            tally: Tally {
                released_s,
                ..Tally::default()
            },
        });
        if let Some(lane) = &mut self.lanes[place] {
            lane.watched(&state, Place::of(first.from_s, &state));
        }
        // Nothing of the run before is left.
        for left_over in 0..MOST_BRINKS {
            self.brinks.takes[left_over].set(place, &[0.0; STOPS]);
        }
        self.body.set(place, &vehicle.body());
        as_divisor(&mut self.body, place);
        self.until_rad.set(place, &until_rad);
        self.own.grip.set(place, vehicle.tyre.figures());
        self.own
            .last_cell
            .set(place, &(vehicle.tyre.figures().count - 1.0));
        self.own.cells[place] = vehicle.tyre.cells();
        self.set_tie(place, Between::FrontWheels, &vehicle.driveline.front);
        self.set_tie(place, Between::RearWheels, &vehicle.driveline.rear);
        self.set_centre(place);
        self.set_mode(place);
        self.begin(place, &first, &state, false);
        true
    }

    fn set_tie(&mut self, place: usize, between: Between, tie: &'a Tie) {
        let which = between as usize;
        self.own.ties[which].set(place, &Tied::of(tie));
        self.own.curves[which][place] = match tie {
            Tie::Viscous(curve) => Some(curve),
            _ => None,
        };
        self.own.plates[which] |= matches!(tie, Tie::Plates { .. });
        if let Tie::Viscous(curve) = tie {
            self.own.parts[which] = self.own.parts[which].max(curve.points().len() - 1);
            self.own.goes_on[which] |= curve.beyond() > 0.0;
        }
    }

    /// Sets a lane's centre as it is now.
    fn set_centre(&mut self, place: usize) {
        let Some(lane) = &self.lanes[place] else {
            return;
        };
        let vehicle = lane.stretch.vehicle;
        let tie = vehicle.driveline.centre_now(lane.stretch.segment.let_go);
        self.set_tie(place, Between::Axles, tie);
    }

    /// Sets what a lane holds.
    fn set_mode(&mut self, place: usize) {
        let Some(lane) = &mut self.lanes[place] else {
            return;
        };
        let mode = &lane.stretch.mode;
        self.firm.set(place, &mode.firm);
        let before = lane.brinks;
        lane.brinks = 0;
        if mode.held != [false; STOPS] {
            for brink in mode.brinks(&lane.stretch.vehicle.driveline).iter() {
                self.brinks.motions[lane.brinks].set(place, &brink.motion);
                self.brinks.takes[lane.brinks].set(place, &brink.takes);
                lane.brinks += 1;
            }
        }
        for left_over in lane.brinks..before {
            self.brinks.takes[left_over].set(place, &[0.0; STOPS]);
        }
        self.gather();
    }

    /// What any lane does.
    fn gather(&mut self) {
        self.any = Any::default();
        self.most_brinks = 0;
        for lane in self.lanes.iter().flatten() {
            let any = lane.stretch.any;
            self.any.pulling |= any.pulling;
            self.any.into |= any.into;
            self.any.eases |= any.eases;
            self.any.round |= any.round;
            self.any.feel[0] |= any.feel[0];
            self.any.feel[1] |= any.feel[1];
            self.any.constrained |= lane.stretch.mode.constrained;
            self.most_brinks = self.most_brinks.max(lane.brinks);
        }
    }
}

/// Divisors as a pack has them.
#[inline(always)]
fn as_divisors<S: Simd>(body: &mut Body<Pack<S>>) {
    for place in 0..S::F64_LANES {
        as_divisor(body, place);
    }
}

/// A lane's divisors as a pack has them.
#[inline(always)]
fn as_divisor<S: Simd>(body: &mut Body<Pack<S>>, place: usize) {
    for divisor in [
        &mut body.per_mass,
        &mut body.per_yaw_inertia,
        &mut body.per_wheelbase,
        &mut body.per_centre_turns,
        &mut body.per_transfer_lag,
        &mut body.per_pressure_lag,
    ]
    .into_iter()
    .chain(&mut body.per_track)
    {
        let by = 1.0 / divisor.get(place);
        divisor.set(place, &by);
    }
}
