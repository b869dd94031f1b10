//! The foot's side: pressures and travel, lock order over grip and load, road rules, one circuit gone.

use std::sync::Arc;

use crate::thresholds::{FOOT_LIMIT_ROAD, WANTED_LEAD};
use quantity::si::{Force, Volume};

use super::{DRY_TARMAC, USUAL_FOOT, USUAL_HAND, surfaces};
use crate::balance::{
    Balance, BarAnswer, FailedCircuit, First, KneeAnswer, Lock, RoadRules, USUAL_SLOPE, Wish, WishFault,
    bar_for, failed_circuits, knee_for,
};
use crate::car::{Car, Surface};
use crate::conditions::Conditions;
use crate::hydraulics::{Forces, Hydraulics, Response};
use crate::loads::{Aboard, Fuel, Laden};

/// What the foot does.
#[derive(Clone, Debug)]
pub struct Foot {
    /// 300 N of foot alone.
    pub usual: Response,
    /// 150 N of hand alone.
    pub hand: Response,
    /// Both together.
    pub both: Response,
    /// 500 N of foot.
    pub hard: Response,
    /// One circuit gone, at the grip that was asked about.
    pub failed: [FailedCircuit; 2],
    /// One circuit gone, on dry tarmac: what the road rule means.
    pub failed_on_tarmac: [FailedCircuit; 2],
}

impl Foot {
    pub(super) fn of(car: &Car, hydraulics: &Hydraulics, laden: &Laden, grip: f64) -> Self {
        let answer = |foot: Force, hand: Force| hydraulics.answer(laden, Forces { foot, hand });
        let tarmac = car.surface(DRY_TARMAC).map_or(1.0, |surface| surface.peak);
        Self {
            usual: answer(USUAL_FOOT, Force::ZERO),
            hand: answer(Force::ZERO, USUAL_HAND),
            both: answer(USUAL_FOOT, USUAL_HAND),
            hard: answer(FOOT_LIMIT_ROAD, Force::ZERO),
            failed: failed_circuits(car, hydraulics, laden, grip),
            failed_on_tarmac: failed_circuits(car, hydraulics, laden, tarmac),
        }
    }
}

/// First lock on one surface with one fuel load.
#[derive(Clone, Debug, PartialEq)]
pub struct LockRow {
    /// Surface.
    pub surface: Arc<str>,
    /// Fuel aboard.
    pub fuel: Volume,
    /// What locks.
    pub lock: Lock,
}

/// The worst load at one grip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScanPoint {
    /// Grip.
    pub grip: f64,
    /// Fuel aboard at which the front leads by least.
    pub fuel: Volume,
    /// What locks there.
    pub first: First,
    /// By how much the front leads there.
    pub front_first_by: f64,
}

/// One setting of valve or bar that puts the front first by 5 % on every surface of the car's and every grip between them,
/// at every fuel load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForAll {
    /// The knee, the bar (if any) as it is.
    pub knee: KneeAnswer,
    /// Turns or position of the knob for it.
    pub knob: Option<f64>,
    /// The bar, the knee (if any) as it is.
    pub bar: Option<BarAnswer>,
    /// What stands in the way of the valve.
    pub why_not: Option<WishFault>,
}

/// Road rules at one load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoadRow {
    /// Whether crew and items are aboard.
    pub crew: bool,
    /// Fuel aboard.
    pub fuel: Volume,
    /// The rules.
    pub rules: RoadRules,
}

/// Lock order.
#[derive(Clone, Debug, PartialEq)]
pub struct Braked {
    /// At the state's grip and load.
    pub lock: Lock,
    /// On every surface that the car runs on, dry, half and full.
    pub rows: Vec<LockRow>,
    /// The worst load at every twentieth of grip from 0.10 to the best surface's, and at every surface's own grip; rising
    /// grips. Grips at which nothing locks are left out.
    pub scan: Vec<ScanPoint>,
    /// Lowest and highest grip of the surfaces that the car runs on and of the one that was asked about.
    pub matters: (f64, f64),
    /// Whether a centre coupling ties the axles under the pedal.
    pub tied: bool,
    /// Valve or bar for all of it.
    pub for_all: ForAll,
    /// Road rules, with and without crew, dry, half and full; empty on a car without number plates.
    pub road: Vec<RoadRow>,
}

/// Fuel loads that are looked at.
fn fuels(car: &Car) -> &'static [Fuel] {
    if car.load.tank.is_some() {
        &[Fuel::Dry, Fuel::Half, Fuel::Full]
    } else {
        &[Fuel::AsWeighed]
    }
}

