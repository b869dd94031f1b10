//! A laden car on a surface, driven.

use std::sync::Arc;

use quantity::si::{Angle, Duration, Force, Speed};

use crate::brake::TorqueLaw;
use crate::car::{Car, LeverKind, Surface};
use crate::hydraulics::Hydraulics;
use crate::loads::{Grade, Laden};
use crate::tyre::GripCurve;

use super::contact::{SurfaceGrip, Tyre};
use super::demand::Demand;
use super::driveline::Driveline;
use super::integrate::{MotionFault, Node, Stepping, Until, drive};
use super::measure::{self, Tally};
use super::motion::Motion;
use super::script::Segment;
use super::technique::{After, Clutch, Release, Technique};
use super::varied::Varied;
use super::vehicle::{Brakes, LeverBrake, LiveValve, Vehicle};
use super::verdict::front_keeps;
use super::{Assumed, Brief, Headings, Trace, Turn, TurnFault, TurnVerdict};

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
        Demand::of(&self.hydraulics, &self.laden, technique)
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
    pub fn turn(&self, technique: &Technique) -> Result<Turn, TurnFault> {
        technique.check()?;
        let driven = self.driven(technique)?;
        let without = self.without_lever(technique, driven.released_s)?;
        Ok(self.told(technique, &driven, &without))
    }

    /// The same without the hand, everything else at the same moments.
    pub(super) fn without_lever(
        &self,
        technique: &Technique,
        released_s: Option<f64>,
    ) -> Result<Driven, MotionFault> {
        self.driven(&technique.with_lever_left_alone(released_s))
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
        let demand = self.demand(technique);
        let delay_s = self.vehicle.driveline.centre_delay_s;
        let [front, rear] = self.vehicle.radii_m;
        let start = Motion::rolling(technique.entry.m_s(), front, rear).state();
        let mut path = Vec::with_capacity(1024);
        let mut released_s = Demand::known_release_s(technique);
        let segments = demand.segments(technique, released_s, delay_s);
        let until = match technique.release {
            Release::Heading(angle) => Some(Until::Heading(angle.rad())),
            Release::At(_) | Release::Never => None,
        };
        let reached = drive(&self.vehicle, start, &segments, self.stepping, until, &mut path)?;
        if let (true, Some(last)) = (reached, path.last().copied()) {
            released_s = Some(last.time_s);
            let rest: Vec<Segment> = demand
                .segments(technique, released_s, delay_s)
                .into_iter()
                .filter(|segment| segment.from_s > last.time_s - 1e-9)
                .collect();
            drive(&self.vehicle, last.state, &rest, self.stepping, None, &mut path)?;
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
            throttle: None,
            foot: None,
            until: Duration::from_s(STOPPED_BY_S),
        };
        let demand = self.demand(&technique);
        let segments = demand.segments(&technique, None, self.vehicle.driveline.centre_delay_s);
        let [front, rear] = self.vehicle.radii_m;
        let start = Motion::rolling(speed.m_s(), front, rear).state();
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

    fn told(&self, technique: &Technique, driven: &Driven, without: &Driven) -> Turn {
        let (path, released_s) = (&driven.path, driven.released_s);
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
            verdict: TurnVerdict::judged(
                technique,
                &heading,
                &without_lever,
                locking.front_speed_ratio,
                self.front_keeps,
            ),
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
            Varied::Grip => {
                // The shape stays, as where a grip is asked for in the place of a surface's.
                other.curve.peak_factor *= 1.0 + by;
                other.vehicle.tyre =
                    SurfaceGrip::new(&other.curve, other.load_sensitivity, other.laden.weight_n());
            }
        }
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
            way: Vec::new(),
        }
    }

    /// What a technique amounts to, from its run and the one without the lever.
    pub(super) fn brief(&self, technique: &Technique, with: &Tally, without: &Tally) -> Brief {
        let headings = |tally: &Tally| Headings {
            at_release: tally.at_release_rad.map(Angle::from_rad),
            end: Angle::from_rad(tally.end_rad),
        };
        let (heading, without_lever) = (headings(with), headings(without));
        Brief {
            verdict: TurnVerdict::judged(
                technique,
                &heading,
                &without_lever,
                with.front_speed_ratio,
                self.front_keeps,
            ),
            heading,
            without_lever,
            rear_for: Duration::from_s(with.rear_for_s),
            front_speed_ratio: with.front_speed_ratio,
        }
    }

    /// What a technique amounts to, without its trace.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn brief_of(&self, technique: &Technique) -> Result<Brief, TurnFault> {
        technique.check()?;
        let driven = self.driven(technique)?;
        let without = self.without_lever(technique, driven.released_s)?;
        Ok(self.brief(technique, &self.tally(&driven), &self.tally(&without)))
    }
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
