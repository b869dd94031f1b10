//! What a sheet that only names the grade of its fluid is taken to boil at.

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for grade in inputs.texts("grades")? {
        let fluid = plain("cfr-571-116", [format!("fluid.grade={grade}")])?.fluid;
        answers.put("dry", fluid.boiling_dry.k());
        answers.put("wet", fluid.boiling_wet.k());
    }
    Ok(answers)
}
