//! The circuit, prepared for solving: one pressure at a node, one rule everywhere.
//!
//! All ports that runs and open passages join are one *node*; between nodes stand only valves and lever cylinders,
//! which have a direction. The order in which a sheet puts components, and the way in which a pipe was drawn, do not
//! enter.

mod volume;

use quantity::si::{Force, Pressure, Volume};

pub use volume::{Taken, Totals, VolumeLaw, brake_fluid, caliper_fluid, wheel_cylinder_fluid};

use crate::brake::Warmth;
use crate::car::circuit::{Circuit, Passage, Piece, Port, PressureSource};
use crate::car::{BiasValve, Brake, Car, DiscBrake, Knee, Wheel};
use crate::equations;

/// Most nodes that any circuit has.
pub const NODES: usize = 32;

/// Pressures of all nodes; unused ones are zero.
pub type NodePressures = [Pressure; NODES];

/// A passage between two nodes.
#[derive(Clone, Copy, Debug)]
struct Step {
    from: usize,
    to: usize,
    passage: Passage,
}

/// What acts on a network from outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Acting {
    /// Pressure of the first chamber.
    pub first: Pressure,
    /// Pressure of the second chamber.
    pub second: Pressure,
    /// Pressure that the hand alone makes in the lever's cylinder; `None`: the lever is at rest.
    pub own: Option<Pressure>,
    /// Knee of the bias valve.
    pub knee: Pressure,
}

/// The nodes of a circuit and what stands at and between them.
#[derive(Clone, Debug)]
pub struct Network {
    sources: Vec<(usize, PressureSource)>,
    steps: Vec<Step>,
    volumes: Vec<VolumeLaw>,
    wheels: [Option<usize>; 4],
    lever_wheels: [Option<usize>; 4],
    /// Nodes between an inline lever cylinder's outlet and the wheels.
    downstream: [bool; NODES],
    /// Nodes that each chamber of the master reaches.
    reached: [[bool; NODES]; 2],
    /// Node of every port, by component and port.
    node_of_port: Vec<Vec<usize>>,
    slope: f64,
    added_share: f64,
}

impl Network {
    /// The network of a car's own circuit.
    #[must_use]
    pub fn of(car: &Car) -> Self {
        Self::of_circuit(car, &Circuit::of(car))
    }

    /// The network of a circuit, with the brakes, lines and valves of a car.
    #[must_use]
    pub fn of_circuit(car: &Car, circuit: &Circuit) -> Self {
        let (node_of_port, nodes) = nodes(circuit);
        let node = |port: Port| node_of_port[port.component][port.port];
        let mut volumes = vec![VolumeLaw::default(); nodes];
        for run in &circuit.runs {
            volumes[node(run.from)].add_run(run.run);
        }
        let (mut wheels, mut lever_wheels) = ([None; 4], [None; 4]);
        let (mut sources, mut steps) = (Vec::new(), Vec::new());
        for (number, component) in circuit.components.iter().enumerate() {
            let at = |port: usize| node_of_port[number][port];
            match component.part {
                Piece::Brake(wheel) => {
                    wheels[wheel.index()] = Some(at(0));
                    volumes[at(0)].add_brake(car.brake(wheel.axle()));
                    let air = match wheel {
                        Wheel::FrontLeft | Wheel::FrontRight => car.air.front,
                        Wheel::RearLeft | Wheel::RearRight => car.air.rear,
                    };
                    volumes[at(0)].add_air(air / 2.0);
                }
                Piece::LeverBrake(wheel) => {
                    lever_wheels[wheel.index()] = Some(at(0));
                    if let Some(brake) = lever_brake(car) {
                        volumes[at(0)].add_disc(brake);
                    }
                    volumes[at(0)].add_air(car.air.lever / 2.0);
                }
                _ => {}
            }
            sources.extend(component.sources.iter().map(|&(port, source)| (at(port), source)));
            steps.extend(
                component
                    .passages
                    .iter()
                    .filter(|&&(_, _, passage)| passage != Passage::Open)
                    .map(|&(from, to, passage)| Step {
                        from: at(from),
                        to: at(to),
                        passage,
                    }),
            );
        }
        let steps = in_order(&sources, steps);
        let mut downstream = [false; NODES];
        let mut reached = [[false; NODES]; 2];
        for &(node, source) in &sources {
            match source {
                PressureSource::First => reached[0][node] = true,
                PressureSource::Second => reached[1][node] = true,
                PressureSource::Lever => downstream[node] = true,
            }
        }
        for step in &steps {
            downstream[step.to] |= downstream[step.from] || step.passage == Passage::Lever;
            for chamber in &mut reached {
                chamber[step.to] |= chamber[step.from];
            }
        }
        Self {
            sources,
            steps,
            volumes,
            wheels,
            lever_wheels,
            downstream,
            reached,
            node_of_port,
            slope: car.bias_valve.as_ref().map_or(1.0, |valve| valve.slope),
            added_share: car
                .lever
                .as_ref()
                .and_then(|lever| lever.cylinder())
                .map_or(0.0, crate::car::LeverCylinder::added_share),
        }
    }

