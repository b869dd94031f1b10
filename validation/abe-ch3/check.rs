//! Steady cornering.

use engine::turn::{Segment, Steering, Stepping, follow};
use quantity::Dimension;

use crate::Error;
use crate::single_track::{Linear, Polar, SingleTrack, Stiffness, idle};
use crate::source::{Answers, Inputs};

/// How much less is steered.
const LESS: f64 = 10.0;

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let numbers = |key| inputs.list(key, Dimension::Ratio);
    let (arms, stiffness) = (numbers("arms_m")?, numbers("tyre_stiffness_n_rad")?);
    let car = SingleTrack {
        mass_kg: inputs.number("mass_kg")?,
        yaw_inertia_kg_m2: inputs.number("yaw_inertia_kg_m2")?,
        arms_m: [arms[0], arms[1]],
        height_m: 0.0,
        wheel_inertia_kg_m2: 2.0,
        radius_m: 0.3,
    };
    let vehicle = car.on(Linear {
        stiffness: [Stiffness::Constant(stiffness[0]), Stiffness::Constant(stiffness[1])],
        rear_along_n: 0.0,
    });
    let speed = inputs.si("speed", Dimension::Speed)?;
    let steer = inputs.number("steer_rad")? / LESS;
    let turned = |mut part: Segment| {
        part.steering = Steering::Rate(steer / 0.1);
        part
    };
    let path = follow(
        &vehicle,
        &car.rolling(speed, 0.0),
        &[turned(idle(0.0, 0.1)), idle(0.1, 4.0)],
        Stepping::Adaptive { tolerance: 1e-8 },
    );
    if let Some((_, motion)) = path.ok().and_then(|path| path.last().copied()) {
        answers.put("yaw_rate", LESS * motion.yaw_rate_rad_s);
        answers.put("side_slip", LESS * Polar::of(&motion).side_slip_rad);
    }
    Ok(answers)
}
