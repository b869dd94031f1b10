//! Our default growth of hoses against the most that the regulation lets them.

use engine::car::Pipe;
use quantity::Dimension;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let length_m = inputs.si("free_length", Dimension::Length)?;
    for pressure_pa in inputs.list("pressures", Dimension::Pressure)? {
        answers.put("rubber", Pipe::Rubber.growth_m2_pa() * length_m * pressure_pa);
        answers.put("braided", Pipe::Braided3.growth_m2_pa() * length_m * pressure_pa);
    }
    answers.tell("order", Pipe::Rubber.growth_m2_pa() > Pipe::Braided3.growth_m2_pa());
    Ok(answers)
}
