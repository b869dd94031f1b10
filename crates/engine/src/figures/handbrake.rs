//! The hand's side: what it takes to stop the rear on every surface, and what eats the travel.

use std::sync::Arc;

use crate::thresholds::ABUSE_HAND;
use quantity::si::{Duration, Force, Length, Pressure, Volume};

use super::{USUAL_FOOT, surfaces};
use crate::car::circuit::{Circuit, Port};
use crate::car::{Brake, Car, Centre, Lever, LeverKind, Surface, ValvePlace};
use crate::conditions::Conditions;
use crate::hydraulics::{Forces, Hydraulics, Response, TravelEnd};
use crate::lever::{LeverAnswer, LeverBench, ToLock, other_layout};
use crate::loads::Laden;

/// Clearance that a rough stretch may knock into each pad face.
pub const KNOCK_BACK: Length = Length::from_m(0.3e-3);
/// Travel of a wheel cylinder's piston per wear of the lining: the shoe turns about its foot, and its upper end moves
/// twice as far as the middle of its lining (from the usual proportions of a pivoted shoe; from memory).
pub const PISTON_PER_WEAR: f64 = 2.0;
/// The lever on one surface.
#[derive(Clone, Debug, PartialEq)]
pub struct LeverRow {
    /// Surface.
    pub surface: Arc<str>,
    /// Its grip.
    pub grip: f64,
    /// Warm as asked, and cold.
    pub answer: LeverAnswer,
}

/// The first pull after pads were knocked back by [`KNOCK_BACK`] a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnockBack {
    /// Grip travel that stops the rear.
    pub travel: Option<Length>,
    /// Whether stroke and room are still enough.
    pub enough_travel: Option<bool>,
}

/// What worn linings do to the travel where nothing takes them up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShoeWear {
    /// Grip travel per wear of the linings, both in one unit.
    pub travel_per_wear: f64,
    /// Wear after which stroke or room end before the rear stops; `None` where they do not suffice now.
    pub left: Option<Length>,
}

/// The same pull, were there no air in the line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bled {
    /// Grip travel that stops the rear.
    pub travel: Option<Length>,
    /// Pressure in the cylinder at the driver's pull, with the stroke and the room there are.
    pub reached: Option<Pressure>,
}

/// Pressures at [`ABUSE_HAND`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Abuse {
    /// In the lever's cylinder and all that stands before a valve.
    pub own: Pressure,
    /// At the rear brakes.
    pub at_brakes: Pressure,
    /// Whether stroke or room end before the hand does.
    pub runs_out: bool,
    /// Whether a bias valve sees it.
    pub reaches_valve: bool,
}

