//! The hydraulic circuit as data: components with ports, and the runs between them. The only topology in the house:
//! pressures, volumes, failures, the drawing, the parts list and the joints all read it.

use quantity::si::Length;

use super::hydraulics::{LeverKind, Outlets, Split, ValvePlace};
use super::surroundings::{Line, Route, RunOfPipe};
use super::{Car, Wheel};

/// What makes pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PressureSource {
    /// The chamber that feeds the front axle, or front left and rear right.
    First,
    /// The chamber that feeds the rear axle, or front right and rear left.
    Second,
    /// A separate lever's cylinder.
    Lever,
}

/// How two ports of a component are joined inside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Passage {
    /// Always one pressure.
    Open,
    /// Through a bias valve, inlet to outlet.
    Valve,
    /// Through an inline lever cylinder, inlet to outlet.
    Lever,
}

/// What a component is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Piece {
    /// Master cylinder, or twin cylinders.
    Master,
    /// A plain fitting where two runs meet.
    Union,
    /// A fitting where three meet.
    Tee,
    /// The end of a pipe, held, where a hose begins.
    Bracket,
    /// Bias valve.
    BiasValve,
    /// Inline lever cylinder.
    LeverCylinder,
    /// A separate lever's cylinder.
    LeverMaster,
    /// A wheel's caliper or wheel cylinder.
    Brake(Wheel),
    /// A separate lever's caliper.
    LeverBrake(Wheel),
}

/// A component and its ports.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Component {
    /// Name, unique in the circuit.
    pub name: &'static str,
    /// What it is.
    pub part: Piece,
    /// Names of its ports.
    pub ports: &'static [&'static str],
    /// Passages inside it, by port numbers, inlet first.
    pub passages: &'static [(usize, usize, Passage)],
    /// Ports that a source feeds.
    pub sources: &'static [(usize, PressureSource)],
}

/// A port of a component, by their numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Port {
    /// Number of the component.
    pub component: usize,
    /// Number of the port.
    pub port: usize,
}

/// A pipe or hose between two ports. Its direction is how it was drawn and means nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Pipework {
    /// Name, unique in the circuit: after the two ends.
    pub name: &'static str,
    /// One end.
    pub from: Port,
    /// The other.
    pub to: Port,
    /// Length and material.
    pub run: RunOfPipe,
}

/// The circuit of one car.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circuit {
    /// Components.
    pub components: Vec<Component>,
    /// Runs.
    pub runs: Vec<Pipework>,
}

/// The tee in which both circuits of a corner-to-corner car would meet before a lever's one inlet.
const INLET_TEE: &str = "lever_inlet_tee";

