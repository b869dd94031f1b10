//! The table of keys against itself and against what assembly reads.

use std::collections::{BTreeMap, BTreeSet};

use engine::car::{Car, Drawing, Form, Inputs, KEYS, Key, KeyId, Need, Slot, Value};
use quantity::{Amount, Dimension, Spread};

use crate::bench::Said::{Count, List, Rows, Si, Text, Word};
use crate::bench::{Sheet, lever, plain, put, separate, written_inputs};

/// A default that the arrangement gives, not the table.
const BY_RULE: &str = "by rule: ";

fn dimension(key: &Key) -> Dimension {
    key.dimension()
        .unwrap_or_else(|| panic!("{} has no dimension", key.path))
}

#[test]
fn no_path_stands_twice() {
    let paths: BTreeSet<&str> = KEYS.iter().map(|key| key.path).collect();
    assert_eq!(paths.len(), KEYS.len());
    assert_eq!(KeyId::all().count(), KEYS.len());
    for id in KeyId::all() {
        assert_eq!(KeyId::of(id.key().path), Some(id));
    }
    assert_eq!(KeyId::of("no.such.key"), None);
}

#[test]
fn paths_are_spelt_alike() {
    for key in KEYS {
        let plain = key.path.replace("[]", "");
        let ok = plain.split('.').all(|part| {
            !part.is_empty()
                && part
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
        });
        assert!(ok, "{}", key.path);
        assert!(key.path.matches("[]").count() <= 1, "{}", key.path);
        assert!(
            key.path.ends_with(key.name()) && key.path.starts_with(key.table()),
            "{}",
            key.path
        );
    }
}

#[test]
fn every_help_is_a_sentence() {
    for key in KEYS {
        assert!(key.help.ends_with('.'), "{}: {}", key.path, key.help);
        assert!(
            key.help.len() > 4 && !key.help.contains("  "),
            "{}: {}",
            key.path,
            key.help
        );
    }
}

/// Keys that a person knows without looking: names, days, and which wheel a reading is of.
#[test]
fn every_label_is_short_and_means_one_figure_of_its_part() {
    let mut seen: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    for key in KEYS {
        let words = key.label.split(' ').count();
        assert!((1..=6).contains(&words), "{}: {}", key.path, key.label);
        assert!(
            key.label
                .chars()
                .all(|c| c.is_ascii_lowercase() || matches!(c, ' ' | ',' | '-' | '\'')),
            "{}: {}",
            key.path,
            key.label
        );
        // What may be written at two places is one figure all the same; each kind of reading has a list of its own.
        let twice = key.path.starts_with("tyres.rolling_radius.") || key.path.contains("[]");
        let before = seen.insert((key.part(), key.label), key.path);
        assert!(before.is_none() || twice, "{} is called as {before:?}", key.path);
    }
}

fn is_known(key: &Key) -> bool {
    matches!(key.form, Form::Text | Form::Texts | Form::Date | Form::Flag) && key.default.is_none()
        || matches!(key.path, "format" | "measured.wheel[].wheel")
}

#[test]
fn whatever_has_no_default_or_a_tolerance_says_how_it_is_found_out() {
    const TOOLS: [&str; 26] = [
        "bathroom scale",
        "by hand",
        "Chalk",
        "Count",
        "From a tyre maker",
        "From the maker",
        "gauge",
        "Look",
        "luggage scale",
        "marked can",
        "Not with a workshop's tools",
        "phone",
        "plumb line",
        "protractor",
        "Read it off",
        "Read the",
        "ruler",
        "Scales",
        "scales",
        "string",
        "tape",
        "thermometer",
        "thread gauge",
        "torque wrench",
        "vernier",
        "watch",
    ];
    for (id, key) in KeyId::all().zip(KEYS) {
        let needed = key.need != Need::Never && !is_known(key);
        let unsure = id
            .default_amount()
            .is_some_and(|amount| amount.spread != Spread::Exact);
        let measured = key.dimension().is_some() && key.default.is_none();
        assert!(
            !key.how.is_empty() || !(needed || unsure || measured && !is_known(key)),
            "{}: how is it measured?",
            key.path
        );
        if key.how.is_empty() {
            continue;
        }
        let lower = key.how.to_lowercase();
        assert!(
            TOOLS.iter().any(|tool| lower.contains(&tool.to_lowercase())),
            "{} names no tool: {}",
            key.path,
            key.how
        );
        assert!(key.how.ends_with('.') && !key.how.contains("  "), "{}", key.path);
        for sentence in key.how.split_inclusive(". ") {
            let words = sentence.split_whitespace().count();
            assert!(words <= 20, "{}: {words} words: {sentence}", key.path);
        }
    }
}

