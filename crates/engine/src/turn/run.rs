//! A laden car on a surface, driven.

use std::sync::Arc;

use quantity::si::{Angle, Duration, Force, Speed, Torque};

use crate::brake::TorqueLaw;
use crate::car::{self, Car, LeverKind, Surface};
use crate::hydraulics::Hydraulics;
use crate::loads::{Grade, Laden};
use crate::tyre::GripCurve;

use super::bend::Bend;
use super::best::{Asked, Depth, Run, runs};
use super::contact::{SurfaceGrip, Tyre};
use super::demand::Demand;
use super::driveline::Driveline;
use super::integrate::{Ended, MotionFault, Node, Stepping, Until, drive};
use super::many::{Job, tallies};
use super::measure::{self, Place, Tally};
use super::motion::{Motion, State};
use super::script::Segment;
use super::technique::{After, Clutch, Release, Technique, Throttle};
use super::varied::Varied;
use super::vehicle::{Brakes, LeverBrake, LiveValve, Vehicle};
use super::verdict::{Judged, front_keeps};
use super::{Assumed, BesideIt, BestMoment, Brief, Headings, Trace, Turn, TurnFault};
use crate::thresholds::BORDER_GRIP;

/// How much of what the driven wheels' ground gives a driver takes out of a bend (judgement), and the most torque at the
/// crank that is reckoned with [N m] (judgement): the sheet does not know the engine.
const DRIVERS_SHARE: f64 = 0.6;
const MOST_TORQUE_NM: f64 = 250.0;

/// After letting go, a driver has the hand back on the wheel and the clutch up, the wheels rolling again (s) (judgement).
const CLUTCH_UP_AFTER_S: f64 = 0.5;

/// Entry speeds that a driver chooses from, over the one that is asked for.
const ENTRIES: [f64; 4] = [1.0, 0.8, 0.65, 0.5];

/// Time between two points of a trace (s).
const TRACE_S: f64 = 0.02;

/// A car that is pulled up straight is at rest by then, whatever the ground (s).
const STOPPED_BY_S: f64 = 120.0;

/// A laden car on a surface, ready to be driven.
#[derive(Clone, Debug)]
pub struct TurnBench {
    vehicle: Vehicle<SurfaceGrip>,
    hydraulics: Hydraulics,
    laden: Laden,
    stepping: Stepping,
    curve: GripCurve,
    load_sensitivity: f64,
    front_keeps: f64,
    slip_at_peak: f64,
    /// Torque at the crank that a driver takes round a bend.
    drivers_torque: Torque,
    /// Whether that driver eases it: where the rear wheels alone are driven.
    eases: bool,
}

/// A path with the moment of its release.
pub(super) struct Driven {
    pub(super) path: Vec<Node>,
    pub(super) released_s: Option<f64>,
}

impl TurnBench {
    /// How time is stepped through.
    pub(super) const fn stepping(&self) -> Stepping {
        self.stepping
    }

    /// What a technique asks of the brakes.
    pub(super) fn demand(&self, technique: &Technique) -> Demand {
        Demand::of(&self.hydraulics, &self.laden, self.slip_at_peak, technique)
    }

    /// How a technique begins: straight, the wheels rolling.
    pub(super) fn start(&self, technique: &Technique) -> State {
        let [front, rear] = self.vehicle.radii_m;
        Motion::rolling(technique.entry.m_s(), front, rear).state()
    }

    /// Below this share of its own speed a front wheel no longer steers.
    pub(super) const fn front_keeps(&self) -> f64 {
        self.front_keeps
    }

    /// The throttle of a driver who drives on round a bend.
    pub(super) fn drivers_throttle(&self) -> Throttle {
        Throttle {
            torque: self.drivers_torque,
            at: None,
            wait: Duration::from_s(CLUTCH_UP_AFTER_S),
            rise: Duration::from_s(0.3),
            eases: self.eases,
        }
    }

