//! How the two axles share a braking whose pads are not equally hot.

use quantity::si::{Force, Pressure};

use crate::GRAVITY_M_S2;
use crate::car::Wheel;
use crate::hydraulics::Hydraulics;
use crate::loads::Laden;
use crate::network::Acting;

/// Pressure at an axle's brakes over the push rod's force: straight, with one bend where the valve begins to reduce.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Pressed {
    first_pa_n: f64,
    bend_n: f64,
    then_pa_n: f64,
}

impl Pressed {
    fn at(&self, push_rod_n: f64) -> f64 {
        self.first_pa_n * push_rod_n.min(self.bend_n) + self.then_pa_n * (push_rod_n - self.bend_n).max(0.0)
    }

    /// Push-rod force for a pressure; infinite where it is never reached.
    fn reaches(&self, pressure_pa: f64) -> f64 {
        let at_bend = self.first_pa_n * self.bend_n;
        if pressure_pa <= at_bend {
            pressure_pa / self.first_pa_n
        } else {
            self.bend_n + (pressure_pa - at_bend) / self.then_pa_n
        }
    }
}

/// Both wheels of an axle, warm.
#[derive(Clone, Copy, Debug, PartialEq)]
struct AxleLaw {
    pressed: Pressed,
    threshold_pa: f64,
    /// Braking force a pascal above the threshold.
    gain_n_pa: f64,
}

impl AxleLaw {
    fn force(&self, push_rod_n: f64) -> f64 {
        self.gain_n_pa * (self.pressed.at(push_rod_n) - self.threshold_pa).max(0.0)
    }
}

/// A car's two axles at one braking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shares {
    front: AxleLaw,
    rear: AxleLaw,
    weight_n: f64,
    /// Push-rod forces at which one of the lines bends, rising.
    bends: [f64; 4],
}

/// What each axle's brakes do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shared {
    pub(super) front_n: f64,
    pub(super) rear_n: f64,
    /// What it takes of the foot, as the push rod's force.
    pub(super) push_rod: Force,
}

impl Shares {
    /// At a braking: what is held back over the car's weight. A load-sensing valve's knee stands where that puts it.
    pub(super) fn at(hydraulics: &Hydraulics, laden: &Laden, braked: f64) -> Self {
        let knee = hydraulics
            .knee(laden.axle_loads(braked).rear)
            .unwrap_or(Pressure::ZERO);
        let pressure = |wheel: Wheel, push_rod_n: f64| {
            let chambers = hydraulics.foot.pressures(Force::from_n(push_rod_n));
            let nodes = hydraulics.network.pressures(&Acting {
                first: chambers[0],
                second: chambers[1],
                own: None,
                knee,
            });
            hydraulics.network.at_wheel(&nodes, wheel).pa()
        };
        let law = |wheel: Wheel| {
            // Far below and far above any bend; the bend is where the two lines meet.
            const LOW_N: f64 = 1e-6;
            const HIGH_N: f64 = 1e9;
            let first = pressure(wheel, LOW_N) / LOW_N;
            let (one, two) = (pressure(wheel, HIGH_N), pressure(wheel, 2.0 * HIGH_N));
            let then = (two - one) / HIGH_N;
            let bend = if (first - then).abs() <= 1e-9 * first.abs() {
                0.0
            } else {
                ((one - then * HIGH_N) / (first - then)).max(0.0)
            };
            let brake = hydraulics.wheels[wheel.index()];
            AxleLaw {
                pressed: Pressed {
                    first_pa_n: first,
                    bend_n: bend,
                    then_pa_n: then,
                },
                threshold_pa: brake.threshold.pa(),
                gain_n_pa: 2.0 * brake.gain_nm_pa / hydraulics.radius(wheel.axle()).m(),
            }
        };
        let (front, rear) = (law(Wheel::FrontLeft), law(Wheel::RearLeft));
        Self {
            front,
            rear,
            weight_n: laden.mass.kg() * GRAVITY_M_S2,
            bends: bends(&front, &rear),
        }
    }

    /// With the torque of both axles' brakes at so much of the warm one.
    pub(super) fn share(&self, braked: f64, front: f64, rear: f64) -> Shared {
        let wanted_n = braked * self.weight_n;
        let both =
            |push_rod_n: f64| front * self.front.force(push_rod_n) + rear * self.rear.force(push_rod_n);
        let mut low = (0.0, 0.0);
        let mut found = None;
        for bend in self.bends {
            let reached = both(bend);
            if reached >= wanted_n {
                found = Some((bend, reached));
                break;
            }
            low = (bend, reached);
        }
        let (high_n, reached_n) = found.unwrap_or_else(|| {
            let beyond = low.0.max(1.0) * 2.0;
            (beyond, both(beyond))
        });
        // Between two bends all is straight; beyond the last one too.
        let push_rod_n = if reached_n > low.1 {
            low.0 + (wanted_n - low.1) / (reached_n - low.1) * (high_n - low.0)
        } else {
            high_n
        };
        Shared {
            front_n: front * self.front.force(push_rod_n),
            rear_n: rear * self.rear.force(push_rod_n),
            push_rod: Force::from_n(push_rod_n),
        }
    }

    /// Both rear wheels' force over pressure, warm: per pascal above the threshold, and the threshold.
    pub(super) const fn rear_law(&self) -> (f64, f64) {
        (self.rear.gain_n_pa, self.rear.threshold_pa)
    }
}

/// Where one of two lines bends, rising.
fn bends(front: &AxleLaw, rear: &AxleLaw) -> [f64; 4] {
    let mut bends = [
        front.pressed.bend_n,
        rear.pressed.bend_n,
        front.pressed.reaches(front.threshold_pa),
        rear.pressed.reaches(rear.threshold_pa),
    ];
    for bend in &mut bends {
        if !bend.is_finite() {
            *bend = 0.0;
        }
    }
    bends.sort_by(f64::total_cmp);
    bends
}
