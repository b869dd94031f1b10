//! Two exercises of Khurmi's chapter on brakes.

use engine::balance::{Balance, First, deceleration, failed_circuits};
use engine::brake::Warmth;
use engine::car::{Car, Centre, Coupling};
use engine::hydraulics::Hydraulics;
use engine::lever::{LeverBench, Pull};
use engine::loads::{Aboard, Laden};
use quantity::Dimension;
use quantity::si::{Force, Speed};

use crate::Error;
use crate::car::{LEVER, Plain};
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    one_axle_or_both(inputs, &mut answers)?;
    equal_forces(inputs, &mut answers)?;
    Ok(answers)
}

/// A car with its centre of gravity where the exercise has it; its weight does not enter.
fn car(inputs: &Inputs, prefix: &str, changes: &[&str]) -> Result<Car, Error> {
    let length = |key: &str| inputs.si(&format!("{prefix}{key}"), Dimension::Length);
    let (wheelbase, ahead) = (length("wheelbase")?, length("cg_ahead_of_rear_axle")?);
    let height = length("cg_height")?;
    let front_kg = 1000.0 * ahead / wheelbase;
    Plain::new("khurmi-brakes")
        .with([
            format!("weighed.front={front_kg} kg"),
            format!("weighed.rear={} kg", 1000.0 - front_kg),
            format!("weighed.cg_height={height} m"),
            format!("geometry.wheelbase={wheelbase} m"),
            "pedal.ratio=20".to_owned(),
        ])?
        .with(LEVER)?
        .with(changes)?
        .car()
}

fn one_axle_or_both(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let (grip, speed) = (inputs.number("grip")?, Speed::from_m_s(inputs.si("speed", Dimension::Speed)?));
    let mut car = car(inputs, "", &[])?;
    let laden = Laden::of(&car, Aboard::AS_WEIGHED);
    let pull = Pull { hand: Force::from_n(1000.0), grip, speed };
    let locked = |car: &Car| LeverBench::of(car, Warmth::Warm).map(|bench| bench.answer(&laden, pull).to_lock);
    let no_lever = || Error::Check { folder: "khurmi-brakes", why: "a car without a lever".to_owned() };

    let by_lever = deceleration(locked(&car).ok_or_else(no_lever)?.rate);
    let [front_left, rear_left] = failed_circuits(&car, &Hydraulics::of(&car, Warmth::Warm), &laden, grip);
    car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
    let both = deceleration(locked(&car).ok_or_else(no_lever)?.rate);

    answers.put("rear_only", by_lever.m_s2());
    answers.put("rear_only", rear_left.rate.m_s2());
    answers.put("front_only", front_left.rate.m_s2());
    answers.put("both", both.m_s2());
    for rate in [rear_left.rate, front_left.rate, both] {
        answers.put("distance", speed.m_s().powi(2) / (2.0 * rate.m_s2()));
    }
    Ok(())
}

fn equal_forces(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let grip = inputs.number("equal_grip")?;
    let car = car(inputs, "equal_", &[])?;
    let laden = Laden::of(&car, Aboard::AS_WEIGHED);
    let balance = Balance::of(&car, Hydraulics::of(&car, Warmth::Warm), laden, Speed::from_m_s(14.0));
    let lock = balance.lock(grip);
    answers.say("equal_first", if lock.first == First::Rear { "rear" } else { "another" });
    answers.put("equal", lock.at.map_or(f64::NAN, |at| deceleration(at.rate).m_s2()));
    // Where the front's utilisation comes to the grip, the rear's being let go beyond its own.
    let (mut low, mut high) = (0.2, 0.9);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let slips = balance.utilisation(middle).is_none_or(|used| used.front > grip);
        *(if slips { &mut high } else { &mut low }) = middle;
    }
    answers.put("equal_front", deceleration(low).m_s2());
    Ok(())
}
