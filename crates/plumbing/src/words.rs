//! Components and runs in words.

use engine::car::circuit::{Component, Piece};

/// What a component is called in a sentence: `bias valve`, `rear left brake`.
#[must_use]
pub fn component_words(component: &Component) -> String {
    let plain = component.name.replace('_', " ");
    match component.part {
        Piece::Master => "master cylinder".to_owned(),
        Piece::LeverCylinder | Piece::LeverMaster => "lever cylinder".to_owned(),
        Piece::Brake(wheel) => format!("{} brake", wheel.name().replace('_', " ")),
        Piece::LeverBrake(wheel) => format!("{} second caliper", wheel.name().replace('_', " ")),
        Piece::Union if plain == "bulkhead" => "bulkhead union".to_owned(),
        _ => plain,
    }
}

/// What a port is called behind its component: `inlet`, `left outlet`, `front left`.
pub(crate) fn port_words(name: &str) -> String {
    match name.split_once('_') {
        None => match name {
            "in" => "inlet".to_owned(),
            "out" => "outlet".to_owned(),
            "pipe" | "hose" => format!("{name} side"),
            other => other.to_owned(),
        },
        Some(("in", side)) => format!("{side} inlet"),
        Some(("out", side)) => format!("{side} outlet"),
        Some(_) => name.replace('_', " "),
    }
}

/// What a run is called in a sentence: `master to bulkhead`.
#[must_use]
pub fn run_words(name: &str) -> String {
    name.replace('_', " ")
}
