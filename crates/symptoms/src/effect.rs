//! What a cause does to this car, computed.

use engine::brake::Warmth;
use engine::car::{Brake, Car, Knee, LeverKind};
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverBench, Pull};
use engine::loads::{AxleLoads, Laden};
use quantity::si::{Force, Length, Pressure, Speed, Volume};

/// Air that is tried: what one careless bleed leaves (judgement).
pub(crate) const AIR: Volume = Volume::from_m3(0.5e-6);
/// Vapour that is tried.
const VAPOUR: Volume = Volume::from_m3(2e-6);
/// How far a pad is knocked back, each side (judgement, as the assessment tries it).
const KNOCKED_BACK: Length = Length::from_m(3e-4);
/// How much further off shoes stand.
const SHOES: Length = Length::from_m(5e-4);
/// A foot that is tried.
const FOOT: Force = Force::from_n(300.0);

/// What is tried on the car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Effect {
    /// 0.5 cm³ of air behind.
    AirRear,
    /// 0.5 cm³ of air in front.
    AirFront,
    /// 2 cm³ of vapour behind and in front.
    Vapour,
    /// Pads 0.3 mm further from each disc.
    KnockBack,
    /// Shoes 0.5 mm further from the drum.
    ShoesFarOff,
    /// Calipers and hoses half as soft again.
    Flex,
    /// Pads cold.
    Cold,
    /// Friction times this, behind.
    Friction(f64),
    /// Knee of the bias valve times this.
    Knee(f64),
    /// The centre ties the axles.
    Centre,
    /// The booster does not help.
    NoVacuum,
    /// Nothing aboard.
    LightRear,
    /// Nothing that a figure could say.
    Nothing,
}

/// What it does to this car; `None` where it does not touch that.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct InThisCar {
    /// Further at the grip, at the driver's pull.
    pub grip: Option<Length>,
    /// Further at the pedal, at 300 N of foot.
    pub pedal: Option<Length>,
    /// Rear pressure at 300 N of foot: more, or less.
    pub rear: Option<Pressure>,
    /// Line pressure at 300 N of foot: more, or less.
    pub line: Option<Pressure>,
    /// Pull that locks the rear, over what it takes without: 1.3 is a third more.
    pub pull: Option<f64>,
    /// Of the lever's torque needed, what the centre takes, at speed and at walking pace.
    pub centre: Option<(f64, f64)>,
    /// The car has nothing that could do it.
    pub not_here: bool,
}

impl InThisCar {
    /// What a cause does to a car, at the driver's pull on a surface.
    #[must_use]
    pub fn new(effect: Effect, car: &Car, laden: &Laden, grip: f64) -> Self {
        let mut found = Self::default();
        let mut other = car.clone();
        match effect {
            Effect::Nothing => return found,
            Effect::AirRear => {
                other.air.rear = other.air.rear + AIR;
                other.air.lever = other.air.lever + AIR;
            }
            Effect::AirFront => other.air.front = other.air.front + AIR,
            Effect::Vapour => {
                other.air.rear = other.air.rear + VAPOUR;
                other.air.lever = other.air.lever + VAPOUR;
                other.air.front = other.air.front + VAPOUR;
            }
            Effect::KnockBack => {
                let any = each_brake(&mut other, &mut |brake| match brake {
                    Brake::Disc(disc) => {
                        disc.clearance = disc.clearance + KNOCKED_BACK;
                        true
                    }
                    Brake::Drum(_) => false,
                });
                let second = separate(&mut other, &mut |disc| {
                    disc.clearance = disc.clearance + KNOCKED_BACK
                });
                found.not_here = !any && !second;
            }
            Effect::ShoesFarOff => {
                let any = each_brake(&mut other, &mut |brake| match brake {
                    Brake::Drum(drum) => {
                        drum.clearance = drum.clearance + SHOES;
                        true
                    }
                    Brake::Disc(_) => false,
                });
                found.not_here = !any;
            }
            Effect::Flex => {
                each_brake(&mut other, &mut |brake| {
                    match brake {
                        Brake::Disc(disc) => disc.flex = disc.flex * 1.5,
                        Brake::Drum(drum) => drum.flex = drum.flex * 1.5,
                    }
                    true
                });
                separate(&mut other, &mut |disc| disc.flex = disc.flex * 1.5);
            }
            Effect::Cold => {
                found.pull = pulls(car, laden, grip, Warmth::Cold, car);
                return found;
            }
            Effect::Friction(share) => {
                rear_friction(&mut other, share);
                found.pull = pulls(&other, laden, grip, Warmth::Warm, car);
                return found;
            }
            Effect::Knee(share) => match &mut other.bias_valve {
                Some(valve) => scale_knee(&mut valve.knee, share),
                None => {
                    found.not_here = true;
                    return found;
                }
            },
            Effect::Centre => {
                found.centre = centre(car, laden, grip);
                found.not_here = found.centre.is_none_or(|(fast, _)| fast <= 0.0);
                return found;
            }
            Effect::NoVacuum => {
                found.not_here = other.pedal.booster.is_none();
                other.pedal.booster = None;
            }
            Effect::LightRear => {
                let loads = |laden: &Laden| -> AxleLoads { laden.axle_loads(0.0) };
                let empty = Laden::of(car, engine::loads::Aboard::AS_WEIGHED);
                let share = loads(&empty).rear / loads(laden).rear;
                found.pull = Some(share);
                found.not_here = share > 0.98;
                return found;
            }
        }
        if found.not_here {
            return found;
        }
        let travels = |car: &Car| {
            let hydraulics = Hydraulics::of(car, Warmth::Warm);
            let lever = car.lever.as_ref().and_then(|lever| {
                let own = lever.cylinder()?.pressure_per_hand_pa_n() * lever.hand_pull.n();
                Some(hydraulics.effort(Pressure::from_pa(own))?.travel)
            });
            let foot = hydraulics.answer(
                laden,
                Forces {
                    foot: FOOT,
                    hand: Force::ZERO,
                },
            );
            (lever, foot)
        };
        let ((grip_was, foot_was), (grip_is, foot_is)) = (travels(car), travels(&other));
        if let (Some(was), Some(is)) = (grip_was, grip_is) {
            found.grip = Some(is - was).filter(|more| more.m().abs() > 1e-5);
        }
        found.pedal = Some(foot_is.pedal.travel - foot_was.pedal.travel).filter(|more| more.m().abs() > 1e-5);
        let change = |was: Pressure, is: Pressure| Some(is - was).filter(|more| more.pa().abs() > 1e3);
        found.rear = change(foot_was.wheels[2].pressure, foot_is.wheels[2].pressure);
        found.line = change(foot_was.wheels[0].pressure, foot_is.wheels[0].pressure);
        found
    }