    /// Makes a car ready.
    ///
    /// # Errors
    /// Where there is no lever, or the surface's figures make no curve.
    pub fn of(car: &Car, laden: &Laden, surface: &Surface, reading: Assumed) -> Result<Self, TurnFault> {
        // The road is level: a turn knows no slope.
        let laden = &laden.on(Grade::LEVEL);
        let taken = car
            .drivetrain
            .centre
            .may_be()
            .into_iter()
            .find(|(word, _)| Some(*word) == reading.supposed)
            .map(|(_, centre)| {
                let mut car = car.clone();
                car.drivetrain.centre = centre;
                car
            });
        let car = taken.as_ref().unwrap_or(car);
        let lever = car.lever.as_ref().ok_or(TurnFault::NoLever)?;
        let hydraulics = Hydraulics::of(car, reading.warmth);
        let curve = GripCurve::of(surface)?;
        let lever_brake = match &lever.kind {
            LeverKind::Inline(_) => LeverBrake::None,
            LeverKind::Separate(_, brake) => LeverBrake::Caliper(TorqueLaw::of_disc(brake, reading.warmth)),
            LeverKind::Cable(_) => LeverBrake::Cable(
                hydraulics
                    .cable_torque(Force::from_n(1.0))
                    .map_or(0.0, |torque| torque.nm()),
            ),
        };
        let live_valve = car
            .bias_valve
            .as_ref()
            .filter(|valve| valve.senses_load())
            .map(|valve| LiveValve {
                network: Arc::clone(&hydraulics.network),
                valve: valve.clone(),
            });
        let brakes = Brakes {
            rear: hydraulics.wheels[2],
            lever: lever_brake,
            live_valve,
        };
        let driveline = Driveline::of(car, reading.turns_at, reading.beyond);
        let tyre = SurfaceGrip::new(&curve, car.tyres.load_sensitivity, laden.weight_n());
        Ok(Self {
            vehicle: Vehicle::new(car, laden, driveline, brakes, tyre),
            hydraulics,
            laden: *laden,
            stepping: reading.stepping,
            curve,
            load_sensitivity: car.tyres.load_sensitivity,
            front_keeps: front_keeps(surface),
            slip_at_peak: surface.slip_at_peak,
            drivers_torque: drivers_torque(car, laden, surface.peak),
            eases: car.drivetrain.driven == car::Driven::Rear,
        })
    }

    /// The car in plain numbers.
    #[must_use]
    pub const fn vehicle(&self) -> &Vehicle<SurfaceGrip> {
        &self.vehicle
    }

    /// What comes of a technique, judged by its bend; where the moment of letting go is to be the best, at that. Beside it
    /// stands whether a little grip changes the word and, where the moment is given, the best one.
    ///
    /// # Errors
    /// Where a number of it cannot be driven, or the motion cannot be followed.
    pub fn turn(&self, technique: &Technique) -> Result<Turn, TurnFault> {
        technique.check()?;
        let on_other_grip = [-BORDER_GRIP, BORDER_GRIP].map(|by| self.on_other_grip(by));
        let mut asked = vec![self.asked(technique)];
        asked.extend(on_other_grip.iter().map(|bench| Asked {
            depth: Depth::Word,
            ..bench.asked(technique)
        }));
        let is_given = technique.release != Release::Best;
        if is_given {
            asked.push(self.asked(&technique.at_best()));
        }
        let mut found = runs(&asked, tallies).into_iter();
        let mut next = || found.next().unwrap_or(Err(MotionFault { at_s: 0.0 }));
        let run = next()?;
        let mut on_the_border = false;
        for _ in &on_other_grip {
            on_the_border |= next()?.judged.verdict != run.judged.verdict;
        }
        let best = if is_given { Some(next()?) } else { None };
        let best = best.and_then(|best| {
            Some(BestMoment {
                released: Duration::from_s(best.tally.released_s?),
                verdict: best.judged.verdict,
            })
        });
        Ok(Turn {
            beside: Some(BesideIt { best, on_the_border }),
            ..self.shown(&run)?
        })
    }

