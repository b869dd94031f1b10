//! The terms of the turn's equations one by one, each against a closed form or a case worked by hand.

use engine::car::{Car, Surface};
use engine::loads::{Aboard, Laden};
use engine::turn::{
    Contact, Line, Motion, PRESSURE_LAG_S, Reading, Segment, Stepping, SurfaceGrip, TRANSFER_LAG_S, TurnBench,
    Tyre, follow,
};
use engine::tyre::GripCurve;

use crate::bench::Said::{Si, Word};
use crate::bench::{lever, plain};

fn gravel(car: &Car) -> Surface {
    car.surface("hard gravel").unwrap().clone()
}

fn bench(car: &Car) -> TurnBench {
    let laden = Laden::of(car, Aboard::default());
    TurnBench::of(car, &laden, &gravel(car), Reading::default()).unwrap()
}

fn plain_car() -> Car {
    plain().with(&lever()).car()
}

/// D(1 − k(N/N₀ − 1)): a wheel under twice the middle load gives 0.9 of its grip at k = 0.1, under half of it 1.05.
#[test]
fn more_load_gives_less_grip_a_newton() {
    let car = plain_car();
    let curve = GripCurve::of(&gravel(&car)).unwrap();
    let tyre = SurfaceGrip::new(&curve, 0.10, 4.0 * 3000.0);
    let grip = |load_n: f64| {
        let contact = Contact {
            axle: engine::car::Axle::Rear,
            load_n,
            along_m_s: 13.0,
            across_m_s: 0.0,
            rolling_m_s: 10.0,
        };
        -tyre.force(&contact).along_n / load_n
    };
    // Slip 0.3 is where hard gravel gives most: 0.65.
    assert!((grip(3000.0) - 0.65).abs() < 1e-6, "{}", grip(3000.0));
    assert!((grip(6000.0) - 0.65 * 0.90).abs() < 1e-6, "{}", grip(6000.0));
    assert!((grip(1500.0) - 0.65 * 1.05).abs() < 1e-6, "{}", grip(1500.0));
}

/// A step of pressure arrives as 1 − e^(−t/τ).
#[test]
fn pressure_follows_its_step_with_its_lag() {
    let car = plain_car();
    let bench = bench(&car);
    let start = Motion::rolling(15.0, 0.31, 0.31);
    let mut asked = Segment::coasting(0.0, 0.3);
    // Below the brakes' threshold, so that nothing else happens.
    asked.rear_pa = Line::steady(1e4);
    let tight = Stepping::Adaptive { tolerance: 1e-9 };
    for (time, motion) in follow(bench.vehicle(), &start, &[asked], tight).unwrap() {
        let by_hand = 1e4 * (1.0 - (-time.s() / PRESSURE_LAG_S).exp());
        assert!((motion.rear_pa - by_hand).abs() < 0.1, "{time:?}: {} Pa, by hand {by_hand}", motion.rear_pa);
    }
    assert!((PRESSURE_LAG_S - 0.05).abs() < 1e-12 && (TRANSFER_LAG_S - 0.06).abs() < 1e-12);
}

/// The springs follow the body's accelerations at (what it is − where they are)/τ.
#[test]
fn load_transfer_follows_with_its_lag() {
    let car = plain_car();
    let bench = bench(&car);
    let mut motion = Motion::rolling(15.0, 0.31, 0.31);
    motion.lagged_forward_m_s2 = 2.0;
    motion.lagged_sideways_m_s2 = -3.0;
    // Wheels rolling and nothing across: no force at all.
    let rates = bench.vehicle().rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
    assert!((rates.lagged_forward_m_s2 + 2.0 / 0.06).abs() < 1e-9);
    assert!((rates.lagged_sideways_m_s2 - 3.0 / 0.06).abs() < 1e-9);
    // And sliding across, towards what the ground gives.
    motion.sideways_m_s = 1.0;
    let rates = bench.vehicle().rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
    let sway = rates.sideways_m_s + motion.yaw_rate_rad_s * motion.forward_m_s;
    assert!(sway < -1.0);
    assert!((rates.lagged_sideways_m_s2 - (sway + 3.0) / 0.06).abs() < 1e-9);
}

/// Rolling at ω all of the driveline stores ½ (4 J + (I_in + I_e gear²) i²) ω²: the engine by its gear squared, both by the
/// final drive squared.
#[test]
fn the_driveline_stores_what_its_gearing_squared_says() {
    let car = plain()
        .with(&lever())
        .with(&[
            ("drivetrain.final_drive", Si(4.5)),
            ("drivetrain.gear", Si(1.6)),
            ("drivetrain.input_inertia", Si(0.09)),
            ("drivetrain.engine_inertia", Si(0.20)),
            ("drivetrain.rear_diff.kind", Word("open")),
        ])
        .car();
    let bench = bench(&car);
    let omega = 40.0;
    let turning = Motion {
        wheel_rad_s: [omega; 4],
        ..Motion::default()
    };
    let wheels = 4.0 * car.tyres.wheel_inertia.kg_m2();
    let down = 0.5 * (wheels + 0.09 * 4.5 * 4.5) * omega * omega;
    let up = 0.5 * (wheels + (0.09 + 0.20 * 1.6 * 1.6) * 4.5 * 4.5) * omega * omega;
    assert!((bench.vehicle().energy_j(&turning, false) / down - 1.0).abs() < 1e-12);
    assert!((bench.vehicle().energy_j(&turning, true) / up - 1.0).abs() < 1e-12);
}