#[test]
fn a_key_of_some_cars_says_of_which() {
    for key in KEYS {
        assert_eq!(key.need == Need::Sometimes, !key.when.is_empty(), "{}", key.path);
    }
}

/// Whatever a person measures has a card; what no workshop measures has none, and says so.
#[test]
fn every_key_that_is_measured_has_a_card() {
    for key in KEYS {
        let measured = !key.how.is_empty() && !key.how.starts_with("Not with a workshop's tools");
        assert_eq!(measured, key.drawing.is_some(), "{}", key.path);
    }
    let kept = KEYS.iter().filter(|key| key.how.starts_with("Not with"));
    assert!(kept.count() > 3);
}

#[test]
fn every_card_is_of_some_key_and_has_a_name_and_a_title_of_its_own() {
    let mut named: Vec<Drawing> = Vec::new();
    for card in KEYS.iter().filter_map(|key| key.drawing) {
        if !named.contains(&card) {
            named.push(card);
        }
    }
    named.sort();
    assert_eq!(
        named,
        Drawing::ALL,
        "each is named by a key, and stands once in the list"
    );
    let titles: BTreeSet<&str> = Drawing::ALL.iter().map(|card| card.title()).collect();
    assert_eq!(titles.len(), Drawing::ALL.len());
    for card in Drawing::ALL {
        assert_eq!(Drawing::named(card.name()), Some(card));
        assert!(
            card.name()
                .bytes()
                .all(|byte| byte.is_ascii_lowercase() || byte == b'-'),
            "{}",
            card.name()
        );
    }
    assert_eq!(Drawing::named("no-such-card"), None);
    let card = |path: &str| KeyId::of(path).unwrap().key().drawing;
    assert_eq!(card("weighed.cg_height"), card("weighed.cg_raise.by"));
    assert_ne!(card("rear_brake.shoe.toe"), card("rear_brake.pad_edges"));
    assert_eq!(card("car.name"), None);
}

#[test]
fn every_default_has_its_source_and_nothing_else_has_one() {
    for key in KEYS {
        assert_eq!(key.default.is_some(), !key.source.is_empty(), "{}", key.path);
        if key.default.is_some() {
            assert!(key.source.len() > 4, "{}: {}", key.path, key.source);
        }
    }
}

#[test]
fn every_range_parses_and_runs_upwards() {
    for (id, key) in KeyId::all().zip(KEYS) {
        for (ends, si) in [(key.hard, id.hard_si()), (key.usual, id.usual_si())] {
            let Some((low, high)) = ends else {
                assert_eq!(si, None, "{}", key.path);
                continue;
            };
            let read = |text: &str| {
                quantity::parse(text, dimension(key))
                    .unwrap_or_else(|fault| panic!("{}: {fault}", key.path))
                    .si
            };
            assert!(read(low) < read(high), "{}: {low} to {high}", key.path);
            assert_eq!(si, Some((read(low), read(high))), "{}", key.path);
        }
        if let (Some(hard), Some(usual)) = (id.hard_si(), id.usual_si()) {
            assert!(
                hard.0 <= usual.0 && usual.1 <= hard.1,
                "{}: {usual:?} beyond {hard:?}",
                key.path
            );
        }
    }
}