    /// The same without what stands beside it.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn turn_alone(&self, technique: &Technique) -> Result<Turn, TurnFault> {
        technique.check()?;
        let mut found = runs(&[self.asked(technique)], tallies);
        let run = found.pop().unwrap_or(Err(MotionFault { at_s: 0.0 }))?;
        Ok(self.shown(&run)?)
    }

    const fn asked(&self, technique: &Technique) -> Asked<'_> {
        Asked {
            bench: self,
            technique: *technique,
            depth: Depth::Moment,
        }
    }

    /// A run that was judged, with its trace.
    fn shown(&self, run: &Run) -> Result<Turn, MotionFault> {
        let driven = self.driven(&run.technique)?;
        let without = self.without_lever(&run.technique, &driven)?;
        Ok(self.told(run, &driven, &without))
    }

    /// The technique at the entry speed with which it comes best through its bend: its own, or slower, as a driver who
    /// brakes before the bend would choose. The fastest that comes round is taken.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn at_its_entry(&self, technique: &Technique) -> Result<(Technique, Brief), TurnFault> {
        let mut found = at_their_entries(&[Ok((self.clone(), *technique))]);
        found.pop().unwrap_or(Err(MotionFault { at_s: 0.0 }.into()))
    }

    /// The same without the hand, everything else at the same moments and for as long.
    fn without_lever(&self, technique: &Technique, driven: &Driven) -> Result<Driven, MotionFault> {
        let last_s = driven.path.last().map_or(0.0, |node| node.time_s);
        let alone = Technique {
            // Short of what is followed until the car is out of its bend.
            until: Duration::from_s(last_s.clamp(1e-3, 0.999 * Technique::LONGEST.s())),
            ..technique.with_lever_left_alone(driven.released_s)
        };
        self.driven(&alone)
    }

    /// The motion of a technique alone, without what it amounts to.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn motion(&self, technique: &Technique) -> Result<Vec<(Duration, Motion)>, TurnFault> {
        technique.check()?;
        Ok(motions(&self.driven(technique)?.path))
    }

    pub(super) fn driven(&self, technique: &Technique) -> Result<Driven, MotionFault> {
        self.drives(&Job {
            following: technique.following(),
            ..Job::whole(self, *technique)
        })
    }

    /// A single run.
    pub(super) fn drives(&self, job: &Job<'_>) -> Result<Driven, MotionFault> {
        let technique = &job.technique;
        let known;
        let demand = if let Some(demand) = job.demand {
            demand
        } else {
            known = self.demand(technique);
            &known
        };
        let delay_s = self.vehicle.driveline.centre_delay_s;
        let start = job.from.map_or_else(|| self.start(technique), |mark| mark.state);
        let mut path = Vec::with_capacity(1024);
        let (mut released_s, from_s) = job.begins();
        let segments = demand.segments_from(technique, released_s, delay_s, from_s);
        let until = match technique.release {
            Release::Heading(angle) => Some(Until::Heading(angle.rad())),
            Release::At(_) | Release::Never | Release::Best => None,
        };
        let mut following = job.following;
        let ends = (until, &mut following);
        let ended = drive(&self.vehicle, start, &segments, self.stepping, ends, &mut path)?;
        if let (Ended::Reached, Some(last)) = (ended, path.last().copied()) {
            released_s = Some(last.time_s);
            let rest: Vec<Segment> = demand
                .segments(technique, released_s, delay_s)
                .into_iter()
                .filter(|segment| segment.from_s > last.time_s - 1e-9)
                .collect();
            let ends = (None, &mut following);
            drive(&self.vehicle, last.state, &rest, self.stepping, ends, &mut path)?;
        }
        Ok(Driven { path, released_s })
    }

    /// Time from the lever's first movement until both rear wheels stand: straight ahead, the pull rising within a tenth of
    /// a second. `None` where the car comes to rest before they do.
    pub(crate) fn straight_pull(
        &self,
        speed: Speed,
        hand: Force,
        clutch_up: bool,
    ) -> Result<Option<Duration>, MotionFault> {
        let technique = Technique {
            entry: speed,
            steer: Angle::ZERO,
            steer_at: Duration::ZERO,
            steer_in: Duration::ZERO,
            hand,
            lever_at: Duration::ZERO,
            lever_rise: Duration::from_s(0.1),
            clutch: if clutch_up {
                Clutch::Up
            } else {
                Clutch::DownAt(Duration::ZERO)
            },
            release: Release::Never,
            after: After::Hold,
            lock: Angle::ZERO,
            bend: Bend::HAIRPIN,
            throttle: None,
            foot: None,
            until: Duration::from_s(STOPPED_BY_S),
        };
        let demand = self.demand(&technique);
        let segments = demand.segments(&technique, None, self.vehicle.driveline.centre_delay_s);
        let start = self.start(&technique);
        let mut path = Vec::with_capacity(256);
        let until = Some(Until::RearStands(measure::MOVING_M_S));
        drive(
            &self.vehicle,
            start,
            &segments,
            self.stepping,
            (until, &mut None),
            &mut path,
        )?;
        Ok(measure::locking(&self.vehicle, &path, self.front_keeps).rear_from)
    }

    fn told(&self, run: &Run, driven: &Driven, without: &Driven) -> Turn {
        let (path, released_s) = (&driven.path, driven.released_s);
        let technique = &run.technique;
        let way: Vec<Place> = path
            .iter()
            .map(|node| Place::of(node.time_s, &node.state))
            .collect();
        let heading = headings(path, released_s);
        let without_lever = headings(&without.path, released_s);
        let locking = measure::locking(&self.vehicle, path, self.front_keeps);
        let trace = measure::trace(path, Duration::from_s(TRACE_S));
        let first_doing_s = technique
            .foot
            .map_or(f64::INFINITY, |foot| foot.at.s())
            .min(technique.steer_at.s())
            .min(technique.lever_at.s());
        Turn {
            technique: *technique,
            released: released_s.map(Duration::from_s),
            verdict: run.judged.verdict,
            judged: Judged {
                through: run.judged.through.begun(
                    &way,
                    &[0, 1, 2, 3].map(|wheel| self.vehicle.place(wheel)),
                    technique.side(),
                    &technique.bend,
                ),
                ..run.judged
            },
            nose_in: run.nose_in,
            beside: None,
            front_keeps: self.front_keeps,
            locking,
            heading,
            without_lever,
            yaw_rate_peak: measure::yaw_rate_peak(path),
            speed_at_release: released_s
                .and_then(|time_s| measure::at(path, time_s))
                .map(|state| measure::speed(&state)),
            speed_end: path
                .last()
                .map_or(technique.entry, |node| measure::speed(&node.state)),
            room: measure::room(&self.vehicle, path, first_doing_s),
            tracks: measure::tracks(&self.vehicle, &trace),
            trace,
        }
    }

    /// The same with one thing of the car or its ground changed.
    pub(super) fn varied(&self, varied: Varied, up: bool) -> Self {
        let mut other = self.clone();
        let by = if up { varied.by() } else { -varied.by() };
        match varied {
            Varied::YawInertia => other.vehicle.yaw_inertia_kg_m2 *= 1.0 + by,
            Varied::RollShare => {
                other.vehicle.roll_share_front = (other.vehicle.roll_share_front + by).clamp(0.0, 1.0);
            }
            Varied::Grip => return self.on_other_grip(by),
        }
        other
    }

    /// The same on ground that gives so much more; the shape stays, as where a grip is asked for in the place of a surface's.
    fn on_other_grip(&self, by: f64) -> Self {
        let mut other = self.clone();
        other.curve.peak_factor *= 1.0 + by;
        other.vehicle.tyre = SurfaceGrip::new(&other.curve, other.load_sensitivity, other.laden.weight_n());
        other
    }

    /// What a run amounts to.
    pub(super) fn tally(&self, driven: &Driven) -> Tally {
        let heading = headings(&driven.path, driven.released_s);
        let locking = measure::locking(&self.vehicle, &driven.path, self.front_keeps);
        Tally {
            released_s: driven.released_s,
            at_release_rad: heading.at_release.map(Angle::rad),
            end_rad: heading.end.rad(),
            rear_for_s: locking.rear_for.s(),
            front_speed_ratio: locking.front_speed_ratio,
            ..Tally::default()
        }
    }

    /// What a technique amounts to, without its trace.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn brief_of(&self, technique: &Technique) -> Result<Brief, TurnFault> {
        let mut found = briefs_of_each(&[Ok((self.clone(), *technique))], Depth::Moment);
        found.pop().unwrap_or(Err(MotionFault { at_s: 0.0 }.into()))
    }
}

