//! The order of bleeding, and how much fluid goes through until it is clear (P11).

use engine::car::circuit::Piece;
use engine::car::{BiasValve, Brake, CaliperLayout, Car, DiscBrake, Knee, LeverKind, Wheel};
use engine::network::{brake_fluid, caliper_fluid};
use quantity::si::{Duration, Length, Volume};

use crate::flow;
use crate::path::runs_to;
use crate::system::Plumbing;

/// How many times what stands in a corner is let through until it runs clear (default; judgement).
pub const FLUSH: f64 = 3.0;
/// What a reservoir takes from empty (from memory: 0.2 to 0.3 L).
pub const RESERVOIR: Volume = Volume::from_m3(0.25e-3);
/// What fluid is sold in.
pub const BOTTLE: Volume = Volume::from_m3(0.5e-3);

/// Where a bias valve stands while its line is bled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ValveAt {
    /// No valve on this corner's way.
    None,
    /// Its knob at mid-range, so that it restricts little.
    Mid,
    /// It has no knob: nothing to set.
    Fixed,
}

/// What the handbrake does while a corner is bled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeverAt {
    /// No lever on this corner's way, or no cylinder.
    None,
    /// It stays at rest: its by-pass lets fluid and air through.
    Rest,
    /// It is the pump: a separate lever bleeds its own calipers from its own reservoir.
    Works,
}

/// One corner's turn.
#[derive(Clone, Debug, PartialEq)]
pub struct BledCorner {
    /// Component of the circuit.
    pub component: usize,
    /// Its name: `rear_left`, `lever_rear_left`.
    pub name: String,
    /// The wheel.
    pub wheel: Wheel,
    /// How long the line to it is.
    pub length: Length,
    /// Fluid in all runs to it.
    pub run: Volume,
    /// Fluid in its brake.
    pub brake: Volume,
    /// What goes through until it is clear.
    pub through: Volume,
    /// The least that it takes with a one-person bleeder; `None` where that cannot be said.
    pub least_time: Option<Duration>,
    /// The bias valve.
    pub valve: ValveAt,
    /// The lever.
    pub lever: LeverAt,
    /// Bleed screws of its brake.
    pub screws: usize,
}

/// The order, and the fluid that it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct BleedOrder {
    /// Corners in the order in which they are bled.
    pub corners: Vec<BledCorner>,
    /// Fluid for all of it, reservoirs filled from empty.
    pub needed: Volume,
    /// Whole bottles.
    pub bottles: u32,
}

impl BleedOrder {
    /// What to buy.
    #[must_use]
    pub fn buy(&self) -> Volume {
        BOTTLE * f64::from(self.bottles)
    }
}

/// The order for a car. The longest line comes first; the car's maker may know better, and then its order holds.
#[must_use]
pub fn in_order(car: &Car, plumbing: &Plumbing) -> BleedOrder {
    let circuit = &plumbing.circuit;
    let mut corners: Vec<BledCorner> = circuit
        .components
        .iter()
        .enumerate()
        .filter_map(|(index, component)| {
            let (wheel, of_lever) = match component.part {
                Piece::Brake(wheel) => (wheel, false),
                Piece::LeverBrake(wheel) => (wheel, true),
                _ => return None,
            };
            Some(corner(car, plumbing, index, wheel, of_lever))
        })
        .collect();
    // A separate lever's own circuit after the pedal's; within each the longest line first.
    corners.sort_by(|one, other| {
        (one.lever == LeverAt::Works)
            .cmp(&(other.lever == LeverAt::Works))
            .then(other.length.m().total_cmp(&one.length.m()))
    });
    let own_reservoir = corners.iter().any(|corner| corner.lever == LeverAt::Works);
    let reservoirs = RESERVOIR * if own_reservoir { 2.0 } else { 1.0 };
    let needed = corners.iter().map(|corner| corner.through).sum::<Volume>() + reservoirs;
    let mut bottles = 0_u32;
    while BOTTLE * f64::from(bottles) < needed && bottles < 1000 {
        bottles += 1;
    }
    BleedOrder {
        corners,
        needed,
        bottles,
    }
}

fn corner(car: &Car, plumbing: &Plumbing, index: usize, wheel: Wheel, of_lever: bool) -> BledCorner {
    let circuit = &plumbing.circuit;
    let way = runs_to(circuit, index);
    let runs = || way.iter().filter_map(|&run| circuit.runs.get(run));
    let pipes: Vec<(Length, Length)> = runs().map(|run| (run.run.length, run.run.pipe.bore())).collect();
    let run: Volume = runs()
        .map(|run| Volume::from_m3(run.run.pipe.section().m2() * run.run.length.m()))
        .sum();
    let length = runs().map(|run| run.run.length).sum();
    let passes = |part: Piece| {
        runs().any(|run| {
            [run.from, run.to].iter().any(|port| {
                circuit
                    .components
                    .get(port.component)
                    .is_some_and(|component| component.part == part)
            })
        })
    };
    let separate = match car.lever.as_ref().map(|lever| &lever.kind) {
        Some(LeverKind::Separate(_, brake)) => Some(brake),
        _ => None,
    };
    let (brake, screws) = match (of_lever, separate) {
        (true, Some(second)) => (caliper_fluid(second), screws(second)),
        _ => {
            let brake = car.brake(wheel.axle());
            let count = match brake {
                Brake::Disc(disc) => screws(disc),
                Brake::Drum(_) => 1,
            };
            (brake_fluid(brake), count)
        }
    };
    BledCorner {
        component: index,
        name: circuit.components[index].name.to_owned(),
        wheel,
        length,
        run,
        brake,
        through: (run + brake) * FLUSH,
        least_time: flow::least_time((run + brake) * FLUSH, &pipes),
        valve: if passes(Piece::BiasValve) {
            match &car.bias_valve {
                Some(BiasValve {
                    knee: Knee::Knob { .. },
                    ..
                }) => ValveAt::Mid,
                _ => ValveAt::Fixed,
            }
        } else {
            ValveAt::None
        },
        lever: if of_lever {
            LeverAt::Works
        } else if passes(Piece::LeverCylinder) {
            LeverAt::Rest
        } else {
            LeverAt::None
        },
        screws,
    }
}

const fn screws(brake: &DiscBrake) -> usize {
    match brake.caliper.layout {
        CaliperLayout::Opposed => 2,
        CaliperLayout::Sliding => 1,
    }
}
