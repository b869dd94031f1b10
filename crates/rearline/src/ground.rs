//! What the ground gives each wheel while a car brakes straight.

use engine::car::Axle;
use engine::hydraulics::Answer;
use engine::loads::{AxleLoads, Laden};
use quantity::si::Force;

/// Halvings of the range in which the braking rate is searched: enough for every digit of a double.
const HALVINGS: u32 = 60;

/// The ground under a braking car.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ground {
    grip: f64,
    loads: AxleLoads,
}

impl Ground {
    /// At the braking rate z that brakes and ground reach together: `m g z = Σ min(F, μ N(z))` over the axles, F what
    /// an axle's brakes ask, N its load at z. A wheel past its grip is given the peak.
    pub(crate) fn under(laden: &Laden, answer: &Answer, grip: f64) -> Self {
        let asked_n =
            |first: usize| answer.wheels[first].ground_force.n() + answer.wheels[first + 1].ground_force.n();
        let (front_n, rear_n) = (asked_n(0), asked_n(2));
        let over_n = |rate: f64| {
            let loads = laden.axle_loads(rate);
            front_n.min(given_n(grip, loads.front)) + rear_n.min(given_n(grip, loads.rear))
                - laden.weight_n() * rate
        };
        // At the rate that is asked for at most so much is reached; shifting load never wins more than it costs.
        let (mut low, mut high) = (0.0, answer.braking_rate);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if over_n(middle) >= 0.0 {
                low = middle
            } else {
                high = middle
            }
        }
        Self {
            grip,
            loads: laden.axle_loads(high),
        }
    }

    /// The most that it gives one wheel of an axle.
    pub(crate) fn gives(&self, axle: Axle) -> Force {
        let load = match axle {
            Axle::Front => self.loads.front,
            Axle::Rear => self.loads.rear,
        };
        Force::from_n(given_n(self.grip, load) / 2.0)
    }
}

/// Grip of an axle; none once it has left the ground.
fn given_n(grip: f64, load: Force) -> f64 {
    grip * load.n().max(0.0)
}
