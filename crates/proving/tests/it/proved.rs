//! The round: what counts, what reopens, what may be signed.

use engine::car::Date;
use engine::loads::{Aboard, Laden};
use plumbing::Plumbing;
use proptest::prelude::*;
use proving::due;
use proving::order::order;
use proving::{
    Check, CheckFound, CheckResult, Fact, JointFound, Noted, Proof, Signature, Soak, Standing, alone,
    closed_off, coupled, judge, prove,
};
use quantity::si::{Duration, Pressure, Temperature};
use serde_json::json;

use crate::cars::{DEMO, demo};

pub(crate) fn day(text: &str) -> Date {
    text.parse().unwrap()
}

pub(crate) fn noted(facts: Vec<Fact>) -> Vec<Noted> {
    facts
        .into_iter()
        .zip(1..)
        .map(|(fact, id)| Noted {
            id,
            day: day("2026-05-01"),
            fact,
        })
        .collect()
}

fn joint(id: &str, found: JointFound) -> Fact {
    Fact::Joint {
        joint: id.to_owned(),
        found,
    }
}

fn signed() -> Fact {
    Fact::Signed(Signature {
        by: "the preparer".to_owned(),
        checked_by: Some("the driver".to_owned()),
    })
}

/// Everything that has to be written down before a car may be signed.
pub(crate) fn whole_round(car: &engine::car::Car, plumbing: &Plumbing) -> Vec<Fact> {
    let mut facts = Vec::new();
    for found in [JointFound::Marked, JointFound::Dry] {
        facts.extend(plumbing.joints.iter().map(|listed| joint(&listed.id, found)));
    }
    facts.extend(Check::of(car).into_iter().map(|check| Fact::Checked {
        check,
        said: CheckFound::Held,
    }));
    facts
}

fn proof_of(name: &str, facts: Vec<Fact>) -> Proof {
    let car = demo(name);
    let plumbing = Plumbing::of(&car);
    prove(&car, &plumbing, &noted(facts))
}

#[test]
fn the_whole_round_of_every_demonstration_car_may_be_signed_and_nothing_less() {
    for name in DEMO {
        let car = demo(name);
        let plumbing = Plumbing::of(&car);
        let all = whole_round(&car, &plumbing);
        let mut with = all.clone();
        with.push(signed());
        let proof = prove(&car, &plumbing, &noted(with));
        assert!(
            proof.may_sign() && proof.signed.is_some() && proof.ignored.is_empty(),
            "{name}"
        );
        // Leave out any one entry, and it may not.
        for without in 0..all.len() {
            let mut less = all.clone();
            less.remove(without);
            less.push(signed());
            let proof = prove(&car, &plumbing, &noted(less));
            assert!(
                !proof.may_sign() && proof.signed.is_none(),
                "{name} without {:?}",
                all[without]
            );
            assert!(
                proof
                    .ignored
                    .last()
                    .unwrap()
                    .why
                    .contains("signs while something is open")
            );
        }
    }
}

#[test]
fn a_weep_has_to_be_remade_before_it_is_dry() {
    let id = "master.rear–master_to_bulkhead.a";
    let after = |facts: &[JointFound]| {
        let proof = proof_of("tarn", facts.iter().map(|&found| joint(id, found)).collect());
        let state = proof.joints.iter().find(|state| state.id == id).unwrap().state;
        (state, proof.ignored.len())
    };
    use JointFound::{Dry, Marked, Remade, Weep};
    assert_eq!(after(&[]), (Standing::Untried, 0));
    assert_eq!(after(&[Dry]), (Standing::Untried, 1));
    assert_eq!(after(&[Marked, Dry]), (Standing::Dry, 0));
    assert_eq!(after(&[Marked, Weep, Dry]), (Standing::Weep, 1));
    assert_eq!(after(&[Marked, Weep, Marked]), (Standing::Weep, 1));
    assert_eq!(after(&[Marked, Weep, Remade, Dry]), (Standing::Dry, 0));
    assert_eq!(after(&[Marked, Dry, Weep]), (Standing::Weep, 0));
    assert_eq!(after(&[Weep]), (Standing::Weep, 0));
}

