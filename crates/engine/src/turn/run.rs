//! A laden car on a surface, driven.

use std::sync::Arc;

use quantity::si::{Angle, Duration, Force, Speed, Torque};

use crate::brake::TorqueLaw;
use crate::car::{self, Car, LeverKind, Surface};
use crate::hydraulics::Hydraulics;
use crate::loads::{Grade, Laden};
use crate::tyre::GripCurve;

use super::bend::Bend;
use super::contact::{SurfaceGrip, Tyre};
use super::demand::Demand;
use super::driveline::Driveline;
use super::following::Following;
use super::integrate::{Ended, MotionFault, Node, Stepping, Until, drive};
use super::measure::{self, Mark, Tally};
use super::motion::{Motion, State};
use super::script::Segment;
use super::technique::{After, Clutch, Release, Technique, Throttle};
use super::varied::Varied;
use super::vehicle::{Brakes, LeverBrake, LiveValve, Vehicle};
use super::verdict::front_keeps;
use super::{Assumed, Headings, Trace, Turn, TurnFault};

/// How much of what the driven wheels' ground gives a driver takes out of a bend (judgement), and the most torque at the
/// crank that is reckoned with [N m] (judgement): the sheet does not know the engine.
const DRIVERS_SHARE: f64 = 0.6;
const MOST_TORQUE_NM: f64 = 250.0;

/// After letting go, a driver has the hand back on the wheel and the clutch up, the wheels rolling again (s) (judgement).
const CLUTCH_UP_AFTER_S: f64 = 0.5;

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

/// A car made ready and what its driver does, or what keeps it from being either.
pub(crate) type Ready = Result<(TurnBench, Technique), TurnFault>;

pub(super) fn driveable(ready: &Ready) -> Result<(&TurnBench, Technique), TurnFault> {
    let (bench, technique) = ready.as_ref().map_err(Clone::clone)?;
    technique.check()?;
    Ok((bench, *technique))
}

/// A path with the moment of its release.
pub(super) struct Driven {
    pub(super) path: Vec<Node>,
    pub(super) released_s: Option<f64>,
}

impl TurnBench {
    /// The same car, its time stepped through otherwise.
    #[must_use]
    pub fn stepped(&self, stepping: Stepping) -> Self {
        Self {
            stepping,
            ..self.clone()
        }
    }

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

    /// The motion of a technique alone, without what it amounts to.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn motion(&self, technique: &Technique) -> Result<Vec<(Duration, Motion)>, TurnFault> {
        technique.check()?;
        Ok(motions(&self.driven(technique)?.path))
    }

    pub(super) fn driven(&self, technique: &Technique) -> Result<Driven, MotionFault> {
        self.drives(technique, (None, None), technique.following())
    }

    /// A single run.
    /// What it asks of the brakes, where that is known, and where it branches off another run.
    pub(super) fn drives(
        &self,
        technique: &Technique,
        (demand, from): (Option<&Demand>, Option<&Mark>),
        mut following: Option<Following>,
    ) -> Result<Driven, MotionFault> {
        let known;
        let demand = if let Some(demand) = demand {
            demand
        } else {
            known = self.demand(technique);
            &known
        };
        let delay_s = self.vehicle.driveline.centre_delay_s;
        let start = from.map_or_else(|| self.start(technique), |mark| mark.state);
        let mut path = Vec::with_capacity(1024);
        let (mut released_s, from_s) = match from {
            Some(mark) => (Some(mark.time_s), mark.time_s),
            None => (Demand::known_release_s(technique), 0.0),
        };
        let segments = demand.segments_from(technique, released_s, delay_s, from_s);
        let until = match technique.release {
            Release::Heading(angle) => Some(Until::Heading(angle.rad())),
            Release::At(_) | Release::Never | Release::Best => None,
        };
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
    pub(super) fn on_other_grip(&self, by: f64) -> Self {
        let mut other = self.clone();
        other.curve.peak_factor *= 1.0 + by;
        other.vehicle.tyre = SurfaceGrip::new(&other.curve, other.load_sensitivity, other.laden.weight_n());
        other
    }

    /// What a run amounts to.
    pub(super) fn tally(&self, driven: &Driven) -> Tally {
        let heading = headings(&driven.path, driven.released_s, f64::INFINITY);
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

/// Headings of a path that is over at a moment (s), or with its last step.
pub(super) fn headings(path: &[Node], released_s: Option<f64>, over_s: f64) -> Headings {
    let heading = |time_s: f64| measure::at(path, time_s).map(|state| measure::heading(&state));
    Headings {
        at_release: released_s.and_then(heading),
        end: heading(over_s).unwrap_or(Angle::ZERO),
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
    measure::trace(&nodes, every, f64::INFINITY)
}

fn motions(path: &[Node]) -> Vec<(Duration, Motion)> {
    path.iter()
        .map(|node| (Duration::from_s(node.time_s), Motion::of(&node.state)))
        .collect()
}
