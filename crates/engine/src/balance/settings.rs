//! Where the valve or the bar goes for a wish: at a grip, at a load, on the stage and on the road.

use quantity::si::{Force, Pressure};
use thiserror::Error;

use super::Balance;
use crate::car::{Axle, BiasValve, Car, Knee, KnobScale, Master, Surface};
use crate::equations;
use crate::hydraulics::Hydraulics;
use crate::loads::{Aboard, Fuel, Laden};

/// What the driver wants at first lock, as `f₁/f₂ − 1`: above 0 front first by at least so much, 0 even, below 0 rear
/// first by so much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish(f64);

impl Wish {
    /// Both ends together.
    pub const EVEN: Self = Self(0.0);

    /// Front first by at least this share (0.05: five per cent).
    #[must_use]
    pub fn front_first(share: f64) -> Self {
        Self(share.max(0.0))
    }

    /// Rear first by this share; below 1.
    #[must_use]
    pub fn rear_first(share: f64) -> Self {
        Self(-share.clamp(0.0, 0.95))
    }

    /// As `f₁/f₂ − 1`.
    #[must_use]
    pub const fn margin(self) -> f64 {
        self.0
    }
}

/// What a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Competing: right at this grip and load.
    Stage,
    /// Driving between stages: front first at every grip and load.
    Road,
}

/// Why a valve cannot do what is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum WishFault {
    /// It would have to raise the rear's pressure.
    #[error(
        "a valve only takes away, and the rear needs {more:.0} % more pressure than the pedal gives it. Fit pads \
         with more friction, larger pistons or a larger disc behind, or less in front"
    )]
    NeedsMoreRear {
        /// Per cent more.
        more: f64,
    },
    /// The rear axle carries nothing.
    #[error("at this grip the rear axle leaves the ground before the wish is met: any brake there locks it")]
    RearOffGround,
    /// The rear is too strong even with the knee at nothing.
    #[error(
        "even with its knee at nothing the valve leaves the rear too strong: a flatter slope, or less brake behind"
    )]
    SlopeTooSteep,
    /// The knee is below the knob's range.
    #[error("the knee lies {below_bar:.1} bar below what the knob reaches")]
    BelowRange {
        /// By how much (bar).
        below_bar: f64,
    },
    /// The knee is above the knob's range.
    #[error("the knee lies {above_bar:.1} bar above what the knob reaches")]
    AboveRange {
        /// By how much (bar).
        above_bar: f64,
    },
    /// The valve has no knob.
    #[error("this valve has no knob, and its knee does not fit")]
    NoKnob,
    /// The car has no valve.
    #[error("the rear line has no bias valve; one with a slope of {slope:.2} would do it at this knee")]
    NoValve {
        /// Slope that was assumed.
        slope: f64,
    },
    /// The bar would have to give everything to one cylinder.
    #[error(
        "the bar would have to give one cylinder more than all the force, or a limiting valve caps the rear"
    )]
    BeyondBar,
}

/// The knee for a wish.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum KneeAnswer {
    /// At least the wish is met with no valve at all.
    NoneNeeded,
    /// The knee that gives it.
    At(Pressure),
    /// No knee gives it.
    Cannot(WishFault),
}

/// The balance bar's answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarAnswer {
    /// The front cylinder's share.
    pub front_share: f64,
    /// Turns from where the bar stands; positive towards the front.
    pub turns: f64,
}

/// One row of settings.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingRow {
    /// Surface.
    pub surface: std::sync::Arc<str>,
    /// Its grip.
    pub grip: f64,
    /// Fuel that was asked about.
    pub laden: Laden,
    /// What it is for.
    pub purpose: Purpose,
    /// What is wanted.
    pub wish: Wish,
    /// The knee, the bar as it is.
    pub knee: KneeAnswer,
    /// Turns or position of the knob for that knee; `None` where no knob gives it.
    pub knob: Option<f64>,
    /// The bar, the knee as it is; `None` on a car without one, or where it cannot.
    pub bar: Option<BarAnswer>,
    /// Whether valve or bar can be set so.
    pub reachable: bool,
    /// What stands in the way of the valve.
    pub why_not: Option<WishFault>,
    /// Highest lower grip at which, so set, some load locks the rear first.
    pub rear_first_below: Option<f64>,
}

/// All rows for one car and wish.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// Rows: every surface with every fuel load; stage before road.
    pub rows: Vec<SettingRow>,
    /// What the knob counts in, if there is one.
    pub scale: Option<KnobScale>,
    /// Where the knob stands.
    pub stands: Option<f64>,
    /// Whether a centre coupling ties the axles: the answers are then those of free axles.
    pub tied: bool,
}

