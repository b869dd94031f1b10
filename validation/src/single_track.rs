//! Cars and tyres of published single-track models, put into the engine's own equations: both wheels of an axle stand in
//! one place (no track), each with half of its load, inertia and brake. Only the tyre is another; it is written out here
//! as its source has it.

use engine::brake::TorqueLaw;
use engine::car::Axle;
use engine::turn::{
    Contact, Driveline, GroundForce, LeverBrake, Motion, Segment, Tie, Transfer, Tyre, Vehicle,
};
use engine::tyre::GripCurve;
use quantity::si::Pressure;

/// Torque of each rear brake per pressure asked for here: pressures stand for torques.
pub(crate) const NM_PER_PA: f64 = 1e-4;

/// A single-track car.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SingleTrack {
    pub(crate) mass_kg: f64,
    pub(crate) yaw_inertia_kg_m2: f64,
    /// Centre of gravity to front axle, and to rear axle (m).
    pub(crate) arms_m: [f64; 2],
    pub(crate) height_m: f64,
    /// Of an axle's wheels together.
    pub(crate) wheel_inertia_kg_m2: f64,
    pub(crate) radius_m: f64,
}

impl SingleTrack {
    /// In the engine's terms, on a tyre; the rear is driven, the load transfer is that of a given acceleration.
    pub(crate) fn on<T: Tyre>(&self, tyre: T) -> Vehicle<T> {
        Vehicle {
            mass_kg: self.mass_kg,
            yaw_inertia_kg_m2: self.yaw_inertia_kg_m2,
            cg_aft_m: self.arms_m[0],
            wheelbase_m: self.arms_m[0] + self.arms_m[1],
            cg_height_m: self.height_m,
            tracks_m: [0.0, 0.0],
            roll_share_front: 0.5,
            radii_m: [self.radius_m; 2],
            gravity_m_s2: 9.81,
            driveline: Driveline {
                wheel_inertia_kg_m2: [0.5 * self.wheel_inertia_kg_m2; 4],
                pinion_turns: [0.0, 0.0, 0.5, 0.5],
                input_inertia_kg_m2: 0.0,
                engine_inertia_kg_m2: 0.0,
                engine_drag_nm: 0.0,
                gear: 1.0,
                front: Tie::Open,
                rear: Tie::Open,
                centre: Tie::Open,
                centre_let_go: None,
                centre_delay_s: 0.0,
                centre_turns: 1.0,
            },
            rear_brake: TorqueLaw {
                gain_nm_pa: NM_PER_PA,
                threshold: Pressure::ZERO,
            },
            lever_brake: LeverBrake::None,
            live_valve: None,
            pressure_lag_s: 1e-3,
            transfer: Transfer::Held,
            tyre,
        }
    }

    /// Straight ahead with both axles rolling, the loads those of an acceleration.
    pub(crate) fn rolling(&self, speed_m_s: f64, acceleration_m_s2: f64) -> Motion {
        let mut motion = Motion::rolling(speed_m_s, self.radius_m, self.radius_m);
        motion.lagged_forward_m_s2 = acceleration_m_s2;
        motion
    }
}

/// Speed, side slip, and their rates, from a motion and its rates.
pub(crate) struct Polar {
    pub(crate) speed_m_s: f64,
    pub(crate) side_slip_rad: f64,
}

impl Polar {
    pub(crate) fn of(motion: &Motion) -> Self {
        Self {
            speed_m_s: motion.forward_m_s.hypot(motion.sideways_m_s),
            side_slip_rad: motion.sideways_m_s.atan2(motion.forward_m_s),
        }
    }

    /// Rates of both.
    pub(crate) fn rates(motion: &Motion, rates: &Motion) -> Self {
        let speed = Self::of(motion).speed_m_s;
        let along = motion.forward_m_s * rates.forward_m_s + motion.sideways_m_s * rates.sideways_m_s;
        let round = motion.forward_m_s * rates.sideways_m_s - motion.sideways_m_s * rates.forward_m_s;
        Self {
            speed_m_s: along / speed,
            side_slip_rad: round / (speed * speed),
        }
    }
}

/// Nothing asked of the car for a while.
pub(crate) fn idle(from_s: f64, to_s: f64) -> Segment {
    Segment::coasting(from_s, to_s)
}

/// A tyre whose side force rises with its slip angle without end: `F_y = −C α`; along the wheel a given share of its load.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Linear {
    /// Of one wheel, front and rear: per load, or by itself.
    pub(crate) stiffness: [Stiffness; 2],
    /// Force along each rear wheel (N).
    pub(crate) rear_along_n: f64,
}

/// Side force per slip angle.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Stiffness {
    /// N/rad.
    Constant(f64),
    /// 1/rad.
    PerLoad(f64),
}

impl Tyre for Linear {
    fn force(&self, contact: &Contact) -> GroundForce {
        let (stiffness, along_n) = match contact.axle {
            Axle::Front => (self.stiffness[0], 0.0),
            Axle::Rear => (self.stiffness[1], self.rear_along_n),
        };
        let stiffness = match stiffness {
            Stiffness::Constant(stiffness) => stiffness,
            Stiffness::PerLoad(per_load) => per_load * contact.load_n,
        };
        GroundForce {
            along_n,
            across_n: -stiffness * contact.across_m_s.atan2(contact.along_m_s),
        }
    }
}

/// Fiala's brush tyre for the side force, its peak at the rear what the force along leaves of the friction circle.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fiala {
    /// Of one wheel, front and rear (N/rad).
    pub(crate) stiffness_n_rad: [f64; 2],
    pub(crate) grip: f64,
    /// Force along each rear wheel (N).
    pub(crate) rear_along_n: f64,
}

