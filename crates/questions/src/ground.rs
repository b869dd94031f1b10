//! What the ground gives each wheel while a car brakes straight.

use engine::car::Axle;
use engine::hydraulics::Response;
use engine::loads::{AxleLoads, Laden};
use quantity::si::Force;

/// The ground under a braking car.
#[derive(Clone, Copy, Debug)]
pub struct Ground {
    grip: f64,
    loads: AxleLoads,
}

impl Ground {
    /// At the braking rate that brakes and ground reach together.
    #[must_use]
    pub fn under(laden: &Laden, answer: &Response, grip: f64) -> Self {
        let asked = |first: usize| answer.wheels[first].ground_force + answer.wheels[first + 1].ground_force;
        Self {
            grip,
            loads: laden.axle_loads(laden.rate_on_ground(grip, asked(0), asked(2))),
        }
    }

    /// The most that it gives one wheel of an axle.
    #[must_use]
    pub fn gives(&self, axle: Axle) -> Force {
        let load = match axle {
            Axle::Front => self.loads.front,
            Axle::Rear => self.loads.rear,
        };
        // None once it has left the ground.
        Force::from_n(self.grip * load.n().max(0.0) / 2.0)
    }
}
