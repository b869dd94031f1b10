//! What of a car's lines is made anew, and what stays as it was.

use engine::car::circuit::{Circuit, Piece, Pipework};
use engine::car::{Axle, Car, LeverKind};

/// Whether each run of a circuit stays: the work on handbrake and rear line does not touch it.
///
/// Front lines stay. A lever in the rear line takes that line with it, and so does an old rear pipe that comes out;
/// otherwise only what is screwed to a new part is made anew: the bias valve, and what closes the factory valve's place.
pub(crate) fn stays(car: &Car, circuit: &Circuit) -> Vec<bool> {
    let inline = matches!(
        car.lever.as_ref().map(|lever| &lever.kind),
        Some(LeverKind::Inline(_))
    );
    let whole_rear = inline || car.before.old_rear_pipe.is_some();
    circuit
        .runs
        .iter()
        .map(|run| {
            let ends = [run.from, run.to].map(|port| &circuit.components[port.component]);
            match leads_to(circuit, run) {
                Some(Axle::Front) => true,
                None => false,
                Some(Axle::Rear) if whole_rear => false,
                Some(Axle::Rear) => !ends.iter().any(|component| match component.part {
                    Piece::BiasValve => true,
                    Piece::Union => car.before.factory_valve && component.name.starts_with("bulkhead"),
                    _ => false,
                }),
            }
        })
        .collect()
}

/// The axle whose brakes a run of the foot's leads to; `None` where it is a separate lever's own.
fn leads_to(circuit: &Circuit, run: &Pipework) -> Option<Axle> {
    let mut here = run.to.component;
    // Runs are drawn from the master outwards, and never round in a circle.
    for _ in 0..circuit.components.len() {
        match circuit.components[here].part {
            Piece::Brake(wheel) => return Some(wheel.axle()),
            Piece::LeverBrake(_) => return None,
            _ => {}
        }
        here = circuit
            .runs
            .iter()
            .find(|next| next.from.component == here)
            .map(|next| next.to.component)?;
    }
    None
}

/// Whether a plain fitting was there before: a run that stays ends at it.
pub(crate) fn was_there(circuit: &Circuit, stays: &[bool], component: usize) -> bool {
    matches!(
        circuit.components[component].part,
        Piece::Tee | Piece::Union | Piece::Bracket
    ) && circuit
        .runs
        .iter()
        .zip(stays)
        .any(|(run, &stays)| stays && (run.from.component == component || run.to.component == component))
}
