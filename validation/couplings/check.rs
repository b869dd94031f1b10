//! Plates: from the sheet's bias to what makers print.

use engine::car::Coupling;
use quantity::Dimension;

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for bias in inputs.list("bias", Dimension::Ratio)? {
        let car = plain(
            "couplings",
            [
                "drivetrain.rear_diff.kind=plates".to_owned(),
                format!("drivetrain.rear_diff.bias={bias}"),
                "drivetrain.rear_diff.preload=0 N m".to_owned(),
            ],
        )?;
        let Coupling::Plates { bias, .. } = car.drivetrain.rear_diff else { continue };
        let (more, less) = (0.5 + bias, 0.5 - bias);
        answers.put("locking_value", (more - less) / (more + less));
        answers.put("torque_bias_ratio", more / less);
    }
    Ok(answers)
}