/// What the hand does.
#[derive(Clone, Debug)]
pub struct Hand {
    /// What the driver will pull.
    pub pull: Force,
    /// Grip travel that cylinder and cabin allow, and which of them ends it; `None` with a cable.
    pub usable: Option<(Length, TravelEnd)>,
    /// On the surface that was asked about.
    pub answer: LeverAnswer,
    /// On every surface that the car runs on.
    pub rows: Vec<LeverRow>,
    /// What the driver's pull reaches, with the stroke and the room there are.
    pub reached: Response,
    /// Were the axles not coupled; `None` where they are not.
    pub uncoupled: Option<ToLock>,
    /// The other layout of the same lever.
    pub other_layout: Option<(&'static str, ToLock)>,
    /// With knocked-back pads; `None` for drums and cables.
    pub knock_back: Option<KnockBack>,
    /// With worn linings; `None` for discs and cables.
    pub shoe_wear: Option<ShoeWear>,
    /// Without the air that the sheet says is in the line; `None` where it says of none.
    pub bled: Option<Bled>,
    /// Share of the fluid moved at the driver's pull that hoses swallow by growing.
    pub hose_share: f64,
    /// Of the hand's force, with the foot at 300 N: what moves nothing. Zero where circuits are separate.
    pub moves_nothing: Force,
    /// Pressures at an abuse pull; `None` with a cable.
    pub abuse: Option<Abuse>,
    /// Time to stop the rear axle with the clutch up; `None` where the rear is not driven, or does not stop before the car
    /// does.
    pub time_with_clutch_up: Option<Duration>,
}

impl Hand {
    pub(super) fn of(
        car: &Car,
        hydraulics: &Hydraulics,
        laden: &Laden,
        conditions: &Conditions,
        surface: &Surface,
    ) -> Option<Self> {
        let lever = car.lever.as_ref()?;
        let pull = |grip: f64| conditions.pull_at(car, grip);
        let hand = conditions.hand_of(car);
        let bench = LeverBench::of(car, conditions.warmth)?;
        let answer = bench.timed(laden, pull(surface.peak), surface);
        let again = |car: &Car| {
            LeverBench::of(car, conditions.warmth)
                .map(|bench| bench.answer(laden, pull(surface.peak)).to_lock)
        };
        let rows = surfaces(car, surface)
            .iter()
            .map(|surface| LeverRow {
                surface: Arc::clone(&surface.name),
                grip: surface.peak,
                answer: bench.answer(laden, pull(surface.peak)),
            })
            .collect();
        let reached = hydraulics.answer(
            laden,
            Forces {
                foot: Force::ZERO,
                hand,
            },
        );
        let taken = reached.lever.map(|lever| lever.taken).unwrap_or_default();
        let moved_m3 = taken.total().m3();
        let air = car.air.rear + car.air.lever;
        Some(Self {
            pull: hand,
            usable: usable(lever),
            rows,
            uncoupled: (car.drivetrain.centre != Centre::None)
                .then(|| again(&uncoupled(car)))
                .flatten(),
            other_layout: other_layout(car).and_then(|(name, other)| Some((name, again(&other)?))),
            knock_back: knocked_back(car)
                .and_then(|car| again(&car))
                .map(|to_lock| KnockBack {
                    travel: to_lock.travel,
                    enough_travel: to_lock.enough_travel,
                }),
            shoe_wear: shoe_wear(car, lever, &answer.to_lock, again),
            bled: (air > Volume::ZERO).then(|| bled(car, laden, conditions, again)),
            hose_share: if moved_m3 > 0.0 {
                taken.hoses.m3() / moved_m3
            } else {
                0.0
            },
            moves_nothing: moves_nothing(car, hydraulics, laden),
            abuse: abuse(car, hydraulics, laden),
            time_with_clutch_up: bench.time_with_clutch_up(
                laden,
                pull(surface.peak),
                surface,
                &answer.to_lock,
            ),
            reached,
            answer,
        })
    }
}

/// The car after a rough stretch, where the lever works on pads.
fn knocked_back(car: &Car) -> Option<Car> {
    let mut after = car.clone();
    let brake = match &mut after.lever.as_mut()?.kind {
        LeverKind::Separate(_, brake) => brake,
        LeverKind::Inline(_) => match &mut after.rear_brake {
            Brake::Disc(brake) => brake,
            Brake::Drum(_) => return None,
        },
        LeverKind::Cable(_) => return None,
    };
    brake.clearance = brake.clearance + KNOCK_BACK;
    Some(after)
}

fn uncoupled(car: &Car) -> Car {
    let mut free = car.clone();
    free.drivetrain.centre = Centre::None;
    free
}

fn bled(car: &Car, laden: &Laden, conditions: &Conditions, again: impl Fn(&Car) -> Option<ToLock>) -> Bled {
    let mut bled = car.clone();
    bled.air.rear = Volume::ZERO;
    bled.air.lever = Volume::ZERO;
    let hand = conditions.hand_of(car);
    let reached = Hydraulics::of(&bled, conditions.warmth).answer(
        laden,
        Forces {
            foot: Force::ZERO,
            hand,
        },
    );
    Bled {
        travel: again(&bled).and_then(|to_lock| to_lock.travel),
        reached: reached.lever.and_then(|lever| lever.own),
    }
}

fn usable(lever: &Lever) -> Option<(Length, TravelEnd)> {
    let cylinder = lever.cylinder()?;
    let of_stroke = cylinder.stroke * cylinder.ratio + lever.free_play;
    Some(if lever.room < of_stroke {
        (lever.room, TravelEnd::Room)
    } else {
        (of_stroke, TravelEnd::Stroke)
    })
}

fn shoe_wear(
    car: &Car,
    lever: &Lever,
    now: &ToLock,
    again: impl Fn(&Car) -> Option<ToLock>,
) -> Option<ShoeWear> {
    if !matches!(lever.kind, LeverKind::Inline(_)) || !matches!(car.rear_brake, Brake::Drum(_)) {
        return None;
    }
    let worn = |wear: Length| {
        let mut worn = car.clone();
        if let Brake::Drum(drum) = &mut worn.rear_brake {
            drum.clearance = drum.clearance + wear * PISTON_PER_WEAR;
        }
        again(&worn)
    };
    // Clearance enters the volume in a straight line.
    let millimetre = Length::from_m(1e-3);
    let travel = now.travel?;
    let travel_per_wear = (worn(millimetre)?.travel? - travel) / millimetre;
    let (most, _) = usable(lever)?;
    let left = (most >= travel && travel_per_wear > 0.0).then(|| (most - travel) / travel_per_wear);
    Some(ShoeWear {
        travel_per_wear,
        left,
    })
}

/// Force of the hand that only takes over what the foot already holds: the cylinder passes on the greater of the two,
/// `F = p_in (rear seal/bore)²/(pressure per hand)`.
fn moves_nothing(car: &Car, hydraulics: &Hydraulics, laden: &Laden) -> Force {
    let Some(Lever {
        kind: LeverKind::Inline(cylinder),
        ..
    }) = &car.lever
    else {
        return Force::ZERO;
    };
    let foot = hydraulics.answer(
        laden,
        Forces {
            foot: USUAL_FOOT,
            hand: Force::ZERO,
        },
    );
    let circuit = Circuit::of(car);
    let inlet = circuit
        .components
        .iter()
        .position(|component| component.name == "lever")
        .and_then(|component| {
            hydraulics
                .network
                .at_port(&foot.nodes, Port { component, port: 0 })
        })
        .unwrap_or(Pressure::ZERO);
    let cancelled = inlet * (1.0 - cylinder.added_share());
    Force::from_n(cancelled.pa() / cylinder.pressure_per_hand_pa_n())
}

fn abuse(car: &Car, hydraulics: &Hydraulics, laden: &Laden) -> Option<Abuse> {
    let lever = car.lever.as_ref()?;
    let answer = hydraulics.answer(
        laden,
        Forces {
            foot: Force::ZERO,
            hand: ABUSE_HAND,
        },
    );
    let worked = answer.lever?;
    let rear = &answer.wheels[2];
    let after = car
        .bias_valve
        .as_ref()
        .is_some_and(|valve| valve.place == ValvePlace::AfterLever);
    Some(Abuse {
        own: worked.own?,
        at_brakes: rear.lever_pressure.unwrap_or(rear.pressure),
        runs_out: worked.runs_out.is_some(),
        reaches_valve: after && matches!(lever.kind, LeverKind::Inline(_)),
    })
}