#[test]
fn every_default_is_what_may_stand_there() {
    for (id, key) in KeyId::all().zip(KEYS) {
        let Some(default) = key.default else {
            assert_eq!(id.default_amount(), None, "{}", key.path);
            continue;
        };
        if let Some(rule) = default.strip_prefix(BY_RULE) {
            assert!(rule.len() > 4, "{}", key.path);
            assert_eq!(id.default_amount(), None, "{}: a rule is no figure", key.path);
            continue;
        }
        match key.form {
            Form::Quantity(_) | Form::Quantities(_) | Form::RollingRadius => {
                let wanted = key.dimension().unwrap();
                let amount =
                    quantity::parse(default, wanted).unwrap_or_else(|fault| panic!("{}: {fault}", key.path));
                assert_eq!(id.default_amount(), Some(amount), "{}", key.path);
                assert!(
                    inside(amount, id.hard_si()),
                    "{}: {default} is impossible",
                    key.path
                );
                assert_eq!(
                    inside(amount, id.usual_si()),
                    !UNUSUAL.contains(&key.path),
                    "{}: {default}",
                    key.path
                );
            }
            Form::Setting => assert!(quantity::parse(default, Dimension::Turns).is_ok(), "{}", key.path),
            Form::Count => assert!(default.parse::<u32>().is_ok(), "{}", key.path),
            Form::Flag => assert!(matches!(default, "true" | "false"), "{}", key.path),
            Form::Word(words) => assert!(words.contains(&default), "{}: {default}", key.path),
            Form::Row(_) | Form::Rows { .. } | Form::Text | Form::Texts | Form::Date => {
                panic!("{}: such a key has no default", key.path)
            }
        }
    }
}

/// The value itself; the tolerance may reach beyond what is usual, and is cut off at what is possible.
fn inside(amount: Amount, range: Option<(f64, f64)>) -> bool {
    range.is_none_or(|(low, high)| (low..=high).contains(&amount.si))
}

/// Where nothing there is what is taken, though something there is what is usual.
const UNUSUAL: [&str; 0] = [];

/// What a reader has to guess has to be guessed widely: a default from memory carries a tolerance.
#[test]
fn a_default_from_memory_has_a_tolerance() {
    for (id, key) in KeyId::all().zip(KEYS) {
        if let Some(amount) = id.default_amount()
            && key.source.starts_with("from memory")
        {
            assert_ne!(amount.spread, Spread::Exact, "{}: {:?}", key.path, key.default);
        }
    }
}

#[test]
fn ranges_belong_to_figures_only() {
    for key in KEYS {
        let figures = key.dimension().is_some();
        assert!(
            figures || key.hard.is_none() && key.usual.is_none(),
            "{}",
            key.path
        );
        if let Form::Word(words) = key.form {
            let unique: BTreeSet<&str> = words.iter().copied().collect();
            assert!(unique.len() == words.len() && !words.is_empty(), "{}", key.path);
        }
    }
}

#[test]
fn what_every_sheet_needs_is_known_to_need_it() {
    let empty = Car::assemble(&Inputs::default()).unwrap_err();
    let missing: BTreeSet<&str> = empty.iter().map(|refusal| refusal.path.as_str()).collect();
    for key in KEYS.iter().filter(|key| key.need == Need::Always) {
        assert!(missing.contains(key.path), "{} is not missed", key.path);
        assert!(!key.path.contains("[]"), "{} is repeated", key.path);
    }
    assert!(
        empty.iter().all(|refusal| refusal.slug == "missing-key"),
        "{empty:#?}"
    );
}

// Which keys assembly reads. -------------------------------------------------------------------------------------------

fn row(cells: &[(Dimension, f64)]) -> Vec<(Dimension, f64)> {
    cells.to_vec()
}

fn curve() -> crate::bench::Said {
    let point = |rad_s, nm| row(&[(Dimension::Rotation, rad_s), (Dimension::Torque, nm)]);
    Rows(vec![point(0.0, 0.0), point(10.0, 100.0)])
}

