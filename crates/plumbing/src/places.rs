//! What stands where people sit.

use engine::car::circuit::{Circuit, Component, Piece, Pipework};
use engine::car::{Car, Place};

/// What of a car's circuit stands in the cabin.
///
/// The sheet says where the rear run and the reservoirs are; the rest follows: a lever is worked from the seat, and so
/// its cylinder, a valve or tee right beside it are inside. With the rear run inside, so are what stands at the bulkhead
/// and where the run parts to the wheels; the wheels' own runs leave through the floor.
#[derive(Clone, Copy, Debug)]
pub struct Cabin {
    rear_inside: bool,
}

impl Cabin {
    /// Of a car.
    #[must_use]
    pub fn of(car: &Car) -> Self {
        Self {
            rear_inside: car.places.rear_run == Place::Cabin,
        }
    }

    /// Whether a component stands in the cabin.
    #[must_use]
    pub fn holds(&self, circuit: &Circuit, index: usize) -> bool {
        let Some(component) = circuit.components.get(index) else {
            return false;
        };
        match component.part {
            Piece::LeverCylinder | Piece::LeverMaster => true,
            Piece::Master | Piece::Brake(_) | Piece::LeverBrake(_) | Piece::Bracket => false,
            Piece::BiasValve | Piece::Union | Piece::Tee => {
                self.rear_inside || beside_lever(circuit, component, index)
            }
        }
    }

    /// Whether a run lies in the cabin: both its ends do.
    #[must_use]
    pub fn holds_run(&self, circuit: &Circuit, run: &Pipework) -> bool {
        self.holds(circuit, run.from.component) && self.holds(circuit, run.to.component)
    }
}

/// Whether a component is screwed right onto a lever's cylinder.
fn beside_lever(circuit: &Circuit, component: &Component, index: usize) -> bool {
    !component.ports.is_empty()
        && circuit.runs.iter().any(|run| {
            let other = match index {
                here if here == run.from.component => run.to.component,
                here if here == run.to.component => run.from.component,
                _ => return false,
            };
            run.run.length.m() <= 0.0
                && matches!(
                    circuit.components[other].part,
                    Piece::LeverCylinder | Piece::LeverMaster
                )
        })
}
