//! Constant coefficients.

use engine::tyre::GripCurve;
use quantity::Dimension;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let slips = inputs.list("slip", Dimension::Ratio)?;
    for key in ["dry", "wet", "snow", "ice"] {
        let factors = inputs.list(key, Dimension::Ratio)?;
        let curve = GripCurve {
            stiffness_factor: factors[0],
            shape_factor: factors[1],
            peak_factor: factors[2],
            curvature_factor: factors[3],
        };
        for slip in &slips {
            answers.put(key, curve.grip(*slip));
        }
        let (mut peak, mut at) = (0.0, 0.0);
        for step in 1..=10_000_u32 {
            let slip = f64::from(step) * 1e-4;
            if curve.grip(slip) > peak {
                (peak, at) = (curve.grip(slip), slip);
            }
        }
        answers.put("peak", peak);
        answers.put("peak_at", at);
    }
    Ok(answers)
}
