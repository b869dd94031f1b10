//! A wheel that stands.

use engine::car::{Axle, built_in_surfaces};
use engine::turn::{Contact, SurfaceGrip, Tyre as _};
use engine::tyre::GripCurve;
use quantity::Dimension;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let load_n = inputs.number("load_n")?;
    let found = built_in_surfaces()
        .into_iter()
        .find(|surface| &*surface.name == "hard gravel")
        .and_then(|surface| Some((GripCurve::of(&surface).ok()?, surface)));
    let Some((curve, _)) = found else { return Ok(answers) };
    let tyre = SurfaceGrip::new(&curve, 0.0, 4.0 * load_n);
    let mut sizes = Vec::new();
    for angle in inputs.list("angle_rad", Dimension::Ratio)? {
        let force = tyre.force(&Contact {
            axle: Axle::Rear,
            load_n,
            along_m_s: 5.0 * angle.cos(),
            across_m_s: 5.0 * angle.sin(),
            rolling_m_s: 0.0,
        });
        let size = force.along_n.hypot(force.across_n) / load_n / curve.sliding();
        if angle < 1.5 {
            answers.put("against", force.across_n / force.along_n);
        }
        answers.put("whole", size);
        sizes.push(size);
    }
    let spread = |pick: fn(f64, f64) -> f64| sizes.iter().copied().fold(sizes[0], pick);
    answers.put("alike", spread(f64::max) - spread(f64::min));
    Ok(answers)
}
