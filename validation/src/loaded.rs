//! Magic formula sets of 1989 whose factors depend on the load (kN), in degrees and per cent.

use engine::tyre::GripCurve;
use quantity::Dimension;

use crate::Error;
use crate::source::{Answers, Inputs};

/// Puts the forces of a set at its loads, across and along.
pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let angles = inputs.list("angle_deg", Dimension::Ratio)?;
    let slips = inputs.list("slip_percent", Dimension::Ratio)?;
    for load in inputs.list("load_kn", Dimension::Ratio)? {
        let across = across(inputs, load)?;
        for angle in &angles {
            answers.put("across", across.grip(*angle));
        }
        let along = along(inputs, load)?;
        for slip in &slips {
            answers.put("along", along.grip(*slip));
        }
    }
    Ok(answers)
}

fn curve(shape: f64, peak: f64, stiffness: f64, curvature: f64) -> GripCurve {
    GripCurve {
        stiffness_factor: stiffness / (shape * peak),
        shape_factor: shape,
        peak_factor: peak,
        curvature_factor: curvature,
    }
}

/// `D = (a1 F + a2) F`, `B C D = a3 sin(2 atan(F/a4))`, `E = a6 F + a7`.
fn across(inputs: &Inputs, load: f64) -> Result<GripCurve, Error> {
    let a = |key| inputs.number(key);
    Ok(curve(
        a("a0")?,
        (a("a1")? * load + a("a2")?) * load,
        a("a3")? * (2.0 * (load / a("a4")?).atan()).sin(),
        a("a6")? * load + a("a7")?,
    ))
}

/// `D = (b1 F + b2) F`, `B C D = (b3 F² + b4 F) exp(−b5 F)`, `E = b6 F² + b7 F + b8`.
fn along(inputs: &Inputs, load: f64) -> Result<GripCurve, Error> {
    let b = |key| inputs.number(key);
    Ok(curve(
        b("b0")?,
        (b("b1")? * load + b("b2")?) * load,
        (b("b3")? * load * load + b("b4")? * load) * (-b("b5")? * load).exp(),
        (b("b6")? * load + b("b7")?) * load + b("b8")?,
    ))
}
