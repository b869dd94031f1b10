//! What is left when a run leaks: each run tried through the network.

use crate::thresholds::FOOT_LIMIT_ROAD;
use quantity::si::{Acceleration, Force, Pressure};

use super::{deceleration, failed_circuits};
use crate::brake::Warmth;
use crate::car::circuit::{Circuit, Passage, Piece, Port};
use crate::car::{Car, Wheel};
use crate::hydraulics::{Forces, Hydraulics};
use crate::loads::Laden;
use crate::network::{Acting, Network};

/// Any pressure: whether it arrives is what is asked.
const SOME: Pressure = Pressure::from_pa(1e5);
/// A knee above it, so that no valve stands in the way.
const HIGH: Pressure = Pressure::from_pa(1e9);

/// What is left when one run is open.
#[derive(Clone, Debug, PartialEq)]
pub struct Leaking {
    /// Name of the run.
    pub run: String,
    /// Wheels that the foot still brakes.
    pub foot: Vec<Wheel>,
    /// Wheels that the hand still brakes by fluid.
    pub hand: Vec<Wheel>,
    /// Deceleration at 500 N of foot with what is left, the ground allowing.
    pub rate: Acceleration,
    /// Whether the leak empties both of the pedal's circuits.
    pub both_circuits: bool,
}

/// Every run of a car, open one after the other. A leak anywhere in a circuit takes all of that circuit's pressure; an
/// inline lever shuts its own side off from the pedal's once it is pulled, so that a leak ahead of it leaves the hand
/// what stands behind it: for that pull, and no longer, since nothing fills it up again.
#[must_use]
pub fn leaking_runs(car: &Car, circuit: &Circuit, laden: &Laden, grip: f64) -> Vec<Leaking> {
    let network = Network::of_circuit(car, circuit);
    let hydraulics = Hydraulics::of_circuit(car, Warmth::Warm, circuit);
    let rates = failed_circuits(car, &hydraulics, laden, grip);
    let acting = |first: bool, second: bool, own: bool| Acting {
        first: if first { SOME } else { Pressure::ZERO },
        second: if second { SOME } else { Pressure::ZERO },
        own: own.then_some(SOME),
        knee: HIGH,
    };
    // Where the circuits' fluid meets, whatever empties one empties the other.
    let joined = network.chambers_joined();
    let [by_first, by_second, by_hand] = [
        acting(true, false, false),
        acting(false, true, false),
        acting(false, false, true),
    ]
    .map(|acting| network.pressures(&acting));
    circuit
        .runs
        .iter()
        .map(|run| {
            let reached = |pressures| {
                [run.from, run.to].iter().any(|&port| {
                    network
                        .at_port(pressures, port)
                        .is_some_and(|pressure| pressure > Pressure::ZERO)
                })
            };
            let (first, second) = (reached(&by_first), reached(&by_second));
            let (first, second) = if joined && (first || second) {
                (true, true)
            } else {
                (first, second)
            };
            let left = network.pressures(&acting(!first, !second, false));
            let foot = |&wheel: &Wheel| network.at_wheel(&left, wheel) > Pressure::ZERO;
            // The hand loses what is joined to the leak without a piston between: a cylinder's other outlet keeps its own.
            let emptied = joined_to(circuit, run.from);
            let hand = |&wheel: &Wheel| {
                circuit.components.iter().enumerate().any(|(component, found)| {
                    let pressed = match found.part {
                        Piece::Brake(of) if of == wheel => network.at_wheel(&by_hand, wheel),
                        Piece::LeverBrake(of) if of == wheel => {
                            network.at_lever_brake(&by_hand, wheel).unwrap_or(Pressure::ZERO)
                        }
                        _ => Pressure::ZERO,
                    };
                    pressed > Pressure::ZERO && !emptied.contains(&Port { component, port: 0 })
                })
            };
            let rate = match (first, second) {
                // The first of the pair leaves the first chamber's wheels.
                (false, true) => rates[0].rate,
                (true, false) => rates[1].rate,
                (true, true) => Acceleration::ZERO,
                (false, false) => deceleration(full_rate(&hydraulics, laden, grip)),
            };
            Leaking {
                run: run.name.to_owned(),
                foot: Wheel::ALL.into_iter().filter(foot).collect(),
                hand: Wheel::ALL.into_iter().filter(hand).collect(),
                rate,
                both_circuits: first && second,
            }
        })
        .collect()
}

/// Ports whose fluid meets a port's without passing a lever's piston.
fn joined_to(circuit: &Circuit, port: Port) -> Vec<Port> {
    let mut met = vec![port];
    let mut at = 0;
    while let Some(&here) = met.get(at) {
        at += 1;
        let along = circuit.runs.iter().filter_map(|run| match () {
            () if run.from == here => Some(run.to),
            () if run.to == here => Some(run.from),
            () => None,
        });
        let through = circuit.components[here.component]
            .passages
            .iter()
            .filter(|&&(_, _, passage)| passage != Passage::Lever)
            .filter_map(|&(from, to, _)| match here.port {
                port if port == from => Some(to),
                port if port == to => Some(from),
                _ => None,
            })
            .map(|port| Port {
                component: here.component,
                port,
            });
        for next in along.chain(through).collect::<Vec<_>>() {
            if !met.contains(&next) {
                met.push(next);
            }
        }
    }
    met
}

/// Braking rate of the whole car at the same foot, the ground allowing.
fn full_rate(hydraulics: &Hydraulics, laden: &Laden, grip: f64) -> f64 {
    let forces = Forces {
        foot: FOOT_LIMIT_ROAD,
        hand: Force::ZERO,
    };
    let answer = hydraulics.answer(laden, forces);
    let axle = |one: usize| answer.wheels[one].ground_force + answer.wheels[one + 1].ground_force;
    laden.rate_on_ground(grip, axle(0), axle(2))
}