impl Tyre for Fiala {
    fn force(&self, contact: &Contact) -> GroundForce {
        let (stiffness, along_n) = match contact.axle {
            Axle::Front => (self.stiffness_n_rad[0], 0.0),
            Axle::Rear => (self.stiffness_n_rad[1], self.rear_along_n),
        };
        let most = self.grip * contact.load_n;
        let peak = (most * most - along_n * along_n).max(0.0).sqrt();
        let slope = contact.across_m_s / contact.along_m_s;
        let across_n = if slope.abs() < 3.0 * peak / stiffness {
            let rising = stiffness * slope;
            -rising + rising * rising.abs() / (3.0 * peak) - rising.powi(3) / (27.0 * peak * peak)
        } else {
            -peak.copysign(slope)
        };
        GroundForce { along_n, across_n }
    }
}

/// The weighted combination of the magic formula as the drift model's package has it, load terms and camber left out.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Weighted;

/// Names as in the formula's own notation.
mod set {
    pub(super) const PCX1: f64 = 1.6411;
    pub(super) const PDX1: f64 = 1.1739;
    pub(super) const PEX1: f64 = 0.46403;
    pub(super) const PKX1: f64 = 22.303;
    pub(super) const PHX1: f64 = 1.2297e-3;
    pub(super) const PVX1: f64 = -8.8098e-6;
    pub(super) const RBX1: f64 = 13.276;
    pub(super) const RBX2: f64 = -13.778;
    pub(super) const RCX1: f64 = 1.2568;
    pub(super) const REX1: f64 = 0.65225;
    pub(super) const RHX1: f64 = 5.0722e-3;
    pub(super) const PCY1: f64 = 1.3507;
    pub(super) const PDY1: f64 = 1.0489;
    pub(super) const PEY1: f64 = -7.4722e-3;
    pub(super) const PKY1: f64 = -21.92;
    pub(super) const RBY1: f64 = 7.1433;
    pub(super) const RBY2: f64 = 9.1916;
    pub(super) const RBY3: f64 = -0.027856;
    pub(super) const RCY1: f64 = 1.0719;
    pub(super) const REY1: f64 = -0.27572;
    pub(super) const RHY1: f64 = 5.7448e-6;
    pub(super) const RVY1: f64 = -0.027825;
    pub(super) const RVY4: f64 = 12.12;
    pub(super) const RVY5: f64 = 1.9;
    pub(super) const RVY6: f64 = -10.704;
}

/// Along and across, both over the load, as curves of our own over slip and slip angle; shifts left out.
pub(crate) fn pure() -> [GripCurve; 2] {
    [
        GripCurve {
            stiffness_factor: set::PKX1 / (set::PCX1 * set::PDX1),
            shape_factor: set::PCX1,
            peak_factor: set::PDX1,
            curvature_factor: set::PEX1,
        },
        GripCurve {
            stiffness_factor: -set::PKY1 / (set::PCY1 * set::PDY1),
            shape_factor: set::PCY1,
            peak_factor: set::PDY1,
            curvature_factor: set::PEY1,
        },
    ]
}

/// `C atan(B x − E (B x − atan B x))`.
fn bent(factors: (f64, f64, f64), at: f64) -> f64 {
    let (b, c, e) = factors;
    c * (b * at - e * (b * at - (b * at).atan())).atan()
}

impl Weighted {
    /// Forces at a braking slip `1 − ω R/u`, a slip angle and a load.
    pub(crate) fn at(braking_slip: f64, angle_rad: f64, load_n: f64) -> GroundForce {
        let [along, across] = pure();
        let driving = -braking_slip + set::PHX1;
        let factors = (along.stiffness_factor, along.shape_factor, along.curvature_factor);
        // The package adds the vertical shift to the angle inside the sine.
        let pure_along = along.peak_factor * load_n * (bent(factors, driving) + load_n * set::PVX1).sin();
        let pure_across = -across.grip(angle_rad.abs()).copysign(angle_rad) * load_n;
        let weight = |factors: (f64, f64, f64), at: f64, shift: f64| {
            bent(factors, at + shift).cos() / bent(factors, shift).cos()
        };
        let by_angle = (
            set::RBX1 * (set::RBX2 * braking_slip).atan().cos(),
            set::RCX1,
            set::REX1,
        );
        let by_slip = (
            set::RBY1 * (set::RBY2 * (angle_rad - set::RBY3)).atan().cos(),
            set::RCY1,
            set::REY1,
        );
        let by_driving = set::PDY1
            * load_n
            * set::RVY1
            * (set::RVY4 * angle_rad).atan().cos()
            * (set::RVY5 * (set::RVY6 * braking_slip).atan()).sin();
        GroundForce {
            along_n: pure_along * weight(by_angle, angle_rad, set::RHX1),
            across_n: pure_across * weight(by_slip, braking_slip, set::RHY1) + by_driving,
        }
    }
}

impl Tyre for Weighted {
    fn force(&self, contact: &Contact) -> GroundForce {
        let along = contact.along_m_s.max(0.1);
        // The shift inside the sine grows with the load, so half a load is not half a force: the two wheels are one tyre.
        let axle = Self::at(
            1.0 - contact.rolling_m_s / along,
            (contact.across_m_s / contact.along_m_s).atan(),
            2.0 * contact.load_n,
        );
        GroundForce {
            along_n: 0.5 * axle.along_n,
            across_n: 0.5 * axle.across_n,
        }
    }
}
