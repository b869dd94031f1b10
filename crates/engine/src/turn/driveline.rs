//! What ties the wheels to each other and to the engine.

use crate::car::{Car, Centre, Coupling, Curve};
use crate::drivetrain::{Beyond, TurnsAt, acting, turns_per_wheel_turn};

use super::number::Number;

/// Speed difference over which plates come to their full torque (rad/s).
const PLATES_BLEND_RAD_S: f64 = 0.1;

/// Drag of an engine with a closed throttle, at the crank [N m] (from memory, judgement).
pub const CLOSED_THROTTLE_NM: f64 = 30.0;

/// A torque over a speed difference: straight between points from nothing at rest, and beyond the last one held flat or
/// continued along its slope on logarithmic scales.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueCurve {
    /// Speed differences (rad/s), rising, and torques [N m].
    points: Vec<(f64, f64)>,
    /// Exponent of the curve beyond its last point; zero: held flat.
    beyond: f64,
}

impl TorqueCurve {
    /// Of a coupling's curve.
    #[must_use]
    pub fn new(curve: &Curve, beyond: Beyond) -> Self {
        let mut points: Vec<(f64, f64)> = curve
            .points
            .iter()
            .map(|&(speed, torque)| (speed.rad_s(), torque.nm()))
            .collect();
        if points.first().is_none_or(|&(speed, _)| speed > 0.0) {
            points.insert(0, (0.0, 0.0));
        }
        let beyond = match (beyond, points.as_slice()) {
            (Beyond::HeldFlat, _) => 0.0,
            (Beyond::GoesOn, [.., (low, low_nm), (high, high_nm)]) if *low > 0.0 && *low_nm > 0.0 => {
                (high_nm / low_nm).ln() / (high / low).ln()
            }
            (Beyond::GoesOn, _) => 1.0,
        };
        Self { points, beyond }
    }

    /// Its points: speed differences (rad/s) and torques [N m].
    pub(super) fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Exponent beyond the last of them; zero: held flat.
    pub(super) fn beyond(&self) -> f64 {
        self.beyond
    }

    /// Torque [N m], with the sign of the difference (rad/s), and its slope.
    pub(super) fn torque_nm(&self, difference_rad_s: f64) -> (f64, f64) {
        let at = difference_rad_s.abs();
        for pair in self.points.windows(2) {
            let ((low, low_nm), (high, high_nm)) = (pair[0], pair[1]);
            if at <= high {
                let slope = (high_nm - low_nm) / (high - low);
                return ((low_nm + slope * (at - low)).copysign(difference_rad_s), slope);
            }
        }
        let Some(&(last, last_nm)) = self.points.last() else {
            return (0.0, 0.0);
        };
        if self.beyond <= 0.0 || last <= 0.0 {
            return (last_nm.copysign(difference_rad_s), 0.0);
        }
        let torque = last_nm * (at / last).powf(self.beyond);
        (torque.copysign(difference_rad_s), self.beyond * torque / at)
    }
}

/// What two shafts are tied by. Torque goes from the faster to the slower.
#[derive(Clone, Debug, PartialEq)]
pub enum Tie {
    /// Nothing.
    Open,
    /// They turn as one, whatever it takes.
    Locked,
    /// Plates: `(preload + bias · |input|) · tanh(Δ/0.1 rad/s)`.
    Plates {
        /// Torque without input [N m].
        preload_nm: f64,
        /// Torque per input torque.
        bias: f64,
    },
    /// Fluid between plates.
    Viscous(TorqueCurve),
}

impl Tie {
    /// Of a coupling.
    #[must_use]
    pub fn new(coupling: &Coupling, beyond: Beyond) -> Self {
        match coupling {
            Coupling::Open => Self::Open,
            Coupling::Locked => Self::Locked,
            Coupling::Plates { preload, bias } => Self::Plates {
                preload_nm: preload.nm(),
                bias: *bias,
            },
            Coupling::Viscous(curve) => Self::Viscous(TorqueCurve::new(curve, beyond)),
        }
    }

    /// What it carries at a speed difference (rad/s) under an input torque [N m]. A locked tie has none of its own: it is a
    /// constraint.
    #[inline]
    pub(super) fn carries(&self, difference_rad_s: f64, input_nm: f64) -> Carried<f64> {
        let (torque_nm, of_difference) = match self {
            Self::Open | Self::Locked => (0.0, 0.0),
            Self::Plates { preload_nm, bias } => {
                return plates(*preload_nm, *bias, difference_rad_s, input_nm);
            }
            Self::Viscous(curve) => curve.torque_nm(difference_rad_s),
        };
        Carried {
            torque_nm,
            of_difference,
            of_input: 0.0,
        }
    }
}

