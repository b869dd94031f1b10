//! How long does it hold? A car parked on a slope, its lever latched on trapped fluid.
//!
//! The rear brakes cool, what is shut in shrinks, seals seep, rubber creeps and pads lose their grip as they turn cold
//! (see [`trapped`](crate::trapped)). A hot brake first warms its caliper, and the pressure rises before it falls. It
//! holds while `Σ T(p, μ(T))/R ≥ m g sin θ` and the rear axle's own grip does, `tan θ ≤ μ a/(L ∓ μ h)`, the upper sign
//! where the rear stands downhill.
//!
//! A latched hydraulic lever is not a parking brake, whatever the minutes say (common practice; road rules ask for a
//! mechanical one). A coupling that ties the front wheels, rolling resistance and a gear are left out: the safe side.

mod seep;
mod study;

use crate::equations;
use crate::thresholds::{LONGEST, START_LINE};
use differential_equations::prelude::{ExplicitRungeKutta, IVP, ODE};
use quantity::si::{Duration, Force, Pressure, Temperature, Torque};

use crate::brake::{TorqueLaw, Warmth};
use crate::car::{Brake, Cable, Car, LeverKind, Parking, Wheel};
use crate::conditions::Conditions;
use crate::heat::HeatFault;
use crate::hydraulics::{self, Hydraulics, cable_torque, torque_per_pad_force_m};
use crate::loads::{Facing, Grade, Laden};
use crate::network::Network;
use crate::solve::root_within;
use crate::thermal::{Corner, Fade, Moving, Nodes, Unsure, to_the_end};
use crate::trapped::Part;

pub use seep::{Seep, USUAL_AT, USUAL_PER_HOUR};
pub use study::{HoldFigures, Holds, SEEP_MEASURED_UNSURE, SEEP_UNSURE};

/// What is drawn of it.
pub const SHOWN: Duration = Duration::from_s(3600.0);

/// How hot the rear brakes are when the lever is latched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum From {
    /// As the air.
    Cold,
    /// From the road.
    Warm,
    /// Straight from a stage.
    Hot,
}

impl From {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Cold, Self::Warm, Self::Hot];

    /// Its word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cold => "cold",
            Self::Warm => "warm",
            Self::Hot => "hot",
        }
    }

    /// Disc and caliper (judgement): warm 150 and 60 °C, hot 400 and 120 °C.
    #[must_use]
    pub const fn temperatures(self, ambient: Temperature) -> (Temperature, Temperature) {
        match self {
            Self::Cold => (ambient, ambient),
            Self::Warm => (Temperature::from_celsius(150.0), Temperature::from_celsius(60.0)),
            Self::Hot => (Temperature::from_celsius(400.0), Temperature::from_celsius(120.0)),
        }
    }
}

/// What ends the holding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LostBy {
    /// What is shut in shrinks as it cools.
    Cooling,
    /// Seals seep and rubber creeps.
    Seep,
    /// Pads grip less at their temperature, or too little from the start.
    Friction,
    /// The rear tyres do.
    Grip,
}

/// A moment of the holding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldMoment {
    /// From latching.
    pub time: Duration,
    /// The lowest pressure at the rear brakes; `None` with a cable.
    pub pressure: Option<Pressure>,
    /// Torque there is over torque needed; infinite on the level.
    pub ratio: f64,
    /// Of the discs or drums.
    pub disc: Temperature,
    /// Of calipers or wheel cylinders.
    pub fluid: Temperature,
}

/// The holding from one arrival.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrival {
    /// How hot.
    pub from: From,
    /// How long it holds; `None`: beyond [`LONGEST`].
    pub holds_for: Option<Duration>,
    /// What ends it.
    pub lost_by: Option<LostBy>,
    /// Pressure on latching; `None` with a cable.
    pub pressure: Option<Pressure>,
    /// The highest it comes to.
    pub pressure_max: Option<Pressure>,
    /// When that is.
    pub pressure_max_at: Duration,
    /// Torque there is over torque needed, on latching.
    pub ratio: f64,
    /// The steepest slope that it holds on for [`START_LINE`].
    pub steepest: f64,
    /// The first hour.
    pub way: Vec<HoldMoment>,
}

