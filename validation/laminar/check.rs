//! Laminar flow: what a line resists while it is bled.

use plumbing::flow::{resistance_pa_s_m3, reynolds};
use quantity::si::Length;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let (density, viscosity_m2_s, bore) = (900.0, 2e-4, Length::from_m(0.06));
    let lost_pa = density * 9.807 * 4.9;
    let flow = lost_pa / resistance_pa_s_m3(Length::from_m(10.0), bore, density * viscosity_m2_s);
    answers.put("oil", flow);
    answers.put("oil_reynolds", reynolds(flow, bore, viscosity_m2_s));
    let needle = resistance_pa_s_m3(Length::from_m(2.5e-2), Length::from_m(0.3e-3), 1.005e-3);
    answers.put("needle", needle * 0.12e-6 + 1066.0);
    answers.put("needle_exact", needle * 0.12e-6 + 1066.0);
    Ok(answers)
}
