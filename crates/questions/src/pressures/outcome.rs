//! What a given foot and hand do at every wheel.

use engine::car::circuit::Circuit;
use engine::car::{Axle, Car, Master, Wheel};
use engine::hydraulics::{Forces, Hydraulics, Response};
use engine::lever::{LeverBench, Pull, WhatStops};
use quantity::si::{Pressure, Speed};

use crate::ground::Ground;
use crate::opened::Opened;
use crate::state::State;
use wording::Units;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// What was asked.
    pub asked: Forces,
    /// At every wheel, at pedal and lever.
    pub answer: Response,
    /// Under the wheels, as far as grip lets the car brake.
    pub ground: Ground,
    /// Whether each wheel stands. A hand alone stops what the lever's outcome says: the centre carries its share back.
    pub stands: [bool; 4],
    /// Whether a load-sensing valve keeps more than its law gives at this braking: nothing flows back.
    pub valve_holds: bool,
    /// Whether the pedal works two cylinders.
    pub twin: bool,
    /// Every port of the circuit, with its pressure.
    pub ports: Vec<(String, Pressure)>,
}

impl Outcome {
    /// Of a car in its state.
    pub fn of(car: &Car, state: &State, asked: Forces, speed: Speed) -> Self {
        let circuit = Circuit::of(car);
        let hydraulics = Hydraulics::of_circuit(car, state.conditions.warmth, &circuit);
        let answer = hydraulics.answer(&state.laden, asked);
        let valve_holds = hydraulics.holds(&state.laden, &answer);
        let mut ports = Vec::new();
        for (component, described) in circuit.components.iter().enumerate() {
            for port in 0..described.ports.len() {
                let port = engine::car::circuit::Port { component, port };
                if let Some(pressure) = hydraulics.network.at_port(&answer.nodes, port) {
                    ports.push((circuit.port_name(port), pressure));
                }
            }
        }
        let ground = Ground::under(&state.laden, &answer, state.surface.peak);
        let pull = Pull {
            hand: asked.hand,
            grip: state.surface.peak,
            speed,
        };
        let by_hand = (asked.foot.n() <= 0.0 && asked.hand.n() > 0.0)
            .then(|| LeverBench::of(car, state.conditions.warmth))
            .flatten()
            .map(|bench| bench.answer(&state.laden, pull).to_lock.outcome);
        let stands = Wheel::ALL.map(|wheel| match by_hand {
            Some(WhatStops::AllFour) => true,
            Some(WhatStops::Rear) => wheel.axle() == Axle::Rear,
            Some(WhatStops::None) => false,
            None => answer.wheels[wheel.index()].ground_force > ground.gives(wheel.axle()),
        });
        Self {
            asked,
            ground,
            stands,
            answer,
            valve_holds,
            twin: matches!(car.master, Master::Twin { .. }),
            ports,
        }
    }

    /// What the foot alone does, in one line.
    #[must_use]
    pub fn push_sentence(&self, units: &Units) -> String {
        let answer = &self.answer;
        let [front, _, rear, _] = answer
            .wheels
            .map(|wheel| wording::figure(wheel.pressure.pa(), units.pressure));
        let share = answer
            .front_share
            .map(|share| format!(", {} in front", wording::per_cent(share)))
            .unwrap_or_default();
        let end = if answer.pedal.runs_out {
            ", where its stroke ends"
        } else {
            ""
        };
        format!(
            "{} of foot: {}{share}; front {front}, rear {rear}; pedal {}{end}",
            wording::figure(self.asked.foot.n(), units.force),
            wording::rate(answer.braking_rate),
            wording::figure(answer.pedal.travel.m(), units.length)
        )
    }

    /// What the hand alone does, in one line.
    #[must_use]
    pub fn pull_sentence(&self, opened: &Opened, units: &Units) -> String {
        let answer = &self.answer;
        let [_, _, rear, _] = answer.wheels;
        let mut said = format!("{} of hand: ", wording::pull(self.asked.hand, units));
        if answer.lever.is_some_and(|lever| lever.own.is_some()) {
            let pressure = rear.lever_pressure.unwrap_or(rear.pressure);
            said.push_str(&format!(
                "rear {}; ",
                wording::figure(pressure.pa(), units.pressure)
            ));
        }
        if let Some((lever, travel)) = answer.lever.and_then(|lever| Some((lever, lever.travel?))) {
            let end = if lever.runs_out.is_some() {
                ", where it ends"
            } else {
                ""
            };
            said.push_str(&format!(
                "lever {}{end}; ",
                wording::figure(travel.m(), units.length)
            ));
        }
        said.push_str(&format!(
            "asks {} of each rear wheel, {} gives {}",
            wording::figure(rear.ground_force.n(), units.force),
            opened.state.surface.name,
            wording::figure(self.ground.gives(Axle::Rear).n(), units.force)
        ));
        said
    }
}