/// Torque at the crank with which the driven wheels take their share of what the ground under them gives.
fn drivers_torque(car: &Car, laden: &Laden, grip: f64) -> Torque {
    let still = laden.axle_loads(0.0);
    let load = match car.drivetrain.driven {
        car::Driven::Front => still.front,
        car::Driven::Rear => still.rear,
        car::Driven::All => still.front + still.rear,
    };
    let radius = match car.drivetrain.driven {
        car::Driven::Rear => car.tyres.rear_radius,
        car::Driven::Front | car::Driven::All => car.tyres.front_radius,
    };
    let geared = car.drivetrain.final_drive * car.drivetrain.gear;
    let torque_nm = DRIVERS_SHARE * grip * load.n() * radius.m() / geared;
    Torque::from_nm(torque_nm.min(MOST_TORQUE_NM))
}

/// A car made ready and what its driver does, or what keeps it from being either.
pub(crate) type Ready = Result<(TurnBench, Technique), TurnFault>;

/// What each of many techniques amounts to, each in a car of its own.
pub(crate) fn briefs_of_each(ready: &[Ready], depth: Depth) -> Vec<Result<Brief, TurnFault>> {
    let can = |ready: &Ready| -> Result<(), TurnFault> {
        let (_, technique) = ready.as_ref().map_err(Clone::clone)?;
        Ok(technique.check()?)
    };
    let asked: Vec<Asked<'_>> = ready
        .iter()
        .filter(|ready| can(ready).is_ok())
        .flatten()
        .map(|(bench, technique)| Asked {
            bench,
            technique: *technique,
            depth,
        })
        .collect();
    let mut found = runs(&asked, tallies).into_iter();
    ready
        .iter()
        .map(|ready| {
            can(ready)?;
            let run = found.next().unwrap_or(Err(MotionFault { at_s: 0.0 }))?;
            Ok(run.brief())
        })
        .collect()
}

