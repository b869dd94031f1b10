//! Identities of the circuit: ports, joints, and what a run that is gone takes with it.

use std::collections::BTreeSet;

use engine::balance::{Leaking, leaking_runs};
use engine::car::circuit::{Circuit, Port};
use engine::car::{Car, LeverKind, Outlets, Split, Wheel};
use engine::loads::{Aboard, Laden};
use engine::network::{Acting, Network};
use plumbing::{End, Plumbing};
use proptest::prelude::*;
use quantity::si::Pressure;

use crate::cars::{DEMO, any_car, demo, set_outlets, set_split};

/// Every port once, every joint between one port and one end of a run, every name once.
fn identities(car: &Car) {
    let plumbing = Plumbing::of(car);
    let circuit = &plumbing.circuit;
    assert_eq!(*circuit, Circuit::of(car), "no graph of its own");
    let mut used: Vec<Port> = plumbing.joints.iter().map(|joint| joint.port).collect();
    used.sort();
    let mut all: Vec<Port> = (0..circuit.components.len())
        .flat_map(|component| {
            (0..circuit.components[component].ports.len()).map(move |port| Port { component, port })
        })
        .collect();
    all.sort();
    assert_eq!(used, all, "every port has one joint");
    assert_eq!(plumbing.joints.len(), 2 * circuit.runs.len());
    let ends: BTreeSet<(usize, End)> = plumbing
        .joints
        .iter()
        .map(|joint| (joint.run, joint.end))
        .collect();
    assert_eq!(ends.len(), plumbing.joints.len(), "every end has one joint");
    let names: BTreeSet<&str> = plumbing.joints.iter().map(|joint| joint.id.as_str()).collect();
    assert_eq!(names.len(), plumbing.joints.len(), "every name once");
    for (index, joint) in plumbing.joints.iter().enumerate() {
        assert_eq!(joint.number, index + 1);
        let run = &circuit.runs[joint.run];
        let port = if joint.end == End::A { run.from } else { run.to };
        assert_eq!(port, joint.port);
        assert_eq!(joint.id, format!("{}–{}", joint.between[0], joint.between[1]));
        assert_eq!(plumbing.joint(&joint.id), Some(joint));
        assert_eq!(plumbing.joint(&joint.number.to_string()), Some(joint));
    }
    // The engine's network is that of the circuit whose joints are listed.
    let network = Network::of_circuit(car, circuit);
    let nothing = Acting {
        first: Pressure::ZERO,
        second: Pressure::ZERO,
        own: None,
        knee: Pressure::ZERO,
    };
    for joint in &plumbing.joints {
        assert!(
            network
                .at_port(&network.pressures(&nothing), joint.port)
                .is_some()
        );
    }
}

#[test]
fn of_the_demonstration_cars() {
    for name in DEMO {
        identities(&demo(name));
    }
}

#[test]
fn the_contracts_name_of_a_joint() {
    let plumbing = Plumbing::of(&demo("tarn"));
    assert_eq!(
        plumbing
            .joint("master.rear–master_to_bulkhead.a")
            .unwrap()
            .between[0],
        "master.rear"
    );
    assert!(
        plumbing.joint("master.rear-master_to_bulkhead.a").is_some(),
        "a plain hyphen will do"
    );
}

#[test]
fn an_edit_elsewhere_moves_no_name() {
    let car = demo("tarn");
    let before: BTreeSet<String> = Plumbing::of(&car)
        .joints
        .into_iter()
        .map(|joint| joint.id)
        .collect();
    let mut other = car;
    other.front_line.flexible_last = engine::car::Route::NONE;
    let after: BTreeSet<String> = Plumbing::of(&other)
        .joints
        .into_iter()
        .map(|joint| joint.id)
        .collect();
    let rear = |names: &BTreeSet<String>| -> Vec<String> {
        names
            .iter()
            .filter(|name| !name.contains("front"))
            .cloned()
            .collect()
    };
    assert_eq!(rear(&before), rear(&after));
    assert_ne!(before, after, "the front's are other joints now");
}

fn leaking(car: &Car) -> Vec<Leaking> {
    leaking_runs(car, &Circuit::of(car), &Laden::of(car, Aboard::AS_WEIGHED), 0.8)
}