/// Arrangements that between them have a use for every key.
fn arrangements() -> Vec<Sheet> {
    let rows = |cells: &[(Dimension, f64)]| {
        Rows(vec![
            row(cells),
            row(cells).iter().map(|&(d, si)| (d, si * 1.5)).collect(),
        ])
    };
    let one = |cells: &[(Dimension, f64)]| Rows(vec![row(cells)]);
    let all_wheels = ("drivetrain.driven", Word("all"));
    let centre =
        |path: &'static str, kind: &'static str| plain().with(&[all_wheels.clone(), (path, Word(kind))]);
    let part = |kind| {
        let mut sheet = centre("drivetrain.centre.kind", "disengaging");
        sheet
            .0
            .push(("drivetrain.centre.held.kind".to_owned(), Word(kind)));
        sheet
            .0
            .push(("drivetrain.centre.let_go.kind".to_owned(), Word(kind)));
        sheet
    };
    let with_curves = |mut sheet: Sheet, tables: &[&str]| {
        sheet
            .0
            .extend(tables.iter().map(|table| (format!("{table}.torque_at"), curve())));
        sheet
    };
    let without = |sheet: Sheet, paths: &[&str]| {
        Sheet(
            sheet
                .0
                .into_iter()
                .filter(|(path, _)| !paths.contains(&path.as_str()))
                .collect(),
        )
    };
    let drums = |geometry: bool| {
        let paths = [
            "front_brake.caliper.layout",
            "front_brake.caliper.pistons",
            "front_brake.effective_radius",
            "front_brake.pad.friction",
            "rear_brake.caliper.layout",
            "rear_brake.caliper.pistons",
            "rear_brake.effective_radius",
            "rear_brake.pad.friction",
        ];
        let mut sheet = without(plain(), &paths);
        for end in ["front", "rear"] {
            let mut add = |name: &str, said| sheet.0.push((format!("{end}_brake.{name}"), said));
            add("kind", Word("drum"));
            add("cylinder_bore", Si(0.019));
            add("drum_radius", Si(0.114));
            add("lining.friction", Si(0.35));
            if geometry {
                add("shoe.pivot_radius", Si(0.09));
                add("shoe.heel", Si(0.3));
                add("shoe.toe", Si(2.0));
                add("shoe.force_arm", Si(0.175));
            } else {
                add("shoe_factor", Si(2.0));
            }
        }
        sheet
    };
    let twin = [
        ("master.kind", Word("twin")),
        ("master.front_bore", Si(0.019)),
        ("master.rear_bore", Si(0.017)),
    ];
    let valve = |kind| ("bias_valve.kind", Word(kind));
    let turns = [
        valve("adjustable"),
        ("bias_valve.knee.at_fewest", Si(5e5)),
        ("bias_valve.knee.at_most", Si(60e5)),
        ("bias_valve.knee.turns", Si(60.0)),
    ];
    let raised = |lifted, gains: &'static str| {
        without(plain(), &["weighed.cg_height"]).with(&[
            ("weighed.cg_raise.lifted", Word(lifted)),
            ("weighed.cg_raise.by", Si(0.45)),
            (gains, Si(20.0)),
        ])
    };
    let edges = |end: &str| {
        let radius = format!("{end}_brake.effective_radius");
        let mut sheet = without(plain().with(&separate()), &[radius.as_str()]);
        sheet
            .0
            .push((format!("{end}_brake.pad_edges"), List(vec![0.10, 0.15])));
        sheet
    };
    let entries = [
        ("load.crew.mass", Si(150.0)),
        ("load.tank.capacity", Si(0.3)),
        ("load.item[1].name", Text("jack")),
        ("load.item[1].mass", Si(12.0)),
        ("load.item[1].aft_of_front_axle", Si(2.0)),
        ("surface[1].name", Text("hard gravel")),
        ("measured.valve[1].front", Si(50e5)),
        ("measured.valve[1].rear", Si(30e5)),
        (
            "measured.pull[1].points",
            rows(&[(Dimension::Length, 0.04), (Dimension::Pressure, 10e5)]),
        ),
        (
            "measured.pedal[1].points",
            rows(&[(Dimension::Force, 100.0), (Dimension::Pressure, 10e5)]),
        ),
        ("measured.wheel[1].wheel", Word("rear left")),
        ("measured.wheel[1].pressure", Si(15e5)),
        ("measured.wheel[1].torque", Si(120.0)),
        ("measured.soak[1].from", Si(50e5)),
        ("measured.soak[1].to", Si(47e5)),
        ("measured.soak[1].in", Si(600.0)),
    ];
    let load_sensing = [
        valve("load-sensing"),
        (
            "bias_valve.knee.empty",
            one(&[(Dimension::Force, 3000.0), (Dimension::Pressure, 10e5)]),
        ),
        (
            "bias_valve.knee.laden",
            one(&[(Dimension::Force, 9000.0), (Dimension::Pressure, 50e5)]),
        ),
    ];
    let cable = [("lever.kind", Word("cable")), ("lever.cable.ratio", Si(28.0))];
    let radius = ["tyres.rolling_radius"];
    vec![
        plain().with(&lever()).with(&turns).with(&entries),
        plain()
            .with(&separate())
            .with(&[valve("fixed"), ("bias_valve.knee", Si(30e5))]),
        plain().with(&twin).with(&[("pedal.booster.gain", Si(3.0))]),
        plain().with(&[
            valve("adjustable"),
            ("bias_valve.knee.at_fewest", Si(5e5)),
            ("bias_valve.knee.at_most", Si(60e5)),
            ("bias_valve.knee.positions", Count(31)),
        ]),
        plain().with(&load_sensing),
        plain().with(&cable),
        drums(false),
        drums(true),
        raised("rear", "weighed.cg_raise.front_gains"),
        raised("front", "weighed.cg_raise.rear_gains"),
        without(plain(), &radius).with(&[("tyres.front", Si(0.30)), ("tyres.rear", Si(0.31))]),
        without(plain(), &radius).with(&[
            ("tyres.rolling_radius.front", Si(0.30)),
            ("tyres.rolling_radius.rear", Si(0.31)),
        ]),
        edges("front"),
        edges("rear"),
        edges("lever"),
        centre("drivetrain.centre.kind", "plates"),
        with_curves(
            centre("drivetrain.centre.kind", "viscous"),
            &["drivetrain.centre"],
        ),
        centre("drivetrain.centre.kind", "viscous").with(&[("drivetrain.centre.feel", Word("soft"))]),
        part("plates"),
        with_curves(
            part("viscous"),
            &["drivetrain.centre.held", "drivetrain.centre.let_go"],
        ),
        part("viscous").with(&[
            ("drivetrain.centre.held.feel", Word("stiff")),
            ("drivetrain.centre.let_go.feel", Word("soft")),
        ]),
        plain().with(&[
            ("drivetrain.front_diff.kind", Word("plates")),
            ("drivetrain.rear_diff.kind", Word("plates")),
        ]),
        with_curves(
            plain().with(&[
                ("drivetrain.front_diff.kind", Word("viscous")),
                ("drivetrain.rear_diff.kind", Word("viscous")),
            ]),
            &["drivetrain.front_diff", "drivetrain.rear_diff"],
        ),
    ]
}