/// Slope of the valve that is assumed on a car without one.
pub const USUAL_SLOPE: f64 = 0.43;

/// Front and rear brake pressure, and the rear axle's load, at which the axle that goes first is at its grip and the
/// other behind it by the wish:
///
/// front first: `μ_f = μ`, `μ_r = μ/(1 + M)`; rear first: `μ_r = μ`, `μ_f = μ (1 + M)`;
/// `z = (μ_f b + μ_r a)/(L − (μ_f − μ_r) h)`.
struct Target {
    front: Pressure,
    rear: Pressure,
    rear_load: Force,
}

fn target(hydraulics: &Hydraulics, laden: &Laden, grip: f64, wish: Wish) -> Target {
    let margin = wish.margin();
    let [front_used, rear_used] = equations::used_for_wish(grip, margin, margin < 0.0);
    let (aft, height, wheelbase) = (laden.cg_aft.m(), laden.cg_height.m(), laden.wheelbase.m());
    let presses = laden.grade.presses();
    let rate = equations::rate_using(presses, [front_used, rear_used], wheelbase, aft, height);
    let loads = laden.axle_loads(rate);
    let pressure = |axle: Axle, used: f64, load: Force| {
        let law = hydraulics.wheels[if axle == Axle::Front { 0 } else { 2 }];
        let torque_nm = equations::torque_using(used, load.n().max(0.0), hydraulics.radius(axle).m());
        law.pressure(quantity::si::Torque::from_nm(torque_nm))
    };
    Target {
        front: pressure(Axle::Front, front_used, loads.front),
        rear: pressure(Axle::Rear, rear_used, loads.rear),
        rear_load: loads.rear,
    }
}

/// The knee that gives a wish at a grip, the bar (if any) as it is: `p_k = (p_r − s p_in)/(1 − s)`.
///
/// The coupling of tied axles is left out; the foot may be as strong as it takes.
#[must_use]
pub fn knee_for(hydraulics: &Hydraulics, laden: &Laden, grip: f64, wish: Wish) -> KneeAnswer {
    let target = target(hydraulics, laden, grip, wish);
    if target.rear_load <= Force::ZERO {
        return KneeAnswer::Cannot(WishFault::RearOffGround);
    }
    let push_rod = hydraulics.foot.push_rod_for(0, target.front);
    let inlet = hydraulics.foot.pressures(push_rod)[1];
    if target.rear >= inlet {
        return if wish.margin() > 0.0 {
            KneeAnswer::NoneNeeded
        } else {
            KneeAnswer::Cannot(WishFault::NeedsMoreRear {
                more: (target.rear / inlet - 1.0) * 100.0,
            })
        };
    }
    let slope = hydraulics.slope().unwrap_or(USUAL_SLOPE);
    KneeAnswer::At(Pressure::from_pa(equations::knee(
        target.rear.pa(),
        inlet.pa(),
        slope,
    )))
}

/// The bar that gives a wish at a grip, the knee (if any) as it is.
#[must_use]
pub fn bar_for(
    car: &Car,
    hydraulics: &Hydraulics,
    laden: &Laden,
    grip: f64,
    wish: Wish,
) -> Option<BarAnswer> {
    let Master::Twin { bar, .. } = car.master else {
        return None;
    };
    let target = target(hydraulics, laden, grip, wish);
    if target.rear_load <= Force::ZERO {
        return None;
    }
    let inlet = match (hydraulics.knee(target.rear_load), hydraulics.slope()) {
        (Some(knee), Some(slope)) if target.rear > knee => {
            if slope <= 0.0 {
                return None;
            }
            Pressure::from_pa(equations::before_knee(knee.pa(), slope, target.rear.pa()))
        }
        _ => target.rear,
    };
    let front_n = target.front.pa() * hydraulics.foot.area(0).m2();
    let rear_n = inlet.pa() * hydraulics.foot.area(1).m2();
    let front_share = front_n / (front_n + rear_n);
    Some(BarAnswer {
        front_share,
        turns: (front_share - bar.front_share) / bar.share_per_turn,
    })
}

/// Loads that a setting is tried at: dry, half and full tank.
fn fuels(car: &Car) -> Vec<Fuel> {
    if car.load.tank.is_some() {
        vec![Fuel::Dry, Fuel::Half, Fuel::Full]
    } else {
        vec![Fuel::Dry]
    }
}

/// Grips that a road setting has to hold at: by tenths up to the best surface's.
fn road_grips(car: &Car) -> Vec<f64> {
    let best = car
        .surfaces
        .iter()
        .map(|surface| surface.peak)
        .fold(0.1, f64::max);
    (1..=20)
        .map(|tenth| f64::from(tenth) / 10.0)
        .filter(|&grip| grip <= best + 1e-9)
        .collect()
}

