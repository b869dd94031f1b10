//! The findings, a file a family. Each reads figures and car and gives what it has to say, gravest families first.

mod antilock;
mod balance;
mod cabin;
pub(crate) mod centre;
mod circuit;
mod fluid;
pub(crate) mod guesses;
pub(crate) mod heat;
mod joints;
pub(crate) mod lever;
mod lines;
mod mechanism;
mod mount;
mod pads;
mod parking;
mod pedal;
mod pressure;
mod readings;
pub(crate) mod surfaces;
mod travel;
pub(crate) mod turn;
mod valve;

use engine::car::{Brake, Car, DiscBrake, LeverKind};
use engine::figures::Figures;
use engine::lever::ToLock;

use crate::finding::Finding;
use crate::say::Say;

/// What a family looks at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seen<'a> {
    pub(crate) car: &'a Car,
    pub(crate) figures: &'a Figures,
    pub(crate) say: Say,
}

impl<'a> Seen<'a> {
    /// Whether the sheet says nothing at a key and a default stands there.
    pub(crate) fn leaned_on(&self, path: &str) -> bool {
        self.figures
            .defaults_used
            .iter()
            .any(|leaned| leaned.slot.path() == path)
    }

    /// Whether a lever works the rear brakes by fluid.
    pub(crate) fn by_fluid(&self) -> bool {
        self.car
            .lever
            .as_ref()
            .is_some_and(|lever| lever.cylinder().is_some())
    }

    /// Whether something mechanical is left that holds the parked car.
    pub(crate) fn parks_mechanically(&self) -> bool {
        match &self.car.lever {
            Some(lever) => lever.cable_kept || matches!(lever.kind, LeverKind::Cable(_)),
            None => self.car.before.parking != engine::car::OldParking::None,
        }
    }

    /// The lever's answer on the surface that was asked about.
    pub(crate) fn locking(&self) -> Option<&'a ToLock> {
        self.figures.hand.as_ref().map(|hand| &hand.answer.to_lock)
    }

    /// Every disc brake, with what it is called.
    pub(crate) fn disc_brakes(&self) -> Vec<(&'static str, &'a DiscBrake)> {
        let mut brakes = Vec::new();
        if let Brake::Disc(brake) = &self.car.front_brake {
            brakes.push(("front", brake));
        }
        if let Brake::Disc(brake) = &self.car.rear_brake {
            brakes.push(("rear", brake));
        }
        if let Some(LeverKind::Separate(_, brake)) = self.car.lever.as_ref().map(|lever| &lever.kind) {
            brakes.push(("handbrake", brake));
        }
        brakes
    }
}

/// Every finding of every family, in the order of the families.
pub(crate) fn all(seen: &Seen<'_>) -> Vec<Finding> {
    [
        circuit::findings,
        pedal::findings,
        parking::findings,
        mechanism::findings,
        balance::findings,
        valve::findings,
        antilock::findings,
        centre::findings,
        lever::findings,
        turn::findings,
        travel::findings,
        guesses::findings,
        readings::findings,
        pads::findings,
        fluid::findings,
        cabin::findings,
        lines::findings,
        joints::findings,
        mount::findings,
        pressure::findings,
    ]
    .iter()
    .flat_map(|family| family(seen))
    .collect()
}
