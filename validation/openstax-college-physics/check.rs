//! Pascal's principle in a car's brakes, and the heat of a way down.

use engine::Conditions;
use engine::car::{Car, Master, Split, circle};
use engine::foot::FootLaw;
use engine::heat::{Descent, HeatBench, StagePart, Stage};
use engine::loads::Aboard;
use quantity::Dimension;
use quantity::si::{Duration, Force, Length, Mass, Speed, Temperature};

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut car =
        plain("openstax-college-physics", [format!("pedal.ratio={}", inputs.number("pedal_ratio")?)])?;
    // Half a centimetre is less than a sheet lets through.
    let bore = Length::from_m(inputs.si("master", Dimension::Length)?);
    car.master =
        Master::Tandem { bore, split: Split::Axle, stroke: Length::from_m(0.03), residual_valve: false };
    let foot = FootLaw::of(&car);
    let push_rod = foot.push_rod(Force::from_n(inputs.si("foot", Dimension::Force)?));
    let slave = circle(Length::from_m(inputs.si("slave", Dimension::Length)?));
    let mut answers = Answers::default();
    answers.put("push_rod", push_rod.n());
    answers.put("slave", foot.pressures(push_rod)[0].pa() * slave.m2());
    answers.put("descent", descent(car, inputs)?);
    Ok(answers)
}

/// Rise of the brakes of a truck that goes down so far at a steady speed, none of it given off.
fn descent(mut car: Car, inputs: &Inputs) -> Result<f64, Error> {
    // More than a sheet lets through.
    let half = Mass::from_kg(inputs.si("truck", Dimension::Mass)? / 2.0);
    (car.weighed.front, car.weighed.rear) = (half, half);
    let conditions = Conditions { ambient: Temperature::from_celsius(15.0), aboard: Aboard::AS_WEIGHED, ..Conditions::default() };
    // One in ten by the sine: 75 m down are 750 m of road.
    let sine = 0.1_f64;
    let down = inputs.si("descent", Dimension::Length)?;
    let speed = 10.0;
    let part = StagePart::Descent(Descent {
        at: Speed::from_m_s(speed),
        slope: -sine / (1.0 - sine * sine).sqrt(),
        lasts: Duration::from_s(down / sine / speed),
    });
    let stage = Stage { name: "down".into(), about: "".into(), parts: vec![part] };
    let made_j = HeatBench::of(&car, &conditions).drive(&stage).map_or(f64::NAN, |heat| heat.account.made_j);
    Ok(made_j / (inputs.si("brake_material", Dimension::Mass)? * inputs.number("specific_heat_j_kg_k")?))
}