#[test]
fn touching_a_part_reopens_its_joints_and_every_check() {
    let car = demo("tarn");
    let plumbing = Plumbing::of(&car);
    let mut facts = whole_round(&car, &plumbing);
    facts.push(signed());
    facts.push(Fact::Touched {
        what: "lever".to_owned(),
    });
    let proof = prove(&car, &plumbing, &noted(facts.clone()));
    let untried: Vec<&str> = proof
        .joints
        .iter()
        .filter(|joint| joint.state == Standing::Untried)
        .map(|joint| joint.id.as_str())
        .collect();
    assert_eq!(
        untried,
        ["lever.in–bulkhead_to_lever.b", "lever.out–lever_to_rear_tee.a"]
    );
    assert!(proof.signed.is_none() && proof.checks.iter().all(|check| check.judged.is_none()));
    // A run reopens both its ends; a name that is nowhere on this car is not counted.
    facts.push(Fact::Touched {
        what: "tee_to_rear_left".to_owned(),
    });
    facts.push(Fact::Touched {
        what: "handbrake drum".to_owned(),
    });
    let proof = prove(&car, &plumbing, &noted(facts));
    assert_eq!(
        proof
            .joints
            .iter()
            .filter(|joint| joint.state == Standing::Untried)
            .count(),
        4
    );
    assert!(proof.ignored[0].why.contains("handbrake drum"));
}

#[test]
fn a_failing_check_or_a_weep_takes_the_signature_away() {
    let car = demo("tarn");
    let plumbing = Plumbing::of(&car);
    let mut facts = whole_round(&car, &plumbing);
    facts.push(signed());
    for spoil in [
        Fact::Checked {
            check: Check::Walking,
            said: CheckFound::Failed,
        },
        joint(&plumbing.joints[3].id, JointFound::Weep),
    ] {
        let mut facts = facts.clone();
        facts.push(spoil);
        assert!(prove(&car, &plumbing, &noted(facts)).signed.is_none());
    }
}

#[test]
fn some_checks_may_be_left_with_a_reason_and_the_first_metre_may_not() {
    let car = demo("sedge");
    let plumbing = Plumbing::of(&car);
    for check in Check::of(&car) {
        let facts: Vec<Fact> = whole_round(&car, &plumbing)
            .into_iter()
            .map(|fact| match fact {
                Fact::Checked { check: of, .. } if of == check => Fact::Checked {
                    check,
                    said: CheckFound::NotDone("no slope within an hour".to_owned()),
                },
                other => other,
            })
            .collect();
        let proof = prove(&car, &plumbing, &noted(facts));
        assert_eq!(proof.may_sign(), check.may_be_left(), "{check:?}");
        assert_eq!(proof.left.len(), usize::from(check.may_be_left()));
    }
    assert!(!Check::Walking.may_be_left() && !Check::Bled.may_be_left() && Check::Slope.may_be_left());
}

/// A fact of the trade (common practice, no source): a car whose wheels are all coupled does not go on an ordinary roller
/// tester.
#[test]
fn a_coupled_car_never_goes_on_an_ordinary_roller_tester() {
    let (tarn, sedge) = (demo("tarn"), demo("sedge"));
    assert!(coupled(&tarn) && !coupled(&sedge));
    assert!(
        Check::Even
            .how(&tarn)
            .contains("NEVER on an ordinary roller tester")
    );
    assert!(!Check::Even.how(&sedge).contains("NEVER"));
    let data = json!({ "check": "even", "left": "120 N m", "right": "110 N m", "how": "rollers" });
    let fact = Fact::read("reading", &data).unwrap().unwrap();
    let even = |name: &str| {
        let proof = proof_of(name, vec![fact.clone()]);
        proof
            .checks
            .iter()
            .find(|state| state.check == Check::Even)
            .unwrap()
            .judged
            .clone()
            .unwrap()
    };
    assert!(matches!(even("tarn"), CheckResult::TellsNothing(_)));
    assert!(matches!(even("sedge"), CheckResult::Holds(_)));
}

