//! Can the hand stop the rear wheels, and what does it take? Straight ahead, quasi-static.

use std::borrow::Cow;

use crate::equations;
use crate::thresholds::LATE;
use quantity::si::{Duration, Force, Length, Pressure, Rotation, Speed, Torque, Volume};

pub use crate::conditions::Pull;

use crate::brake::Warmth;
use crate::car::{Brake, Car, Centre, Coupling, Driven, Lever, LeverKind, Route, Surface, ValvePlace, Wheel};
use crate::drivetrain::{Beyond, CouplingReading, TurnsAt, acting, carried_nm, places, turns_per_wheel_turn};
use crate::hydraulics::{Forces, Hydraulics};
use crate::loads::Laden;
use crate::turn;

/// What happens at the driver's pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhatStops {
    /// The rear wheels stop, the front wheels roll.
    Rear,
    /// The coupling drags the front wheels to a stop too.
    AllFour,
    /// Nothing stops.
    None,
}

/// What it takes to stop the rear axle, and what the driver's pull gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToLock {
    /// At the driver's pull, with the stroke and the room there are.
    pub outcome: WhatStops,
    /// Load of the rear axle while it is locked.
    pub rear_load: Force,
    /// Braking rate with the rear axle locked.
    pub rate: f64,
    /// Torque of both rear wheels' brakes that it takes.
    pub torque_needed: Torque,
    /// Of which the coupling carries back from the front wheels.
    pub of_which_coupling: Torque,
    /// Torque of both rear wheels' brakes at the driver's pull.
    pub torque_available: Torque,
    /// Pressure at the brakes that it takes; `None` with a cable.
    pub pressure: Option<Pressure>,
    /// Pressure in the lever's cylinder that it takes; `None` with a cable, or where a limiting valve caps the brakes'.
    pub own: Option<Pressure>,
    /// Force of the hand that it takes; `None` where a limiting valve caps the pressure.
    pub hand: Option<Force>,
    /// Travel of the grip that it takes; `None` with a cable, or where a limiting valve caps the pressure.
    pub travel: Option<Length>,
    /// Stroke of the cylinder that it takes.
    pub stroke: Option<Length>,
    /// Whether the driver's pull is enough.
    pub enough_force: bool,
    /// Whether stroke and room are enough; `None` with a cable, or where the pressure is capped.
    pub enough_travel: Option<bool>,
    /// Torque there is over torque needed.
    pub in_hand: f64,
    /// Time from the lever's first movement until both rear wheels stand, the pull rising within 0.1 s, clutch down,
    /// no steer; `None` where they do not, or where nobody asked.
    pub time_to_lock: Option<Duration>,
    /// Whether the car comes to rest before its rear wheels do; never where nobody asked for the time.
    pub stands_first: bool,
    /// Torque that the coupling could carry over what the front wheels can give: below 0.4 the car turns, above 0.65
    /// the turn is spoilt, from 1 on all four stop. `None` where the centre is locked; 0 without a coupling.
    pub drag: Option<f64>,
    /// How the coupling was read; `None` without one, or where it is locked.
    pub reading: Option<CouplingReading>,
}

impl ToLock {
    /// Whether the rear stops, but late: with little in hand, or only when the car has come to rest.
    #[must_use]
    pub fn is_late(&self) -> bool {
        self.outcome != WhatStops::None && (self.in_hand < LATE || self.stands_first)
    }
}

/// The lever's whole answer.
#[derive(Clone, Debug, PartialEq)]
pub struct LeverAnswer {
    /// As asked, the coupling read in the way that leaves least in hand.
    pub to_lock: ToLock,
    /// With cold friction, the coupling read likewise.
    pub cold: ToLock,
    /// Whether the front wheels are dragged to a stop too once the rear stands.
    pub front_dragged: bool,
    /// Every other way of reading the coupling, with what then happens.
    pub also: Vec<(CouplingReading, ToLock)>,
}

impl LeverAnswer {
    /// The reading that a drawn car takes, all being equally likely; the deciding one where nothing was drawn.
    #[must_use]
    pub fn drawn(&self, car: &Car) -> &ToLock {
        let Some(share) = car.drivetrain.reading_drawn else {
            return &self.to_lock;
        };
        // From the one with the most in hand to the one with the least.
        let count = self.also.len() + 1;
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a handful of readings"
        )]
        let place = ((share * count as f64) as usize).min(count - 1);
        let from_least = count - 1 - place;
        from_least
            .checked_sub(1)
            .and_then(|at| self.also.get(at))
            .map_or(&self.to_lock, |(_, lock)| lock)
    }
}

