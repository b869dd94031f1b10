//! What a centre coupling carries between the axles while one of them stands.

use quantity::si::{Rotation, Speed, Torque};

use crate::car::{Car, Centre, Coupling, Curve};
use crate::equations;

/// How a viscous coupling's curve goes on beyond its last point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beyond {
    /// At the last point's torque.
    HeldFlat,
    /// Along the last points' slope on logarithmic scales.
    GoesOn,
}

/// Where the coupling turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnsAt {
    /// As the sheet says.
    Given,
    /// The sheet does not say: on the propshaft, final drive times as fast as the wheels.
    Propshaft,
    /// The sheet does not say: between a centre differential's case and its front output.
    FrontOutput,
    /// The sheet does not say: between a centre differential's case and its rear output.
    RearOutput,
    /// The sheet does not say: behind the final drive, as fast as the wheels.
    Wheels,
}

/// How the centre coupling was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CouplingReading {
    /// What it is taken for, where nobody knows what it is.
    pub supposed: Option<&'static str>,
    /// Where it turns.
    pub turns_at: TurnsAt,
    /// Turns of the coupling a wheel turn.
    pub turns: f64,
    /// How its curve goes on beyond its last point.
    pub beyond: Beyond,
    /// Whether the speed difference lies beyond the last point.
    pub off_the_curve: bool,
}

/// What ties the axles while the pedal is used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalTie {
    /// Torque that it can carry between the axles, at the wheels (N·m); infinite where they are locked together.
    pub carries_nm: f64,
}

impl PedalTie {
    /// Whether it ties them at all.
    #[must_use]
    pub fn ties(&self) -> bool {
        self.carries_nm > 0.0
    }
}

/// The coupling that acts: a disengaging centre's held or let-go one.
#[must_use]
pub fn acting(centre: &Centre, let_go: bool) -> Option<&Coupling> {
    match centre {
        Centre::None => None,
        Centre::Fixed(coupling) => Some(coupling),
        // Each kind that it may be is asked by itself (`Centre::may_be`); by itself it ties nothing, which is the worse
        // for the lock order under the pedal.
        Centre::Guess { .. } => None,
        Centre::Disengaging { let_go: gone, .. } if let_go => Some(gone),
        Centre::Disengaging { held, .. } => Some(held),
    }
}

/// Turns of the coupling a wheel turn: as given; on the propshaft; between a centre differential's case and an output;
/// at the wheels. The case turns at `front_share · ω_f + (1 − front_share) · ω_r`, so against its front output it turns
/// `1 − front_share` of what the axles turn against each other, and against its rear output `front_share` of it.
#[must_use]
pub fn turns_per_wheel_turn(car: &Car, at: TurnsAt) -> f64 {
    match at {
        TurnsAt::Given => car
            .drivetrain
            .turns_per_wheel_turn
            .unwrap_or(car.drivetrain.final_drive),
        TurnsAt::Propshaft => car.drivetrain.final_drive,
        TurnsAt::FrontOutput => car.drivetrain.final_drive * (1.0 - car.drivetrain.front_share),
        TurnsAt::RearOutput => car.drivetrain.final_drive * car.drivetrain.front_share,
        TurnsAt::Wheels => 1.0,
    }
}

/// Where a coupling may turn: as the sheet says, or every place that it leaves open, each once. A centre differential
/// that sends all torque one way is none, and one that shares evenly turns alike against both outputs.
#[must_use]
pub fn places(car: &Car) -> Vec<TurnsAt> {
    if car.drivetrain.turns_per_wheel_turn.is_some() {
        return vec![TurnsAt::Given];
    }
    let share = car.drivetrain.front_share;
    let mut places = vec![TurnsAt::Propshaft];
    if share > 0.0 && share < 1.0 {
        places.extend([TurnsAt::FrontOutput, TurnsAt::RearOutput]);
    }
    places.push(TurnsAt::Wheels);
    let mut known: Vec<f64> = Vec::new();
    places.retain(|&place| {
        let turns = turns_per_wheel_turn(car, place);
        let new = known.iter().all(|&other| (other - turns).abs() > 1e-9);
        known.push(turns);
        new
    });
    places
}

/// Torque that a coupling carries at the wheels (N·m) while one axle stands and the other rolls at a speed:
/// `T_c = n · curve(Δ)`, `Δ = n v/R`; plates: n times the preload (throttle closed). Infinite where it is locked.
#[must_use]
pub fn carried_nm(coupling: Option<&Coupling>, turns: f64, rolling: Rotation, beyond: Beyond) -> f64 {
    match coupling {
        None | Some(Coupling::Open) => 0.0,
        Some(Coupling::Locked) => f64::INFINITY,
        Some(Coupling::Plates { preload, .. }) => equations::at_the_wheels(turns, preload.nm()),
        Some(Coupling::Viscous(curve)) => {
            equations::at_the_wheels(turns, curve.torque(rolling * turns, beyond).nm())
        }
    }
}

/// What ties the axles under the pedal: a disengaging centre counts as held, and the curve is held flat.
#[must_use]
pub fn tie_for_pedal(car: &Car, speed: Speed) -> PedalTie {
    let rolling = Rotation::from_rad_s(speed.m_s() / car.tyres.front_radius.m());
    let turns = turns_per_wheel_turn(car, TurnsAt::Given);
    PedalTie {
        carries_nm: carried_nm(
            acting(&car.drivetrain.centre, false),
            turns,
            rolling,
            Beyond::HeldFlat,
        ),
    }
}

impl Curve {
    /// Torque at a speed difference: straight between the points, from nothing at rest; beyond the last point held
    /// flat, or continued along the slope of the last two on logarithmic scales.
    #[must_use]
    pub fn torque(&self, difference: Rotation, beyond: Beyond) -> Torque {
        let at = difference.rad_s().abs();
        let (Some(&(first, first_torque)), Some(&(last, last_torque))) =
            (self.points.first(), self.points.last())
        else {
            return Torque::ZERO;
        };
        if at < first.rad_s() {
            return first_torque * (at / first.rad_s());
        }
        if at > last.rad_s() && beyond == Beyond::GoesOn {
            return last_torque * (at / last.rad_s()).powf(self.last_log_slope());
        }
        let table: Vec<(f64, f64)> = self
            .points
            .iter()
            .map(|&(speed, torque)| (speed.rad_s(), torque.nm()))
            .collect();
        Torque::from_nm(crate::interpolate::clamped(&table, at, |speed| speed))
    }

    /// Whether a speed difference lies beyond the last point.
    #[must_use]
    pub fn is_beyond(&self, difference: Rotation) -> bool {
        self.points
            .last()
            .is_some_and(|&(last, _)| difference.rad_s().abs() > last.rad_s())
    }

    fn last_log_slope(&self) -> f64 {
        match self.points[..] {
            [.., (low, low_torque), (high, high_torque)]
                if low > Rotation::ZERO && low_torque > Torque::ZERO && high_torque > Torque::ZERO =>
            {
                (high_torque / low_torque).ln() / (high / low).ln()
            }
            // From a point at rest no slope can be read; a straight line through it has slope 1.
            _ => 1.0,
        }
    }
}