    /// Pressures at every node.
    ///
    /// Valve: `p_out = p_in` up to the knee, `p_knee + slope (p_in − p_knee)` above. Inline lever cylinder, pulled:
    /// `p_out = max(p_in, p_own + p_in (1 − (rear seal/bore)²))`; at rest it passes the pressure unchanged.
    #[must_use]
    pub fn pressures(&self, acting: &Acting) -> NodePressures {
        let mut pressures = [Pressure::ZERO; NODES];
        for &(node, source) in &self.sources {
            let pressure = match source {
                PressureSource::First => acting.first,
                PressureSource::Second => acting.second,
                PressureSource::Lever => acting.own.unwrap_or(Pressure::ZERO),
            };
            pressures[node] = pressures[node].max(pressure);
        }
        for step in &self.steps {
            let inlet = pressures[step.from];
            let outlet = match (step.passage, acting.own) {
                (Passage::Valve, _) => behind_valve(inlet, acting.knee, self.slope),
                (Passage::Lever, Some(own)) => inlet.max(own + inlet * self.added_share),
                (Passage::Open | Passage::Lever, _) => inlet,
            };
            pressures[step.to] = pressures[step.to].max(outlet);
        }
        pressures
    }

    /// Pressure at a wheel's brake.
    #[must_use]
    pub fn at_wheel(&self, pressures: &NodePressures, wheel: Wheel) -> Pressure {
        self.wheels[wheel.index()].map_or(Pressure::ZERO, |node| pressures[node])
    }

    /// Pressure at a separate lever's caliper; `None` where the wheel has none.
    #[must_use]
    pub fn at_lever_brake(&self, pressures: &NodePressures, wheel: Wheel) -> Option<Pressure> {
        self.lever_wheels[wheel.index()].map(|node| pressures[node])
    }

    /// Pressure at a port of the circuit that the network was made of.
    #[must_use]
    pub fn at_port(&self, pressures: &NodePressures, port: Port) -> Option<Pressure> {
        let node = *self.node_of_port.get(port.component)?.get(port.port)?;
        pressures.get(node).copied()
    }

    /// Volume that the nodes fed by each chamber of the master have taken.
    #[must_use]
    pub fn taken_by_chambers(&self, pressures: &NodePressures) -> [Volume; 2] {
        [0, 1].map(|chamber| self.sum(pressures, |node| self.reached[chamber][node]))
    }

    /// Volume taken behind the lever's cylinder: what an inline one is followed by, or all of a separate one's circuit.
    #[must_use]
    pub fn taken_behind_lever(&self, pressures: &NodePressures) -> Volume {
        self.sum(pressures, |node| self.downstream[node])
    }

    /// The same, told apart by what takes it.
    #[must_use]
    pub fn shares_behind_lever(&self, pressures: &NodePressures) -> Taken {
        self.shares(pressures, |node| self.downstream[node])
    }

    /// What stands behind the lever's cylinder, whatever its pressure.
    #[must_use]
    pub fn totals_behind_lever(&self) -> Totals {
        let mut totals = Totals::default();
        for (law, _) in self
            .volumes
            .iter()
            .zip(self.downstream)
            .filter(|&(_, behind)| behind)
        {
            totals = totals + law.totals();
        }
        totals
    }

    /// Every part behind the lever's cylinder that holds brakes: what its fluid takes over pressure, the wheels whose
    /// brakes it works, and whether those are a separate lever's second calipers. Nothing flows between two of them while
    /// the lever is held.
    pub fn closed_by_lever(&self) -> impl Iterator<Item = (&VolumeLaw, Vec<Wheel>, bool)> {
        self.volumes
            .iter()
            .enumerate()
            .filter(|&(node, _)| self.downstream.get(node).copied().unwrap_or(false))
            .flat_map(move |(node, law)| {
                let at = |nodes: &[Option<usize>; 4]| -> Vec<Wheel> {
                    Wheel::ALL
                        .into_iter()
                        .filter(|wheel| nodes[wheel.index()] == Some(node))
                        .collect()
                };
                [
                    (law, at(&self.wheels), false),
                    (law, at(&self.lever_wheels), true),
                ]
            })
            .filter(|(_, wheels, _)| !wheels.is_empty())
    }

    /// Everything that the pedal's chambers have filled, told apart by what takes it.
    #[must_use]
    pub fn shares_of_pedal(&self, pressures: &NodePressures) -> Taken {
        self.shares(pressures, |node| self.reached[0][node] || self.reached[1][node])
    }

    /// Whether a chamber's pressure reaches a wheel.
    #[must_use]
    pub fn feeds(&self, chamber: usize, wheel: Wheel) -> bool {
        self.wheels[wheel.index()].is_some_and(|node| self.reached[chamber.min(1)][node])
    }

    /// Whether the two chambers' fluid meets somewhere: one leak then empties both.
    #[must_use]
    pub fn chambers_joined(&self) -> bool {
        (0..NODES).any(|node| self.reached[0][node] && self.reached[1][node])
    }

