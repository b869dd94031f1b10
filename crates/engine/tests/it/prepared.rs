//! A car of a prepared sheet is the car of a sheet with these values, to the last bit; drawn ones too.

use std::sync::OnceLock;

use engine::car::{Car, Draw, Form, Inputs, KeyId, Prepared, Slot, Value};
use engine::ranges::{Sampling, draw};
use proptest::prelude::*;

use crate::bench::{cases, written_inputs};
use crate::random::cars;

/// Every figure of a car, as text that tells any two floats apart.
fn whole(car: &Car) -> String {
    format!("{car:?}")
}

fn sheets() -> &'static [(String, Inputs)] {
    static SHEETS: OnceLock<Vec<(String, Inputs)>> = OnceLock::new();
    SHEETS.get_or_init(written_inputs)
}

/// Another value at a slot, `how` choosing which: a figure so many times as large, another word.
fn other(inputs: &Inputs, slot: Slot, how: f64) -> Option<Value> {
    let place = |count: usize| (how * count as f64) as usize % count.max(1);
    let scaled = |amount: &quantity::Amount| quantity::Amount {
        si: amount.si * (0.3 + 1.4 * how),
        ..*amount
    };
    let default = slot.key.default_amount().map(Value::Amount);
    let stands = inputs.get(slot).cloned();
    Some(match (stands.or(default), slot.key.key().form) {
        (_, Form::Word(words)) => Value::Word(words[place(words.len())]),
        (_, Form::Flag) => Value::Flag(how > 0.5),
        (Some(Value::Amount(amount)), _) => Value::Amount(scaled(&amount)),
        (Some(Value::Amounts(amounts)), _) => Value::Amounts(amounts.iter().map(scaled).collect()),
        (Some(Value::Rows(rows)), _) => {
            Value::Rows(rows.iter().map(|row| row.iter().map(scaled).collect()).collect())
        }
        (Some(Value::Count(count)), _) => Value::Count(count + u32::from(how > 0.5)),
        (Some(Value::Guess), _) => slot.key.default_amount().map(Value::Amount)?,
        _ => return None,
    })
}

/// Whether the prepared sheet and the sheet written anew come to the same.
fn same(inputs: &Inputs, patch: &[(Slot, Value)]) -> Result<(), TestCaseError> {
    let mut written = inputs.clone();
    for (slot, value) in patch {
        written.set(*slot, value.clone());
    }
    let anew = Car::assemble(&written).map(|assembled| assembled.car);
    let kept = Prepared::of(inputs, &[]).with(patch);
    match (&anew, &kept) {
        (Ok(anew), Ok(kept)) => prop_assert_eq!(whole(anew), whole(kept), "{:?}", patch),
        (Err(_), Err(_)) => {}
        _ => prop_assert!(false, "{:?}: {:?} and {:?}", patch, anew.err(), kept.err()),
    }
    Ok(())
}

/// Slots to choose from: every one that has a value, and every key that may stand once.
fn slots(inputs: &Inputs) -> Vec<Slot> {
    let once = KeyId::all()
        .filter(|key| !key.key().path.contains("[]"))
        .map(|key| Slot { key, entry: 0 });
    inputs.slots().map(|(slot, _)| slot).chain(once).collect()
}

fn patch_of(inputs: &Inputs, chosen: &[(f64, f64)]) -> Vec<(Slot, Value)> {
    let slots = slots(inputs);
    let mut patch: Vec<(Slot, Value)> = Vec::new();
    for &(which, how) in chosen {
        let slot = slots[(which * slots.len() as f64) as usize % slots.len()];
        if !patch.iter().any(|(known, _)| *known == slot) {
            patch.extend(other(inputs, slot, how).map(|value| (slot, value)));
        }
    }
    patch
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn a_written_car_with_other_values_is_the_car_of_such_a_sheet(
        which in 0.0..1.0_f64,
        chosen in proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 1..4),
    ) {
        let (_, inputs) = &sheets()[(which * sheets().len() as f64) as usize];
        same(inputs, &patch_of(inputs, &chosen))?;
    }

    #[test]
    fn a_random_car_with_other_values_is_the_car_of_such_a_sheet(
        sheet in cars(),
        chosen in proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 1..4),
    ) {
        let inputs = sheet.inputs();
        same(&inputs, &patch_of(&inputs, &chosen))?;
    }
}

