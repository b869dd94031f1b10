//! Bores of rigid pipe.

use engine::car::Pipe;
use quantity::Dimension;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for pipe in [Pipe::Steel316, Pipe::CopperNickel316] {
        answers.put("bore", pipe.bore().m());
    }
    for pipe in [Pipe::Steel14, Pipe::CopperNickel14] {
        answers.put("wide_bore", pipe.bore().m());
    }
    let wall_m = inputs.si("wall", Dimension::Length)?;
    for outside_m in inputs.list("outside", Dimension::Length)? {
        answers.put("computed", outside_m - 2.0 * wall_m);
    }
    Ok(answers)
}
