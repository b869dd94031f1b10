//! A published single-track drift model, its car and its tyre in the engine's own equations.

use engine::turn::{Engine, Course, Motion, Segment, Steering, Stepping, Transfer, Vehicle, follow, sampled};
use quantity::Dimension;
use quantity::si::Duration;

use crate::Error;
use crate::single_track::{Linear, NM_PER_PA, Polar, SingleTrack, Stiffness, Weighted, idle, pure};
use crate::source::{Answers, Inputs};

/// The package's braking of 6 m/s².
const BRAKING_M_S2: f64 = 6.0;

/// How much smaller angles are made where a model is linear in them.
const SMALLER: f64 = 1e3;

fn car(inputs: &Inputs) -> Result<SingleTrack, Error> {
    Ok(SingleTrack {
        mass_kg: inputs.number("mass_kg")?,
        yaw_inertia_kg_m2: inputs.number("yaw_inertia_kg_m2")?,
        arms_m: [inputs.number("front_arm_m")?, inputs.number("rear_arm_m")?],
        height_m: inputs.number("height_m")?,
        wheel_inertia_kg_m2: inputs.number("axle_wheel_inertia_kg_m2")?,
        radius_m: inputs.number("radius_m")?,
    })
}

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    tyre(inputs, &mut answers)?;
    let car = car(inputs)?;
    derivatives(inputs, &car, &mut answers)?;
    handbrake_turn(&car, &mut answers);
    straight_stop(&car, &mut answers);
    Ok(answers)
}

fn tyre(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let load_n = inputs.number("load_n")?;
    let [along, across] = pure();
    for slip in inputs.list("pure_slip", Dimension::Ratio)? {
        answers.put("pure_along", -load_n * along.grip(slip));
    }
    for angle in inputs.list("pure_angle", Dimension::Ratio)? {
        answers.put("pure_across", -load_n * across.grip(angle));
    }
    let slips = inputs.list("combined_slip", Dimension::Ratio)?;
    let angles = inputs.list("combined_angle", Dimension::Ratio)?;
    for (slip, angle) in slips.into_iter().zip(angles) {
        let force = Weighted::at(slip, angle, load_n);
        answers.put("combined_along", force.along_n);
        answers.put("combined_across", force.across_n);
    }
    Ok(())
}

/// The package's test state: x, y, steer, speed, heading, yaw rate, side slip, both axles' wheels.
fn state(inputs: &Inputs, push_m_s2: f64) -> Result<Motion, Error> {
    let state = inputs.list("state", Dimension::Ratio)?;
    let &[x, y, steer, speed, heading, yaw, slip, front, rear] = state.as_slice() else {
        return Err(Error::Check {
            folder: "single-track-drift",
            why: "a state has nine figures".to_owned(),
        });
    };
    Ok(Motion {
        x_m: x,
        y_m: y,
        heading_rad: heading,
        forward_m_s: speed * slip.cos(),
        sideways_m_s: speed * slip.sin(),
        yaw_rate_rad_s: yaw,
        wheel_rad_s: [front, front, rear, rear],
        steer_rad: steer,
        lagged_forward_m_s2: push_m_s2,
        ..Motion::default()
    })
}

fn derivatives(inputs: &Inputs, car: &SingleTrack, answers: &mut Answers) -> Result<(), Error> {
    // As limited by the package at that speed: 11.5 m/s² · 7.319/v.
    let pushed = inputs.number("acceleration_m_s2")?;
    let motion = state(inputs, pushed)?;
    let mut doing = idle(0.0, 1.0);
    doing.steering = Steering::Rate(inputs.number("steer_rate_rad_s")?);
    doing.engine = Engine::Pulling(Course::steady(car.mass_kg * car.radius_m * pushed));
    for (key, height_m) in [("drift", car.height_m), ("drift_unloaded", 0.0)] {
        let vehicle = SingleTrack { height_m, ..*car }.on(Weighted);
        let rates = vehicle.rates(&motion, &doing, 0.5);
        let polar = Polar::rates(&motion, &rates);
        for value in [
            rates.x_m,
            rates.y_m,
            rates.steer_rad,
            polar.speed_m_s,
            rates.heading_rad,
            rates.yaw_rate_rad_s,
            polar.side_slip_rad,
            rates.wheel_rad_s[0],
            rates.wheel_rad_s[2],
        ] {
            answers.put(key, value);
        }
    }
    // The linear model has no wheels: the force along acts at the rear, the side force per load.
    let per_load = inputs.number("linear_stiffness_per_load")?;
    let vehicle = car.on(Linear {
        stiffness: [Stiffness::PerLoad(per_load); 2],
        rear_along_n: 0.5 * car.mass_kg * pushed,
    });
    doing.engine = Engine::Parted;
    // A linear model's angles may be made as small as one likes; the engine's sines are then angles too.
    let speed = Polar::of(&motion).speed_m_s;
    let slip = Polar::of(&motion).side_slip_rad / SMALLER;
    let small = Motion {
        forward_m_s: speed * slip.cos(),
        sideways_m_s: speed * slip.sin(),
        yaw_rate_rad_s: motion.yaw_rate_rad_s / SMALLER,
        steer_rad: motion.steer_rad / SMALLER,
        ..motion
    };
    let rates = vehicle.rates(&small, &doing, 0.5);
    let polar = Polar::rates(&small, &rates);
    for value in [
        polar.speed_m_s,
        SMALLER * rates.yaw_rate_rad_s,
        // The linear model leaves out that a side slip shrinks as the speed grows.
        SMALLER * (polar.side_slip_rad + polar.speed_m_s * slip / speed),
    ] {
        answers.put("linear", value);
    }
    Ok(())
}

