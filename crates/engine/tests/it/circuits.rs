//! The circuit as drawn: every port used once, every joint between two, and what a missing run cuts off, by another
//! library's search through the same graph.

use std::collections::{BTreeMap, BTreeSet};

use engine::brake::Warmth;
use engine::car::circuit::{Circuit, Passage, Piece, Port, PressureSource};
use engine::car::{Car, LeverKind, Master, Wheel};
use engine::hydraulics::Hydraulics;
use engine::network::Network;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::Dfs;
use proptest::prelude::*;

use crate::bench::Said::{Si, Word};
use crate::bench::{ask_with, lever, plain, separate, written};
use crate::random::cars;

fn ports(circuit: &Circuit) -> impl Iterator<Item = Port> {
    circuit
        .components
        .iter()
        .enumerate()
        .flat_map(|(component, part)| (0..part.ports.len()).map(move |port| Port { component, port }))
}

/// Names are unique, ends exist, and a port takes one run.
fn well_formed(circuit: &Circuit) -> Result<(), String> {
    let mut names = BTreeSet::new();
    for name in circuit
        .components
        .iter()
        .map(|part| &part.name)
        .chain(circuit.runs.iter().map(|run| &run.name))
    {
        if !names.insert(name) {
            return Err(format!("{name} twice"));
        }
    }
    let mut used: BTreeMap<Port, Vec<&str>> = ports(circuit).map(|port| (port, Vec::new())).collect();
    for run in &circuit.runs {
        for end in [run.from, run.to] {
            let there = used
                .get_mut(&end)
                .ok_or_else(|| format!("{} ends nowhere", run.name))?;
            there.push(run.name);
        }
        if run.from.component == run.to.component {
            return Err(format!("{} joins a part to itself", run.name));
        }
        if run.run.length.m() < 0.0 {
            return Err(format!("{} is shorter than nothing", run.name));
        }
    }
    for (port, runs) in used {
        if runs.len() != 1 {
            return Err(format!("{} carries {runs:?}", circuit.port_name(port)));
        }
    }
    for component in &circuit.components {
        for &(from, to, _) in component.passages {
            if from == to || from.max(to) >= component.ports.len() {
                return Err(format!("{}: a passage from {from} to {to}", component.name));
            }
        }
        if circuit.component(component.name) != Some(component) {
            return Err(format!("{} is not found by its name", component.name));
        }
    }
    Ok(())
}

/// What a source's pressure reaches, by depth-first search over ports.
struct Reference<'a> {
    circuit: &'a Circuit,
    graph: DiGraph<Port, ()>,
    at: BTreeMap<Port, NodeIndex>,
}

impl<'a> Reference<'a> {
    fn of(circuit: &'a Circuit) -> Self {
        let mut graph = DiGraph::new();
        let at: BTreeMap<Port, NodeIndex> = ports(circuit).map(|port| (port, graph.add_node(port))).collect();
        for run in &circuit.runs {
            graph.add_edge(at[&run.from], at[&run.to], ());
            graph.add_edge(at[&run.to], at[&run.from], ());
        }
        for (component, part) in circuit.components.iter().enumerate() {
            for &(from, to, passage) in part.passages {
                let [from, to] = [from, to].map(|port| at[&Port { component, port }]);
                graph.add_edge(from, to, ());
                if passage == Passage::Open {
                    graph.add_edge(to, from, ());
                }
            }
        }
        Self { circuit, graph, at }
    }

    fn reached(&self, wanted: PressureSource) -> BTreeSet<Port> {
        let mut reached = BTreeSet::new();
        for (component, part) in self.circuit.components.iter().enumerate() {
            for &(port, source) in part.sources {
                if source == wanted {
                    let mut search = Dfs::new(&self.graph, self.at[&Port { component, port }]);
                    while let Some(node) = search.next(&self.graph) {
                        reached.insert(self.graph[node]);
                    }
                }
            }
        }
        reached
    }

    fn brake(&self, part: Piece) -> Port {
        let component = self
            .circuit
            .components
            .iter()
            .position(|other| other.part == part)
            .unwrap();
        Port { component, port: 0 }
    }
}

