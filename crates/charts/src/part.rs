//! What the car from above and the plumbing drawing say alike of a component.

use engine::car::circuit::{Component, Piece};

/// The class of a component, for a page's stylesheet.
pub(crate) const fn class(part: Piece) -> &'static str {
    match part {
        Piece::Master => "component master",
        Piece::Union => "component union",
        Piece::Tee => "component tee",
        Piece::Bracket => "component bracket",
        Piece::BiasValve => "component bias-valve",
        Piece::LeverCylinder | Piece::LeverMaster => "component lever-cylinder",
        Piece::Brake(_) => "component brake",
        Piece::LeverBrake(_) => "component lever-brake",
    }
}

/// What stands beside a component; `None` where its shape and place say it.
pub(crate) fn words(component: &Component, twin: bool) -> Option<&'static str> {
    Some(match component.part {
        Piece::Master if twin => "twin cylinders",
        Piece::Master => "master",
        Piece::BiasValve => "bias valve",
        Piece::LeverCylinder | Piece::LeverMaster => "lever",
        Piece::Union if component.name.starts_with("bulkhead") => "bulkhead",
        Piece::Union => "union",
        Piece::Tee => "tee",
        Piece::Bracket | Piece::Brake(_) | Piece::LeverBrake(_) => return None,
    })
}