/// Torque on each wheel of an axle that has a share of the package's braking.
fn each_nm(car: &SingleTrack, share: f64) -> f64 {
    0.5 * share * car.mass_kg * car.radius_m * BRAKING_M_S2
}

fn braking(car: &SingleTrack, front_share: f64, from_s: f64, to_s: f64) -> Segment {
    let mut braking = idle(from_s, to_s);
    braking.front_nm = Course::steady(each_nm(car, front_share));
    braking.rear_pa = Course::steady(each_nm(car, 1.0 - front_share) / NM_PER_PA);
    braking
}

fn handbrake_turn(car: &SingleTrack, answers: &mut Answers) {
    let vehicle: Vehicle<Weighted> = car.on(Weighted);
    debug_assert_eq!(vehicle.transfer, Transfer::Held);
    let stepping = Stepping::Adaptive { tolerance: 1e-7 };
    let steering = |mut segment: Segment| {
        segment.steering = Steering::Rate(0.4);
        segment
    };
    let coasting = follow(
        &vehicle,
        &car.rolling(15.0, 0.0),
        &[steering(idle(0.0, 0.3))],
        stepping,
    );
    let Some((_, at_pull)) = coasting.ok().and_then(|path| path.last().copied()) else {
        return;
    };
    // The package shifts loads with what is asked of the brakes, at once, and so does its torque.
    let pulled = Motion {
        lagged_forward_m_s2: -BRAKING_M_S2,
        rear_pa: each_nm(car, 1.0) / NM_PER_PA,
        ..at_pull
    };
    let Ok(path) = follow(
        &vehicle,
        &pulled,
        &[
            steering(braking(car, 0.0, 0.3, 0.5)),
            braking(car, 0.0, 0.5, 1.0),
        ],
        stepping,
    ) else {
        return;
    };
    let trace = sampled(&path, Duration::from_s(0.1));
    put(answers, "turn", &trace, &[0, 1, 2, 3, 5, 7]);
}

fn straight_stop(car: &SingleTrack, answers: &mut Answers) {
    let mut start = car.rolling(20.0, -BRAKING_M_S2);
    start.rear_pa = each_nm(car, 0.34) / NM_PER_PA;
    let stepping = Stepping::Adaptive { tolerance: 1e-7 };
    let Ok(path) = follow(
        &car.on(Weighted),
        &start,
        &[braking(car, 0.66, 0.0, 2.0)],
        stepping,
    ) else {
        return;
    };
    let trace = sampled(&path, Duration::from_s(0.5));
    put(answers, "stop", &trace, &[1, 2, 4]);
}

fn put(answers: &mut Answers, what: &'static str, trace: &engine::turn::Trace, at: &[usize]) {
    let keys: [&'static str; 8] = match what {
        "turn" => [
            "turn_x", "turn_y", "turn_speed", "turn_heading", "turn_yaw_rate", "turn_side_slip", "turn_front",
            "turn_rear",
        ],
        _ => [
            "stop_x", "stop_y", "stop_speed", "stop_heading", "stop_yaw_rate", "stop_side_slip", "stop_front",
            "stop_rear",
        ],
    };
    for &index in at {
        let (u, v) = (trace.u_m_s[index], trace.v_m_s[index]);
        let values = [
            trace.x_m[index],
            trace.y_m[index],
            u.hypot(v),
            trace.heading_rad[index],
            trace.yaw_rate_rad_s[index],
            v.atan2(u),
            trace.wheel_rad_s[0][index],
            trace.wheel_rad_s[2][index],
        ];
        for (key, value) in keys.into_iter().zip(values) {
            answers.put(key, value);
        }
    }
}