/// Both ways of finding out what feeds what.
fn same_feeding(car: &Car, circuit: &Circuit) -> Result<(), String> {
    let network = Network::of_circuit(car, circuit);
    let reference = Reference::of(circuit);
    let chambers = [PressureSource::First, PressureSource::Second].map(|source| reference.reached(source));
    for wheel in Wheel::ALL {
        let brake = reference.brake(Piece::Brake(wheel));
        for (chamber, reached) in chambers.iter().enumerate() {
            if network.feeds(chamber, wheel) != reached.contains(&brake) {
                return Err(format!("chamber {chamber}, {}", wheel.name()));
            }
        }
    }
    let joined = !chambers[0].is_disjoint(&chambers[1]);
    if network.chambers_joined() != joined {
        return Err(format!("joined: {joined}"));
    }
    Ok(())
}

#[test]
fn every_port_is_used_once_on_every_written_car() {
    for (name, car) in written() {
        well_formed(&Circuit::of(&car)).unwrap_or_else(|why| panic!("{name}: {why}"));
    }
}

#[test]
fn a_missing_run_cuts_off_what_a_search_says() {
    let mut tried = 0;
    for (name, car) in written() {
        let circuit = Circuit::of(&car);
        same_feeding(&car, &circuit).unwrap_or_else(|why| panic!("{name}: {why}"));
        for run in &circuit.runs {
            let cut = circuit.without_run(run.name);
            assert_eq!(cut.runs.len() + 1, circuit.runs.len(), "{name}: {}", run.name);
            same_feeding(&car, &cut).unwrap_or_else(|why| panic!("{name} without {}: {why}", run.name));
            tried += 1;
        }
    }
    assert!(tried > 150, "{tried}");
}

fn fed(car: &Car, without: &str) -> [[bool; 4]; 2] {
    let network = Network::of_circuit(car, &Circuit::of(car).without_run(without));
    [0, 1].map(|chamber| Wheel::ALL.map(|wheel| network.feeds(chamber, wheel)))
}

const ALL: [bool; 4] = [true; 4];
const NONE: [bool; 4] = [false; 4];

#[test]
fn a_missing_run_cuts_off_what_the_workshop_expects() {
    let axle = plain().with(&lever()).car();
    let (front, rear) = ([true, true, false, false], [false, false, true, true]);
    assert_eq!(fed(&axle, "no such run"), [front, rear]);
    for run in ["master_to_bulkhead", "bulkhead_to_lever", "lever_to_rear_tee"] {
        assert_eq!(fed(&axle, run), [front, NONE], "{run}");
    }
    assert_eq!(
        fed(&axle, "rear_left_bracket_to_rear_left"),
        [front, [false, false, false, true]]
    );
    assert_eq!(
        fed(&axle, "master_to_front_right"),
        [[true, false, false, false], rear]
    );

    let diagonal = |outlets| {
        plain()
            .with(&lever())
            .with(&[
                ("master.split", Word("diagonal")),
                ("lever.outlets", Word(outlets)),
            ])
            .car()
    };
    let (one, other) = ([true, false, false, true], [false, true, true, false]);
    let parted = diagonal("tandem");
    assert_eq!(fed(&parted, "no such run"), [one, other]);
    // The second chamber feeds the rear left.
    assert_eq!(
        fed(&parted, "master_to_bulkhead_left"),
        [one, [false, true, false, false]]
    );
    // One outlet: both circuits meet in the lever, and each reaches both rear wheels.
    let joined = diagonal("one");
    assert_eq!(
        fed(&joined, "no such run"),
        [[true, false, true, true], [false, true, true, true]]
    );
    assert_eq!(
        fed(&joined, "lever_inlet_tee_to_lever"),
        [[true, false, false, false], [false, true, false, false]]
    );
    assert_ne!(fed(&joined, "no such run")[0], ALL);
}