/// Every load that a road setting has to hold at.
fn road_loads(car: &Car) -> Vec<Laden> {
    [true, false]
        .into_iter()
        .flat_map(|crew| {
            fuels(car)
                .into_iter()
                .map(move |fuel| Laden::of(car, Aboard { crew, fuel }))
        })
        .collect()
}

/// The highest knee that keeps the front first, by at least the wish, at every grip and every load.
#[must_use]
pub fn road_knee(car: &Car, hydraulics: &Hydraulics, wish: Wish) -> KneeAnswer {
    let mut lowest: Option<Pressure> = None;
    for laden in road_loads(car) {
        for grip in road_grips(car) {
            // Where a valve could not, the rear is weak enough as it is.
            if let KneeAnswer::At(knee) = knee_for(hydraulics, &laden, grip, wish) {
                lowest = Some(lowest.map_or(knee, |known| known.min(knee)));
            }
        }
    }
    lowest.map_or(KneeAnswer::NoneNeeded, KneeAnswer::At)
}

fn road_bar(car: &Car, hydraulics: &Hydraulics, wish: Wish) -> Option<BarAnswer> {
    let mut most: Option<BarAnswer> = None;
    for laden in road_loads(car) {
        for grip in road_grips(car) {
            if let Some(bar) = bar_for(car, hydraulics, &laden, grip, wish)
                && most.is_none_or(|known| bar.front_share > known.front_share)
            {
                most = Some(bar);
            }
        }
    }
    most
}

impl BiasValve {
    /// The knob's setting for a knee.
    ///
    /// # Errors
    /// Without a knob, or by how much the knee lies outside its range.
    pub fn knob_for(&self, knee: Pressure) -> Result<f64, WishFault> {
        let Knee::Knob { at, .. } = &self.knee else {
            return Err(WishFault::NoKnob);
        };
        let mut line: Vec<(f64, f64)> = at.iter().map(|&(setting, knee)| (knee.pa(), setting)).collect();
        line.sort_by(|one, other| one.0.total_cmp(&other.0));
        let (Some(&(lowest, _)), Some(&(highest, _))) = (line.first(), line.last()) else {
            return Err(WishFault::NoKnob);
        };
        if knee.pa() < lowest {
            return Err(WishFault::BelowRange {
                below_bar: (lowest - knee.pa()) / 1e5,
            });
        }
        if knee.pa() > highest {
            return Err(WishFault::AboveRange {
                above_bar: (knee.pa() - highest) / 1e5,
            });
        }
        Ok(crate::interpolate::clamped(&line, knee.pa(), |knee| knee))
    }
}

/// Settings for surfaces and fuel loads. On a road-registered car each stage row is followed by the road's, which is
/// one setting for all.
#[must_use]
pub fn settings(
    car: &Car,
    hydraulics: &Hydraulics,
    surfaces: &[Surface],
    asked_fuels: &[Fuel],
    crew: bool,
    wish: Wish,
) -> Settings {
    let base = Balance::of(
        car,
        hydraulics.clone(),
        Laden::of(car, Aboard::default()),
        quantity::si::Speed::from_m_s(50.0 / 3.6),
    );
    let road_wish = Wish(wish.margin().max(0.0));
    let road = car.road_registered.then(|| {
        (
            road_knee(car, hydraulics, road_wish),
            road_bar(car, hydraulics, road_wish),
        )
    });
    let loads: Vec<Laden> = fuels(car)
        .into_iter()
        .map(|fuel| Laden::of(car, Aboard { crew, fuel }))
        .collect();
    let mut rows = Vec::new();
    for surface in surfaces {
        for &fuel in asked_fuels {
            let laden = Laden::of(car, Aboard { crew, fuel });
            let row = |purpose, wish, knee, bar| {
                finish(
                    car,
                    &base,
                    &loads,
                    Row {
                        surface,
                        laden,
                        purpose,
                        wish,
                        knee,
                        bar,
                    },
                )
            };
            let knee = knee_for(hydraulics, &laden, surface.peak, wish);
            rows.push(row(
                Purpose::Stage,
                wish,
                knee,
                bar_for(car, hydraulics, &laden, surface.peak, wish),
            ));
            if let Some((knee, bar)) = road {
                rows.push(row(Purpose::Road, road_wish, knee, bar));
            }
        }
    }
    let knob = car.bias_valve.as_ref().and_then(|valve| match valve.knee {
        Knee::Knob { scale, setting, .. } => Some((scale, setting)),
        _ => None,
    });
    Settings {
        rows,
        scale: knob.map(|(scale, _)| scale),
        stands: knob.map(|(_, stands)| stands),
        tied: base.tied(),
    }
}