/// What a tie carries.
#[derive(Clone, Copy, Debug)]
pub(super) struct Carried<N> {
    /// Torque [N m].
    pub(super) torque_nm: N,
    /// Its slope over the speed difference [N m s/rad].
    pub(super) of_difference: N,
    /// Its slope over the input torque.
    pub(super) of_input: N,
}

/// What plates carry.
#[inline(always)]
pub(super) fn plates<N: Number>(preload_nm: N, bias: N, difference_rad_s: N, input_nm: N) -> Carried<N> {
    let most = bias.times_plus(input_nm.abs(), preload_nm);
    let share = difference_rad_s.over(PLATES_BLEND_RAD_S).tanh();
    let felt = bias * share;
    Carried {
        torque_nm: most * share,
        of_difference: (most * (share.same(1.0) - share * share)).over(PLATES_BLEND_RAD_S),
        of_input: N::choose(input_nm.above(share.same(0.0)), felt, -felt),
    }
}

/// The drivetrain in plain numbers, at the wheels unless said.
#[derive(Clone, Debug, PartialEq)]
pub struct Driveline {
    /// Each wheel with tyre, disc and hub [kg m²].
    pub wheel_inertia_kg_m2: [f64; 4],
    /// Pinion turns per turn of each wheel, the others standing: `ω_in = cᵀ ω`.
    pub pinion_turns: [f64; 4],
    /// Gearbox side at the pinion, clutch down [kg m²].
    pub input_inertia_kg_m2: f64,
    /// What the engine adds at the pinion with the clutch up [kg m²].
    pub engine_inertia_kg_m2: f64,
    /// Engine's drag at the pinion, throttle closed [N m].
    pub engine_drag_nm: f64,
    /// Engine turns a pinion turn.
    pub gear: f64,
    /// Front differential.
    pub front: Tie,
    /// Rear differential.
    pub rear: Tie,
    /// Centre, as long as nothing tells it to let go.
    pub centre: Tie,
    /// What is left of it once it has let go; `None`: it never does.
    pub centre_let_go: Option<Tie>,
    /// Time that the centre takes to let go, and to hold again (s).
    pub centre_delay_s: f64,
    /// Turns of the centre coupling a wheel turn.
    pub centre_turns: f64,
}

impl Driveline {
    /// Of a car.
    #[must_use]
    pub fn of(car: &Car, turns_at: TurnsAt, beyond: Beyond) -> Self {
        let drivetrain = &car.drivetrain;
        // Torque reaches the axles in these shares, so the pinion's speed is made of theirs in the same shares.
        let (front, rear) = (drivetrain.front_share, 1.0 - drivetrain.front_share);
        let each = drivetrain.final_drive / 2.0;
        let tie = |let_go| {
            acting(&drivetrain.centre, let_go).map_or(Tie::Open, |coupling| Tie::new(coupling, beyond))
        };
        // Without a switch at the lever a disengaging centre is never told.
        let (centre_let_go, centre_delay_s) = match &drivetrain.centre {
            Centre::Disengaging { delay, .. } if car.lever.as_ref().is_some_and(|lever| lever.switch) => {
                (Some(tie(true)), delay.s())
            }
            _ => (None, 0.0),
        };
        let gear = drivetrain.gear;
        Self {
            wheel_inertia_kg_m2: [car.tyres.wheel_inertia.kg_m2(); 4],
            pinion_turns: [each * front, each * front, each * rear, each * rear],
            input_inertia_kg_m2: drivetrain.input_inertia.kg_m2(),
            engine_inertia_kg_m2: drivetrain.engine_inertia.kg_m2() * gear * gear,
            engine_drag_nm: CLOSED_THROTTLE_NM * gear,
            gear,
            front: Tie::new(&drivetrain.front_diff, beyond),
            rear: Tie::new(&drivetrain.rear_diff, beyond),
            centre: tie(false),
            centre_let_go,
            centre_delay_s,
            centre_turns: turns_per_wheel_turn(car, turns_at),
        }
    }

    /// Which axles' plates hold by what enters them: front and rear.
    pub(super) fn feel(&self) -> [bool; 2] {
        [&self.front, &self.rear].map(|tie| matches!(tie, Tie::Plates { bias, .. } if *bias > 0.0))
    }

    /// The pinion's turns per turn of an axle's case.
    pub(super) fn axle_turns(&self, axle: usize) -> f64 {
        2.0 * self.pinion_turns[2 * axle]
    }

    /// The centre as it is now.
    pub(super) fn centre_now(&self, let_go: bool) -> &Tie {
        match &self.centre_let_go {
            Some(left) if let_go => left,
            _ => &self.centre,
        }
    }
}
