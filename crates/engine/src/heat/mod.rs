//! How hot does it get? Discs, calipers and fluid over a stage and in the soak after it.
//!
//! The car is driven through a [`Stage`]; every braking's energy is shared by the axles as their pads grip at their own
//! temperature, so that fade moves heat from one axle to the other within the same stop. After the stage the car stands:
//! the discs go on heating the calipers, and the fluid is hottest ten to twenty minutes later.
//!
//! Air and rolling resistance and the engine are left out while the brakes are on: a little more heat than there is. An
//! axle is not taken to lock. The brakes begin at the air's temperature.

mod drag;
mod drive;
mod help;
mod shared;
mod stage;
mod study;
mod vehicle;
mod way;

use std::collections::HashMap;

use crate::equations;
use crate::thresholds::{FADED_BELOW, IRON_UP_TO, WET_AFTER_DAYS};
use quantity::si::{Duration, Force, Length, Pressure, Speed, Temperature, TemperatureDifference};

use self::drag::Noticed;
use self::drive::{follow, standing};
use self::shared::Shares;
use self::vehicle::{Vehicle, weight_n};
use self::way::{Cubic, Point, State};
use crate::brake::Warmth;
use crate::car::{Axle, Car, LeverKind};
use crate::conditions::Conditions;
use crate::hydraulics::Hydraulics;
use crate::loads::Laden;
use crate::network::Network;
use crate::thermal::{Corner, Fade, Unsure};
use crate::trapped::Part as Shut;

pub use drag::NOBODY_DRIVES_ON;
pub use drive::{Exactness, HeatFault};
pub use help::{HeatChange, HeatHelp};
pub use stage::{By, COASTS_AT, Descent, Stage, StagePart, Stops, TURNING_PARTS, TracePoint};
pub use study::{HeatFigures, Heats};

/// How long the car is watched after the stage.
pub const SOAK: Duration = Duration::from_s(3600.0);

/// Boiling points that a peak is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boiling {
    /// Fresh.
    pub dry: Temperature,
    /// With the water of the grade's test.
    pub wet: Temperature,
    /// At the fluid's age; wet where the age is not known.
    pub now: Temperature,
    /// That age, in days; `None`: not known.
    pub days: Option<u32>,
}

impl Boiling {
    /// Of a fluid at an age: from dry to wet within [`WET_AFTER_DAYS`], fastest at first (`dry − (dry − wet) · s^0.6`, s
    /// share of that time; from memory, judgement).
    #[must_use]
    pub fn of(fluid: &crate::car::Fluid, days: Option<u32>) -> Self {
        let (dry, wet) = (fluid.boiling_dry, fluid.boiling_wet);
        let share = days.map_or(1.0, |days| equations::share_aged(f64::from(days), WET_AFTER_DAYS));
        Self {
            dry,
            wet,
            days,
            now: Temperature::from_k(equations::boiling_point(dry.k(), wet.k(), share)),
        }
    }
}

/// A wheel of an axle over a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerHeat {
    /// Hottest of the disc or drum while the car was driven.
    pub disc_peak: Temperature,
    /// When, from the start.
    pub disc_peak_at: Duration,
    /// Hottest of caliper and fluid while the car was driven.
    pub fluid_running: Temperature,
    /// Hottest of caliper and fluid after it stopped.
    pub fluid_soak: Temperature,
    /// When, from stopping.
    pub fluid_soak_at: Duration,
    /// What is left to the wet boiling point.
    pub to_wet: TemperatureDifference,
    /// To the dry one.
    pub to_dry: TemperatureDifference,
    /// To that of the fluid's age.
    pub to_now: TemperatureDifference,
    /// What is left until the pads have faded (see [`FADED_BELOW`]).
    pub to_fade: TemperatureDifference,
    /// Where that is.
    pub fades_at: Temperature,
    /// Least that was left of the warm friction above the temperature of the best friction.
    pub fade_worst: f64,
    /// Whether it was hotter than iron or pads are known.
    pub left_tables: bool,
}

/// What comes nearest to its limit, or is furthest beyond it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// Fluid, while the car is driven.
    FluidRunning,
    /// Fluid, in the soak after.
    FluidSoak,
    /// Pads or linings.
    Pads,
}

/// What governs, and by how much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Governs {
    /// Where.
    pub axle: Axle,
    /// What.
    pub what: What,
    /// What is left of it: to the wet boiling point, or until the pads have faded.
    pub left: TemperatureDifference,
}

