//! The built-in surfaces through the engine's curve.

use engine::car::built_in_surfaces;
use engine::tyre::GripCurve;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let mut peaks = Vec::new();
    let all = built_in_surfaces();
    for name in inputs.texts("surfaces")? {
        let curve = all
            .iter()
            .find(|surface| &*surface.name == name)
            .and_then(|surface| GripCurve::of(surface).ok());
        let Some(curve) = curve else { continue };
        let (mut peak, mut at) = (0.0, 0.0);
        for step in 1..=10_000_u32 {
            let slip = f64::from(step) * 1e-4;
            if curve.grip(slip) > peak {
                (peak, at) = (curve.grip(slip), slip);
            }
        }
        answers.put("peak", peak);
        answers.put("peak_at", at);
        answers.put("sliding", curve.grip(1e6));
        answers.put("starts", curve.grip(1e-6) / 1e-6);
        if ["packed snow", "ice"].contains(&name) {
            answers.put("published", peak);
        }
        peaks.push(peak);
    }
    if let [dry, wet, ..] = peaks[..] {
        answers.put("wet_over_dry", wet / dry);
    }
    Ok(answers)
}