    /// How much of it a driver feels, from 0 to 1: half at 5 mm of grip or pedal, 5 bar, a tenth of the pull. At the
    /// lever only what the hand feels counts, at the pedal only what the foot does.
    pub(crate) fn felt(&self, at_lever: bool) -> f64 {
        if self.not_here {
            return 0.0;
        }
        let share = |size: f64, half: f64| size / (size + half);
        let travel = |more: Option<Length>| more.map(|more| share(more.m().abs(), 5e-3));
        let pressure = |more: Option<Pressure>| more.map(|more| share(more.pa().abs(), 5e5));
        let pull = self.pull.map(|times| share((times - 1.0).abs(), 0.1));
        let centre = self.centre.map(|(fast, _)| share(fast, 0.25));
        let (mine, other) = if at_lever {
            ([travel(self.grip), None, None, pull, centre], travel(self.pedal))
        } else {
            (
                [
                    travel(self.pedal),
                    pressure(self.rear),
                    pressure(self.line),
                    pull,
                    None,
                ],
                travel(self.grip),
            )
        };
        // What moves only the other one is not what was said.
        let not_mine = other.map(|_| 0.0);
        let sizes = mine.into_iter().chain([not_mine]);
        // What no figure says counts in full: only its likelihood ranks it.
        sizes.flatten().reduce(f64::max).unwrap_or(1.0)
    }
}

fn each_brake(car: &mut Car, change: &mut dyn FnMut(&mut Brake) -> bool) -> bool {
    let front = change(&mut car.front_brake);
    let rear = change(&mut car.rear_brake);
    front || rear
}

fn separate(car: &mut Car, change: &mut dyn FnMut(&mut engine::car::DiscBrake)) -> bool {
    match car.lever.as_mut().map(|lever| &mut lever.kind) {
        Some(LeverKind::Separate(_, brake)) => {
            change(brake);
            true
        }
        _ => false,
    }
}

fn rear_friction(car: &mut Car, share: f64) {
    match &mut car.rear_brake {
        Brake::Disc(disc) => disc.friction.warm *= share,
        // A drum draws itself on: torque goes with friction to the power 1.35 (from memory).
        Brake::Drum(drum) => drum.factor *= share.powf(1.35),
    }
    separate(car, &mut |disc| disc.friction.warm *= share);
}

fn scale_knee(knee: &mut Knee, share: f64) {
    match knee {
        Knee::Knob { at, .. } => at.iter_mut().for_each(|(_, knee)| *knee = *knee * share),
        Knee::Fixed(knee) => *knee = *knee * share,
        Knee::OverRearLoad { empty, laden } => {
            empty.1 = empty.1 * share;
            laden.1 = laden.1 * share;
        }
    }
}

const SPEED: Speed = Speed::from_m_s(50.0 / 3.6);
const WALKING: Speed = Speed::from_m_s(5.0 / 3.6);

fn lock(car: &Car, laden: &Laden, grip: f64, warmth: Warmth, speed: Speed) -> Option<engine::lever::ToLock> {
    let hand = car.lever.as_ref()?.hand_pull;
    let pull = Pull { hand, grip, speed };
    Some(LeverBench::of(car, warmth)?.answer(laden, pull).to_lock)
}

/// The pull that locks the rear of another car over this one's.
fn pulls(other: &Car, laden: &Laden, grip: f64, warmth: Warmth, car: &Car) -> Option<f64> {
    let was = lock(car, laden, grip, Warmth::Warm, SPEED)?;
    let is = lock(other, laden, grip, warmth, SPEED)?;
    (is.in_hand > 0.0).then(|| was.in_hand / is.in_hand)
}

/// Share of the torque needed that the centre takes, at 50 km/h and at walking pace.
fn centre(car: &Car, laden: &Laden, grip: f64) -> Option<(f64, f64)> {
    let share = |speed| {
        let lock = lock(car, laden, grip, Warmth::Warm, speed)?;
        Some(lock.of_which_coupling / lock.torque_needed)
    };
    Some((share(SPEED)?, share(WALKING)?))
}