/// Something that may stand at a key.
fn sample(id: KeyId) -> Value {
    let key = id.key();
    let middle = || {
        let (low, high) = id.usual_si().or(id.hard_si()).unwrap_or((1.0, 1.0));
        id.default_amount().map_or(0.5 * (low + high), |amount| amount.si)
    };
    match key.form {
        Form::Quantity(dimension) => Value::Amount(Amount::exact(dimension, middle())),
        Form::RollingRadius => Value::Amount(Amount::exact(Dimension::Length, middle())),
        Form::Quantities(dimension) => {
            let (low, high) = id.usual_si().unwrap();
            let count = if key.name() == "pistons" { 1 } else { 2 };
            let amounts = [0.4, 0.6].map(|share| Amount::exact(dimension, low + share * (high - low)));
            Value::Amounts(amounts[..count].to_vec())
        }
        Form::Row(columns) => Value::Rows(vec![cells(columns, 4000.0)]),
        Form::Rows { columns, .. } => Value::Rows(vec![cells(columns, 300.0), cells(columns, 400.0)]),
        Form::Setting => Value::Amount(Amount::exact(Dimension::Turns, 1.0)),
        Form::Count => Value::Count(if key.path == "format" { 1 } else { 7 }),
        Form::Flag => Value::Flag(true),
        Form::Word(words) => Value::Word(words[0]),
        Form::Text => Value::Text("hard gravel".into()),
        Form::Texts => Value::Texts(vec!["hard gravel".into()]),
        Form::Date => Value::Date(engine::car::Date::constant(2026, 5, 1)),
    }
}

