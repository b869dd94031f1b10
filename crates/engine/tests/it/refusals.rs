//! Every kind of refusal, provoked once: the slug, where it points, and that it says what to do.

use std::collections::BTreeSet;

use engine::car::Refusal;
use quantity::Dimension;

use crate::bench::Said::{Count, List, Rows, Si, Text, Word};
use crate::bench::{Said, Sheet, lever, plain, root, separate};

fn refused(sheet: &Sheet) -> Vec<Refusal> {
    match sheet.assemble() {
        Ok(_) => panic!("not refused\n{sheet:?}"),
        Err(refusals) => refusals,
    }
}

/// A refusal of a slug, which points at a path and mentions a word.
#[track_caller]
fn says(sheet: &Sheet, slug: &str, path: &str, word: &str) {
    let refusals = refused(sheet);
    let found = refusals
        .iter()
        .find(|refusal| refusal.slug == slug && refusal.path == path);
    let Some(refusal) = found else {
        panic!("{refusals:#?}")
    };
    let remedy = refusal.remedy.words();
    assert!(
        refusal.text.contains(word) || remedy.contains(word),
        "{refusal:#?}"
    );
    assert!(refusal.text.len() > 10 && remedy.len() > 10, "{refusal:#?}");
    let named = refusal.text.contains(&format!("`{}`", refusal.path));
    assert_eq!(refusal.names_its_key, named, "{refusal:#?}");
    assert!(!refusal.text.ends_with('.'), "{refusal:#?}");
}

fn changed(keys: &[(&str, Said)]) -> Sheet {
    plain().with(keys)
}

fn without(sheet: Sheet, path: &str) -> Sheet {
    Sheet(sheet.0.into_iter().filter(|(known, _)| known != path).collect())
}

fn valve(keys: &[(&str, Said)]) -> Sheet {
    plain()
        .with(&[
            ("bias_valve.kind", Word("adjustable")),
            ("bias_valve.knee.at_fewest", Si(8e5)),
            ("bias_valve.knee.at_most", Si(65e5)),
        ])
        .with(keys)
}

fn drum(keys: &[(&str, Said)]) -> Sheet {
    plain()
        .with(&[
            ("rear_brake.kind", Word("drum")),
            ("rear_brake.cylinder_bore", Si(0.019)),
            ("rear_brake.drum_radius", Si(0.114)),
            ("rear_brake.lining.friction", Si(0.36)),
            ("rear_brake.shoe.pivot_radius", Si(0.09)),
            ("rear_brake.shoe.heel", Si(0.3)),
            ("rear_brake.shoe.toe", Si(2.0)),
            ("rear_brake.shoe.force_arm", Si(0.175)),
        ])
        .with(keys)
}

fn surface(keys: &[(&str, Said)]) -> Sheet {
    plain().with(&[("surface[1].name", Text("wet clay"))]).with(keys)
}

#[test]
fn missing_key() {
    says(
        &without(plain(), "master.bore"),
        "missing-key",
        "master.bore",
        "one bore",
    );
    says(
        &without(plain(), "geometry.wheelbase"),
        "missing-key",
        "geometry.wheelbase",
        "every sheet",
    );
    says(
        &surface(&[("surface[1].grip", Si(0.5))]),
        "missing-key",
        "surface[1].stiffness",
        "four figures",
    );
    says(
        &changed(&[("lever.kind", Word("inline"))]),
        "missing-key",
        "lever.bore",
        "bore",
    );
}

#[test]
fn missing_table() {
    let mut keys = lever();
    keys[0].1 = Word("separate");
    says(
        &changed(&keys),
        "missing-table",
        "lever_brake.kind",
        "[lever_brake]",
    );
}

#[test]
fn out_of_range() {
    says(
        &changed(&[("pedal.ratio", Si(45.0))]),
        "out-of-range",
        "pedal.ratio",
        "3 to 7",
    );
    says(
        &changed(&[("front_brake.pad.friction", Si(4.2))]),
        "out-of-range",
        "front_brake.pad.friction",
        "0.05 to 1.0",
    );
    let beyond = valve(&[
        ("bias_valve.knee.turns", Si(5.0)),
        ("bias_valve.setting", Si(5.5)),
    ]);
    says(&beyond, "out-of-range", "bias_valve.setting", "0 to 5");
}