/// A fact of the trade (common practice, no source): moisture from washing is not fluid.
#[test]
fn joints_are_felt_only_when_everything_has_dried() {
    let car = demo("tarn");
    let how = Check::Pressed.how(&car);
    assert!(
        how.contains("let everything dry") && how.contains("water is not fluid"),
        "{how}"
    );
    let plumbing = Plumbing::of(&car);
    let order = order(&car, &plumbing, &[], &prove(&car, &plumbing, &[]));
    let at = |slug: &str| order.steps.iter().position(|step| step.slug == slug).unwrap();
    assert!(at("screws") < at("feel"));
    assert!(order.steps[at("screws")].what.contains("let everything dry"));
}

fn soak(from: f64, to: f64, minutes: f64, air: Option<(f64, f64)>) -> Soak {
    Soak {
        from: Pressure::from_pa(from * 1e5),
        to: Pressure::from_pa(to * 1e5),
        held_for: Duration::from_s(minutes * 60.0),
        air: air.map(|(start, end)| (Temperature::from_celsius(start), Temperature::from_celsius(end))),
    }
}

/// What a degree does to `tarn` at 50 bar, by hand: behind the lever 3.45 m of −3 hose and two calipers. Volume taken a
/// bar: flex 2 × 0.008, hose 3.45 × 0.005, fluid V/19 000 bar. A degree: (9.5e-4 − 5.1e-5) V.
#[test]
fn a_degree_is_worth_what_a_pocket_calculator_says() {
    let hose_cm3 = 345.0 * core::f64::consts::FRAC_PI_4 * 0.32_f64.powi(2);
    let caliper_cm3 = core::f64::consts::FRAC_PI_4 * 4.0_f64.powi(2) * 1.2 + 3.0;
    let fluid_cm3 = hose_cm3 + 2.0 * caliper_cm3;
    let per_bar_cm3 = 2.0 * 0.008 + 3.45 * 0.005 + fluid_cm3 / 19_000.0;
    let closed = closed_off(&demo("tarn"), Pressure::from_pa(50e5)).unwrap();
    assert!(
        (closed.fluid.m3() * 1e6 - fluid_cm3).abs() < 1e-6,
        "{closed:?} {fluid_cm3}"
    );
    let degree_bar = (9.5e-4 - 5.1e-5) * fluid_cm3 / per_bar_cm3;
    assert!(
        (closed.per_degree_pa_k / 1e5 - degree_bar).abs() < 1e-6 * degree_bar,
        "{degree_bar}"
    );
    let drop_bar = 0.05 / per_bar_cm3;
    assert!(
        (closed.per_drop.pa() / 1e5 - drop_bar).abs() < 1e-6 * drop_bar,
        "{drop_bar}"
    );
    // A degree is worth as much as a drop: whoever reads no thermometer sees neither.
    assert!((1.0..3.0).contains(&degree_bar) && (1.0..3.0).contains(&drop_bar));
}

#[test]
fn a_soak_is_judged_against_temperature() {
    let tarn = demo("tarn");
    let verdict = |soak: Soak| judge(&soak, &tarn).unwrap();
    // The sheet's own: 3 bar in ten minutes, a degree colder.
    assert!(!verdict(soak(50.0, 47.0, 10.0, Some((18.0, 17.0)))).weeps());
    // The same fall while the air grew warmer by two degrees is a weep.
    assert!(verdict(soak(50.0, 44.0, 10.0, Some((17.0, 19.0)))).weeps());
    // Warmer air explains a rise.
    let rose = verdict(soak(50.0, 52.0, 10.0, Some((17.0, 19.0))));
    assert!(rose.fell < Pressure::ZERO && !rose.weeps());
    // Without a thermometer it is less sure.
    let blind = verdict(soak(50.0, 47.0, 10.0, None));
    assert!(blind.unsure > verdict(soak(50.0, 47.0, 10.0, Some((18.0, 18.0)))).unsure);
    // More than half in ten minutes, as on the parts bin, is a weep on any car that holds anything.
    for name in DEMO {
        if let Some(verdict) = judge(&soak(50.0, 20.0, 10.0, Some((15.0, 15.0))), &demo(name)) {
            assert!(verdict.weeps(), "{name}: {verdict:?}");
        }
    }
}

