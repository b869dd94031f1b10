//! A laden car on a surface, driven.

use quantity::si::{Angle, Duration, Force, Speed, Torque};

use crate::brake::{TorqueLaw, Warmth};
use crate::car::{self, Car, LeverKind, Surface};
use crate::hydraulics::Hydraulics;
use crate::lever;
use crate::loads::{Grade, Laden};
use crate::tyre::GripCurve;

use super::bend::{Bend, Through};
use super::contact::{SurfaceGrip, Tyre};
use super::demand::Demand;
use super::driveline::Driveline;
use super::integrate::{Lost, Node, Stepping, Until, drive};
use super::measure::{self, Locking};
use super::motion::{FORWARD, Motion, SIDEWAYS, State};
use super::script::Segment;
use super::study::{Brief, Varied};
use super::technique::{After, Clutch, Release, Technique, Throttle};
use super::vehicle::{Brakes, LeverBrake, LiveValve, Vehicle};
use super::verdict::{Judged, LEVER_GIVES, front_keeps};
use super::{BestMoment, Headings, NoTurn, Reading, Trace, Turn, Verdict};

/// How much of what the driven wheels' ground gives a driver takes out of a bend (judgement), and the most torque at the
/// crank that is reckoned with [N m] (judgement): the sheet does not know the engine.
const DRIVERS_SHARE: f64 = 0.6;
const MOST_TORQUE_NM: f64 = 250.0;

/// After letting go, a driver has the hand back on the wheel and the clutch up, the wheels rolling again (s) (judgement).
const CLUTCH_UP_AFTER_S: f64 = 0.5;

/// Moments of letting go that are tried first, and how often the distance to the neighbours of the best is halved then.
const MOMENTS: u32 = 8;
const HALVINGS: u32 = 2;

/// Entry speeds that a driver chooses from, over the one that is asked for.
const ENTRIES: [f64; 4] = [1.0, 0.8, 0.65, 0.5];

/// A word that grip so much off would change is on the border.
const BORDER_GRIP: f64 = 0.03;