/// A wheel that is cut off has no pressure, whatever foot and hand do; the others have what they had.
#[test]
fn a_wheel_that_is_cut_off_has_no_pressure() {
    for (name, car) in written() {
        let whole = Hydraulics::of(&car, Warmth::Warm);
        let circuit = Circuit::of(&car);
        for run in circuit
            .runs
            .iter()
            .filter(|run| run.name.starts_with("master_to_front"))
        {
            let cut = Hydraulics::of_circuit(&car, Warmth::Warm, &circuit.without_run(run.name));
            let [before, after] = [&whole, &cut].map(|hydraulics| ask_with(hydraulics, &car, 40.0, 0.0));
            let side = usize::from(run.name.ends_with("right"));
            assert_eq!(after.wheels[side].torque.nm(), 0.0, "{name} without {}", run.name);
            assert_eq!(
                after.wheels[1 - side].pressure,
                before.wheels[1 - side].pressure,
                "{name}"
            );
        }
    }
}

/// A circuit whose chambers are nowhere joined empties one by one; pressure then stays in the other.
#[test]
fn a_separate_lever_has_a_circuit_of_its_own() {
    for (name, car) in written() {
        let of_its_own = car
            .lever
            .as_ref()
            .is_some_and(|lever| matches!(lever.kind, LeverKind::Separate(..)));
        let circuit = Circuit::of(&car);
        let reference = Reference::of(&circuit);
        let reached = reference.reached(PressureSource::Lever);
        assert_eq!(!reached.is_empty(), of_its_own, "{name}");
        if of_its_own {
            for wheel in [Wheel::RearLeft, Wheel::RearRight] {
                assert!(
                    reached.contains(&reference.brake(Piece::LeverBrake(wheel))),
                    "{name}"
                );
                assert!(!reached.contains(&reference.brake(Piece::Brake(wheel))), "{name}");
            }
        }
    }
}

proptest! {
    #![proptest_config(crate::bench::cases())]

    #[test]
    fn any_circuit_is_well_formed_and_searched_alike(sheet in cars(), which in any::<proptest::sample::Index>()) {
        let car = sheet.car();
        let circuit = Circuit::of(&car);
        prop_assert_eq!(well_formed(&circuit), Ok(()));
        prop_assert_eq!(same_feeding(&car, &circuit), Ok(()));
        let run = &circuit.runs[which.index(circuit.runs.len())].name;
        prop_assert_eq!(same_feeding(&car, &circuit.without_run(run)), Ok(()), "without {}", run);
        // Whatever a route was measured at is in the runs, hoses and all.
        let drawn: f64 = circuit.runs.iter().map(|run| run.run.length.m()).sum();
        prop_assert!((drawn - measured(&car)).abs() < 1e-9, "{drawn} {}", measured(&car));
    }
}

/// What the tape measured of the routes that this car has.
fn measured(car: &Car) -> f64 {
    use engine::car::{Outlets, Split};
    let routes = &car.routes;
    let twice = if matches!(
        car.master,
        Master::Tandem {
            split: Split::Diagonal,
            ..
        }
    ) {
        2.0
    } else {
        1.0
    };
    let ends = routes
        .master_to_front_left
        .then(routes.master_to_front_right)
        .then(routes.tee_to_rear_left)
        .then(routes.tee_to_rear_right);
    let mut sum = ends.length.m() + twice * routes.master_to_bulkhead.length.m();
    match car.lever.as_ref().map(|lever| &lever.kind) {
        Some(LeverKind::Inline(cylinder)) => {
            let outlets = if cylinder.outlets == Outlets::One {
                1.0
            } else {
                2.0
            };
            sum +=
                twice * routes.bulkhead_to_lever.length.m() + outlets * routes.lever_to_rear_tee.length.m();
        }
        other => {
            sum += twice * routes.bulkhead_to_rear_tee.length.m();
            if let Some(LeverKind::Separate(cylinder, _)) = other {
                let outlets = if cylinder.outlets == Outlets::One {
                    1.0
                } else {
                    2.0
                };
                sum += routes
                    .lever_tee_to_left
                    .then(routes.lever_tee_to_right)
                    .length
                    .m();
                sum += outlets * routes.lever_to_lever_tee.length.m();
            }
        }
    }
    sum
}

// Drawings. ------------------------------------------------------------------------------------------------------------

/// The circuit from its sources outwards, a run or a part a line.
fn drawn(circuit: &Circuit) -> String {
    let mut text = String::new();
    for (component, part) in circuit.components.iter().enumerate() {
        for &(port, source) in part.sources {
            let port = Port { component, port };
            text.push_str(&format!("{} ({source:?})\n", circuit.port_name(port)));
            follow(circuit, port, 1, &mut text);
        }
    }
    text
}