/// A car without a lever: what the second chamber reaches is closed in, rear lines and brakes on an axle split.
#[test]
fn without_a_lever_the_rear_circuit_is_closed_in() {
    let mut car = demo("tarn");
    car.lever = None;
    car.routes.bulkhead_to_rear_tee = crate::cars::taped_m(3.25);
    let closed = closed_off(&car, Pressure::from_pa(50e5)).unwrap();
    // 0.60 + 3.25 + 0.90 + 0.75 m of 3.2 mm, two calipers of 40 mm.
    let hose_cm3 = 550.0 * core::f64::consts::FRAC_PI_4 * 0.32_f64.powi(2);
    let calipers_cm3 = 2.0 * (core::f64::consts::FRAC_PI_4 * 16.0 * 1.2 + 3.0);
    assert!(
        (closed.fluid.m3() * 1e6 - hose_cm3 - calipers_cm3).abs() < 1e-6,
        "{closed:?}"
    );
}

#[test]
fn a_pressure_that_rises_by_itself_tells_nothing() {
    let fact = Fact::Checked {
        check: Check::Soak,
        said: CheckFound::Read(proving::CheckReading::Soak(soak(
            50.0,
            58.0,
            10.0,
            Some((18.0, 18.0)),
        ))),
    };
    let proof = proof_of("tarn", vec![fact]);
    let judged = proof
        .checks
        .iter()
        .find(|state| state.check == Check::Soak)
        .unwrap()
        .judged
        .clone();
    assert!(matches!(judged, Some(CheckResult::TellsNothing(_))), "{judged:?}");
}

#[test]
fn one_person_can_hold_so_much() {
    let car = demo("tarn");
    let held = alone(&car, &Laden::of(&car, Aboard::AS_WEIGHED));
    // 300 N less the preload's 65 N, × 4.3 × 0.90 over 1 in; 250 N × 7 × 0.90 over 5/8 in.
    let area = |inch: f64| core::f64::consts::FRAC_PI_4 * (inch * 25.4e-3).powi(2);
    let propped = (300.0 - 65.0) * 4.3 * 0.90 / area(1.0);
    assert!((held.propped.pa() - propped).abs() < 1e-6 * propped);
    // With the engine running as it was measured: 32 bar at 100 N, 23 bar for every 100 N more, up to the run-out at
    // 64 bar; from there the foot alone.
    let run_out_n = 100.0 + (64.0 - 32.0) / 0.23;
    let running = 64e5 + (300.0 - run_out_n) * 4.3 * 0.90 / area(1.0);
    assert!(
        (held.running.pa() - running).abs() < 1e-6 * running,
        "{:?} {running}",
        held.running
    );
    let strapped = 250.0 * 7.0 * 0.90 / area(0.625);
    assert!((held.strapped.unwrap().pa() - strapped).abs() < 1e-6 * strapped);
    assert!(held.how(false).iter().any(|how| how.contains("strap")));
}

