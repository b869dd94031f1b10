//! Components and runs in words.

use engine::car::circuit::{Component, Part};

/// What a component is called in a sentence: `bias valve`, `rear left brake`.
#[must_use]
pub fn component_words(component: &Component) -> String {
    let plain = component.name.replace('_', " ");
    match component.part {
        Part::Master => "master cylinder".to_owned(),
        Part::LeverCylinder | Part::LeverMaster => "lever cylinder".to_owned(),
        Part::Brake(wheel) => format!("{} brake", wheel.name().replace('_', " ")),
        Part::LeverBrake(wheel) => format!("{} second caliper", wheel.name().replace('_', " ")),
        Part::Union if plain == "bulkhead" => "bulkhead union".to_owned(),
        _ => plain,
    }
}

/// What a run is called in a sentence: `master to bulkhead`.
#[must_use]
pub fn run_words(name: &str) -> String {
    name.replace('_', " ")
}