struct Row<'a> {
    surface: &'a Surface,
    laden: Laden,
    purpose: Purpose,
    wish: Wish,
    knee: KneeAnswer,
    bar: Option<BarAnswer>,
}

fn finish(car: &Car, base: &Balance, loads: &[Laden], row: Row<'_>) -> SettingRow {
    let bar = row
        .bar
        .filter(|bar| bar.front_share > 0.0 && bar.front_share < 1.0);
    let (knob, why_not) = match (row.knee, &car.bias_valve) {
        (KneeAnswer::NoneNeeded, _) => (None, None),
        (KneeAnswer::Cannot(why), _) => (None, Some(why)),
        (KneeAnswer::At(knee), _) if knee < Pressure::ZERO => (None, Some(WishFault::SlopeTooSteep)),
        (KneeAnswer::At(_), None) => (None, Some(WishFault::NoValve { slope: USUAL_SLOPE })),
        (KneeAnswer::At(knee), Some(valve)) => match valve.knob_for(knee) {
            Ok(setting) => (Some(setting), None),
            Err(WishFault::NoKnob) => (None, no_knob(valve, knee, row.wish)),
            Err(why) => (None, Some(why)),
        },
    };
    let by_valve = why_not.is_none();
    // Where there is a bar, it is what stands in the way of a car without a valve.
    let why_not = match (why_not, car.master, bar) {
        (Some(WishFault::NoValve { .. }), Master::Twin { .. }, None) => Some(WishFault::BeyondBar),
        (why_not, ..) => why_not,
    };
    let reachable = by_valve || bar.is_some();
    let wants_front = row.wish.margin() >= 0.0;
    let rear_first_below = if !wants_front || !reachable {
        None
    } else if by_valve {
        // A valve without a knob that will do stays where it is.
        let set = match row.knee {
            KneeAnswer::At(knee) if knob.is_some() => base.with_knee(knee),
            _ => base.clone(),
        };
        rear_first_below(&set, loads, row.surface.peak)
    } else {
        bar.and_then(|bar| {
            let mut turned = car.clone();
            if let Master::Twin { bar: of_car, .. } = &mut turned.master {
                of_car.front_share = bar.front_share;
            }
            let mut set = base.clone();
            set.hydraulics.foot = crate::foot::FootLaw::of(&turned);
            rear_first_below(&set, loads, row.surface.peak)
        })
    };
    SettingRow {
        surface: std::sync::Arc::clone(&row.surface.name),
        grip: row.surface.peak,
        laden: row.laden,
        purpose: row.purpose,
        wish: row.wish,
        knee: row.knee,
        knob,
        bar,
        reachable,
        why_not,
        rear_first_below,
    }
}

/// A valve without a knob does it where its knee is the one needed; front first is also met by a lower knee.
fn no_knob(valve: &BiasValve, knee: Pressure, wish: Wish) -> Option<WishFault> {
    let Knee::Fixed(stands) = valve.knee else {
        return Some(WishFault::NoKnob);
    };
    let same = (stands.pa() - knee.pa()).abs() <= 1e-3 * stands.pa();
    let lower_will_do = wish.margin() > 0.0 && stands <= knee;
    (!same && !lower_will_do).then_some(WishFault::NoKnob)
}

/// A push rod is pressed as strongly as it takes.
const AS_STRONG_AS_IT_TAKES: Force = Force::from_n(1e6);

/// The highest grip up to `grip` at which some load locks the rear first; looked at every fiftieth of it.
fn rear_first_below(set: &Balance, loads: &[Laden], grip: f64) -> Option<f64> {
    const SLACK: f64 = 1e-9;
    let mut highest: Option<f64> = None;
    for &laden in loads {
        let at = set.at_load(laden);
        let leads = |grip: f64, most: Force| match at.front_leads_by(grip, most) {
            Some((leads, taken)) => (leads + SLACK, taken),
            None => (1.0, most),
        };
        let (mut last, mut enough) = (grip, AS_STRONG_AS_IT_TAKES);
        for fiftieth in (1..=50_u8).rev() {
            let here = grip * f64::from(fiftieth) / 50.0;
            let (leads_here, taken) = leads(here, enough);
            if leads_here < 0.0 {
                let found = if fiftieth == 50 {
                    grip
                } else {
                    // Between the two grips the lead changes its sign; the higher one where that cannot be told.
                    crate::solve::root(here, last, |grip| leads(grip, enough).0).unwrap_or(last)
                };
                highest = Some(highest.map_or(found, |known| known.max(found)));
                break;
            }
            last = here;
            // On less grip no more force is needed; a valve that feels the load may think otherwise.
            if !set.hydraulics.senses_load() {
                enough = taken * (1.0 + 1e-9);
            }
        }
    }
    highest
}