#[test]
fn every_fact_reads_as_it_is_written() {
    let car = demo("tarn");
    let mut facts = whole_round(&car, &Plumbing::of(&car));
    facts.extend([
        signed(),
        Fact::Touched { what: "lever".into() },
        Fact::Step { step: "route".into() },
        Fact::Event {
            name: "Fell night stages".into(),
        },
        Fact::FluidChanged,
        Fact::FluidTested { boils_c: 182.0 },
        Fact::FluidHeat { celsius: 168.0 },
        Fact::HosesFitted,
        Fact::Got {
            what: "pipe-clip".into(),
        },
        Fact::Pads {
            axle: "rear".into(),
            left_m: 6.2e-3,
            fitted: true,
        },
        Fact::Checked {
            check: Check::Slope,
            said: CheckFound::NotDone("no slope here".into()),
        },
    ]);
    for fact in facts {
        let (kind, data) = fact.entry();
        let read = Fact::read(kind, &data).unwrap().unwrap();
        match (&read, &fact) {
            (Fact::Pads { left_m: read, .. }, Fact::Pads { left_m, .. }) => {
                assert!((read - left_m).abs() < 1e-9)
            }
            (Fact::FluidTested { boils_c: read }, Fact::FluidTested { boils_c }) => {
                assert!((read - boils_c).abs() < 1e-6)
            }
            (Fact::FluidHeat { celsius: read }, Fact::FluidHeat { celsius }) => {
                assert!((read - celsius).abs() < 1e-6)
            }
            _ => assert_eq!(read, fact),
        }
        assert!(data["text"].is_string());
    }
    for (kind, data) in [
        ("joint", json!({ "joint": "x" })),
        ("joint", json!({ "joint": "x", "state": "damp" })),
        ("reading", json!({ "check": "sniffed", "result": "held" })),
        ("reading", json!({ "check": "walking" })),
        (
            "reading",
            json!({ "check": "soak", "from": "50 bar", "to": "47 mm", "in": "10 min" }),
        ),
        ("reading", json!({ "check": "firm-hand", "first": "82 mm" })),
    ] {
        assert!(Fact::read(kind, &data).is_err(), "{kind} {data}");
    }
    for (kind, data) in [
        ("note", json!({ "text": "rain" })),
        ("fault", json!({})),
        ("setting", json!({ "text": "x" })),
    ] {
        assert_eq!(Fact::read(kind, &data), Ok(None), "{kind}");
    }
}

fn any_fact() -> impl Strategy<Value = Fact> {
    let plumbing = Plumbing::of(&demo("tarn"));
    let ids: Vec<String> = plumbing.joints.iter().map(|joint| joint.id.clone()).collect();
    let parts: Vec<String> = plumbing
        .circuit
        .components
        .iter()
        .map(|component| component.name.to_owned())
        .chain(plumbing.circuit.runs.iter().map(|run| run.name.to_owned()))
        .collect();
    let found = prop::sample::select(vec![
        JointFound::Marked,
        JointFound::Dry,
        JointFound::Dry,
        JointFound::Weep,
        JointFound::Remade,
    ]);
    let said = prop::sample::select(vec![
        CheckFound::Held,
        CheckFound::Held,
        CheckFound::Failed,
        CheckFound::NotDone("no time".to_owned()),
    ]);
    prop_oneof![
        8 => (prop::sample::select(ids), found).prop_map(|(id, found)| joint(&id, found)),
        1 => prop::sample::select(parts).prop_map(|what| Fact::Touched { what }),
        3 => (prop::sample::select(Check::ALL.to_vec()), said).prop_map(|(check, said)| Fact::Checked { check, said }),
        2 => Just(signed()),
    ]
}

/// Whether a joint is dry by a reading of the entries that does not know the fold: its last dry entry stands behind a mark
/// or a remaking that nothing has undone.
fn dry_by_hand(plumbing: &Plumbing, facts: &[Fact], index: usize) -> bool {
    let listed = &plumbing.joints[index];
    let component = &plumbing.circuit.components[listed.port.component].name;
    let run = &plumbing.circuit.runs[listed.run].name;
    let (mut tight, mut dry) = (false, false);
    let mut weeps = false;
    for fact in facts {
        match fact {
            Fact::Touched { what } if what == component || what == run => {
                (tight, dry, weeps) = (false, false, false)
            }
            Fact::Joint { joint, found } if *joint == listed.id => match found {
                JointFound::Weep => (dry, weeps) = (false, true),
                JointFound::Remade => (tight, dry, weeps) = (true, false, false),
                JointFound::Marked if !weeps => (tight, dry) = (true, false),
                JointFound::Dry if tight && !weeps => dry = true,
                _ => {}
            },
            _ => {}
        }
    }
    dry && !weeps
}

