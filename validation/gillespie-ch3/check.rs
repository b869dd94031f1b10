//! Example 1 of Gillespie's third chapter: pressures, forces, utilisation, efficiency and lock order of one car.

use engine::GRAVITY_M_S2;
use engine::balance::{Balance, First};
use engine::brake::{TorqueLaw, Warmth};
use engine::car::Wheel;
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::{Aboard, Laden};
use quantity::Dimension;
use quantity::si::{Force, Pressure, Speed};

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let kg = |key| inputs.si(key, Dimension::Force).map(|weight_n| weight_n / GRAVITY_M_S2);
    let (front_kg, rear_kg) = (kg("front_weight")?, kg("rear_weight")?);
    let car = plain(
        "gillespie-ch3",
        [
            format!("weighed.front={front_kg} kg"),
            format!("weighed.rear={rear_kg} kg"),
            format!("weighed.cg_height={}", inputs.text("cg_height")?),
            format!("geometry.wheelbase={}", inputs.text("wheelbase")?),
            format!("tyres.rolling_radius={}", inputs.text("tyre_radius")?),
            "bias_valve.kind=fixed".to_owned(),
            format!("bias_valve.knee={}", inputs.text("knee")?),
            format!("bias_valve.slope={}", inputs.number("slope")?),
            "car.road_registered=false".to_owned(),
            "pedal.ratio=20".to_owned(),
        ],
    )?;
    // An inch-pound per psi is a cubic inch.
    let gain = |key| inputs.number(key).map(|gain| gain * 0.0254_f64.powi(3));
    let law = |gain_nm_pa| TorqueLaw { gain_nm_pa, threshold: Pressure::ZERO };
    let (front, rear) = (law(gain("front_gain_in_lb_psi")?), law(gain("rear_gain_in_lb_psi")?));
    let mut hydraulics = Hydraulics::of(&car, Warmth::Warm);
    hydraulics.wheels = [front, front, rear, rear];
    let laden = Laden::of(&car, Aboard::AS_WEIGHED);
    let balance = Balance::of(&car, hydraulics.clone(), laden, Speed::from_m_s(14.0));

    let mut answers = Answers::default();
    for applied_pa in inputs.list("applied", Dimension::Pressure)? {
        let push_rod = hydraulics.foot.push_rod_for(0, Pressure::from_pa(applied_pa));
        let asked = Forces { foot: hydraulics.foot.foot(push_rod), hand: Force::ZERO };
        let answer = hydraulics.answer(&laden, asked);
        let braking = balance.braking(push_rod);
        let at = |wheel: Wheel| answer.wheels[wheel.index()];
        answers.put("front_force", braking.front.n());
        answers.put("rear_force", at(Wheel::RearLeft).ground_force.n() + at(Wheel::RearRight).ground_force.n());
        answers.put("rear_pressure", at(Wheel::RearLeft).pressure.pa());
        answers.put("deceleration", answer.braking_rate);
        let loads = laden.axle_loads(braking.rate);
        let (front_used, rear_used) = (braking.front / loads.front, braking.rear / loads.rear);
        answers.put("front_used", front_used);
        answers.put("rear_used", rear_used);
        // On a ground that gives just as much as the axle that uses more, this is the first lock.
        let lock = balance.lock(front_used.max(rear_used));
        answers.put("efficiency", lock.at.map_or(f64::NAN, |at| at.efficiency));
        answers.say(
            "first",
            match lock.first {
                First::Front => "front",
                First::Rear => "rear",
                First::Together => "together",
                First::Neither => "neither",
            },
        );
    }
    Ok(answers)
}