fn follow(circuit: &Circuit, from: Port, depth: usize, text: &mut String) {
    let indent = "  ".repeat(depth);
    let Some(run) = circuit.runs.iter().find(|run| run.from == from || run.to == from) else {
        text.push_str(&format!("{indent}open\n"));
        return;
    };
    let to = if run.from == from { run.to } else { run.from };
    text.push_str(&format!(
        "{indent}= {} {:.2} m {:?}\n",
        run.name,
        run.run.length.m(),
        run.run.pipe
    ));
    let part = &circuit.components[to.component];
    text.push_str(&format!("{indent}{} {:?}\n", circuit.port_name(to), part.part));
    for &(inlet, outlet, passage) in part.passages {
        if inlet == to.port {
            let out = Port {
                component: to.component,
                port: outlet,
            };
            text.push_str(&format!("{indent}> {} {passage:?}\n", circuit.port_name(out)));
            follow(circuit, out, depth + 1, text);
        }
    }
}

#[test]
fn each_layout_as_drawn() {
    let routes = [
        ("routes.master_to_bulkhead", Si(0.5)),
        ("routes.bulkhead_to_lever", Si(1.5)),
        ("routes.lever_to_rear_tee", Si(2.0)),
        ("routes.bulkhead_to_rear_tee", Si(3.5)),
        ("routes.tee_to_rear_left", Si(0.9)),
        ("routes.tee_to_rear_right", Si(0.7)),
        ("routes.master_to_front_left", Si(0.8)),
        ("routes.master_to_front_right", Si(1.3)),
        ("routes.lever_to_lever_tee", Si(1.8)),
        ("routes.lever_tee_to_left", Si(0.6)),
        ("routes.lever_tee_to_right", Si(0.65)),
        ("lines.rear.pipe", Word("braided hose -3")),
        ("lines.front.pipe", Word("steel 3/16 in")),
        ("lines.front.flexible_last", Si(0.4)),
    ];
    let valve = |place| {
        [
            ("bias_valve.kind", Word("limiting")),
            ("bias_valve.knee", Si(30e5)),
            ("bias_valve.place", Word(place)),
        ]
    };
    let diagonal = [("master.split", Word("diagonal"))];
    let outlets = |kind| [("lever.outlets", Word(kind))];
    let base = || plain().with(&routes);
    let twin = [
        ("master.kind", Word("twin")),
        ("master.front_bore", Si(0.019)),
        ("master.rear_bore", Si(0.017)),
    ];
    let layouts = [
        ("axle_split_alone", base()),
        ("axle_split_valve", base().with(&valve("before-lever"))),
        ("twin_cylinders", base().with(&twin)),
        ("inline", base().with(&lever())),
        (
            "inline_valve_before",
            base().with(&lever()).with(&valve("before-lever")),
        ),
        (
            "inline_valve_after",
            base().with(&lever()).with(&valve("after-lever")),
        ),
        (
            "inline_abreast_valve_after",
            base()
                .with(&lever())
                .with(&outlets("side-by-side"))
                .with(&valve("after-lever")),
        ),
        ("separate", base().with(&separate())),
        (
            "separate_two_outlets",
            base().with(&separate()).with(&outlets("tandem")),
        ),
        ("diagonal_alone", base().with(&diagonal)),
        ("diagonal_joined", base().with(&diagonal).with(&lever())),
        (
            "diagonal_tandem_valve_before",
            base()
                .with(&diagonal)
                .with(&lever())
                .with(&outlets("tandem"))
                .with(&valve("before-lever")),
        ),
        (
            "diagonal_tandem_valve_after",
            base()
                .with(&diagonal)
                .with(&lever())
                .with(&outlets("tandem"))
                .with(&valve("after-lever")),
        ),
        ("diagonal_separate", base().with(&diagonal).with(&separate())),
    ];
    for (name, sheet) in layouts {
        let circuit = Circuit::of(&sheet.car());
        well_formed(&circuit).unwrap_or_else(|why| panic!("{name}: {why}"));
        insta::assert_snapshot!(name, drawn(&circuit));
    }
}