proptest! {
    #![proptest_config(ProptestConfig { cases: std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(64), ..ProptestConfig::default() })]

    /// Whatever is written, reading it ends in a fact, nothing, or a reason.
    #[test]
    fn any_text_is_read_or_refused(text in ".{0,40}", kind in "joint|reading|signoff|fluid|pads|note|setting|.{0,8}") {
        let _ = plumbing::PortSpec::read(&text);
        for key in ["joint", "touched", "check", "state", "by", "boils", "left", "fluid", "from", "step"] {
            let _ = Fact::read(&kind, &json!({ key: text, "check": text, "axle": "rear", "state": "dry" }));
            let _ = Fact::read(&kind, &json!({ key: 3, "air": [text] }));
        }
        let _ = Fact::read(&kind, &json!(text));
    }

    /// No path leads to a signature with a joint that is not dry: from nothing, from any prefix, and out of a round that
    /// was once complete.
    #[test]
    fn no_path_to_a_sign_off_with_an_undried_joint(
        complete_first in any::<bool>(),
        facts in prop::collection::vec(any_fact(), 0..120),
    ) {
        let car = demo("tarn");
        let plumbing = Plumbing::of(&car);
        let mut all = if complete_first { whole_round(&car, &plumbing) } else { Vec::new() };
        all.extend(facts);
        all.push(signed());
        let proof = prove(&car, &plumbing, &noted(all.clone()));
        for (index, state) in proof.joints.iter().enumerate() {
            prop_assert_eq!(state.state == Standing::Dry, dry_by_hand(&plumbing, &all, index), "{}", state.id);
        }
        let every = (0..plumbing.joints.len()).all(|index| dry_by_hand(&plumbing, &all, index));
        prop_assert!(every || (proof.signed.is_none() && !proof.may_sign()));
        if proof.signed.is_some() {
            prop_assert!(proof.checks.iter().all(|check| check.is_settled()));
        }
        // Order and due read the same history without falling over.
        let history = noted(all);
        let order = order(&car, &plumbing, &history, &proof);
        prop_assert!(order.steps.len() > 10);
        let _ = due::due(&car, &plumbing, &history, day("2026-06-01"));
    }
}

/// Nobody drives at walking pace on joints that nobody felt; what fails is taken at any time.
#[test]
fn what_holds_stands_on_the_work_before_it() {
    let car = demo("tarn");
    let plumbing = Plumbing::of(&car);
    let said = |check, said| Fact::Checked { check, said };
    let walking = said(Check::Walking, CheckFound::Held);
    let judged = |facts: Vec<Fact>, of: Check| {
        let proof = prove(&car, &plumbing, &noted(facts));
        let state = proof.checks.iter().find(|state| state.check == of).unwrap();
        (state.judged.clone(), proof.ignored)
    };
    let (none, ignored) = judged(vec![walking.clone()], Check::Walking);
    assert_eq!(none, None);
    let why = &ignored[0].why;
    for word in [
        "joints are not dry",
        "untried",
        "bled until clear (bled) is open",
        "soak",
    ] {
        assert!(why.contains(word), "{why}");
    }
    assert!(matches!(
        judged(vec![said(Check::Walking, CheckFound::Failed)], Check::Walking),
        (Some(CheckResult::Fails(_)), ignored) if ignored.is_empty()
    ));
    // One joint that is not dry is enough, and so is one check.
    let whole = whole_round(&car, &plumbing);
    let weeps = joint(&plumbing.joints[3].id, JointFound::Weep);
    let until = |last: Check| -> Vec<Fact> {
        let end = whole
            .iter()
            .position(|fact| matches!(fact, Fact::Checked { check, .. } if *check == last))
            .unwrap();
        whole[..end].to_vec()
    };
    for check in [Check::Soak, Check::Walking, Check::ByPassHot, Check::Slope] {
        let before = until(check);
        let held = said(check, CheckFound::Held);
        let now = |facts: Vec<Fact>| judged([facts, vec![held.clone()]].concat(), check).0;
        assert!(
            matches!(now(before.clone()), Some(CheckResult::Holds(_))),
            "{check:?}"
        );
        assert_eq!(
            now([before.clone(), vec![weeps.clone()]].concat()),
            None,
            "{check:?}"
        );
        let (stands_on, _) = check.stands_on();
        for missing in stands_on
            .iter()
            .filter(|missing| Check::of(&car).contains(missing))
        {
            let mut without = before.clone();
            without.retain(|fact| !matches!(fact, Fact::Checked { check, .. } if check == missing));
            assert_eq!(now(without), None, "{check:?} without {missing:?}");
        }
    }
}
