//! Pascal's principle in a car's brakes.

use engine::car::{Master, Split, circle};
use engine::foot::FootLaw;
use quantity::Dimension;
use quantity::si::{Force, Length};

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
    Ok(answers)
}
