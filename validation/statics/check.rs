//! Loads on a slope, a car weighed on a tilt, and the torque that holds a rear axle against grip and coupling.

use engine::brake::Warmth;
use engine::car::{Centre, Coupling, Driven};
use engine::lever::{LeverBench, Pull};
use engine::hold::grip_holds;
use engine::loads::{Aboard, Facing, Grade, Laden, cg_height_as_weighed};
use quantity::Dimension;
use quantity::si::{Force, Length, Speed, Torque};

use crate::Error;
use crate::car::{LEVER, PLAIN, Plain, plain};
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    slope(inputs, &mut answers)?;
    lifted(inputs, &mut answers)?;
    held(inputs, &mut answers)?;
    Ok(answers)
}

fn slope(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let slope = inputs.number("slope")?;
    let kg = inputs.si("slope_mass", Dimension::Mass)?;
    let front = inputs.si("slope_cg_ahead_of_rear_axle", Dimension::Length)?
        / inputs.si("slope_wheelbase", Dimension::Length)?;
    let car = plain(
        "statics",
        [
            format!("weighed.front={} kg", kg * front),
            format!("weighed.rear={} kg", kg * (1.0 - front)),
            format!("weighed.cg_height={}", inputs.text("slope_cg_height")?),
            format!("geometry.wheelbase={}", inputs.text("slope_wheelbase")?),
        ],
    )?;
    let level = Laden::of(&car, Aboard::AS_WEIGHED);
    for (facing, grip) in [(Facing::Up, 0.3226), (Facing::Down, 0.3704)] {
        let laden = level.on(Grade { slope, facing });
        let grade_n = laden.weight_n() * laden.grade.pulls_back().abs();
        answers.put("grade_force", grade_n);
        let rear_n = laden.standing().rear.n();
        answers.put("slope_rear", rear_n);
        answers.put("slope_grip", grade_n / rear_n);
        answers.put("slope_held", grip_holds(&level, grip, facing));
    }
    Ok(())
}

fn lifted(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    for (lifted, gains) in [("rear", "front_gains"), ("front", "rear_gains")] {
        // Written out, since the plain car's height is given: a sheet gives one or the other.
        let sheet = PLAIN.replace(
            "cg_height = \"0.5 m\"",
            &format!(
                "cg_raise = {{ lifted = \"{lifted}\", by = \"{}\", {gains} = \"{}\" }}",
                inputs.text("lift_by")?,
                inputs.text("lift_gain")?
            ),
        );
        let car = Plain::of("statics", &sheet)
            .with([
                format!("weighed.front={}", inputs.text("lift_front")?),
                format!("weighed.rear={}", inputs.text("lift_rear")?),
                format!("geometry.wheelbase={}", inputs.text("lift_wheelbase")?),
                format!("tyres.rolling_radius={}", inputs.text("lift_radius")?),
            ])?
            .car()?;
        answers.put("lifted", cg_height_as_weighed(&car).m());
    }
    Ok(())
}

fn held(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let mut car = Plain::new("statics").with(LEVER)?.car()?;
    car.tyres.front_radius = Length::from_m(inputs.si("hold_front_radius", Dimension::Length)?);
    car.tyres.rear_radius = Length::from_m(inputs.si("hold_rear_radius", Dimension::Length)?);
    car.drivetrain.driven = Driven::All;
    car.drivetrain.turns_per_wheel_turn = Some(1.0);
    let laden = Laden::of(&car, Aboard::AS_WEIGHED);
    let preload = Torque::from_nm(inputs.si("hold_preload", Dimension::Torque)?);
    for coupling in [Coupling::Open, Coupling::Plates { preload, bias: 0.0 }, Coupling::Locked] {
        car.drivetrain.centre = Centre::Fixed(coupling);
        let pull = Pull {
            hand: Force::from_n(300.0),
            grip: inputs.number("hold_grip")?,
            speed: Speed::from_m_s(14.0),
        };
        let answer = LeverBench::of(&car, Warmth::Warm).map(|bench| bench.answer(&laden, pull).to_lock);
        answers.put("held", answer.map_or(f64::NAN, |lock| lock.torque_needed.nm()));
        answers.put("held_load", answer.map_or(f64::NAN, |lock| lock.rear_load.n()));
    }
    Ok(())
}