impl Braked {
    pub(super) fn of(car: &Car, hydraulics: &Hydraulics, conditions: &Conditions, surface: &Surface) -> Self {
        let laden = |crew: bool, fuel: Fuel| Laden::of(car, Aboard { crew, fuel });
        let here = Balance::of(car, hydraulics.clone(), conditions.laden(car), conditions.speed);
        let loads: Vec<Laden> = fuels(car)
            .iter()
            .map(|&fuel| laden(conditions.aboard.crew, fuel))
            .collect();
        let surfaces = surfaces(car, surface);
        let rows = surfaces
            .iter()
            .flat_map(|surface| loads.iter().map(move |laden| (surface, laden)))
            .map(|(surface, laden)| LockRow {
                surface: Arc::clone(&surface.name),
                fuel: laden.fuel,
                lock: here.at_load(*laden).lock(surface.peak),
            })
            .collect();
        let grips: Vec<f64> = surfaces
            .iter()
            .map(|surface| surface.peak)
            .chain([surface.peak])
            .collect();
        let matters = (
            grips.iter().copied().fold(f64::INFINITY, f64::min),
            grips.iter().copied().fold(0.0, f64::max),
        );
        let best = matters.1;
        let mut looked_at: Vec<f64> = (2..=40_u8)
            .map(|twentieth| f64::from(twentieth) / 20.0)
            .filter(|&grip| grip < best)
            .chain(grips)
            .collect();
        looked_at.sort_by(f64::total_cmp);
        looked_at.dedup_by(|one, other| (*one - *other).abs() < 1e-9);
        let scan = looked_at
            .iter()
            .filter_map(|&grip| worst_load(&here, &loads, grip))
            .collect();
        let crews = car.road_registered.then_some([true, false]);
        let road = crews
            .into_iter()
            .flatten()
            .flat_map(|crew| fuels(car).iter().map(move |&fuel| (crew, fuel)));
        let road = road
            .map(|(crew, fuel)| {
                let laden = laden(crew, fuel);
                RoadRow {
                    crew,
                    fuel: laden.fuel,
                    rules: here.at_load(laden).road_rules(),
                }
            })
            .collect();
        let within: Vec<f64> = looked_at
            .iter()
            .copied()
            .filter(|grip| (matters.0 - 1e-9..=matters.1 + 1e-9).contains(grip))
            .collect();
        Self {
            lock: here.lock(surface.peak),
            for_all: for_all(car, hydraulics, &loads, &within),
            rows,
            scan,
            matters,
            tied: here.tied(),
            road,
        }
    }

    /// Grips between the lowest and the highest of the car's surfaces at which, at some load, the rear axle uses more
    /// of its grip than the front: it locks first, or would if no coupling held it.
    pub fn rear_leads(&self) -> impl Iterator<Item = &ScanPoint> {
        let (low, high) = self.matters;
        self.scan
            .iter()
            .filter(|point| point.rear_leads())
            .filter(move |point| (low - 1e-9..=high + 1e-9).contains(&point.grip))
    }

    /// The highest grip below `grip`, on the car's surfaces or not, at which the rear leads at some load.
    #[must_use]
    pub fn rear_leads_below(&self, grip: f64) -> Option<&ScanPoint> {
        self.scan
            .iter()
            .rev()
            .find(|point| point.rear_leads() && point.grip < grip - 1e-9)
    }
}

impl ScanPoint {
    /// Whether the rear axle uses more of its grip than the front.
    #[must_use]
    pub fn rear_leads(&self) -> bool {
        self.front_first_by < -1e-9
    }
}

fn for_all(car: &Car, hydraulics: &Hydraulics, loads: &[Laden], grips: &[f64]) -> ForAll {
    let wish = Wish::front_first(WANTED_LEAD);
    let at = || {
        loads
            .iter()
            .flat_map(|laden| grips.iter().map(move |&grip| (laden, grip)))
    };
    let knees = at().filter_map(|(laden, grip)| match knee_for(hydraulics, laden, grip, wish) {
        KneeAnswer::At(knee) => Some(knee),
        _ => None,
    });
    let lowest = knees.reduce(quantity::si::Pressure::min);
    let bar = at()
        .filter_map(|(laden, grip)| bar_for(car, hydraulics, laden, grip, wish))
        .filter(|bar| bar.front_share > 0.0 && bar.front_share < 1.0)
        .max_by(|one, other| one.front_share.total_cmp(&other.front_share));
    let set = match (lowest, &car.bias_valve) {
        (None, _) => Ok(None),
        (Some(knee), _) if knee.pa() < 0.0 => Err(WishFault::SlopeTooSteep),
        (Some(knee), Some(valve)) => valve.knob_for(knee).map(Some),
        (Some(_), None) => Err(WishFault::NoValve { slope: USUAL_SLOPE }),
    };
    ForAll {
        knee: lowest.map_or(KneeAnswer::NoneNeeded, KneeAnswer::At),
        knob: set.ok().flatten(),
        bar,
        why_not: set.err(),
    }
}

fn worst_load(here: &Balance, loads: &[Laden], grip: f64) -> Option<ScanPoint> {
    let points = loads.iter().filter_map(|&laden| {
        let lock = here.at_load(laden).lock(grip);
        let front_first_by = lock.at?.front_first_by;
        Some(ScanPoint {
            grip,
            fuel: laden.fuel,
            first: lock.first,
            front_first_by,
        })
    });
    points.min_by(|one, other| one.front_first_by.total_cmp(&other.front_first_by))
}