/// A mechanical parking brake that was kept, beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CableHold {
    /// Pull at its lever.
    pub hand: Force,
    /// Torque of both rear wheels, with cold pads or linings.
    pub torque: Torque,
    /// The steepest slope that it holds on, cold, the tyres' grip counted.
    pub steepest: f64,
}

/// What is known of the kept cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kept {
    /// None was kept.
    None,
    /// One was, and its figures are on the sheet.
    Computed(CableHold),
    /// One was; its force is not on the sheet.
    NoFigures,
    /// One works small shoes of its own, of which the sheet says nothing.
    OwnShoes,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Hold {
    /// The slope, as asked.
    pub grade: Grade,
    /// Pull at which the lever was latched.
    pub hand: Force,
    /// Torque of both rear wheels that the slope asks for.
    pub needed: Torque,
    /// The steepest slope that the rear tyres hold on.
    pub grip_holds: f64,
    /// Cold, warm, hot.
    pub arrivals: Vec<Arrival>,
    /// The steepest that all of them hold on for [`START_LINE`].
    pub steepest_for_two_minutes: f64,
    /// What seeps; `None` with a cable.
    pub seep: Option<Seep>,
    /// The mechanical brake beside it.
    pub kept: Kept,
}

impl Hold {
    /// The arrival that holds for the shortest time.
    #[must_use]
    pub fn worst(&self) -> Option<&Arrival> {
        let time = |arrival: &Arrival| arrival.holds_for.map_or(f64::INFINITY, Duration::s);
        self.arrivals
            .iter()
            .reduce(|worst, next| if time(next) < time(worst) { next } else { worst })
    }

    /// Whether every arrival holds so long.
    #[must_use]
    pub fn holds(&self, for_so_long: Duration) -> bool {
        self.arrivals
            .iter()
            .all(|arrival| arrival.holds_for.is_none_or(|held| held >= for_so_long))
    }

    /// The highest pressure of all arrivals.
    #[must_use]
    pub fn pressure_max(&self) -> Option<Pressure> {
        self.arrivals
            .iter()
            .filter_map(|arrival| arrival.pressure_max)
            .reduce(Pressure::max)
    }
}

/// The steepest slope that a rear axle's tyres hold a car on: `tan θ = μ a/(L ∓ μ h)`, the upper sign nose up. Infinite
/// where the tyres grip on any.
#[must_use]
pub fn grip_holds(laden: &Laden, grip: f64, facing: Facing) -> f64 {
    let slope = equations::slope_of_grip(
        grip,
        laden.cg_aft.m(),
        laden.wheelbase.m(),
        laden.cg_height.m(),
        facing == Facing::Up,
    );
    if slope >= 0.0 { slope } else { f64::INFINITY }
}

/// Slope of an angle's sine; infinite from upright on.
fn slope_of_sine(sine: f64) -> f64 {
    if sine < 1.0 {
        equations::slope_of_sine(sine)
    } else {
        f64::INFINITY
    }
}

/// What holds the rear wheels.
#[derive(Clone, Debug)]
enum Holder {
    /// Trapped fluid: each part with the pressure that it was shut in with.
    Fluid {
        parts: Vec<(Part, Pressure)>,
        law: TorqueLaw,
        seep: Seep,
    },
    /// A cable, both wheels together, warm.
    Cable { torque_nm: f64 },
}

/// A car prepared for questions of holding; `None` without a lever.
#[derive(Clone, Debug)]
pub struct HoldBench {
    holder: Holder,
    corner: Corner,
    fade: Fade,
    laden: Laden,
    radius_m: f64,
    hand: Force,
    ambient: Temperature,
    grip: f64,
    kept: Kept,
}

/// States: disc, caliper, what seeped out of each of two parts.
type State = [f64; 4];

struct Standing<'a> {
    bench: &'a HoldBench,
    start: Nodes,
    needed_nm: f64,
}

impl HoldBench {
    /// Prepares a car; `None` also where it does not know the surface.
    #[must_use]
    pub fn of(car: &Car, conditions: &Conditions) -> Option<Self> {
        Self::unsure(car, conditions, Unsure::default(), 1.0)
    }