/// A car prepared for questions of its lever.
#[derive(Clone, Debug)]
pub struct LeverBench<'a> {
    car: &'a Car,
    lever: &'a Lever,
    warmth: Warmth,
    warm: Hydraulics,
    cold: Hydraulics,
}

impl<'a> LeverBench<'a> {
    /// Prepares a car; `None` where it has no lever. `warmth` is that of the answer as asked; beside it always stands
    /// the cold one.
    #[must_use]
    pub fn of(car: &'a Car, warmth: Warmth) -> Option<Self> {
        car.lever.as_ref()?;
        Self::with(car, warmth, &Hydraulics::of(car, warmth))
    }

    /// The same with the car's hydraulics at that warmth, where they are at hand.
    #[must_use]
    pub fn with(car: &'a Car, warmth: Warmth, hydraulics: &Hydraulics) -> Option<Self> {
        let lever = car.lever.as_ref()?;
        let warm = hydraulics.clone();
        let cold = if warmth == Warmth::Cold {
            warm.clone()
        } else {
            warm.at_warmth(car, Warmth::Cold)
        };
        Some(Self {
            car,
            lever,
            warmth,
            warm,
            cold,
        })
    }

    /// The lever's answer at a load. Of all the readings that the sheet leaves open the one with the least in hand decides,
    /// and stands first. Times are not asked for: see [`timed`](Self::timed).
    #[must_use]
    pub fn answer(&self, laden: &Laden, pull: Pull) -> LeverAnswer {
        let lock = |hydraulics: &Hydraulics, (reading, coupling_nm): (Option<CouplingReading>, f64)| {
            let rest = Rest::of(self.car, laden, pull.grip, coupling_nm);
            self.to_lock(hydraulics, laden, pull, &rest, coupling_nm, reading)
        };
        let mut read: Vec<((Option<CouplingReading>, f64), ToLock)> = self
            .readings(pull.speed)
            .into_iter()
            .map(|reading| (reading, lock(&self.warm, reading)))
            .collect();
        // The sort keeps the order of readings that leave the same.
        read.sort_by(|(_, one), (_, other)| one.in_hand.total_cmp(&other.in_hand));
        let (decides, to_lock) = read[0];
        LeverAnswer {
            to_lock,
            cold: lock(&self.cold, decides),
            front_dragged: Rest::of(self.car, laden, pull.grip, decides.1).front_dragged,
            also: read[1..]
                .iter()
                .filter_map(|&((reading, _), lock)| Some((reading?, lock)))
                .collect(),
        }
    }

    /// What a cylinder of any bore has to do to stop the rear axle, under every reading that the sheet leaves open; empty
    /// with a cable.
    #[must_use]
    pub fn asks(&self, laden: &Laden, pull: Pull) -> Vec<CylinderTask> {
        if self.lever.cylinder().is_none() {
            return Vec::new();
        }
        let ask = |(_, coupling_nm): (Option<CouplingReading>, f64)| {
            let rest = Rest::of(self.car, laden, pull.grip, coupling_nm);
            let knee = self.warm.knee(rest.rear_load);
            let set = at_knee(&self.warm, knee);
            let pressure = self.pressure_for(&set, rest.torque_needed);
            let own = pressure.and_then(|pressure| self.before_valve(&set, pressure, knee));
            CylinderTask {
                pressure: pressure.unwrap_or(Pressure::ZERO),
                own,
                taken: own.map_or(Volume::ZERO, |own| set.taken_at(own)),
                front_dragged: rest.front_dragged,
            }
        };
        self.readings(pull.speed).into_iter().map(ask).collect()
    }

    /// The same with the times that it takes, from a straight pull simulated on a surface whose grip is the pull's.
    #[must_use]
    pub fn timed(&self, laden: &Laden, pull: Pull, surface: &Surface) -> LeverAnswer {
        let mut answer = self.answer(laden, pull);
        let surface = surface.with_peak(pull.grip);
        for (to_lock, warmth) in [
            (&mut answer.to_lock, self.warmth),
            (&mut answer.cold, Warmth::Cold),
        ] {
            if to_lock.outcome == WhatStops::None {
                continue;
            }
            to_lock.time_to_lock = self.straight_pull(laden, pull, &surface, to_lock.reading, warmth, false);
            to_lock.stands_first = to_lock.time_to_lock.is_none();
        }
        answer
    }