fn open<'a>(failed: &'a [Leaking], run: &str) -> &'a Leaking {
    failed
        .iter()
        .find(|failed| failed.run == run)
        .unwrap_or_else(|| panic!("no run {run}"))
}

const FRONT: [Wheel; 2] = [Wheel::FrontLeft, Wheel::FrontRight];
const REAR: [Wheel; 2] = [Wheel::RearLeft, Wheel::RearRight];

#[test]
fn an_axle_split_with_an_inline_lever() {
    let failed = leaking(&demo("tarn"));
    let front = open(&failed, "master_to_front_left");
    assert_eq!(
        (front.foot.as_slice(), front.hand.as_slice()),
        (&REAR[..], &REAR[..])
    );
    // Ahead of the lever: the hand still has what stands behind it. Behind it: nothing.
    let ahead = open(&failed, "bulkhead_to_lever");
    assert_eq!(
        (ahead.foot.as_slice(), ahead.hand.as_slice()),
        (&FRONT[..], &REAR[..])
    );
    let behind = open(&failed, "tee_to_rear_left");
    assert_eq!((behind.foot.as_slice(), behind.hand.len()), (&FRONT[..], 0));
    assert!(
        front.rate < ahead.rate,
        "the rear alone stops less than the front alone"
    );
}

#[test]
fn a_separate_lever_outlives_the_pedals_leaks_and_the_pedal_its() {
    let failed = leaking(&demo("scree"));
    for run in &failed {
        if run.run.starts_with("lever_") {
            assert_eq!((run.foot.len(), run.hand.len()), (4, 0), "{}", run.run);
        } else {
            assert_eq!(
                (run.foot.len(), run.hand.as_slice()),
                (2, &REAR[..]),
                "{}",
                run.run
            );
        }
    }
}

#[test]
fn circuits_joined_in_one_cylinder_are_emptied_by_any_leak() {
    let failed = leaking(&demo("bin"));
    assert!(
        failed
            .iter()
            .all(|run| run.both_circuits && run.foot.is_empty() && run.rate.m_s2() == 0.0)
    );
    let mut car = demo("tarn");
    set_split(&mut car, Split::Diagonal);
    set_outlets(&mut car, Outlets::Tandem);
    let failed = leaking(&car);
    assert_eq!(
        open(&failed, "tee_to_rear_left").hand,
        [Wheel::RearRight],
        "the other outlet keeps its own"
    );
    for run in failed {
        assert_eq!((run.both_circuits, run.foot.len()), (false, 2), "{}", run.run);
        let across: Vec<_> = run.foot.iter().map(|wheel| wheel.axle()).collect();
        assert_ne!(across[0], across[1], "one front and one rear wheel");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(64), ..ProptestConfig::default() })]

    #[test]
    fn of_any_car(car in any_car()) {
        identities(&car);
    }

    /// Taking a run away cuts off just what the engine says that it cuts off, and a leak never leaves more than that.
    #[test]
    fn a_run_that_is_gone_feeds_nothing_behind_it(car in any_car()) {
        let plumbing = Plumbing::of(&car);
        let some = Pressure::from_pa(1e5);
        let pressed = Acting { first: some, second: some, own: None, knee: Pressure::from_pa(1e9) };
        let laden = Laden::of(&car, Aboard::AS_WEIGHED);
        let failed = leaking_runs(&car, &plumbing.circuit, &laden, 0.7);
        let separate = matches!(car.lever.as_ref().map(|lever| &lever.kind), Some(LeverKind::Separate(..)));
        for run in &failed {
            let cut = Network::of_circuit(&car, &plumbing.circuit.without_run(&run.run));
            let pressures = cut.pressures(&pressed);
            for wheel in Wheel::ALL {
                let still = cut.at_wheel(&pressures, wheel) > Pressure::ZERO;
                prop_assert!(still || !run.foot.contains(&wheel), "{}: {wheel:?} is cut off and still braked", run.run);
            }
            prop_assert!(run.foot.len() < 4 || run.run.starts_with("lever_tee") || run.run == "lever_to_lever_tee"
                || (separate && run.run.contains("lever_")), "{}", run.run);
            prop_assert!(run.rate.m_s2() <= 0.7 * engine::GRAVITY_M_S2 + 1e-9);
        }
        prop_assert!(Network::of(&car).feeds(0, Wheel::FrontLeft));
    }
}
