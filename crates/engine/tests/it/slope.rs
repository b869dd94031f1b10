//! A car on a slope: loads, what locks first, what the lever has to do.

use engine::Conditions;
use engine::balance::Balance;
use engine::brake::Warmth;
use engine::headline::Headlines;
use engine::hydraulics::Hydraulics;
use engine::lever::{LeverBench, Pull};
use engine::loads::{Aboard, Facing, Grade, Laden};
use engine::ranges::Sampling;
use quantity::si::{Force, Speed};

use crate::bench::{SPEED, demo, written};

const UP: Grade = Grade {
    slope: 0.12,
    facing: Facing::Up,
};
const DOWN: Grade = Grade {
    slope: 0.12,
    facing: Facing::Down,
};

/// Both axles carry the cosine of the weight; braked to stand, the axle downhill carries more, by moments.
#[test]
fn loads_on_a_slope_by_moments() {
    for (name, car) in written() {
        let level = Laden::of(&car, Aboard::default());
        for grade in [UP, DOWN] {
            let laden = level.on(grade);
            let loads = laden.standing();
            let angle = 0.12_f64.atan();
            let weight = laden.weight_n();
            assert!(
                ((loads.front + loads.rear).n() / (weight * angle.cos()) - 1.0).abs() < 1e-12,
                "{name}"
            );
            let shifted = weight * angle.sin() * laden.cg_height.m() / laden.wheelbase.m();
            let sign = if grade.facing == Facing::Up { 1.0 } else { -1.0 };
            let flat = level.standing().rear.n() * angle.cos();
            assert!((loads.rear.n() - flat - sign * shifted).abs() < 1e-6, "{name}");
        }
    }
}

/// The front wheels of a plain car reach their grip where force over load says, and the car slows by more uphill.
#[test]
fn first_lock_on_a_slope() {
    let car = demo("scree").0.car;
    let lock = |grade: Grade| {
        let laden = Laden::of(&car, Aboard::default()).on(grade);
        let balance = Balance::of(&car, Hydraulics::of(&car, Warmth::Warm), laden, SPEED);
        (balance.lock(0.6), laden)
    };
    let (flat, level) = lock(Grade::LEVEL);
    let (up, uphill) = lock(UP);
    let (down, downhill) = lock(DOWN);
    let (flat, up, down) = (flat.at.unwrap(), up.at.unwrap(), down.at.unwrap());
    // Force over weight is the same up and down; what it makes of the car is not.
    assert!((up.rate - down.rate).abs() < 1e-12 && up.rate < flat.rate);
    assert!((level.deceleration(flat.rate) - flat.rate).abs() < 1e-15);
    let sine = 0.12_f64.atan().sin();
    assert!((uphill.deceleration(up.rate) - up.rate - sine).abs() < 1e-12);
    assert!((downhill.deceleration(down.rate) - down.rate + sine).abs() < 1e-12);
    assert!(up.efficiency <= 1.0 && (up.efficiency / flat.efficiency - 1.0).abs() < 0.02);
    let laden = uphill;
    let loads = laden.axle_loads(up.rate);
    let used = up.rate * laden.weight_n();
    assert!(used <= 0.6 * (loads.front + loads.rear).n() * (1.0 + 1e-12));
}

/// The rule is one of the level: a slope does not move it.
#[test]
fn the_road_rule_is_one_of_the_level() {
    let car = demo("sedge").0.car;
    let rules = |grade: Grade| {
        let laden = Laden::of(&car, Aboard::default()).on(grade);
        let hydraulics = Hydraulics::of(&car, Warmth::Warm);
        let failed = engine::balance::failed_circuits(&car, &hydraulics, &laden, 0.65);
        let balance = Balance::of(&car, hydraulics, laden, SPEED);
        (balance.road_rules(), failed)
    };
    assert_eq!(rules(Grade::LEVEL), rules(DOWN));
}

/// `z = (μ a cos θ/L)/(1 + μ h/L)` without a coupling.
#[test]
fn the_lever_locks_a_lighter_rear_on_a_slope() {
    let car = demo("sedge").0.car;
    let bench = LeverBench::of(&car, Warmth::Warm).unwrap();
    let pull = Pull {
        hand: Force::from_n(250.0),
        grip: 0.65,
        speed: Speed::from_m_s(14.0),
    };
    let level = Laden::of(&car, Aboard::default());
    let flat = bench.answer(&level, pull).to_lock;
    let steep = bench.answer(&level.on(DOWN), pull).to_lock;
    let cosine = 0.12_f64.atan().cos();
    assert!((steep.rate / (flat.rate * cosine) - 1.0).abs() < 1e-12);
    assert!((steep.torque_needed.nm() / (flat.torque_needed.nm() * cosine) - 1.0).abs() < 1e-12);
}

/// The middle of the drawn figures is the figure itself, on a slope too.
#[test]
fn what_is_drawn_is_drawn_on_the_slope() {
    let (car, inputs) = demo("tarn");
    let conditions = Conditions {
        grade: DOWN,
        ..Conditions::default()
    };
    let grip = conditions.grip_of(&car.car).unwrap();
    let answer = LeverBench::of(&car.car, Warmth::Warm)
        .unwrap()
        .answer(&conditions.laden(&car.car), conditions.pull_at(&car.car, grip));
    let sampling = Sampling { draws: 0, seed: 1 };
    let drawn = Headlines::of(&car.car, &inputs, &car.toleranced, &conditions, sampling).unwrap();
    assert_eq!(drawn.middle.in_hand, Some(answer.to_lock.in_hand));
    let on_the_level = Conditions::default();
    let level = Headlines::of(&car.car, &inputs, &car.toleranced, &on_the_level, sampling).unwrap();
    assert!(level.middle.in_hand < drawn.middle.in_hand);
}