    fn sum(&self, pressures: &NodePressures, counts: impl Fn(usize) -> bool) -> Volume {
        self.volumes
            .iter()
            .zip(pressures)
            .enumerate()
            .filter(|&(node, _)| counts(node))
            .map(|(_, (law, &pressure))| law.taken(pressure))
            .sum()
    }

    fn shares(&self, pressures: &NodePressures, counts: impl Fn(usize) -> bool) -> Taken {
        let mut all = Taken::default();
        for (node, (law, &pressure)) in self.volumes.iter().zip(pressures).enumerate() {
            if counts(node) {
                all = all + law.shares(pressure);
            }
        }
        all
    }
}

/// Outlet of a bias valve: `p` up to the knee, `p_knee + slope (p − p_knee)` above.
#[must_use]
pub fn behind_valve(inlet: Pressure, knee: Pressure, slope: f64) -> Pressure {
    if inlet <= knee {
        inlet
    } else {
        Pressure::from_pa(equations::above_knee(knee.pa(), slope, inlet.pa()))
    }
}

impl BiasValve {
    /// Knee at a rear axle load: as set by the knob, fixed, or by the load (straight through both points, never below
    /// zero).
    #[must_use]
    pub fn knee_at(&self, rear_load: Force) -> Pressure {
        match &self.knee {
            Knee::Knob { at, setting, .. } => {
                let at: Vec<(f64, f64)> = at.iter().map(|&(setting, knee)| (setting, knee.pa())).collect();
                Pressure::from_pa(crate::interpolate::clamped(&at, *setting, |setting| setting))
            }
            Knee::Fixed(knee) => *knee,
            Knee::OverRearLoad { empty, laden } => {
                let share = (rear_load - empty.0) / (laden.0 - empty.0);
                (empty.1 + (laden.1 - empty.1) * share).max(Pressure::ZERO)
            }
        }
    }

    /// Whether the knee hangs on the rear axle's load.
    #[must_use]
    pub const fn senses_load(&self) -> bool {
        matches!(self.knee, Knee::OverRearLoad { .. })
    }
}

/// The calipers that a separate lever works.
fn lever_brake(car: &Car) -> Option<&DiscBrake> {
    match &car.lever.as_ref()?.kind {
        crate::car::LeverKind::Separate(_, brake) => Some(brake),
        _ => None,
    }
}

/// Node of every port, and how many nodes there are: ports joined by runs and open passages share one.
fn nodes(circuit: &Circuit) -> (Vec<Vec<usize>>, usize) {
    let mut first_port = Vec::with_capacity(circuit.components.len());
    let mut ports = 0;
    for component in &circuit.components {
        first_port.push(ports);
        ports += component.ports.len();
    }
    let mut root: Vec<usize> = (0..ports).collect();
    let mut join = |one: usize, other: usize| {
        let (one, other) = (root[one], root[other]);
        if one != other {
            root.iter_mut()
                .filter(|root| **root == other)
                .for_each(|root| *root = one);
        }
    };
    let number = |port: Port| first_port[port.component] + port.port;
    for run in &circuit.runs {
        join(number(run.from), number(run.to));
    }
    for (component, first) in circuit.components.iter().zip(&first_port) {
        for &(from, to, passage) in component.passages {
            if passage == Passage::Open {
                join(first + from, first + to);
            }
        }
    }
    let mut roots: Vec<usize> = Vec::new();
    for &known in &root {
        if !roots.contains(&known) {
            roots.push(known);
        }
    }
    // Every port's root is among them. No layout has more than [`NODES`] ports, so none has more nodes, whatever run is
    // taken away.
    let node = |port: usize| {
        roots
            .iter()
            .position(|&known| known == root[port])
            .unwrap_or(NODES)
    };
    let of_port = circuit
        .components
        .iter()
        .zip(&first_port)
        .map(|(component, first)| {
            (0..component.ports.len())
                .map(|port| node(first + port))
                .collect()
        })
        .collect();
    (of_port, roots.len())
}

/// Passages in the order in which pressure arrives, from the sources on.
fn in_order(sources: &[(usize, PressureSource)], mut waiting: Vec<Step>) -> Vec<Step> {
    let mut known: Vec<usize> = sources.iter().map(|&(node, _)| node).collect();
    let mut ordered = Vec::with_capacity(waiting.len());
    loop {
        // A node is ready once every passage into it that can be reached has been walked.
        let ready = waiting.iter().position(|step| {
            known.contains(&step.from)
                && !waiting
                    .iter()
                    .any(|other| other.to == step.from && known.contains(&other.from))
        });
        let Some(ready) = ready else { break };
        let step = waiting.remove(ready);
        known.push(step.to);
        ordered.push(step);
    }
    ordered
}

/// Torque laws of the four wheels' brakes, without a separate lever's.
#[must_use]
pub fn torque_laws(car: &Car, warmth: Warmth) -> [crate::brake::TorqueLaw; 4] {
    let of = |brake: &Brake| crate::brake::TorqueLaw::of(brake, warmth);
    let (front, rear) = (of(&car.front_brake), of(&car.rear_brake));
    [front, front, rear, rear]
}