    /// With other figures for what is on no sheet; `seep` a factor on what seeps.
    #[must_use]
    pub fn unsure(car: &Car, conditions: &Conditions, unsure: Unsure, seep: f64) -> Option<Self> {
        let lever = car.lever.as_ref()?;
        let laden = conditions.laden(car);
        let hand = conditions.hand_of(car);
        let grip = conditions.grip_of(car)?;
        let hydraulics = Hydraulics::of(car, Warmth::Warm);
        let (holder, fade) = match &lever.kind {
            LeverKind::Cable(cable) => {
                let torque = cable_torque(
                    *cable,
                    torque_per_pad_force_m(&car.rear_brake, Warmth::Warm),
                    hand,
                );
                let torque_nm = 2.0 * torque.nm();
                (Holder::Cable { torque_nm }, Fade::of(&car.rear_brake))
            }
            LeverKind::Inline(_) => (
                shut_in(car, &hydraulics, &laden, hand, seep),
                Fade::of(&car.rear_brake),
            ),
            LeverKind::Separate(_, brake) => (
                shut_in(car, &hydraulics, &laden, hand, seep),
                Fade::of_disc(brake),
            ),
        };
        Some(Self {
            holder,
            corner: Corner::of(&car.rear_brake, false, unsure),
            fade,
            radius_m: car.tyres.rear_radius.m(),
            kept: kept(car, &laden, grip),
            laden,
            hand,
            ambient: conditions.ambient,
            grip,
        })
    }

    /// Law of one wheel, warm, and how many wheels the trapped fluid works; `None` with a cable.
    pub(crate) fn law(&self) -> Option<(TorqueLaw, f64)> {
        match &self.holder {
            Holder::Fluid { parts, law, .. } => {
                let wheels: usize = parts.iter().map(|(part, _)| part.wheels.len()).sum();
                Some((*law, u8::try_from(wheels).map_or(f64::NAN, f64::from)))
            }
            Holder::Cable { .. } => None,
        }
    }

    /// Whether one pressure stands for all that is shut in; with a cable nothing is.
    pub(crate) const fn shuts_in_one_part(&self) -> bool {
        match &self.holder {
            Holder::Fluid { parts, .. } => parts.len() == 1,
            Holder::Cable { .. } => true,
        }
    }

    /// Torque of a cable on both wheels, warm; `None` with fluid.
    pub(crate) const fn cable(&self) -> Option<Torque> {
        match self.holder {
            Holder::Cable { torque_nm } => Some(Torque::from_nm(torque_nm)),
            Holder::Fluid { .. } => None,
        }
    }

    /// Torque at a temperature of discs or drums over the warm one.
    pub(crate) fn torque_share(&self, disc: Temperature) -> f64 {
        self.fade.torque(disc)
    }

    /// Grip of the ground.
    pub(crate) const fn grip(&self) -> f64 {
        self.grip
    }

    /// Latches the lever and waits, from every arrival.
    ///
    /// # Errors
    /// The temperatures cannot be followed.
    pub fn hold(&self) -> Result<Hold, HeatFault> {
        let mut arrivals = Vec::with_capacity(From::ALL.len());
        for from in From::ALL {
            arrivals.push(self.arrival(from)?);
        }
        Ok(Hold {
            grade: self.laden.grade,
            hand: self.hand,
            needed: Torque::from_nm(self.needed_nm()),
            grip_holds: self.grip_holds(),
            steepest_for_two_minutes: arrivals
                .iter()
                .map(|arrival| arrival.steepest)
                .fold(f64::INFINITY, f64::min),
            arrivals,
            seep: match &self.holder {
                Holder::Fluid { seep, .. } => Some(*seep),
                Holder::Cable { .. } => None,
            },
            kept: self.kept,
        })
    }

    fn needed_nm(&self) -> f64 {
        equations::torque_to_hold(
            self.laden.weight_n(),
            self.laden.grade.pulls_back().abs(),
            self.radius_m,
        )
    }

    fn grip_holds(&self) -> f64 {
        grip_holds(&self.laden, self.grip, self.laden.grade.facing)
    }

