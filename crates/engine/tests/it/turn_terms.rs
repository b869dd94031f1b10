//! The terms of the turn's equations one by one, each against a closed form or a case worked by hand.

use engine::car::{Car, Surface};
use engine::loads::{Aboard, Laden};
use engine::turn::{
    Contact, Line, Motion, PRESSURE_LAG_S, Reading, Segment, Stepping, SurfaceGrip, TRANSFER_LAG_S,
    TurnBench, Tyre, follow,
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
        assert!(
            (motion.rear_pa - by_hand).abs() < 0.1,
            "{time:?}: {} Pa, by hand {by_hand}",
            motion.rear_pa
        );
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

/// With a locked centre the rear plates hold by what the centre brings: no engine, no preload, and bias alone moves the
/// heading, the more of it the more.
#[test]
fn plates_behind_a_locked_centre_feel_what_it_brings() {
    use engine::car::{Centre, Coupling};
    use engine::turn::Technique;
    use quantity::si::{Force, Torque};
    let heading = |bias: f64| {
        let mut car = plain()
            .with(&lever())
            .with(&[
                ("drivetrain.driven", Word("all")),
                ("drivetrain.centre.kind", Word("locked")),
            ])
            .car();
        car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
        car.drivetrain.rear_diff = Coupling::Plates {
            preload: Torque::from_nm(0.0),
            bias,
        };
        let surface = gravel(&car);
        let technique = Technique {
            hand: Force::from_n(350.0),
            ..Technique::on(&surface, &car)
        };
        let path = bench(&car).motion(&technique).unwrap();
        path.last().unwrap().1.heading_rad.to_degrees()
    };
    let found = [0.0, 0.1, 0.35, 0.5].map(heading);
    for pair in found.windows(2) {
        assert!((pair[1] - pair[0]).abs() > 0.5, "{found:?}");
    }
}

/// Coasting down straight with the clutch down, the pinion's inertia works on the differential: front-driven with plates,
/// one wheel on more grip than the other would feel it; here the state it is kept in comes to share · i · I_in · ω̇_in.
#[test]
fn what_enters_a_differential_is_what_its_wheels_do_not_keep() {
    use engine::car::Coupling;
    use quantity::si::Torque;
    // Both rear wheels braked alike and sliding nowhere: each slows by T/(J + half of what the pinion stores).
    let mut car = plain()
        .with(&lever())
        .with(&[
            ("drivetrain.final_drive", Si(4.0)),
            ("drivetrain.input_inertia", Si(0.10)),
        ])
        .car();
    car.drivetrain.rear_diff = Coupling::Plates {
        preload: Torque::from_nm(0.0),
        bias: 0.5,
    };
    let wheel = car.tyres.wheel_inertia.kg_m2();
    let bench = bench(&car);
    let mut vehicle = bench.vehicle().clone();
    // No load, no ground.
    vehicle.gravity_m_s2 = 0.0;
    let mut start = Motion::rolling(15.0, 0.31, 0.31);
    // The left one turns faster, so that the plates move torque to the right.
    start.wheel_rad_s[2] += 40.0;
    start.rear_pa = 3e6;
    let mut braked = Segment::coasting(0.0, 0.06);
    braked.rear_pa = Line::steady(3e6);
    let path = follow(
        &vehicle,
        &start,
        &[braked],
        Stepping::Adaptive { tolerance: 1e-8 },
    )
    .unwrap();
    let torque = vehicle.rear_brake.gain_nm_pa * (3e6 - vehicle.rear_brake.threshold.pa());
    let pinion = 0.10 * 4.0 * 4.0;
    let slows = 2.0 * torque / (2.0 * wheel + pinion);
    let input = pinion * slows;
    // Once the 3 ms are over, the two wheels drift together by 2 · bias · input / J.
    let apart = |motion: &Motion| motion.wheel_rad_s[2] - motion.wheel_rad_s[3];
    let at = |from: f64| path.iter().find(|(time, _)| time.s() >= from).unwrap();
    let ((from, first), (to, last)) = (at(0.03), at(0.055));
    let closing = (apart(first) - apart(last)) / (to.s() - from.s());
    let by_hand = 2.0 * 0.5 * input / wheel;
    assert!(
        (closing / by_hand - 1.0).abs() < 1e-3,
        "{closing} rad/s², by hand {by_hand}"
    );
}
