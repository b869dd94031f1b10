//! What a car does to its brakes, prepared.

use super::way::State;
use crate::GRAVITY_M_S2;
use crate::thermal::{Corner, Fade, Held, Nodes};
use crate::trapped::Part;

/// A car's brakes, its weight and the air.
#[derive(Clone, Debug)]
pub(super) struct Vehicle {
    pub(super) corners: [Corner; 2],
    pub(super) fades: [Fade; 2],
    pub(super) weight_n: f64,
    pub(super) air_k: f64,
    /// What the lever shuts in where its by-pass stays covered.
    pub(super) dragging: Vec<Part>,
}

impl Vehicle {
    /// Temperatures of a front and of a rear wheel's nodes.
    pub(super) fn nodes(&self, state: &State) -> [Nodes; 2] {
        [0, 1].map(|axle| {
            self.corners[axle].nodes(Held {
                disc_j: state[2 * axle],
                caliper_j: state[2 * axle + 1],
            })
        })
    }

    /// All as warm as the air, nothing made yet.
    pub(super) fn cold(&self) -> State {
        let air = self.as_the_air();
        let [front, rear] = [0, 1].map(|axle: usize| self.corners[axle].held(air));
        [
            front.disc_j,
            front.caliper_j,
            rear.disc_j,
            rear.caliper_j,
            0.0,
            0.0,
            0.0,
            0.0,
        ]
    }

    pub(super) const fn as_the_air(&self) -> Nodes {
        Nodes {
            disc_k: self.air_k,
            caliper_k: self.air_k,
        }
    }
}

/// Weight of a car (N).
pub(super) fn weight_n(mass_kg: f64) -> f64 {
    mass_kg * GRAVITY_M_S2
}