    /// From one arrival.
    ///
    /// # Errors
    /// The temperatures cannot be followed.
    pub fn arrival(&self, from: From) -> Result<Arrival, HeatFault> {
        let (disc, caliper) = from.temperatures(self.ambient);
        let start = Nodes {
            disc_k: disc.k(),
            caliper_k: caliper.k(),
        };
        let standing = Standing {
            bench: self,
            start,
            needed_nm: self.needed_nm(),
        };
        let first = [disc.k(), caliper.k(), 0.0, 0.0];
        let mut path: Vec<(f64, State)> = Vec::new();
        let mut lost_at = None;
        if standing.over(0.0, &first) < 0.0 {
            lost_at = Some((0.0, first));
        }
        // The first two minutes, the rest of the hour, then as long as it holds: each has an end that is asked about.
        let mut at = (0.0, first);
        for until_s in [START_LINE.s(), SHOWN.s(), LONGEST.s()] {
            while at.0 < until_s {
                if lost_at.is_some() && at.0 >= SHOWN.s() {
                    break;
                }
                let dropped = standing.follow(at, until_s, lost_at.is_none(), &mut path)?;
                at = path.last().copied().unwrap_or((until_s, at.1));
                if dropped {
                    lost_at = lost_at.or(Some(at));
                }
            }
        }
        let within = |until_s: f64| path.iter().filter(move |point| point.0 <= until_s);
        let weakest_nm = within(START_LINE.s())
            .map(|point| standing.torque_nm(point.0, &point.1))
            .fold(standing.torque_nm(0.0, &first), f64::min);
        let sine = equations::sine_held(weakest_nm, self.laden.weight_n(), self.radius_m);
        let steepest = slope_of_sine(sine).min(self.grip_holds());
        let (pressure_max, pressure_max_at) = standing.highest(&path);
        let slips = self.laden.grade.slope > self.grip_holds();
        let (holds_for, lost_by) = match lost_at {
            _ if slips => (Some(Duration::ZERO), Some(LostBy::Grip)),
            Some((at_s, state)) => (
                Some(Duration::from_s(at_s)),
                Some(standing.lost_by(at_s, &state, &first)),
            ),
            None => (None, None),
        };
        Ok(Arrival {
            from,
            holds_for,
            lost_by,
            pressure: standing.lowest_pa(0.0, &first).map(Pressure::from_pa),
            pressure_max: pressure_max.map(Pressure::from_pa),
            pressure_max_at: Duration::from_s(pressure_max_at),
            ratio: standing.ratio(0.0, &first),
            steepest,
            way: within(SHOWN.s())
                .map(|&(time_s, state)| standing.moment(time_s, &state))
                .collect(),
        })
    }
}

/// What a pull shuts in.
fn shut_in(car: &Car, hydraulics: &Hydraulics, laden: &Laden, hand: Force, seep: f64) -> Holder {
    let answer = hydraulics.answer(
        laden,
        hydraulics::Forces {
            foot: Force::ZERO,
            hand,
        },
    );
    let network = Network::of(car);
    let parts = Part::all(car, &network);
    let usual = Seep::of(car, &parts);
    let parts = parts
        .into_iter()
        .map(|part| {
            let wheel = part.wheels.first().copied().unwrap_or(Wheel::RearLeft);
            let at = answer.wheels[wheel.index()];
            let pressure = if part.second {
                at.lever_pressure.unwrap_or(Pressure::ZERO)
            } else {
                at.pressure
            };
            (part, pressure)
        })
        .collect();
    let own = hydraulics.wheels[Wheel::RearLeft.index()];
    Holder::Fluid {
        parts,
        law: hydraulics.lever_brake.unwrap_or(own),
        seep: Seep {
            m3_s_pa: usual.m3_s_pa * seep,
            ..usual
        },
    }
}

/// What a kept mechanical brake holds, cold.
fn kept(car: &Car, laden: &Laden, grip: f64) -> Kept {
    let Some(lever) = car.lever.as_ref().filter(|lever| lever.cable_kept) else {
        return Kept::None;
    };
    let own_shoes =
        matches!(&car.rear_brake, Brake::Disc(disc) if disc.caliper.parking == Parking::DrumInDisc);
    let cable: Cable = match lever.parking_cable {
        _ if own_shoes => return Kept::OwnShoes,
        Some(cable) => cable,
        None => return Kept::NoFigures,
    };
    let each = cable_torque(
        cable,
        torque_per_pad_force_m(&car.rear_brake, Warmth::Cold),
        lever.hand_pull,
    );
    let torque = each * 2.0;
    let sine = equations::sine_held(torque.nm(), laden.weight_n(), car.tyres.rear_radius.m());
    Kept::Computed(CableHold {
        hand: lever.hand_pull,
        torque,
        steepest: slope_of_sine(sine).min(grip_holds(laden, grip, laden.grade.facing)),
    })
}

