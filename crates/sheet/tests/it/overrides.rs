//! `KEY=VALUE` in the place of what a sheet says.

use engine::car::{Inputs, Value};
use insta::assert_snapshot;
use quantity::{Amount, Dimension};
use sheet::{Styles, override_key, slot_of};

use crate::FULL;

fn full() -> Inputs {
    sheet::read(FULL.as_bytes(), "car.toml").inputs
}

/// What stands at the key that an override names, once it is taken.
fn taken(written: &str) -> Value {
    let mut inputs = full();
    let slot = override_key(&mut inputs, written).unwrap_or_else(|problem| panic!("{problem}"));
    inputs.get(slot).unwrap().clone()
}

fn length(si: f64) -> Amount {
    Amount::exact(Dimension::Length, si)
}

#[test]
fn values_are_typed_without_quotes() {
    assert_eq!(taken("lever.bore=11/16 in"), Value::Amount(length(0.017_462_5)));
    assert_eq!(
        taken(" lever.bore = \"11/16 in\" "),
        Value::Amount(length(0.017_462_5))
    );
    assert_eq!(
        taken("pedal.ratio=4,5"),
        Value::Amount(Amount::exact(Dimension::Ratio, 4.5))
    );
    assert_eq!(taken("drivetrain.centre.kind=open"), Value::Word("open"));
    assert_eq!(taken("weighed.cg_height=guess"), Value::Guess);
}

#[test]
fn lists_and_rows_are_parted_by_commas_and_semicolons() {
    let pistons = Value::Amounts(vec![length(0.0413), length(0.0365)]);
    for written in [
        "41.3 mm, 36.5 mm",
        "41,3 mm,36,5 mm",
        "[\"41.3 mm\",\"36.5 mm\"]",
        "['41,3 mm', '36,5 mm']",
    ] {
        assert_eq!(
            taken(&format!("front_brake.caliper.pistons={written}")),
            pistons,
            "{written}"
        );
    }
    let curve = Value::Rows(
        [(293.15, 0.33), (423.15, 0.41)]
            .map(|(at, friction)| {
                vec![
                    Amount::exact(Dimension::Temperature, at),
                    Amount::exact(Dimension::Ratio, friction),
                ]
            })
            .to_vec(),
    );
    for written in [
        "20 C, 0.33; 150 C, 0.41",
        "20 C,0,33;150 C,0,41",
        "[[\"20 C\", 0.33], [\"150 C\", 0.41]]",
    ] {
        assert_eq!(
            taken(&format!("rear_brake.pad.friction_at={written}")),
            curve,
            "{written}"
        );
    }
    assert_eq!(
        taken("car.runs_on=wet tarmac,wet clay"),
        Value::Texts(vec!["wet tarmac".into(), "wet clay".into()])
    );
}

#[test]
fn each_other_form() {
    assert_eq!(taken("bias_valve.setting=3"), Value::Count(3));
    assert_eq!(
        taken("bias_valve.setting=3 turns"),
        Value::Amount(Amount::exact(Dimension::Turns, 3.0))
    );
    assert_eq!(
        taken("bias_valve.knee.turns=6"),
        Value::Amount(Amount::exact(Dimension::Turns, 6.0))
    );
    assert_eq!(taken("lever.latch=true"), Value::Flag(true));
    assert_eq!(
        taken("fluid.fitted=2026-05-01"),
        Value::Date("2026-05-01".parse().unwrap())
    );
    assert_eq!(taken("places.rear_clips=9"), Value::Count(9));
    assert_eq!(
        taken("car.build=a = b, \"c\""),
        Value::Text("a = b, \"c\"".into())
    );
}

#[test]
fn entries_are_counted_from_one_and_the_next_may_be_begun() {
    assert_eq!(
        taken("load.item[2].mass=20 kg"),
        Value::Amount(Amount::exact(Dimension::Mass, 20.0))
    );
    let mut inputs = full();
    override_key(&mut inputs, "load.item[3].name=dog").unwrap();
    assert_eq!(inputs.entries("load.item"), 3);
}

