//! What the wind takes from a disc.

use engine::thermal::convection_w_m2_k;
use quantity::Dimension;
use quantity::si::Speed;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let diameter = inputs.si("diameter", Dimension::Length)?;
    let over = inputs.number("conductivity_w_m_k")? / diameter;
    let mut answers = Answers::default();
    for speed in inputs.list("speeds", Dimension::Speed)? {
        let reynolds = speed * diameter / inputs.number("viscosity_m2_s")?;
        let law = if reynolds <= 2.4e5 { 0.70 * reynolds.powf(0.55) } else { 0.040 * reynolds.powf(0.8) } * over;
        let ours = convection_w_m2_k(Speed::from_m_s(speed)) / law;
        answers.put("worse", ours);
        answers.put("better", ours);
    }
    Ok(answers)
}
