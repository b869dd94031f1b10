//! A car sliding on all four wheels.

use engine::GRAVITY_M_S2;
use engine::balance::Balance;
use engine::brake::Warmth;
use engine::car::{Centre, Coupling, Driven};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Laden};
use quantity::Dimension;
use quantity::si::Speed;

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

/// Of the problem.
const ITS_GRAVITY_M_S2: f64 = 9.8;

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let grip = inputs.number("grip")?;
    let (wheelbase, aft) =
        (inputs.si("wheelbase", Dimension::Length)?, inputs.si("cg_aft_of_front_axle", Dimension::Length)?);
    let kg = inputs.si("weight", Dimension::Force)? / GRAVITY_M_S2;
    let rear_kg = kg * aft / wheelbase;
    let mut car = plain(
        "halliday-resnick-walker",
        [
            format!("weighed.front={} kg", kg - rear_kg),
            format!("weighed.rear={rear_kg} kg"),
            format!("weighed.cg_height={}", inputs.text("cg_height")?),
            format!("geometry.wheelbase={}", inputs.text("wheelbase")?),
            "pedal.ratio=20".to_owned(),
        ],
    )?;
    // Axles locked together slide together, at a rate of the grip.
    car.drivetrain.driven = Driven::All;
    car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
    let laden = Laden::of(&car, Aboard::AS_WEIGHED);
    let lock = Balance::of(&car, Hydraulics::of(&car, Warmth::Warm), laden, Speed::from_m_s(14.0)).lock(grip);
    let rate = lock.at.map_or(f64::NAN, |at| at.rate);
    let loads = laden.axle_loads(rate);
    let mut answers = Answers::default();
    answers.put("deceleration", rate * ITS_GRAVITY_M_S2);
    for load in [loads.rear, loads.front] {
        answers.put("normal", load.n() / 2.0);
        answers.put("braking", grip * load.n() / 2.0);
    }
    Ok(answers)
}