    /// Time to stop the rear axle with the clutch up, engine and its drag on it; `None` where the rear is not driven, or
    /// does not stop before the car does.
    #[must_use]
    pub fn time_with_clutch_up(
        &self,
        laden: &Laden,
        pull: Pull,
        surface: &Surface,
        to_lock: &ToLock,
    ) -> Option<Duration> {
        if self.car.drivetrain.driven == Driven::Front || to_lock.outcome == WhatStops::None {
            return None;
        }
        let surface = surface.with_peak(pull.grip);
        self.straight_pull(laden, pull, &surface, to_lock.reading, self.warmth, true)
    }

    fn straight_pull(
        &self,
        laden: &Laden,
        pull: Pull,
        surface: &Surface,
        reading: Option<CouplingReading>,
        warmth: Warmth,
        clutch_up: bool,
    ) -> Option<Duration> {
        let reading = turn::Assumed {
            warmth,
            ..reading.map_or_else(turn::Assumed::default, |reading| turn::Assumed::of(&reading))
        };
        let bench = turn::TurnBench::of(self.car, laden, surface, reading).ok()?;
        bench.straight_pull(pull.speed, pull.hand, clutch_up).ok()?
    }

    /// Every reading of the centre coupling that the sheet leaves open, with the torque that it carries at the wheels
    /// (N·m).
    fn readings(&self, speed: Speed) -> Vec<(Option<CouplingReading>, f64)> {
        let centre = &self.car.drivetrain.centre;
        let may_be = centre.may_be();
        if may_be.is_empty() {
            return self.readings_of(acting(centre, self.lets_go()), None, speed);
        }
        may_be
            .iter()
            .flat_map(|(supposed, centre)| self.readings_of(acting(centre, false), Some(supposed), speed))
            .collect()
    }

    fn readings_of(
        &self,
        coupling: Option<&Coupling>,
        supposed: Option<&'static str>,
        speed: Speed,
    ) -> Vec<(Option<CouplingReading>, f64)> {
        let rolling = Rotation::from_rad_s(speed.m_s() / self.car.tyres.front_radius.m());
        let curve = match coupling {
            Some(Coupling::Viscous(curve)) => Some(curve),
            Some(Coupling::Plates { .. }) => None,
            _ => {
                let reading = supposed.map(|_| CouplingReading {
                    supposed,
                    turns_at: TurnsAt::Given,
                    turns: 1.0,
                    beyond: Beyond::HeldFlat,
                    off_the_curve: false,
                });
                return vec![(reading, carried_nm(coupling, 1.0, rolling, Beyond::HeldFlat))];
            }
        };
        let mut readings = Vec::new();
        for turns_at in places(self.car) {
            let turns = turns_per_wheel_turn(self.car, turns_at);
            let off_the_curve = curve.is_some_and(|curve| curve.is_beyond(rolling * turns));
            let ways: &[Beyond] = if off_the_curve {
                &[Beyond::HeldFlat, Beyond::GoesOn]
            } else {
                &[Beyond::HeldFlat]
            };
            for &beyond in ways {
                let reading = CouplingReading {
                    supposed,
                    turns_at,
                    turns,
                    beyond,
                    off_the_curve,
                };
                readings.push((Some(reading), carried_nm(coupling, turns, rolling, beyond)));
            }
        }
        readings
    }

    /// Whether a disengaging centre is told of the pull.
    fn lets_go(&self) -> bool {
        matches!(self.car.drivetrain.centre, Centre::Disengaging { .. }) && self.lever.switch
    }