/// Below this speed a path has no direction (m/s).
const PATH_FROM_M_S: f64 = 1.0;

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
    /// Makes a car ready.
    ///
    /// # Errors
    /// Where there is no lever, or the surface's figures make no curve.
    pub fn of(car: &Car, laden: &Laden, surface: &Surface, reading: Reading) -> Result<Self, NoTurn> {
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
        let lever = car.lever.as_ref().ok_or(NoTurn::NoLever)?;
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
                network: hydraulics.network.clone(),
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
            vehicle: Vehicle::of(car, laden, driveline, brakes, tyre),
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

    /// What comes of a technique.
    ///
    /// # Errors
    /// Where a number of it cannot be driven, or the motion cannot be followed.
    pub fn turn(&self, technique: &Technique) -> Result<Turn, NoTurn> {
        technique.check()?;
        let run = self.judged_run(technique)?;
        let best = if technique.release == Release::Best {
            None
        } else {
            let best = self.judged_run(&technique.at_best())?;
            best.driven.released_s.map(|at_s| BestMoment {
                released: Duration::from_s(at_s),
                verdict: best.judged.verdict,
            })
        };
        let without = self.without_lever(&run.technique, run.driven.released_s)?;
        let mut on_the_border = false;
        for share in [-BORDER_GRIP, BORDER_GRIP] {
            let other = self.on_other_grip(share).judged_run(technique)?;
            on_the_border |= other.judged.verdict != run.judged.verdict;
        }
        Ok(self.told(run, &without, best, on_the_border))
    }

    /// A technique driven and judged by its bend. Where the moment of letting go is to be the best, it is looked for, and the
    /// technique that comes back has it.
    pub(super) fn judged_run(&self, technique: &Technique) -> Result<Run, Lost> {
        if technique.release == Release::Best {
            return self.best_run(technique);
        }
        let driven = self.driven(technique)?;
        let released_s = driven.released_s;
        let nose_without = match released_s {
            Some(at_s) => nose_in_at(&self.without_until(technique, at_s)?, at_s, technique.side()),
            None => None,
        };
        Ok(self.judged(*technique, driven, nose_without))
    }

    fn judged(&self, technique: Technique, driven: Driven, nose_without: Option<f64>) -> Run {
        let side = technique.side();
        let nose = driven
            .released_s
            .and_then(|at_s| nose_in_at(&driven.path, at_s, side));
        let gave = nose
            .zip(nose_without)
            .map(|(with, without)| Angle::from_rad(with - without));
        let through = Through::of(&self.vehicle, &driven.path, side, &technique.bend);
        let locking = measure::locking(&self.vehicle, &driven.path, self.front_keeps);
        let judged = Judged::of(
            &technique.bend,
            through,
            gave,
            locking.front_speed_ratio,
            self.front_keeps,
        );
        Run {
            technique,
            driven,
            judged,
            locking,
            nose_in: [nose, nose_without].map(|nose| nose.map(Angle::from_rad)),
        }
    }

    /// The technique at the entry speed with which it comes best through its bend: its own, or slower, as a driver who
    /// brakes before the bend would choose. The fastest that comes round is taken.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn at_its_entry(&self, technique: &Technique) -> Result<(Technique, Brief), NoTurn> {
        technique.check()?;
        let mut best: Option<(Technique, Run)> = None;
        for share in ENTRIES {
            let slower = Technique {
                entry: technique.entry * share,
                ..*technique
            };
            let run = self.judged_run(&slower)?;
            let better = best
                .as_ref()
                .is_none_or(|(_, known)| run.judged.rank().0 > known.judged.rank().0);
            if better {
                best = Some((slower, run));
            }
            if best
                .as_ref()
                .is_some_and(|(_, run)| run.judged.verdict == Verdict::ComesRound)
            {
                break;
            }
        }
        let (technique, run) = best.ok_or(Lost { at_s: 0.0 })?;
        Ok((technique, run.brief()))
    }

    /// The run without the lever up to a moment, the wheel held.
    fn without_until(&self, technique: &Technique, until_s: f64) -> Result<Vec<Node>, Lost> {
        let without = Technique {
            release: Release::Never,
            // Short of what is followed until the car is out of its bend.
            until: Duration::from_s(until_s.min(19.9)),
            ..technique.without_lever()
        };
        Ok(self.driven(&without)?.path)
    }

    /// The one pulled run, and the moments of letting go tried as its branches.
    fn best_run(&self, technique: &Technique) -> Result<Run, Lost> {
        let technique = Technique {
            throttle: technique.throttle.or(Some(Throttle {
                torque: self.drivers_torque,
                at: None,
                wait: Duration::from_s(CLUTCH_UP_AFTER_S),
                rise: Duration::from_s(0.3),
                eases: self.eases,
            })),
            ..*technique
        };
        let demand = self.demand(&technique);
        let delay_s = self.vehicle.driveline.centre_delay_s;
        let side = technique.side();
        let segments = demand.segments(&technique, None, delay_s);
        let mut pulled = Vec::with_capacity(512);
        let until = Until::Through {
            side,
            angle_rad: None,
        };
        drive(
            &self.vehicle,
            self.start(&technique),
            &segments,
            self.stepping,
            Some(until),
            &mut pulled,
        )?;
        let latest_s = pulled.last().map_or(0.0, |node| node.time_s);
        let earliest_s = (technique.lever_at + technique.lever_rise).s().min(latest_s);
        let without = self.without_until(&technique, latest_s.max(1e-3))?;
        let until = Until::Through {
            side,
            angle_rad: Some(technique.bend.angle.rad().abs()),
        };
        let mut tried: Vec<usize> = Vec::new();
        let mut best: Option<Run> = None;
        let mut attempt =
            |at_s: f64, only_where_it_gives: bool, best: &mut Option<Run>| -> Result<(), Lost> {
                let at = pulled
                    .partition_point(|node| node.time_s < at_s)
                    .min(pulled.len() - 1);
                if tried.contains(&at) {
                    return Ok(());
                }
                let off_s = pulled[at].time_s;
                let nose_without = nose_in_at(&without, off_s, side);
                let gives = nose_in_at(&pulled, off_s, side)
                    .zip(nose_without)
                    .is_some_and(|(with, without)| with - without >= LEVER_GIVES.rad());
                // Only where the lever has done its part can the car come round: those are tried first, and once one of them
                // does, no other is.
                let round = best.as_ref().is_some_and(|best| best.judged.verdict.is_round());
                if !gives && (only_where_it_gives || round) {
                    return Ok(());
                }
                tried.push(at);
                let rest: Vec<Segment> = demand
                    .segments(&technique, Some(off_s), delay_s)
                    .into_iter()
                    .filter(|segment| segment.from_s > off_s - 1e-9)
                    .collect();
                let mut path = pulled[..=at].to_vec();
                drive(
                    &self.vehicle,
                    pulled[at].state,
                    &rest,
                    self.stepping,
                    Some(until),
                    &mut path,
                )?;
                let released = Technique {
                    release: Release::At(Duration::from_s(off_s)),
                    ..technique
                };
                let driven = Driven {
                    path,
                    released_s: Some(off_s),
                };
                let run = self.judged(released, driven, nose_without);
                if best
                    .as_ref()
                    .is_none_or(|known| run.judged.rank() > known.judged.rank())
                {
                    *best = Some(run);
                }
                Ok(())
            };
        let mut between_s = (latest_s - earliest_s) / f64::from(MOMENTS - 1);
        for only_where_it_gives in [true, false] {
            for moment in 0..MOMENTS {
                let at_s = earliest_s + f64::from(moment) * between_s;
                attempt(at_s, only_where_it_gives, &mut best)?;
            }
        }
        for _ in 0..HALVINGS {
            between_s *= 0.5;
            let middle_s = best
                .as_ref()
                .and_then(|best| best.driven.released_s)
                .unwrap_or(earliest_s);
            for at_s in [middle_s - between_s, middle_s + between_s] {
                attempt(at_s.clamp(earliest_s, latest_s), false, &mut best)?;
            }
        }
        best.ok_or(Lost { at_s: latest_s })
    }

    fn demand(&self, technique: &Technique) -> Demand {
        Demand::of(&self.hydraulics, &self.laden, self.slip_at_peak, technique)
    }

    fn start(&self, technique: &Technique) -> State {
        let [front, rear] = self.vehicle.radii_m;
        Motion::rolling(technique.entry.m_s(), front, rear).state()
    }

    /// The same without the hand, everything else at the same moments.
    pub(super) fn without_lever(
        &self,
        technique: &Technique,
        released_s: Option<f64>,
    ) -> Result<Driven, Lost> {
        self.driven(&Technique {
            release: released_s.map_or(Release::Never, |at| Release::At(Duration::from_s(at))),
            ..technique.without_lever()
        })
    }

    /// The motion of a technique alone, without what it amounts to.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn motion(&self, technique: &Technique) -> Result<Vec<(Duration, Motion)>, NoTurn> {
        technique.check()?;
        Ok(motions(&self.driven(technique)?.path))
    }

    pub(super) fn driven(&self, technique: &Technique) -> Result<Driven, Lost> {
        let demand = self.demand(technique);
        let delay_s = self.vehicle.driveline.centre_delay_s;
        let start = self.start(technique);
        let mut path = Vec::with_capacity(1024);
        let mut released_s = Demand::known_release_s(technique);
        let through = technique.is_followed_through().then(|| Until::Through {
            side: technique.side(),
            angle_rad: Some(technique.bend.angle.rad().abs()),
        });
        let segments = demand.segments(technique, released_s, delay_s);
        let until = match technique.release {
            Release::Heading(angle) => Some(Until::Heading(angle.rad())),
            Release::At(_) | Release::Never | Release::Best => through,
        };
        let reached = drive(&self.vehicle, start, &segments, self.stepping, until, &mut path)?;
        let by_heading = matches!(until, Some(Until::Heading(_)));
        if let (true, true, Some(last)) = (by_heading, reached, path.last().copied()) {
            released_s = Some(last.time_s);
            let rest: Vec<Segment> = demand
                .segments(technique, released_s, delay_s)
                .into_iter()
                .filter(|segment| segment.from_s > last.time_s - 1e-9)
                .collect();
            drive(
                &self.vehicle,
                last.state,
                &rest,
                self.stepping,
                through,
                &mut path,
            )?;
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
    ) -> Result<Option<Duration>, Lost> {
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
        let until = Until::RearStands(measure::MOVING_M_S);
        drive(
            &self.vehicle,
            start,
            &segments,
            self.stepping,
            Some(until),
            &mut path,
        )?;
        Ok(measure::locking(&self.vehicle, &path, self.front_keeps).rear_from)
    }

    fn told(&self, run: Run, without: &Driven, best: Option<BestMoment>, on_the_border: bool) -> Turn {
        let (path, released_s) = (&run.driven.path, run.driven.released_s);
        let technique = run.technique;
        let trace = measure::trace(path, Duration::from_s(TRACE_S));
        let first_doing_s = technique
            .foot
            .map_or(f64::INFINITY, |foot| foot.at.s())
            .min(technique.steer_at.s())
            .min(technique.lever_at.s());
        Turn {
            released: released_s.map(Duration::from_s),
            verdict: run.judged.verdict,
            judged: run.judged,
            best,
            on_the_border,
            nose_in: run.nose_in,
            front_keeps: self.front_keeps,
            locking: run.locking,
            heading: headings(path, released_s),
            without_lever: headings(&without.path, released_s),
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
            technique,
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

    /// What a technique amounts to, without its trace: for many runs.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn brief_of(&self, technique: &Technique) -> Result<Brief, NoTurn> {
        technique.check()?;
        let run = self.judged_run(technique)?;
        Ok(run.brief())
    }
}

/// A technique, driven and judged.
pub(super) struct Run {
    /// With the moment of letting go that was taken.
    pub(super) technique: Technique,
    pub(super) driven: Driven,
    pub(super) judged: Judged,
    pub(super) locking: Locking,
    /// How far the car looks into the bend against its path at letting go, with the lever and without.
    pub(super) nose_in: [Option<Angle>; 2],
}

impl Run {
    fn brief(&self) -> Brief {
        Brief {
            verdict: self.judged.verdict,
            judged: self.judged,
            released: self.driven.released_s.map(Duration::from_s),
            heading: headings(&self.driven.path, self.driven.released_s),
            rear_for: self.locking.rear_for,
            front_speed_ratio: self.locking.front_speed_ratio,
        }
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

/// How far a car looks into a bend to a side against the direction of its path (rad); `None` where it is too slow for its
/// path to have one.
fn nose_in_at(path: &[Node], time_s: f64, side: f64) -> Option<f64> {
    let state = measure::at(path, time_s)?;
    let (forward, sideways) = (state[FORWARD], state[SIDEWAYS]);
    (forward.hypot(sideways) >= PATH_FROM_M_S).then(|| -side * sideways.atan2(forward))
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
pub fn run(car: &Car, laden: &Laden, surface: &Surface, technique: &Technique) -> Result<Turn, NoTurn> {
    TurnBench::of(car, laden, surface, Reading::default())?.turn(technique)
}

/// The reading of the centre coupling that leaves a pull least in hand, where the sheet leaves several open: it decides.
#[must_use]
pub fn deciding(car: &Car, laden: &Laden, pull: lever::Pull, warmth: Warmth) -> Reading {
    let reading = lever::LeverBench::of(car, warmth)
        .and_then(|bench| bench.answer(laden, pull).to_lock.reading)
        .map_or_else(Reading::default, |reading| Reading::of(&reading));
    Reading { warmth, ..reading }
}

/// A technique with the centre coupling read in every other way that the sheet leaves open than the one of `used`: where
/// it turns, and how its curve goes on. None where the sheet leaves nothing open that matters at this speed. With
/// `own_entry` each comes in as fast as it best does, up to the technique's speed.
#[must_use]
pub fn read_otherwise(
    car: &Car,
    laden: &Laden,
    surface: &Surface,
    technique: &Technique,
    used: Reading,
    own_entry: bool,
) -> Vec<(lever::Reading, Brief)> {
    let pull = lever::Pull {
        hand: technique.hand,
        grip: surface.peak,
        speed: technique.entry,
    };
    let Some(bench) = lever::LeverBench::of(car, used.warmth) else {
        return Vec::new();
    };
    let answer = bench.answer(laden, pull);
    answer
        .to_lock
        .reading
        .into_iter()
        .chain(answer.also.iter().map(|(reading, _)| *reading))
        .map(|reading| {
            let run = Reading {
                warmth: used.warmth,
                stepping: used.stepping,
                ..Reading::of(&reading)
            };
            (reading, run)
        })
        .filter(|(_, run)| *run != used)
        .filter_map(|(reading, run)| {
            let brief = TurnBench::of(car, laden, surface, run)
                .and_then(|bench| {
                    if own_entry {
                        bench.at_its_entry(technique).map(|(_, brief)| brief)
                    } else {
                        bench.brief_of(technique)
                    }
                })
                .ok()?;
            Some((reading, brief))
        })
        .collect()
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
) -> Result<Vec<(Duration, Motion)>, Lost> {
    let mut path = Vec::new();
    drive(vehicle, start.state(), segments, stepping, None, &mut path)?;
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