const FRONT: [Wheel; 2] = [Wheel::FrontLeft, Wheel::FrontRight];
const REAR: [Wheel; 2] = [Wheel::RearLeft, Wheel::RearRight];
/// Names of what there is one of on each side: left, right.
type Sides = [&'static str; 2];

/// A wheel's run: its brake, the pipe's name, the bracket's, and that of the hose behind the bracket.
#[derive(Clone, Copy)]
struct LastRun {
    brake: &'static str,
    run: &'static str,
    bracket: &'static str,
    hose: &'static str,
}

const FRONT_RUNS: [LastRun; 2] = [
    LastRun {
        brake: "front_left",
        run: "master_to_front_left",
        bracket: "front_left_bracket",
        hose: "front_left_bracket_to_front_left",
    },
    LastRun {
        brake: "front_right",
        run: "master_to_front_right",
        bracket: "front_right_bracket",
        hose: "front_right_bracket_to_front_right",
    },
];

const REAR_RUNS: [LastRun; 2] = [
    LastRun {
        brake: "rear_left",
        run: "tee_to_rear_left",
        bracket: "rear_left_bracket",
        hose: "rear_left_bracket_to_rear_left",
    },
    LastRun {
        brake: "rear_right",
        run: "tee_to_rear_right",
        bracket: "rear_right_bracket",
        hose: "rear_right_bracket_to_rear_right",
    },
];

const LEVER_RUNS: [LastRun; 2] = [
    LastRun {
        brake: "lever_rear_left",
        run: "lever_tee_to_left",
        bracket: "lever_rear_left_bracket",
        hose: "lever_rear_left_bracket_to_lever_rear_left",
    },
    LastRun {
        brake: "lever_rear_right",
        run: "lever_tee_to_right",
        bracket: "lever_rear_right_bracket",
        hose: "lever_rear_right_bracket_to_lever_rear_right",
    },
];

/// The bulkhead of a car split front to rear, and the two of one split corner to corner: component, run from the master.
const BULKHEAD: [&str; 2] = ["bulkhead", "master_to_bulkhead"];
const BULKHEADS: [Sides; 2] = [
    ["bulkhead_left", "master_to_bulkhead_left"],
    ["bulkhead_right", "master_to_bulkhead_right"],
];
const VALVE: &str = "bias_valve";
const VALVES: Sides = ["bias_valve_left", "bias_valve_right"];

impl Circuit {
    /// The circuit that a car's sheet describes.
    #[must_use]
    pub fn of(car: &Car) -> Self {
        let mut circuit = Self::default();
        let master = circuit.master(car);
        circuit.front_lines(car, master);
        circuit.rear_lines(car, master);
        if let Some(lever) = &car.lever
            && let LeverKind::Separate(cylinder, _) = &lever.kind
        {
            circuit.lever_lines(car, cylinder.outlets);
        }
        circuit
    }

    /// A component by its name.
    #[must_use]
    pub fn component(&self, name: &str) -> Option<&Component> {
        self.components.iter().find(|component| component.name == name)
    }

    /// The component in which the two circuits meet, if there is one: with it, one leak empties both.
    #[must_use]
    pub fn where_joined(&self) -> Option<usize> {
        self.components
            .iter()
            .position(|component| component.name == INLET_TEE)
    }

    /// `component.port`.
    #[must_use]
    pub fn port_name(&self, port: Port) -> String {
        self.components
            .get(port.component)
            .map_or_else(String::new, |component| {
                format!(
                    "{}.{}",
                    component.name,
                    component.ports.get(port.port).copied().unwrap_or("")
                )
            })
    }

    /// The same circuit without one run: it leaks out there.
    #[must_use]
    pub fn without_run(&self, name: &str) -> Self {
        Self {
            components: self.components.clone(),
            runs: self.runs.iter().filter(|run| run.name != name).cloned().collect(),
        }
    }

    fn add(
        &mut self,
        name: &'static str,
        part: Piece,
        ports: &'static [&'static str],
        passages: &'static [(usize, usize, Passage)],
    ) -> usize {
        self.components.push(Component {
            name,
            part,
            ports,
            passages,
            sources: &[],
        });
        self.components.len() - 1
    }

    fn run(&mut self, name: &'static str, from: Port, to: Port, run: RunOfPipe) {
        self.runs.push(Pipework { name, from, to, run });
    }

    fn master(&mut self, car: &Car) -> usize {
        let diagonal = car.master.split() == Split::Diagonal;
        let ports: &'static [&'static str] = if diagonal {
            &["front_left", "front_right", "rear_left", "rear_right"]
        } else {
            &["front_left", "front_right", "rear"]
        };
        let master = self.add("master", Piece::Master, ports, &[]);
        self.components[master].sources = if diagonal {
            &[
                (0, PressureSource::First),
                (1, PressureSource::Second),
                (2, PressureSource::Second),
                (3, PressureSource::First),
            ]
        } else {
            &[
                (0, PressureSource::First),
                (1, PressureSource::First),
                (2, PressureSource::Second),
            ]
        };
        master
    }

    fn front_lines(&mut self, car: &Car, master: usize) {
        let lengths = [car.routes.master_to_front_left, car.routes.master_to_front_right];
        for (side, front) in FRONT.into_iter().enumerate() {
            let from = Port {
                component: master,
                port: side,
            };
            let piece = Piece::Brake(front);
            self.wheel_run(FRONT_RUNS[side], from, piece, lengths[side], car.front_line);
        }
    }

    /// A wheel's brake and the run to it: pipe, bracket and hose, or one of the two alone.
    fn wheel_run(&mut self, names: LastRun, from: Port, piece: Piece, route: Route, line: Line) {
        let brake = self.add(names.brake, piece, &["in"], &[]);
        let name = names.run;
        let end = Port {
            component: brake,
            port: 0,
        };
        let hose = line.flexible_last;
        if hose.length <= Length::ZERO || line.flexible == line.pipe {
            self.run(name, from, end, RunOfPipe::along(route, line.pipe));
        } else if hose.length >= route.length {
            self.run(name, from, end, RunOfPipe::along(route, line.flexible));
        } else {
            let bracket = self.add(
                names.bracket,
                Piece::Bracket,
                &["pipe", "hose"],
                &[(0, 1, Passage::Open)],
            );
            let pipe_end = Port {
                component: bracket,
                port: 0,
            };
            let to_bracket = Route {
                length: route.length - hose.length,
                taped: route.taped && hose.taped,
            };
            self.run(name, from, pipe_end, RunOfPipe::along(to_bracket, line.pipe));
            let hose_start = Port {
                component: bracket,
                port: 1,
            };
            self.run(names.hose, hose_start, end, RunOfPipe::along(hose, line.flexible));
        }
    }

    /// The bulkhead: the bias valve where it stands before the lever, a plain union otherwise. Gives its outlet.
    fn bulkhead(&mut self, car: &Car, from: Port, [union, name]: Sides, valve: Option<&'static str>) -> Port {
        let here = match valve {
            Some(valve) => self.add(valve, Piece::BiasValve, &["in", "out"], &[(0, 1, Passage::Valve)]),
            None => self.add(union, Piece::Union, &["in", "out"], &[(0, 1, Passage::Open)]),
        };
        let run = RunOfPipe::along(car.routes.master_to_bulkhead, car.rear_line.pipe);
        self.run(
            name,
            from,
            Port {
                component: here,
                port: 0,
            },
            run,
        );
        Port {
            component: here,
            port: 1,
        }
    }

    fn rear_lines(&mut self, car: &Car, master: usize) {
        let inline = car.lever.as_ref().and_then(|lever| match &lever.kind {
            LeverKind::Inline(cylinder) => Some(cylinder.outlets),
            _ => None,
        });
        let valve = car.bias_valve.as_ref().map(|valve| valve.place);
        let valve_after = valve == Some(ValvePlace::AfterLever) && inline.is_some();
        let valve_here = valve.is_some() && !valve_after;
        let pipe = car.rear_line.pipe;
        let outlets: Vec<Port> = if car.master.split() == Split::Diagonal {
            (0..2)
                .map(|side| {
                    let from = Port {
                        component: master,
                        port: 2 + side,
                    };
                    self.bulkhead(car, from, BULKHEADS[side], valve_here.then_some(VALVES[side]))
                })
                .collect()
        } else {
            vec![self.bulkhead(
                car,
                Port {
                    component: master,
                    port: 2,
                },
                BULKHEAD,
                valve_here.then_some(VALVE),
            )]
        };
        match inline {
            Some(kind) => {
                let feeds = self.inline_lever(car, &outlets, kind);
                self.behind_lever(car, &feeds, valve_after);
            }
            None => {
                let run = RunOfPipe::along(car.routes.bulkhead_to_rear_tee, pipe);
                if let [left, right] = outlets[..] {
                    let names = [
                        ["rear_union_left", "bulkhead_to_rear_tee_left"],
                        ["rear_union_right", "bulkhead_to_rear_tee_right"],
                    ];
                    let ends = [(left, names[0]), (right, names[1])].map(|(from, [union, name])| {
                        let union = self.add(union, Piece::Union, &["in", "out"], &[(0, 1, Passage::Open)]);
                        self.run(
                            name,
                            from,
                            Port {
                                component: union,
                                port: 0,
                            },
                            run,
                        );
                        Port {
                            component: union,
                            port: 1,
                        }
                    });
                    self.rear_wheels(car, ends);
                } else {
                    let tee = self.rear_tee();
                    self.run(
                        "bulkhead_to_rear_tee",
                        outlets[0],
                        Port {
                            component: tee,
                            port: 0,
                        },
                        run,
                    );
                    self.rear_wheels(car, [1, 2].map(|port| Port { component: tee, port }));
                }
            }
        }
    }

    /// The inline lever cylinder and the runs to it. Gives its outlets: one, or left and right.
    fn inline_lever(&mut self, car: &Car, from: &[Port], outlets: Outlets) -> Vec<Port> {
        let run = RunOfPipe::along(car.routes.bulkhead_to_lever, car.rear_line.pipe);
        let two = outlets != Outlets::One;
        let lever = match (two, from.len()) {
            (false, _) => self.add(
                "lever",
                Piece::LeverCylinder,
                &["in", "out"],
                &[(0, 1, Passage::Lever)],
            ),
            (true, 1) => self.add(
                "lever",
                Piece::LeverCylinder,
                &["in", "out_left", "out_right"],
                &[(0, 1, Passage::Lever), (0, 2, Passage::Lever)],
            ),
            (true, _) => self.add(
                "lever",
                Piece::LeverCylinder,
                &["in_left", "in_right", "out_left", "out_right"],
                &[(0, 2, Passage::Lever), (1, 3, Passage::Lever)],
            ),
        };
        let port = |port: usize| Port {
            component: lever,
            port,
        };
        match (from, two) {
            (&[left, right], true) => {
                self.run("bulkhead_to_lever_left", left, port(0), run);
                self.run("bulkhead_to_lever_right", right, port(1), run);
                vec![port(2), port(3)]
            }
            (&[left, right], false) => {
                // Both circuits joined at one inlet: one leak empties both.
                let joint = self.add(
                    INLET_TEE,
                    Piece::Tee,
                    &["left", "right", "out"],
                    &[(0, 2, Passage::Open), (1, 2, Passage::Open)],
                );
                let at = |port: usize| Port {
                    component: joint,
                    port,
                };
                self.run("bulkhead_to_lever_left", left, at(0), run);
                self.run("bulkhead_to_lever_right", right, at(1), run);
                self.run(
                    "lever_inlet_tee_to_lever",
                    at(2),
                    port(0),
                    RunOfPipe::along(Route::NONE, run.pipe),
                );
                vec![port(1)]
            }
            _ => {
                if let Some(&first) = from.first() {
                    self.run("bulkhead_to_lever", first, port(0), run);
                }
                if two {
                    vec![port(1), port(2)]
                } else {
                    vec![port(1)]
                }
            }
        }
    }

    /// From the lever's outlets to the rear wheels.
    fn behind_lever(&mut self, car: &Car, outlets: &[Port], valve_after: bool) {
        let pipe = car.rear_line.pipe;
        let valve = |circuit: &mut Self, name: &'static str| {
            circuit.add(name, Piece::BiasValve, &["in", "out"], &[(0, 1, Passage::Valve)])
        };
        if let &[left, right] = outlets {
            let names = [
                (VALVES[0], "lever_to_bias_valve_left"),
                (VALVES[1], "lever_to_bias_valve_right"),
            ];
            let ends = [(left, names[0]), (right, names[1])].map(|(from, (name_of_valve, name))| {
                if !valve_after {
                    return from;
                }
                let here = valve(self, name_of_valve);
                self.run(
                    name,
                    from,
                    Port {
                        component: here,
                        port: 0,
                    },
                    RunOfPipe::along(Route::NONE, pipe),
                );
                Port {
                    component: here,
                    port: 1,
                }
            });
            self.rear_wheels(car, ends);
            return;
        }
        let tee = self.rear_tee();
        let into_tee = Port {
            component: tee,
            port: 0,
        };
        let run = RunOfPipe::along(car.routes.lever_to_rear_tee, pipe);
        if valve_after {
            // Behind the lever the valve stands at its outlet: all that is trapped is at the valve's pressure.
            let here = valve(self, VALVE);
            self.run(
                "lever_to_bias_valve",
                outlets[0],
                Port {
                    component: here,
                    port: 0,
                },
                RunOfPipe::along(Route::NONE, pipe),
            );
            self.run(
                "lever_to_rear_tee",
                Port {
                    component: here,
                    port: 1,
                },
                into_tee,
                run,
            );
        } else {
            self.run("lever_to_rear_tee", outlets[0], into_tee, run);
        }
        self.rear_wheels(car, [1, 2].map(|port| Port { component: tee, port }));
    }

    fn rear_tee(&mut self) -> usize {
        self.add(
            "rear_tee",
            Piece::Tee,
            &["in", "left", "right"],
            &[(0, 1, Passage::Open), (0, 2, Passage::Open)],
        )
    }

    fn rear_wheels(&mut self, car: &Car, from: [Port; 2]) {
        // With two outlets there is no tee: whatever was measured to its place belongs to each wheel's run.
        let extra = if from[0].component == from[1].component
            && self.components[from[0].component].part == Piece::Tee
        {
            Route::NONE
        } else if car
            .lever
            .as_ref()
            .is_some_and(|lever| matches!(lever.kind, LeverKind::Inline(_)))
        {
            car.routes.lever_to_rear_tee
        } else {
            Route::NONE
        };
        let lengths = [car.routes.tee_to_rear_left, car.routes.tee_to_rear_right];
        for (side, rear) in REAR.into_iter().enumerate() {
            let (piece, route) = (Piece::Brake(rear), lengths[side].then(extra));
            self.wheel_run(REAR_RUNS[side], from[side], piece, route, car.rear_line);
        }
    }

    fn lever_lines(&mut self, car: &Car, outlets: Outlets) {
        let pipe = car.lever_line.pipe;
        let ends = if outlets == Outlets::One {
            let lever = self.add("lever", Piece::LeverMaster, &["out"], &[]);
            self.components[lever].sources = &[(0, PressureSource::Lever)];
            let tee = self.add(
                "lever_tee",
                Piece::Tee,
                &["in", "left", "right"],
                &[(0, 1, Passage::Open), (0, 2, Passage::Open)],
            );
            let run = RunOfPipe::along(car.routes.lever_to_lever_tee, pipe);
            let (out, into) = (
                Port {
                    component: lever,
                    port: 0,
                },
                Port {
                    component: tee,
                    port: 0,
                },
            );
            self.run("lever_to_lever_tee", out, into, run);
            [1, 2].map(|port| Port { component: tee, port })
        } else {
            let lever = self.add("lever", Piece::LeverMaster, &["out_left", "out_right"], &[]);
            self.components[lever].sources = &[(0, PressureSource::Lever), (1, PressureSource::Lever)];
            [0, 1].map(|port| Port {
                component: lever,
                port,
            })
        };
        let lengths = [car.routes.lever_tee_to_left, car.routes.lever_tee_to_right];
        let extra = if outlets == Outlets::One {
            Route::NONE
        } else {
            car.routes.lever_to_lever_tee
        };
        for (side, rear) in REAR.into_iter().enumerate() {
            let (piece, route) = (Piece::LeverBrake(rear), lengths[side].then(extra));
            self.wheel_run(LEVER_RUNS[side], ends[side], piece, route, car.lever_line);
        }
    }
}