/// Heat that went through all four brakes over stage and soak (J).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Account {
    /// That the brakes made.
    pub made_j: f64,
    /// That discs and calipers still hold.
    pub held_j: f64,
    /// That the air took.
    pub to_air_j: f64,
    /// That was radiated.
    pub radiated_j: f64,
}

impl Account {
    /// What is missing over what was made: nothing, but for the exactness of the steps.
    #[must_use]
    pub fn off(&self) -> f64 {
        if self.made_j > 0.0 {
            (self.made_j - self.held_j - self.to_air_j - self.radiated_j) / self.made_j
        } else {
            0.0
        }
    }
}

/// The foot over a stage: what fade asks of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FootHeat {
    /// Most that any braking asked.
    pub most: Force,
    /// Most that one asked over what the same braking asks with warm pads.
    pub over_warm: f64,
}

/// Brakes that drag because the lever's by-pass stays covered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drags {
    /// From when on they hold by a hundredth of the car's weight; `None`: not within the stage.
    pub felt_at: Option<Duration>,
    /// When nobody drives on (see [`NOBODY_DRIVES_ON`]); the stage ends there.
    pub ends_at: Option<Duration>,
    /// Highest pressure that the warmth made.
    pub pressure: Pressure,
}

/// A point of a stage's way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// From the start.
    pub time: Duration,
    /// Driven so far.
    pub distance: Length,
    /// Of the car.
    pub speed: Speed,
    /// Of a front disc or drum.
    pub front_disc: Temperature,
    /// Of a front caliper and its fluid.
    pub front_fluid: Temperature,
    /// Of a rear disc or drum.
    pub rear_disc: Temperature,
    /// Of a rear caliper or wheel cylinder and its fluid.
    pub rear_fluid: Temperature,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Heat {
    /// Each front wheel.
    pub front: CornerHeat,
    /// Each rear wheel.
    pub rear: CornerHeat,
    /// What governs.
    pub governs: Governs,
    /// Boiling points.
    pub boiling: Boiling,
    /// The foot; `None` where the pedal is never used.
    pub foot: Option<FootHeat>,
    /// Share of all heat that the front brakes made; not a number where there was none.
    pub front_share: f64,
    /// The heat's account.
    pub account: Account,
    /// How long the car was driven.
    pub driven: Duration,
    /// How far.
    pub distance: Length,
    /// Speed with which the stage ends. Above nothing: coming to rest is not on its list.
    pub ends_at: Speed,
    /// Where free play is nothing: what a by-pass that stays covered does.
    pub drags: Option<Drags>,
    /// The way: stage, then soak.
    pub way: Vec<Moment>,
}

impl Heat {
    /// Of an axle.
    #[must_use]
    pub const fn corner(&self, axle: Axle) -> &CornerHeat {
        match axle {
            Axle::Front => &self.front,
            Axle::Rear => &self.rear,
        }
    }
}

/// A car prepared for questions of heat.
#[derive(Clone, Debug)]
pub struct HeatBench {
    vehicle: Vehicle,
    hydraulics: Hydraulics,
    laden: Laden,
    fluid: crate::car::Fluid,
    ambient: Temperature,
    fluid_days: Option<u32>,
    exactness: Exactness,
}

impl HeatBench {
    /// Prepares a car.
    #[must_use]
    pub fn of(car: &Car, conditions: &Conditions) -> Self {
        Self::unsure(car, conditions, Unsure::default())
    }

    /// With other figures for what is on no sheet.
    #[must_use]
    pub fn unsure(car: &Car, conditions: &Conditions, unsure: Unsure) -> Self {
        // The stage has slopes of its own.
        let laden = Laden::of(car, conditions.aboard);
        let network = Network::of(car);
        let dragging = if by_pass_may_stay_covered(car) {
            Shut::all(car, &network)
        } else {
            Vec::new()
        };
        Self {
            vehicle: Vehicle {
                corners: [
                    Corner::of(&car.front_brake, true, unsure),
                    Corner::of(&car.rear_brake, false, unsure),
                ],
                fades: [Fade::of(&car.front_brake), Fade::of(&car.rear_brake)],
                weight_n: weight_n(laden.mass.kg()),
                air_k: conditions.ambient.k(),
                dragging,
            },
            hydraulics: Hydraulics::of(car, Warmth::Warm),
            laden,
            fluid: car.fluid,
            ambient: conditions.ambient,
            fluid_days: conditions
                .day
                .and_then(|day| car.fluid.days_on(day))
                .and_then(|days| u32::try_from(days).ok()),
            exactness: Exactness::default(),
        }
    }

    /// Of the air, and of the brakes at the start.
    pub(crate) const fn ambient(&self) -> Temperature {
        self.ambient
    }

