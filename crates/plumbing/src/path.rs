//! Ways through the circuit, as the engine has it.

use engine::car::Pipe;
use engine::car::circuit::{Circuit, Passage, Piece, Pipework, Port};
use quantity::si::Length;

/// The runs between a component and whatever feeds it, nearest to the source first. Where two ways lead there, the
/// shorter in runs. Empty where nothing feeds it.
pub(crate) fn runs_to(circuit: &Circuit, component: usize) -> Vec<usize> {
    let mut waiting: Vec<(Port, Vec<usize>)> = circuit
        .components
        .get(component)
        .map(|found| {
            (0..found.ports.len())
                .map(|port| (Port { component, port }, Vec::new()))
                .collect()
        })
        .unwrap_or_default();
    let mut seen: Vec<Port> = waiting.iter().map(|(port, _)| *port).collect();
    let mut at = 0;
    while at < waiting.len() {
        let (port, way) = waiting[at].clone();
        at += 1;
        let here = &circuit.components[port.component];
        if here.sources.iter().any(|&(source, _)| source == port.port) {
            let mut way = way;
            way.reverse();
            return way;
        }
        let mut next: Vec<(Port, Vec<usize>)> = Vec::new();
        for (index, run) in circuit.runs.iter().enumerate() {
            let other = match () {
                () if run.from == port => run.to,
                () if run.to == port => run.from,
                () => continue,
            };
            let mut way = way.clone();
            way.push(index);
            next.push((other, way));
        }
        for other in through(circuit, port) {
            next.push((other, way.clone()));
        }
        for (other, way) in next {
            if !seen.contains(&other) {
                seen.push(other);
                waiting.push((other, way));
            }
        }
    }
    Vec::new()
}

/// Ports of the same component that fluid reaches from a port.
fn through(circuit: &Circuit, port: Port) -> Vec<Port> {
    circuit.components[port.component]
        .passages
        .iter()
        .filter_map(|&(from, to, _): &(usize, usize, Passage)| {
            let other = match port.port {
                here if here == from => to,
                here if here == to => from,
                _ => return None,
            };
            Some(Port {
                component: port.component,
                port: other,
            })
        })
        .collect()
}

/// Whether a component is a wheel's brake, of the foot or of a separate lever.
pub(crate) const fn is_brake(part: Piece) -> bool {
    matches!(part, Piece::Brake(_) | Piece::LeverBrake(_))
}

/// What arrives at a bracket and what goes on from it.
pub(crate) fn bracket_pipes(circuit: &Circuit, component: usize) -> (Pipe, Pipe) {
    let at = |number: usize| {
        let port = Port {
            component,
            port: number,
        };
        circuit
            .runs
            .iter()
            .find(|run| run.from == port || run.to == port)
            .map_or(Pipe::Steel316, |run| run.run.pipe)
    };
    (at(0), at(1))
}

/// Whether a run has no length: the parts are screwed together.
pub(crate) fn is_direct(run: &Pipework) -> bool {
    run.run.length <= Length::ZERO
}