/// Every key of every written car that has a tolerance, drawn alone; and all of them together, as studies draw them.
#[test]
fn drawn_cars_are_those_of_a_fresh_assembly() {
    for (name, inputs) in sheets() {
        let toleranced = Car::assemble(inputs).unwrap().toleranced;
        let prepared = Prepared::of(inputs, &toleranced);
        let alike = |draw: &Draw| {
            let (fresh, kept) = (Car::drawn(inputs, draw), prepared.drawn(draw));
            assert_eq!(
                fresh.as_ref().map(whole),
                kept.as_ref().map(whole),
                "{name}: {draw:?}"
            );
        };
        for number in 0..16 {
            alike(&draw(&toleranced, Sampling { draws: 16, seed: 5 }, number));
        }
        for &slot in &toleranced {
            for share in [0.01, 0.37, 0.98] {
                let mut one = Draw::default();
                one.set(slot, share);
                alike(&one);
            }
        }
    }
}

/// A drawn figure is the figure of a sheet that gives it exactly: the distribution's quantile, worked out apart.
#[test]
fn a_drawn_figure_is_the_one_of_a_sheet_that_gives_it() {
    let paths = [
        "weighed.front",
        "lever.ratio",
        "geometry.wheelbase",
        "pedal.ratio",
    ];
    let mut compared = 0;
    for (name, inputs) in sheets() {
        let toleranced = Car::assemble(inputs).unwrap().toleranced;
        let prepared = Prepared::of(inputs, &toleranced);
        for slot in toleranced
            .iter()
            .filter(|slot| paths.contains(&slot.path().as_str()))
        {
            let Some(Value::Amount(amount)) = inputs.get(*slot) else {
                continue;
            };
            let mut one = Draw::default();
            one.set(*slot, 0.8);
            let exact = quantity::Amount {
                si: engine::spread::drawn_si(amount, 0.8, slot.key.hard_si()),
                spread: quantity::Spread::Exact,
                ..*amount
            };
            let given = prepared.with(&[(*slot, Value::Amount(exact))]).unwrap();
            let drawn = prepared.drawn(&one).unwrap();
            assert_eq!(whole(&given), whole(&drawn), "{name}: {}", slot.path());
            compared += 1;
        }
    }
    assert!(compared > 10, "{compared}");
}

/// Two keys that cannot stand together are refused as on a sheet, and a figure outside its range too.
#[test]
fn what_a_sheet_refuses_is_refused() {
    let (_, inputs) = sheets()
        .iter()
        .find(|(name, _)| name.contains("demo/tarn/"))
        .unwrap();
    let prepared = Prepared::of(inputs, &[]);
    let slot = |path: &str| Slot {
        key: KeyId::of(path).unwrap(),
        entry: 0,
    };
    let given = |path: &str| match inputs.get(slot(path)) {
        Some(Value::Amount(amount)) => *amount,
        other => panic!("{path}: {other:?}"),
    };
    let bore = given("lever.bore");
    let huge = quantity::Amount { si: 0.5, ..bore };
    let refused = prepared
        .with(&[(slot("lever.bore"), Value::Amount(huge))])
        .unwrap_err();
    assert_eq!(refused[0].slug, "out-of-range");
    let small = quantity::Amount {
        si: 0.5 * bore.si,
        ..bore
    };
    let fine = prepared
        .with(&[(slot("lever.bore"), Value::Amount(small))])
        .unwrap();
    let cylinder = fine
        .lever
        .as_ref()
        .and_then(engine::car::Lever::cylinder)
        .unwrap();
    assert_eq!(cylinder.bore.m(), small.si);
}