    /// What a wheel of an axle holds and gives away.
    pub(crate) const fn corner_of(&self, axle: Axle) -> &Corner {
        match axle {
            Axle::Front => &self.vehicle.corners[0],
            Axle::Rear => &self.vehicle.corners[1],
        }
    }

    /// Stepped through more or less closely.
    #[must_use]
    pub const fn as_exactly(mut self, exactness: Exactness) -> Self {
        self.exactness = exactness;
        self
    }

    /// The same car with its by-pass uncovered at rest, however its free play stands.
    #[must_use]
    pub fn without_drag(mut self) -> Self {
        self.vehicle.dragging.clear();
        self
    }

    /// Drives a stage and watches the soak.
    ///
    /// # Errors
    /// The temperatures cannot be followed.
    pub fn drive(&self, stage: &Stage) -> Result<Heat, HeatFault> {
        let mut state: State = self.vehicle.cold();
        // A stage brakes alike again and again, with nothing between.
        let mut known: HashMap<u64, Shares> = HashMap::new();
        let mut way = Vec::new();
        let mut path: Vec<Point> = Vec::new();
        let (mut distance_m, mut driven_s, mut ends_m_s) = (0.0, 0.0, 0.0);
        let mut foot = None::<FootHeat>;
        let (mut noticed, mut nobody_drives_on_s) = (Noticed::of(&self.vehicle), None);
        for stretch in stage.stretches() {
            let shares = *known
                .entry(stretch.braked.to_bits())
                .or_insert_with(|| Shares::at(&self.hydraulics, &self.laden, stretch.braked));
            let first = path.len();
            let gives_up = follow(&self.vehicle, stretch, shares, self.exactness, state, &mut path)?;
            for point in &path[first..] {
                let since = point.time_s - stretch.starts_s;
                let speed_m_s = stretch.speed_at(point.time_s).max(0.0);
                way.push(moment(
                    point,
                    distance_m + 0.5 * (stretch.from_m_s + speed_m_s) * since,
                    speed_m_s,
                ));
                if stretch.braked > 0.0 && stretch.by == By::Pedal {
                    self.note_foot(&mut foot, stretch.braked, &shares, point);
                }
            }
            if let Some(noticed) = &mut noticed {
                noticed.along(&shares, &path[first..]);
            }
            if let Some(last) = path.last() {
                state = last.state;
                driven_s = last.time_s;
            }
            ends_m_s = stretch.speed_at(driven_s).max(0.0);
            distance_m = way.last().map_or(distance_m, |at| at.distance.m());
            if gives_up {
                nobody_drives_on_s = Some(driven_s);
                break;
            }
        }
        let running = path.len();
        let soak = standing(driven_s, SOAK.s());
        let shares = Shares::at(&self.hydraulics, &self.laden, 0.0);
        follow(&self.vehicle, soak, shares, self.exactness, state, &mut path)?;
        way.extend(path[running..].iter().map(|point| moment(point, distance_m, 0.0)));
        let boiling = Boiling::of(&self.fluid, self.fluid_days);
        let corner = |axle: usize| self.corner(axle, &path, running, driven_s, &boiling);
        let (front, rear) = (corner(0), corner(1));
        let made_j = path.last().map_or(0.0, |point| point.state[4] + point.state[5]);
        Ok(Heat {
            governs: governs(&front, &rear),
            front,
            rear,
            boiling,
            foot,
            front_share: path.last().map_or(f64::NAN, |point| point.state[4] / made_j),
            account: Self::account(&path),
            driven: Duration::from_s(driven_s),
            distance: Length::from_m(distance_m),
            ends_at: Speed::from_m_s(ends_m_s),
            drags: noticed.map(|noticed| noticed.drags(nobody_drives_on_s)),
            way,
        })
    }

    fn note_foot(&self, foot: &mut Option<FootHeat>, braked: f64, shares: &Shares, point: &Point) {
        let fades = &self.vehicle.fades;
        let push_rod = |front: f64, rear: f64| shares.share(braked, front, rear).push_rod;
        let [front_k, _, rear_k, _] = point.at_k;
        let hot = push_rod(fades[0].torque_k(front_k), fades[1].torque_k(rear_k));
        let force = self.hydraulics.foot.foot(hot);
        let warm = self.hydraulics.foot.foot(push_rod(1.0, 1.0));
        // Cold pads are another matter than faded ones.
        let faded = front_k > fades[0].best_k() || rear_k > fades[1].best_k();
        let over = if faded && warm > Force::ZERO {
            force / warm
        } else {
            1.0
        };
        let so_far = foot.get_or_insert(FootHeat {
            most: Force::ZERO,
            over_warm: 1.0,
        });
        so_far.most = so_far.most.max(force);
        so_far.over_warm = so_far.over_warm.max(over);
    }

