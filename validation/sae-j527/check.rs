//! Bores of rigid pipe.

use engine::car::Pipe;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for pipe in [Pipe::Steel316, Pipe::CopperNickel316] {
        answers.put("bore", pipe.bore().m());
    }
    for pipe in [Pipe::Steel14, Pipe::CopperNickel14] {
        answers.put("wide_bore", pipe.bore().m());
    }
    Ok(answers)
}