#[test]
fn contradiction() {
    says(
        &changed(&[("tyres.front", Si(0.3)), ("tyres.rear", Si(0.3))]),
        "contradiction",
        "tyres.rolling_radius",
        "same thing",
    );
    let raised = [
        ("weighed.cg_raise.lifted", Word("rear")),
        ("weighed.cg_raise.by", Si(0.4)),
        ("weighed.cg_raise.front_gains", Si(18.0)),
    ];
    says(
        &changed(&raised),
        "contradiction",
        "weighed.cg_height",
        "cg_raise",
    );
    let twin = [
        ("master.kind", Word("twin")),
        ("master.front_bore", Si(0.019)),
        ("master.rear_bore", Si(0.017)),
        ("master.split", Word("diagonal")),
    ];
    says(&changed(&twin), "contradiction", "master.split", "one axle each");
    says(
        &changed(&lever()).with(&[("lever.rear_seal", Si(0.0176))]),
        "contradiction",
        "lever.rear_seal",
        "larger than the bore",
    );
    let tank = [
        ("load.tank.capacity", Si(0.04)),
        ("weighed.fuel_aboard", Si(0.05)),
    ];
    says(
        &changed(&tank),
        "contradiction",
        "weighed.fuel_aboard",
        "more fuel",
    );
    let fluid = [("fluid.boiling.dry", Si(480.0)), ("fluid.boiling.wet", Si(490.0))];
    says(
        &changed(&fluid),
        "contradiction",
        "fluid.boiling.wet",
        "boils lower",
    );
    let disc = [
        ("rear_brake.disc.inner_diameter", Si(0.29)),
        ("rear_brake.disc.outer_diameter", Si(0.28)),
    ];
    says(
        &changed(&disc),
        "contradiction",
        "rear_brake.disc.inner_diameter",
        "inner edge",
    );
    says(
        &drum(&[("rear_brake.shoe.heel", Si(2.1))]),
        "contradiction",
        "rear_brake.shoe.toe",
        "before it starts",
    );
    let knob = valve(&[
        ("bias_valve.knee.turns", Si(5.0)),
        ("bias_valve.knee.at_most", Si(8e5)),
    ]);
    says(&knob, "contradiction", "bias_valve.knee.at_most", "not above");
    let stepped = valve(&[
        ("bias_valve.knee.positions", Count(7)),
        ("bias_valve.setting", Si(2.0)),
    ]);
    says(
        &stepped,
        "contradiction",
        "bias_valve.setting",
        "positions, not turns",
    );
    let row = |newton| {
        Rows(vec![vec![
            (Dimension::Force, newton),
            (Dimension::Pressure, 20e5),
        ]])
    };
    let sensing = [
        ("bias_valve.kind", Word("load-sensing")),
        ("bias_valve.knee.empty", row(5000.0)),
        ("bias_valve.knee.laden", row(5000.0)),
    ];
    says(
        &changed(&sensing),
        "contradiction",
        "bias_valve.knee.laden",
        "no more load",
    );
}

#[test]
fn lifted_too_far() {
    let raised = without(plain(), "weighed.cg_height").with(&[
        ("weighed.cg_raise.lifted", Word("rear")),
        ("weighed.cg_raise.by", Si(0.86)),
        ("weighed.cg_raise.front_gains", Si(40.0)),
    ]);
    says(
        &raised,
        "lifted-too-far",
        "weighed.cg_raise.by",
        "a third of the wheelbase",
    );
    // A third itself is let through.
    raised.with(&[("weighed.cg_raise.by", Si(0.85))]).car();
}

#[test]
fn axle_lifted() {
    let hung = |aft_m: f64| {
        plain().with(&[
            ("load.item[1].name", Text("jack")),
            ("load.item[1].mass", Si(20.0)),
            ("load.item[1].aft_of_front_axle", Si(1.0)),
            ("load.item[2].name", Text("trailer ballast")),
            ("load.item[2].mass", Si(1000.0)),
            ("load.item[2].aft_of_front_axle", Si(aft_m)),
        ])
    };
    // 700 kg in front against 1,000 kg over 7 m and a wheelbase of 2.55 m: 700 − 1000 · 4.45/2.55 kg and the jack's share.
    says(
        &hung(7.0),
        "axle-lifted",
        "load.item[2].aft_of_front_axle",
        "`trailer ballast` lifts the front axle",
    );
    says(
        &hung(-3.0),
        "axle-lifted",
        "load.item[2].aft_of_front_axle",
        "lifts the rear axle",
    );
    hung(4.0).car();
}

#[test]
fn unknown_surface() {
    let mut inputs = plain().inputs();
    let key = engine::car::KeyId::of("car.runs_on").unwrap();
    let names = vec!["hard gravel".into(), "moon dust".into()];
    inputs.set(
        engine::car::Slot { key, entry: 0 },
        engine::car::Value::Texts(names),
    );
    let refusals = engine::car::Car::assemble(&inputs).unwrap_err();
    let [refusal] = &refusals[..] else {
        panic!("{refusals:#?}")
    };
    assert_eq!(
        (refusal.slug, refusal.path.as_str()),
        ("unknown-surface", "car.runs_on")
    );
    assert!(
        refusal.text.contains("moon dust") && refusal.remedy.words().contains("hard gravel"),
        "{refusal:#?}"
    );
}

#[test]
fn impossible_surface() {
    let steep = surface(&[
        ("surface[1].grip", Si(1.0)),
        ("surface[1].slip_at_peak", Si(3.0)),
        ("surface[1].slide_over_peak", Si(0.8)),
        ("surface[1].stiffness", Si(60.0)),
    ]);
    says(&steep, "impossible-surface", "surface[1].name", "wet clay");
}

