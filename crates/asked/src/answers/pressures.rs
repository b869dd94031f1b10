//! What a given foot and hand do at every wheel.

use engine::car::circuit::Circuit;
use engine::car::{Car, Master};
use engine::hydraulics::{Answer, Asked, Hydraulics};
use quantity::si::Pressure;

use crate::ground::Ground;
use crate::state::State;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// What was asked.
    pub asked: Asked,
    /// At every wheel, at pedal and lever.
    pub answer: Answer,
    /// Under the wheels, as far as grip lets the car brake.
    pub ground: Ground,
    /// Whether the pedal works two cylinders.
    pub twin: bool,
    /// Every port of the circuit, with its pressure.
    pub ports: Vec<(String, Pressure)>,
}

impl Outcome {
    /// Of a car in its state.
    pub fn of(car: &Car, state: &State, asked: Asked) -> Self {
        let circuit = Circuit::of(car);
        let hydraulics = Hydraulics::of_circuit(car, state.warmth, &circuit);
        let answer = hydraulics.answer(&state.laden, asked);
        let mut ports = Vec::new();
        for (component, described) in circuit.components.iter().enumerate() {
            for port in 0..described.ports.len() {
                let port = engine::car::circuit::Port { component, port };
                if let Some(pressure) = hydraulics.network.at_port(&answer.nodes, port) {
                    ports.push((circuit.port_name(port), pressure));
                }
            }
        }
        Self {
            asked,
            ground: Ground::under(&state.laden, &answer, state.surface.peak),
            answer,
            twin: matches!(car.master, Master::Twin { .. }),
            ports,
        }
    }
}