/// [`TurnBench::at_its_entry`] of each.
pub(crate) fn at_their_entries(ready: &[Ready]) -> Vec<Result<(Technique, Brief), TurnFault>> {
    let each: Vec<Ready> = ready
        .iter()
        .flat_map(|ready| {
            ENTRIES.map(|share| {
                let (bench, technique) = ready.as_ref().map_err(Clone::clone)?;
                let slower = Technique {
                    entry: technique.entry * share,
                    ..*technique
                };
                Ok((bench.clone(), slower))
            })
        })
        .collect();
    let briefs = briefs_of_each(&each, Depth::Word);
    each.chunks(ENTRIES.len())
        .zip(briefs.chunks(ENTRIES.len()))
        .map(|(each, briefs)| {
            let mut best: Option<(Technique, Brief)> = None;
            for (ready, brief) in each.iter().zip(briefs) {
                let (_, technique) = ready.as_ref().map_err(Clone::clone)?;
                let brief = brief.clone()?;
                let better = best
                    .as_ref()
                    .is_none_or(|(_, known)| brief.judged.rank().0 > known.judged.rank().0);
                if better {
                    best = Some((*technique, brief));
                }
            }
            best.ok_or_else(|| MotionFault { at_s: 0.0 }.into())
        })
        .collect()
}

fn headings(path: &[Node], released_s: Option<f64>) -> Headings {
    let heading = |time_s: f64| measure::at(path, time_s).map(|state| measure::heading(&state));
    Headings {
        at_release: released_s.and_then(heading),
        end: path
            .last()
            .map_or(Angle::ZERO, |node| measure::heading(&node.state)),
    }
}

/// A technique driven once, as the sheet reads.
///
/// # Errors
/// Where there is no lever, the surface's figures make no curve, or a number of the technique cannot be driven.
pub fn run(car: &Car, laden: &Laden, surface: &Surface, technique: &Technique) -> Result<Turn, TurnFault> {
    TurnBench::of(car, laden, surface, Assumed::default())?.turn(technique)
}

/// Follows any vehicle on any tyres through segments of time: the simulation without a sheet behind it.
///
/// # Errors
/// Where the motion cannot be followed.
pub fn follow<T: Tyre>(
    vehicle: &Vehicle<T>,
    start: &Motion,
    segments: &[Segment],
    stepping: Stepping,
) -> Result<Vec<(Duration, Motion)>, MotionFault> {
    let mut path = Vec::new();
    drive(
        vehicle,
        start.state(),
        segments,
        stepping,
        (None, &mut None),
        &mut path,
    )?;
    Ok(motions(&path))
}

/// What [`follow`] gave, sampled at even times: places and heading by the speeds there, the rest straight between.
#[must_use]
pub fn sampled(path: &[(Duration, Motion)], every: Duration) -> Trace {
    let states: Vec<_> = path
        .iter()
        .map(|(time, motion)| (time.s(), motion.state()))
        .collect();
    let rates = |from: usize, at: usize| {
        let ((from_s, before), (to_s, after)) = (states[from], states[from + 1]);
        let mut rates = before;
        for (rate, to) in rates.iter_mut().zip(&after) {
            *rate = if to_s > from_s {
                (to - *rate) / (to_s - from_s)
            } else {
                0.0
            };
        }
        measure::moves(&states[at].1, &mut rates);
        rates
    };
    let last = states.len().saturating_sub(1);
    let nodes: Vec<Node> = states
        .iter()
        .enumerate()
        .filter(|_| last > 0)
        .map(|(at, &(time_s, state))| Node {
            time_s,
            state,
            arriving: rates(at.saturating_sub(1), at),
            leaving: rates(at.min(last - 1), at),
            pulled: false,
            rear_braked: false,
        })
        .collect();
    measure::trace(&nodes, every)
}

fn motions(path: &[Node]) -> Vec<(Duration, Motion)> {
    path.iter()
        .map(|node| (Duration::from_s(node.time_s), Motion::of(&node.state)))
        .collect()
}