#[test]
fn piston_off_the_disc() {
    let disc = changed(&[
        ("rear_brake.disc.outer_diameter", Si(0.22)),
        ("rear_brake.effective_radius", Si(0.115)),
    ]);
    says(
        &disc,
        "piston-off-the-disc",
        "rear_brake.effective_radius",
        "outside the disc",
    );
}

#[test]
fn wrong_count() {
    let edges = without(plain(), "rear_brake.effective_radius")
        .with(&[("rear_brake.pad_edges", List(vec![0.10, 0.12, 0.14]))]);
    says(&edges, "wrong-count", "rear_brake.pad_edges", "two radii");
    let mount = changed(&lever()).with(&[("lever.mount.pattern", List(vec![0.08]))]);
    says(&mount, "wrong-count", "lever.mount.pattern", "two spacings");
}

#[test]
fn bad_curve() {
    let point = |kelvin, friction| vec![(Dimension::Temperature, kelvin), (Dimension::Ratio, friction)];
    let falling = Rows(vec![point(400.0, 0.4), point(300.0, 0.3)]);
    says(
        &changed(&[("front_brake.pad.friction_at", falling)]),
        "bad-curve",
        "front_brake.pad.friction_at",
        "rise",
    );
    let point = |rad_s, nm| vec![(Dimension::Rotation, rad_s), (Dimension::Torque, nm)];
    for curve in [
        vec![point(0.0, 0.0)],
        vec![point(0.0, 20.0), point(9.0, 90.0)],
        vec![point(9.0, 0.0), point(5.0, 9.0)],
    ] {
        let centre = changed(&[
            ("drivetrain.driven", Word("all")),
            ("drivetrain.centre.kind", Word("viscous")),
            ("drivetrain.centre.torque_at", Rows(curve)),
        ]);
        says(&centre, "bad-curve", "drivetrain.centre.torque_at", "two points");
    }
}

#[test]
fn self_locking() {
    says(
        &drum(&[("rear_brake.lining.friction", Si(0.95))]),
        "self-locking",
        "rear_brake.shoe.force_arm",
        "lock itself",
    );
    drum(&[]).car();
}

#[test]
fn missing_unit() {
    let knob = valve(&[
        ("bias_valve.knee.turns", Si(5.0)),
        ("bias_valve.setting", Count(3)),
    ]);
    says(&knob, "missing-unit", "bias_valve.setting", "turns");
}

#[test]
fn setting_not_measured() {
    let read = plain().with(&[
        ("bias_valve.kind", Word("adjustable")),
        ("bias_valve.setting", Si(4.0)),
        ("measured.valve[1].setting", Si(1.0)),
        ("measured.valve[1].front", Si(60e5)),
        ("measured.valve[1].rear", Si(40e5)),
        ("measured.valve[2].setting", Si(3.0)),
        ("measured.valve[2].front", Si(60e5)),
        ("measured.valve[2].rear", Si(50e5)),
    ]);
    says(&read, "setting-not-measured", "bias_valve.setting", "from 1 to 3");
    read.with(&[("bias_valve.setting", Si(2.0))]).car();
}

/// All of a sheet's faults in one go.
#[test]
fn everything_is_said_at_once() {
    let sheet = without(plain(), "master.bore").with(&separate()).with(&[
        ("pedal.ratio", Si(45.0)),
        ("lever.rear_seal", Si(0.02)),
        ("lever_brake.pad.friction", Si(3.0)),
    ]);
    let refusals = refused(&sheet);
    let slugs: BTreeSet<&str> = refusals.iter().map(|refusal| refusal.slug).collect();
    assert_eq!(
        slugs,
        BTreeSet::from(["contradiction", "missing-key", "out-of-range"]),
        "{refusals:#?}"
    );
    assert_eq!(refusals.len(), 4, "{refusals:#?}");
}

/// The slugs that assembly knows are those that are provoked above: the name of each test is one.
#[test]
fn every_slug_is_provoked() {
    let folder = root().join("crates/engine/src/car/assemble");
    let mut known = BTreeSet::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        for call in text.split("refuse(").skip(1) {
            // The slug is the first literal of the call that is no path.
            let slug = call
                .split('"')
                .skip(1)
                .step_by(2)
                .find(|literal| !literal.contains(['.', '_', '{', '[']));
            known.extend(
                slug.filter(|slug| {
                    slug.len() > 4 && slug.chars().all(|c| c.is_ascii_lowercase() || c == '-')
                })
                .map(str::to_owned),
            );
        }
    }
    let here = include_str!("refusals.rs");
    for slug in &known {
        let name = format!("fn {}()", slug.replace('-', "_"));
        assert!(here.contains(&name), "nothing provokes `{slug}`");
    }
    assert!(known.len() >= 13, "{known:?}");
}