    fn to_lock(
        &self,
        hydraulics: &Hydraulics,
        laden: &Laden,
        pull: Pull,
        rest: &Rest,
        coupling_nm: f64,
        reading: Option<CouplingReading>,
    ) -> ToLock {
        let knee = hydraulics.knee(rest.rear_load);
        let set = at_knee(hydraulics, knee);
        let answer = set.answer(
            laden,
            Forces {
                foot: Force::ZERO,
                hand: pull.hand,
            },
        );
        let rear_torque = |wheel: Wheel| answer.wheels[wheel.index()].torque;
        let torque_available = rear_torque(Wheel::RearLeft) + rear_torque(Wheel::RearRight);
        let needs = self.needs(&set, rest.torque_needed, knee);
        let spare_nm = (torque_available - rest.torque_needed).nm();
        let outcome = match (spare_nm >= 0.0, rest.front_dragged) {
            (false, _) => WhatStops::None,
            (true, false) => WhatStops::Rear,
            (true, true) => WhatStops::AllFour,
        };
        ToLock {
            outcome,
            rear_load: rest.rear_load,
            rate: rest.rate,
            torque_needed: rest.torque_needed,
            of_which_coupling: rest.of_which_coupling,
            torque_available,
            pressure: needs.pressure,
            own: needs.own,
            hand: needs.hand,
            travel: needs.travel,
            stroke: needs.stroke,
            enough_force: needs.hand.is_some_and(|hand| hand <= pull.hand),
            enough_travel: needs.enough_travel,
            in_hand: equations::over(torque_available.nm(), rest.torque_needed.nm()),
            time_to_lock: None,
            stands_first: false,
            drag: coupling_nm
                .is_finite()
                .then(|| equations::over(coupling_nm, rest.front_can_give_nm)),
            reading,
        }
    }

    /// Pressure at the brakes that the lever works for a torque of both together; `None` with a cable.
    fn pressure_for(&self, hydraulics: &Hydraulics, torque: Torque) -> Option<Pressure> {
        let law = match &self.lever.kind {
            LeverKind::Cable(_) => return None,
            LeverKind::Inline(_) => hydraulics.wheels[Wheel::RearLeft.index()],
            LeverKind::Separate(..) => hydraulics.lever_brake.unwrap_or(hydraulics.wheels[2]),
        };
        Some(law.pressure(Torque::from_nm(equations::each_wheel(torque.nm()))))
    }

    fn needs(&self, hydraulics: &Hydraulics, torque: Torque, knee: Option<Pressure>) -> Needs {
        let Some(pressure) = self.pressure_for(hydraulics, torque) else {
            let each = Torque::from_nm(equations::each_wheel(torque.nm()));
            let newton = Force::from_n(1.0);
            return Needs {
                hand: hydraulics
                    .cable_torque(newton)
                    .map(|of_a_newton| Force::from_n(equations::over(each.nm(), of_a_newton.nm()))),
                ..Needs::default()
            };
        };
        let Some(own) = self.before_valve(hydraulics, pressure, knee) else {
            return Needs {
                pressure: Some(pressure),
                ..Needs::default()
            };
        };
        let Some(effort) = hydraulics.effort(own) else {
            return Needs {
                pressure: Some(pressure),
                ..Needs::default()
            };
        };
        Needs {
            pressure: Some(pressure),
            own: Some(own),
            hand: Some(effort.hand),
            travel: Some(effort.travel),
            stroke: Some(effort.stroke),
            enough_travel: Some(effort.fits),
        }
    }

    /// Pressure in the lever's cylinder for one at the brakes; `None` where a limiting valve behind it caps the brakes'.
    fn before_valve(
        &self,
        hydraulics: &Hydraulics,
        pressure: Pressure,
        knee: Option<Pressure>,
    ) -> Option<Pressure> {
        let inline = matches!(self.lever.kind, LeverKind::Inline(_));
        let after = self
            .car
            .bias_valve
            .as_ref()
            .is_some_and(|valve| valve.place == ValvePlace::AfterLever);
        match (inline && after, knee, hydraulics.slope()) {
            (true, Some(knee), Some(slope)) if pressure > knee => (slope > 0.0)
                .then(|| Pressure::from_pa(equations::before_knee(knee.pa(), slope, pressure.pa()))),
            _ => Some(pressure),
        }
    }
}

/// What a lever's cylinder has to do, whatever its bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CylinderTask {
    /// Pressure at the brakes.
    pub pressure: Pressure,
    /// Pressure in the cylinder; `None` where a limiting valve behind it caps the brakes'.
    pub own: Option<Pressure>,
    /// Fluid that is taken at that pressure.
    pub taken: Volume,
    /// Whether the coupling then drags the front wheels to a stop too.
    pub front_dragged: bool,
}

/// The knee of a load-sensing valve stands where the locked axle's load puts it.
fn at_knee(hydraulics: &Hydraulics, knee: Option<Pressure>) -> Cow<'_, Hydraulics> {
    if hydraulics.senses_load() {
        Cow::Owned(hydraulics.with_knee(knee.unwrap_or(Pressure::ZERO)))
    } else {
        Cow::Borrowed(hydraulics)
    }
}