    fn corner(
        &self,
        axle: usize,
        path: &[Point],
        running: usize,
        driven_s: f64,
        boiling: &Boiling,
    ) -> CornerHeat {
        let (disc, fluid) = (2 * axle, 2 * axle + 1);
        let (running, soaking) = (&path[..running], &path[running..]);
        let (disc_k, disc_at) = peak(running, disc, self.ambient.k());
        let (running_k, _) = peak(running, fluid, self.ambient.k());
        let (soak_k, soak_at) = peak(soaking, fluid, self.ambient.k());
        let fade = &self.vehicle.fades[axle];
        let disc_peak = Temperature::from_k(disc_k);
        let hottest = Temperature::from_k(running_k.max(soak_k));
        let fades_at = fade.falls_below(FADED_BELOW);
        CornerHeat {
            disc_peak,
            disc_peak_at: Duration::from_s(disc_at),
            fluid_running: Temperature::from_k(running_k),
            fluid_soak: Temperature::from_k(soak_k),
            fluid_soak_at: Duration::from_s((soak_at - driven_s).max(0.0)),
            to_wet: boiling.wet - hottest,
            to_dry: boiling.dry - hottest,
            to_now: TemperatureDifference::from_dk(equations::left_to_boil(boiling.now.k(), hottest.k())),
            to_fade: fades_at - disc_peak,
            fades_at,
            fade_worst: fade.left(disc_peak),
            left_tables: disc_peak > IRON_UP_TO || disc_peak > fade.ends_at(),
        }
    }

    fn account(path: &[Point]) -> Account {
        let holds = |state: &State| 2.0 * state[..4].iter().sum::<f64>();
        let (Some(first), Some(last)) = (path.first(), path.last()) else {
            return Account {
                made_j: 0.0,
                held_j: 0.0,
                to_air_j: 0.0,
                radiated_j: 0.0,
            };
        };
        Account {
            made_j: last.state[4] + last.state[5],
            held_j: holds(&last.state) - holds(&first.state),
            to_air_j: last.state[6],
            radiated_j: last.state[7],
        }
    }
}

/// Whether the lever's by-pass may stay covered at rest: an inline cylinder without free play at the grip.
#[must_use]
pub fn by_pass_may_stay_covered(car: &Car) -> bool {
    car.lever
        .as_ref()
        .is_some_and(|lever| matches!(lever.kind, LeverKind::Inline(_)) && lever.free_play <= Length::ZERO)
}

fn moment(point: &Point, distance_m: f64, speed_m_s: f64) -> Moment {
    let at = |figure: usize| Temperature::from_k(point.at_k[figure]);
    Moment {
        time: Duration::from_s(point.time_s),
        distance: Length::from_m(distance_m),
        speed: Speed::from_m_s(speed_m_s),
        front_disc: at(0),
        front_fluid: at(1),
        rear_disc: at(2),
        rear_fluid: at(3),
    }
}

/// The highest value of a figure along a way, and when; `least` where there is none.
fn peak(path: &[Point], figure: usize, least: f64) -> (f64, f64) {
    let start = path
        .first()
        .map_or((least, 0.0), |first| (first.at_k[figure], first.time_s));
    path.windows(2)
        .map(|pair| {
            let (highest, share) = Cubic::between(&pair[0], &pair[1], figure).peak();
            (
                highest,
                pair[0].time_s + share * (pair[1].time_s - pair[0].time_s),
            )
        })
        .fold(start, |best, next| if next.0 > best.0 { next } else { best })
}

fn governs(front: &CornerHeat, rear: &CornerHeat) -> Governs {
    let mut all = Vec::with_capacity(4);
    for (axle, corner) in [(Axle::Front, front), (Axle::Rear, rear)] {
        let what = if corner.fluid_soak > corner.fluid_running {
            What::FluidSoak
        } else {
            What::FluidRunning
        };
        all.push(Governs {
            axle,
            what,
            left: corner.to_wet,
        });
        all.push(Governs {
            axle,
            what: What::Pads,
            left: corner.to_fade,
        });
    }
    all.into_iter()
        .reduce(|least, next| if next.left < least.left { next } else { least })
        .unwrap_or(Governs {
            axle: Axle::Front,
            what: What::FluidSoak,
            left: front.to_wet,
        })
}