const fn nodes(state: &State) -> Nodes {
    Nodes {
        disc_k: state[0],
        caliper_k: state[1],
    }
}

impl Standing<'_> {
    /// Pressure of a part (Pa).
    fn pressure_pa(&self, number: usize, part: &(Part, Pressure), time_s: f64, state: &State) -> f64 {
        let (part, from) = part;
        let volume_m3 = part.taken(*from).m3() + part.warmth_m3(self.start, nodes(state))
            - part.crept_m3(*from, time_s)
            - state[2 + number.min(1)];
        part.pressure_pa(volume_m3)
    }

    fn pressures(&self, time_s: f64, state: &State) -> impl Iterator<Item = (usize, f64)> {
        let parts: &[(Part, Pressure)] = match &self.bench.holder {
            Holder::Fluid { parts, .. } => parts,
            Holder::Cable { .. } => &[],
        };
        parts
            .iter()
            .enumerate()
            .map(move |(number, part)| (part.0.wheels.len(), self.pressure_pa(number, part, time_s, state)))
    }

    fn lowest_pa(&self, time_s: f64, state: &State) -> Option<f64> {
        self.pressures(time_s, state)
            .map(|(_, pressure_pa)| pressure_pa)
            .reduce(f64::min)
    }

    fn highest_pa(&self, time_s: f64, state: &State) -> Option<f64> {
        self.pressures(time_s, state)
            .map(|(_, pressure_pa)| pressure_pa)
            .reduce(f64::max)
    }

    /// Torque of both rear wheels (N·m).
    fn torque_nm(&self, time_s: f64, state: &State) -> f64 {
        let warm_nm = match &self.bench.holder {
            Holder::Cable { torque_nm } => *torque_nm,
            Holder::Fluid { law, .. } => self
                .pressures(time_s, state)
                .map(|(wheels, pressure_pa)| {
                    #[allow(clippy::cast_precision_loss, reason = "at most four wheels")]
                    let wheels = wheels as f64;
                    wheels * law.torque(Pressure::from_pa(pressure_pa)).nm()
                })
                .sum(),
        };
        equations::at_that_friction(warm_nm, self.bench.fade.torque_k(state[0]))
    }

    /// Torque there is over torque needed, less one.
    fn over(&self, time_s: f64, state: &State) -> f64 {
        self.ratio(time_s, state) - 1.0
    }

    fn ratio(&self, time_s: f64, state: &State) -> f64 {
        if self.needed_nm > 0.0 {
            equations::over(self.torque_nm(time_s, state), self.needed_nm)
        } else {
            f64::INFINITY
        }
    }

    fn moment(&self, time_s: f64, state: &State) -> HoldMoment {
        HoldMoment {
            time: Duration::from_s(time_s),
            pressure: self.lowest_pa(time_s, state).map(Pressure::from_pa),
            ratio: self.ratio(time_s, state),
            disc: Temperature::from_k(state[0]),
            fluid: Temperature::from_k(state[1]),
        }
    }

    /// The highest pressure of a way, and when.
    fn highest(&self, path: &[(f64, State)]) -> (Option<f64>, f64) {
        path.iter()
            .filter_map(|&(time_s, state)| Some((self.highest_pa(time_s, &state)?, time_s)))
            .reduce(|best, next| if next.0 > best.0 { next } else { best })
            .map_or((None, 0.0), |(pressure_pa, at_s)| (Some(pressure_pa), at_s))
    }

    /// What has taken most of the torque by then.
    fn lost_by(&self, time_s: f64, state: &State, first: &State) -> LostBy {
        let Holder::Fluid { parts, law, .. } = &self.bench.holder else {
            return LostBy::Friction;
        };
        if time_s <= 0.0 {
            return LostBy::Friction;
        }
        let grip = |state: &State| self.bench.fade.torque_k(state[0]);
        let by_friction = (grip(first) / grip(state)).ln();
        let pressing = |time_s: f64, state: &State| {
            let lowest = self.lowest_pa(time_s, state).unwrap_or(0.0);
            (lowest - law.threshold.pa()).max(1.0)
        };
        let by_pressure = (pressing(0.0, first) / pressing(time_s, state)).ln();
        if by_friction > by_pressure {
            return LostBy::Friction;
        }
        let (shrank, seeped) =
            parts
                .iter()
                .enumerate()
                .fold((0.0, 0.0), |(shrank, seeped), (number, part)| {
                    (
                        shrank - part.0.warmth_m3(self.start, nodes(state)),
                        seeped + part.0.crept_m3(part.1, time_s) + state[2 + number.min(1)],
                    )
                });
        if shrank > seeped {
            LostBy::Cooling
        } else {
            LostBy::Seep
        }
    }

    /// Waits until a time; answers whether it stopped holding, and then waited no longer.
    fn follow(
        &self,
        from: (f64, State),
        until_s: f64,
        watched: bool,
        path: &mut Vec<(f64, State)>,
    ) -> Result<bool, HeatFault> {
        /// How well the moment is found at which it stops holding (s).
        const MOMENT_S: f64 = 1e-2;
        /// So much is stepped at once before it is looked at (s).
        const STRETCH_S: f64 = 600.0;
        path.push(from);
        let mut here = from;
        while here.0 < until_s {
            let way = self.stepped(here, (here.0 + STRETCH_S).min(until_s))?;
            for point in way {
                if watched && self.over(point.0, &point.1) < 0.0 {
                    // Between two steps the step is made again, to the moment itself.
                    let at = |time_s: f64| {
                        if time_s <= here.0 {
                            return Some(here.1);
                        }
                        Some(self.stepped(here, time_s).ok()?.last()?.1)
                    };
                    let over = |time_s: f64| at(time_s).map_or(f64::NAN, |state| self.over(time_s, &state));
                    let dropped_s = root_within(here.0, point.0, MOMENT_S, over).unwrap_or(here.0);
                    path.push((dropped_s, at(dropped_s).ok_or(HeatFault { at_s: here.0 })?));
                    return Ok(true);
                }
                path.push(point);
                here = point;
            }
        }
        Ok(false)
    }

    /// The steps from a point to a time, that time's last; the point itself is not among them.
    fn stepped(&self, from: (f64, State), until_s: f64) -> Result<Vec<(f64, State)>, HeatFault> {
        // The method is steady up to three times that, and gives up where it thinks that it is not.
        let longest_s = 2.0 * self.bench.corner.quickest_s(0.0);
        if until_s - from.0 < 1e-6 {
            // Within a microsecond nothing moves, and no step is so short.
            return Ok(vec![(until_s, from.1)]);
        }
        let solution = to_the_end(until_s, |until_s| {
            let method = ExplicitRungeKutta::dopri5()
                .rtol(1e-8)
                .atol([1e-5, 1e-5, 1e-13, 1e-13])
                .h_max(longest_s)
                .max_steps(1_000_000);
            IVP::ode(self, from.0, until_s, from.1).method(method).solve()
        });
        let solution = solution.map_err(|_| HeatFault { at_s: from.0 })?;
        let points: Vec<(f64, State)> = solution.t.into_iter().zip(solution.y).skip(1).collect();
        let whole = points
            .iter()
            .all(|(_, state)| state.iter().all(|figure| figure.is_finite()));
        match points.last() {
            Some(_) if whole => Ok(points),
            _ => Err(HeatFault { at_s: from.0 }),
        }
    }
}

impl ODE<f64, State> for Standing<'_> {
    fn diff(&self, time_s: f64, state: &State, rates: &mut State) {
        let bench = self.bench;
        let flow = bench
            .corner
            .flow(nodes(state), 0.0, Moving::at(0.0), bench.ambient.k());
        let (disc_k_s, caliper_k_s) = bench.corner.warming(nodes(state), flow.disc_w, flow.caliper_w);
        *rates = [disc_k_s, caliper_k_s, 0.0, 0.0];
        if let Holder::Fluid { seep, .. } = &bench.holder {
            for (number, (_, pressure_pa)) in self.pressures(time_s, state).enumerate() {
                rates[2 + number.min(1)] = seep.m3_s_pa * pressure_pa;
            }
        }
    }
}