#[derive(Clone, Copy, Debug, Default)]
struct Needs {
    pressure: Option<Pressure>,
    own: Option<Pressure>,
    hand: Option<Force>,
    travel: Option<Length>,
    stroke: Option<Length>,
    enough_travel: Option<bool>,
}

/// The car with its rear axle locked.
struct Rest {
    rate: f64,
    rear_load: Force,
    torque_needed: Torque,
    of_which_coupling: Torque,
    front_can_give_nm: f64,
    front_dragged: bool,
}

impl Rest {
    /// With the rear axle locked and the coupling pulling the front wheels back by X = T_c/R:
    ///
    /// `z = (μ a/L + X/(m g))/(1 + μ h/L)`; if X ≥ μ N_f the front is dragged to a stop too and z = μ; on a slope a and
    /// that μ are taken by the cosine of its angle, and z is braking force over weight;
    /// `T_need = μ N_r R + min(T_c, μ N_f R)`.
    fn of(car: &Car, laden: &Laden, grip: f64, coupling_nm: f64) -> Self {
        let (front_radius, rear_radius) = (car.tyres.front_radius.m(), car.tyres.rear_radius.m());
        let (aft, height, wheelbase) = (laden.cg_aft.m(), laden.cg_height.m(), laden.wheelbase.m());
        let pull_n = equations::over(coupling_nm, front_radius);
        let presses = laden.grade.presses();
        let free =
            equations::rate_rear_locked(grip, [aft, height], wheelbase, presses, pull_n, laden.weight_n());
        let front_dragged = !pull_n.is_finite() || pull_n >= grip * laden.axle_loads(free).front.n();
        let rate = if front_dragged {
            laden.ground_gives(grip)
        } else {
            free
        };
        let loads = laden.axle_loads(rate);
        let front_can_give_nm = equations::grip_torque(grip, loads.front.n(), front_radius);
        let of_which = coupling_nm.min(front_can_give_nm);
        Self {
            rate,
            rear_load: loads.rear,
            torque_needed: Torque::from_nm(equations::torque_to_stop(
                equations::grip_torque(grip, loads.rear.n(), rear_radius),
                of_which,
            )),
            of_which_coupling: Torque::from_nm(of_which),
            front_can_give_nm,
            front_dragged,
        }
    }
}

/// A route as given, or taken to be as long as another: then nobody laid a tape there.
fn or(given: Route, like: Length) -> Route {
    if given.length > Length::ZERO {
        given
    } else {
        Route::taken_as(like)
    }
}

/// The same car with its lever in the other layout: inline becomes separate with second calipers (the sheet's
/// `[lever_brake]`, or a second pair like the rear's), separate becomes inline. `None` for cables, and for drums without
/// second calipers on the sheet.
#[must_use]
pub fn other_layout(car: &Car) -> Option<(&'static str, Car)> {
    let mut other = car.clone();
    let lever = other.lever.as_mut()?;
    match lever.kind.clone() {
        LeverKind::Inline(cylinder) => {
            let second = match (&car.lever_brake, &car.rear_brake) {
                (Some(given), _) => given.clone(),
                (None, Brake::Disc(rear)) => rear.clone(),
                (None, Brake::Drum(_)) => return None,
            };
            lever.kind = LeverKind::Separate(cylinder, second);
            if car.lever_brake.is_none() {
                other.lever_line = car.rear_line;
            }
            let routes = &mut other.routes;
            routes.lever_to_lever_tee = or(routes.lever_to_lever_tee, routes.lever_to_rear_tee.length);
            routes.lever_tee_to_left = or(routes.lever_tee_to_left, routes.tee_to_rear_left.length);
            routes.lever_tee_to_right = or(routes.lever_tee_to_right, routes.tee_to_rear_right.length);
            let by_way_of_lever = routes.bulkhead_to_lever.then(routes.lever_to_rear_tee).length;
            routes.bulkhead_to_rear_tee = or(routes.bulkhead_to_rear_tee, by_way_of_lever);
            Some(("separate", other))
        }
        LeverKind::Separate(cylinder, _) => {
            lever.kind = LeverKind::Inline(cylinder);
            let routes = &mut other.routes;
            let half = routes.bulkhead_to_rear_tee.length / 2.0;
            routes.bulkhead_to_lever = or(routes.bulkhead_to_lever, half);
            routes.lever_to_rear_tee = or(routes.lever_to_rear_tee, half);
            Some(("inline", other))
        }
        LeverKind::Cable(_) => None,
    }
}
