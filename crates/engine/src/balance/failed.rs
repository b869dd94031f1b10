//! What is left of the brakes with one circuit gone.

use crate::thresholds::{FOOT_LIMIT_ROAD, LEAST_SECONDARY};
use quantity::si::{Acceleration, Force, Length, Pressure};

use super::deceleration;
use crate::car::{Car, Master, Split, Wheel};
use crate::hydraulics::Hydraulics;
use crate::loads::{Grade, Laden};
use crate::network::Acting;
use crate::solve::settles;

/// What still brakes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Left {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
    /// One front wheel and the rear wheel across.
    OneDiagonal,
}

/// One circuit failed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FailedCircuit {
    /// What is left. Where both circuits are joined somewhere, one leak empties both and nothing of it brakes.
    pub left: Left,
    /// Whether both circuits' fluid meets, so that one leak empties both.
    pub joined: bool,
    /// Force of the foot.
    pub foot: Force,
    /// Deceleration reached, the wheels' grip allowing.
    pub rate: Acceleration,
    /// Whether it meets the least of the road rule; `None` where no road rule applies.
    pub met: Option<bool>,
    /// Pedal travel to get there: the failed chamber bottoms first.
    pub travel: Length,
    /// Whether the stroke that is left is not enough: the deceleration is then not reached.
    pub runs_out: bool,
}

/// Both failures of a car, at 500 N of foot: first the circuit that leaves the first chamber's wheels, then the other.
///
/// The force at each wheel is limited by its grip, `min(T/R, μ N/2)`, and the axle loads follow the deceleration that
/// results. A tandem's failed chamber is taken to use up half of the stroke before the other works; a failed cylinder
/// of twins bottoms and the bar's share stays. The deceleration is that of the force alone; whether the pedal has the
/// travel for it stands beside it.
#[must_use]
pub fn failed_circuits(car: &Car, hydraulics: &Hydraulics, laden: &Laden, grip: f64) -> [FailedCircuit; 2] {
    [0, 1].map(|left| one_left(car, hydraulics, laden, grip, left))
}

fn one_left(car: &Car, hydraulics: &Hydraulics, laden: &Laden, grip: f64, chamber: usize) -> FailedCircuit {
    // The road rule that it is held against is one of the level.
    let laden = &laden.on(Grade::LEVEL);
    let left = match (car.master.split(), chamber) {
        (Split::Diagonal, _) => Left::OneDiagonal,
        (Split::Axle, 0) => Left::Front,
        (Split::Axle, _) => Left::Rear,
    };
    let joined = hydraulics.network.chambers_joined();
    let foot = FOOT_LIMIT_ROAD;
    let push_rod = hydraulics.foot.push_rod(foot);
    let mut chambers = [Pressure::ZERO; 2];
    if !joined {
        chambers[chamber] = hydraulics.foot.pressures(push_rod)[chamber];
    }
    let nodes_at = |chambers: [Pressure; 2], rate: f64| {
        let knee = hydraulics
            .knee(laden.axle_loads(rate).rear)
            .unwrap_or(Pressure::ZERO);
        hydraulics.network.pressures(&Acting {
            first: chambers[0],
            second: chambers[1],
            own: None,
            knee,
        })
    };
    let taken_m3 = |pressure_pa: f64| {
        let mut trial = [Pressure::ZERO; 2];
        trial[chamber] = Pressure::from_pa(pressure_pa);
        hydraulics.network.taken_by_chambers(&nodes_at(trial, 0.0))[chamber].m3()
    };
    let area_m2 = hydraulics.foot.area(chamber).m2();
    let stroke_m = hydraulics.foot.volume_of_stroke(chamber).m3() / area_m2;
    let usable_m = if hydraulics.foot.is_twin() {
        stroke_m
    } else {
        stroke_m / 2.0
    };
    let runs_out = joined || taken_m3(chambers[chamber].pa()) > usable_m * area_m2;
    let own_m = if joined {
        usable_m
    } else {
        taken_m3(chambers[chamber].pa()) / area_m2
    };
    let travel_m = match car.master {
        Master::Tandem { .. } => (stroke_m - usable_m + own_m) * car.pedal.ratio,
        Master::Twin { bar, .. } => {
            let share = if chamber == 0 {
                bar.front_share
            } else {
                1.0 - bar.front_share
            };
            (share * own_m + (1.0 - share) * stroke_m) * car.pedal.ratio
        }
    };
    let reached = |rate: f64| -> f64 {
        let nodes = nodes_at(chambers, rate);
        let loads = laden.axle_loads(rate);
        let all: f64 = Wheel::ALL
            .into_iter()
            .map(|wheel| {
                let load = match wheel.axle() {
                    crate::car::Axle::Front => loads.front,
                    crate::car::Axle::Rear => loads.rear.max(Force::ZERO),
                };
                let torque =
                    hydraulics.wheels[wheel.index()].torque(hydraulics.network.at_wheel(&nodes, wheel));
                (torque.nm() / hydraulics.radius(wheel.axle()).m()).min(grip * load.n() / 2.0)
            })
            .sum();
        all / laden.weight_n()
    };
    // Brakes give no more than grip.
    let rate = deceleration(settles(grip.max(1e-6) * 1.5, reached));
    FailedCircuit {
        left,
        joined,
        foot,
        rate,
        met: car.road_registered.then(|| rate >= LEAST_SECONDARY),
        travel: Length::from_m(travel_m),
        runs_out,
    }
}
