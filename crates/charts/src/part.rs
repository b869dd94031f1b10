//! What the car from above and the plumbing drawing say alike of a component.

use engine::car::circuit::{Component, Part};

/// The class of a component, for a page's stylesheet.
pub(crate) const fn class(part: Part) -> &'static str {
    match part {
        Part::Master => "component master",
        Part::Union => "component union",
        Part::Tee => "component tee",
        Part::Bracket => "component bracket",
        Part::BiasValve => "component bias-valve",
        Part::LeverCylinder | Part::LeverMaster => "component lever-cylinder",
        Part::Brake(_) => "component brake",
        Part::LeverBrake(_) => "component lever-brake",
    }
}

/// What stands beside a component; `None` where its shape and place say it.
pub(crate) fn words(component: &Component, twin: bool) -> Option<&'static str> {
    Some(match component.part {
        Part::Master if twin => "twin cylinders",
        Part::Master => "master",
        Part::BiasValve => "bias valve",
        Part::LeverCylinder | Part::LeverMaster => "lever",
        Part::Union if component.name.starts_with("bulkhead") => "bulkhead",
        Part::Union => "union",
        Part::Tee => "tee",
        Part::Bracket | Part::Brake(_) | Part::LeverBrake(_) => return None,
    })
}
