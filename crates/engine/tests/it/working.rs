//! Every line of a working gives what the physics gave, on random cars, on the level and on slopes: the equation is the same one, so
//! what is held here is that it stands with the right figures.

use engine::Conditions;
use engine::balance::Wish;
use engine::heat::HeatBench;
use engine::hold::HoldBench;
use engine::loads::{Facing, Grade};
use engine::working::{FIGURES, WorkingBench};
use proptest::prelude::*;

use crate::bench::written;
use crate::random::cars;

/// How far a line may be off where a search stands behind its figure, and where none does.
const SEARCHED: f64 = 1e-9;
const WRITTEN: f64 = 1e-15;

/// Lines that need what a search found: a foot or a rate at which something just locks.
const BEHIND_A_SEARCH: [&str; 3] = ["front_first_by", "braking_rate", "foot_force_n"];

fn off(bench: &WorkingBench<'_>) -> Vec<String> {
    let mut off = Vec::new();
    for (figure, _) in FIGURES {
        let Some(working) = bench.working(figure) else {
            continue;
        };
        let within = if BEHIND_A_SEARCH.contains(figure) {
            SEARCHED
        } else {
            WRITTEN
        };
        for step in &working.steps {
            let (shown, said) = (step.formula.value(), step.result.value);
            let scale = step
                .formula
                .symbols()
                .iter()
                .filter(|symbol| symbol.unit == step.result.unit)
                .map(|symbol| symbol.value.abs())
                .fold(said.abs(), f64::max);
            if (shown - said).abs() > within * scale {
                off.push(format!(
                    "{figure}: {} = {} is {shown}, not {said}",
                    step.result.sign,
                    step.formula.in_symbols()
                ));
            }
        }
    }
    off
}

proptest! {
    #![proptest_config(crate::bench::cases())]

    #[test]
    fn each_line_gives_what_the_physics_gave(
        sheet in cars(),
        grip in 0.15..1.1_f64,
        hand in 60.0..400.0_f64,
        slope in 0.0..0.25_f64,
        wanted in 0.0..0.3_f64,
    ) {
        let car = sheet.assemble().unwrap().car;
        let conditions = Conditions {
            grip: Some(grip),
            hand: Some(quantity::si::Force::from_n(hand)),
            grade: Grade { slope, facing: if slope > 0.12 { Facing::Down } else { Facing::Up } },
            ..Conditions::default()
        };
        let pull = conditions.pull_at(&car, grip);
        let bench = WorkingBench::of(&car, conditions.laden(&car), conditions.warmth, pull, Wish::front_first(wanted));
        let found = off(&bench);
        prop_assert!(found.is_empty(), "{:#?}", found);
    }
}

/// The same over a stage and parked, on every written car.
#[test]
fn lines_of_heat_and_hold_give_what_was_followed() {
    let stage = sheet::built_in_stage("twisty gravel").unwrap();
    let mut explained = 0;
    for (name, car) in written() {
        let conditions = Conditions {
            surface: "hard gravel".into(),
            grip: Some(0.65),
            grade: Grade {
                slope: 0.10,
                facing: Facing::Up,
            },
            ..Conditions::default()
        };
        let pull = conditions.pull_at(&car, 0.65);
        let bench = WorkingBench::of(
            &car,
            conditions.laden(&car),
            conditions.warmth,
            pull,
            Wish::front_first(0.05),
        )
        .over(HeatBench::of(&car, &conditions), stage.clone())
        .parked(HoldBench::of(&car, &conditions));
        let found = off(&bench);
        assert!(found.is_empty(), "{name}: {found:#?}");
        explained += engine::working::OF_STAGE_OR_SLOPE
            .iter()
            .filter(|figure| bench.working(figure).is_some())
            .count();
    }
    assert!(explained > 30, "only {explained} figures of heat and hold");
}