fn cells(columns: &[Dimension], first: f64) -> Vec<Amount> {
    let si = |dimension| match dimension {
        Dimension::Ratio => 0.4,
        Dimension::Length => 0.05,
        _ => first,
    };
    columns
        .iter()
        .map(|&dimension| Amount::exact(dimension, si(dimension)))
        .collect()
}

/// Whether a car can be made with something at this key, and assembly looks at it.
fn is_read(sheet: &Sheet, id: KeyId) -> bool {
    let slot = Slot { key: id, entry: 0 };
    let mut inputs = sheet.inputs();
    if inputs.get(slot).is_none() {
        inputs.set(slot, sample(id));
    }
    let Ok(assembled) = Car::assemble(&inputs) else {
        return false;
    };
    !assembled
        .warnings
        .iter()
        .any(|warning| warning.path == slot.path() && warning.text.to_string().contains("no effect"))
}

#[test]
fn assembly_looks_at_every_key_in_some_arrangement() {
    let arrangements = arrangements();
    for sheet in &arrangements {
        sheet.car();
    }
    let unread: Vec<&str> = KeyId::all()
        .filter(|&id| !arrangements.iter().any(|sheet| is_read(sheet, id)))
        .map(|id| id.key().path)
        .collect();
    assert!(unread.is_empty(), "{unread:#?}");
}

/// A key that nothing reads in an arrangement is said to have no effect: not silently ignored.
#[test]
fn a_key_without_effect_is_said_to_have_none() {
    let mut sheet = plain();
    sheet.0.push(("master.bar.front_share".to_owned(), Si(0.5)));
    let warnings = sheet.assemble().unwrap().warnings;
    let about: Vec<_> = warnings
        .iter()
        .filter(|warning| warning.path == "master.bar.front_share")
        .collect();
    assert!(
        matches!(about[..], [warning] if warning.text.to_string().contains("no effect")),
        "{warnings:?}"
    );
}

/// An unusual figure earns a warning with the usual range, an impossible one a refusal; at the ends of both there is
/// neither.
#[test]
fn ranges_are_kept_at_their_ends() {
    let says = |si: f64| {
        let mut inputs = plain().inputs();
        put(&mut inputs, "pedal.ratio", &Si(si));
        Car::assemble(&inputs)
            .map(|assembled| assembled.warnings.len())
            .map_err(|refusals| refusals[0].slug)
    };
    assert_eq!(
        [3.0, 7.0, 2.999, 7.001, 1.0, 20.0].map(says),
        [Ok(0), Ok(0), Ok(1), Ok(1), Ok(1), Ok(1)]
    );
    assert_eq!([0.999, 20.001].map(says), [Err("out-of-range"); 2]);
}

/// What a result leaned on: every default that a car took, once, with the text and the source of the table.
#[test]
fn leaned_defaults_are_those_that_the_sheet_leaves_out() {
    for (name, inputs) in written_inputs() {
        let assembled = Car::assemble(&inputs).unwrap();
        let mut seen = BTreeMap::new();
        for leaned in &assembled.defaults_used {
            assert!(
                seen.insert(leaned.slot, leaned.value).is_none(),
                "{name}: {} twice",
                leaned.slot.path()
            );
            assert!(
                leaned.source.len() > 4 && !leaned.value.is_empty(),
                "{name}: {}",
                leaned.slot.path()
            );
            let there = inputs.get(leaned.slot);
            if leaned
                .slot
                .key
                .key()
                .default
                .is_some_and(|default| !default.starts_with(BY_RULE))
            {
                // See known_failures: guesses by rule.
                assert_eq!(
                    there == Some(&Value::Guess),
                    leaned.guess,
                    "{name}: {}",
                    leaned.slot.path()
                );
            }
            // How a coupling feels is given, and what is taken for it is a guess all the same.
            let feel = leaned.slot.key.key().name() == "feel";
            assert!(
                feel || matches!(there, None | Some(Value::Guess)),
                "{name}: {} is given",
                leaned.slot.path()
            );
        }
        for slot in &assembled.toleranced {
            let given = inputs.get(*slot).is_some_and(|value| *value != Value::Guess);
            assert!(
                given || seen.contains_key(slot),
                "{name}: {} comes from nowhere",
                slot.path()
            );
        }
    }
}