#[test]
fn what_is_wrong_is_told_as_of_a_sheet() {
    let told = |written: &str| {
        let before = full();
        let mut inputs = before.clone();
        let problem = override_key(&mut inputs, written).unwrap_err();
        assert_eq!(&*problem.file, "--with");
        assert!(before.slots().eq(inputs.slots()), "{written} left its mark");
        problem.shown(Styles::plain()).to_string()
    };
    let wrong = [
        "lever.bore",
        "=3",
        "lever..bore=3 mm",
        "lever.boar=5/8 in",
        "levre.bore=5/8 in",
        "lever.bore.x=5/8 in",
        "wheelbase=2.6 m",
        "lever=inline",
        "lever.bore=",
        "lever.bore=70 bar",
        "lever.bore=5/8",
        "lever.latch=yes",
        "lever.kind=inlin",
        "load.item.mass=3 kg",
        "load.item[0].mass=3 kg",
        "load.item[4].mass=3 kg",
        "load.item[x].mass=3 kg",
        "lever[1].bore=5/8 in",
        "places.rear_clips=-3",
        "fluid.fitted=1.5.2026",
        "front_brake.caliper.pistons=41.3 mm, 36.5 bar",
        "rear_brake.pad.friction_at=20 C, 0.33; 150 C",
    ];
    assert_snapshot!("overrides", crate::steady(&wrong.map(told).join("\n\n")));
}

#[test]
fn a_sheet_with_overrides_is_assembled_as_one() {
    let mut read = sheet::read(FULL.as_bytes(), "car.toml");
    read.with("lever.bore=11/16 in").unwrap();
    let place = read.places.value(slot_of("lever.bore").unwrap()).unwrap();
    assert!(place.is_override());
    assert!(read.assemble().is_ok());
    // A refusal of the car points at the override that it comes from.
    read.with("pedal.ratio = 40").unwrap();
    read.with("lever.rear_seal=20 mm").unwrap();
    let problems = read.assemble().unwrap_err();
    assert_snapshot!("overridden", problems.to_string());
}

#[test]
fn an_override_heals_a_key_that_could_not_be_read() {
    let sheet = FULL.replace("bore     = \"5/8 in\"", "bore = \"5/8\"");
    let mut read = sheet::read(sheet.as_bytes(), "car.toml");
    assert_eq!(read.assemble().unwrap_err().count(), 1);
    read.with("lever.bore=5/8 in").unwrap();
    assert!(read.assemble().is_ok());
}

#[test]
fn a_table_begun_by_an_override_is_where_its_missing_keys_are_told() {
    let sheet = FULL.replace("booster    = { gain = 3.8, run_out = \"64 bar\" }", "");
    let mut read = sheet::read(sheet.as_bytes(), "car.toml");
    read.with("pedal.booster.run_out=64 bar").unwrap();
    let problems = read.assemble().unwrap_err();
    let told: Vec<_> = problems
        .shown()
        .iter()
        .map(|problem| (&*problem.file, problem.key.as_deref().unwrap()))
        .collect();
    assert_eq!(told, [("--with", "pedal.booster.gain")]);
}

#[test]
fn the_example_of_every_key_is_a_usual_value() {
    for path in crate::overrides_pool() {
        let mut inputs = Inputs::default();
        let problem = override_key(&mut inputs, &format!("{path}=")).unwrap_err();
        let example = problem
            .remedy()
            .strip_prefix("write it like ")
            .unwrap()
            .to_owned();
        if example.contains('…') {
            continue;
        }
        let slot = override_key(&mut inputs, &example).unwrap_or_else(|problem| panic!("{problem}"));
        let (Some((low, high)), Some(Value::Amount(amount))) = (slot.key.usual_si(), inputs.get(slot)) else {
            continue;
        };
        assert!((low..=high).contains(&amount.si), "{example}");
    }
}
