//! The search over sold sizes: a million cars, and what asking them one by one takes.

use std::hint::black_box;
use std::path::Path;

use engine::Conditions;
use engine::car::sold::{CALIPER_PISTONS, LEVER_BORES, LEVER_RATIOS, MASTER_BORES, Size};
use engine::car::{Car, Inputs, KeyId, Slot, Value};
use engine::sizing::{Figures, Limits, Picked, SizeChoice, Space};
use quantity::si::{Force, Length};
use quantity::{Amount, Dimension};

use crate::{read, shown, timed};

/// Cars that are asked one by one, for the ratio.
const ONE_BY_ONE: usize = 200;

fn slot(path: &str) -> Option<Slot> {
    Some(Slot {
        key: KeyId::of(path)?,
        entry: 0,
    })
}

fn choices(path: &str, values: Vec<Value>) -> Vec<SizeChoice> {
    let choice = |(place, value): (usize, Value)| SizeChoice {
        patch: slot(path).map(|slot| (slot, value)).into_iter().collect(),
        own: place == 0,
    };
    values.into_iter().enumerate().map(choice).collect()
}

fn length(size: &Size) -> Amount {
    Amount::exact(Dimension::Length, size.length().m())
}

fn lengths(path: &str, sizes: &[Size]) -> Vec<SizeChoice> {
    choices(
        path,
        sizes.iter().map(|size| Value::Amount(length(size))).collect(),
    )
}

fn ratios(path: &str, ratios: &[f64]) -> Vec<SizeChoice> {
    let value = |&ratio: &f64| Value::Amount(Amount::exact(Dimension::Ratio, ratio));
    choices(path, ratios.iter().map(value).collect())
}

fn pistons(inputs: &Inputs, path: &str, sizes: &[Size]) -> Vec<SizeChoice> {
    let count = match slot(path).and_then(|slot| inputs.get(slot)) {
        Some(Value::Amounts(now)) => now.len(),
        _ => 1,
    };
    let value = |size: &Size| Value::Amounts(vec![length(size); count]);
    choices(path, sizes.iter().map(value).collect())
}

/// A million cars and more: 16 bores, 5 ratios, 8 masters, 10 by 10 pistons, 4 by 4 pads.
pub(crate) fn search(top: &Path) {
    let Some((inputs, _)) = read(&top.join("demo/tarn/car.toml")) else {
        return;
    };
    let pads = [0.38, 0.42, 0.46, 0.50];
    let space = Space {
        inputs: &inputs,
        bores: lengths("lever.bore", LEVER_BORES),
        ratios: ratios("lever.ratio", LEVER_RATIOS),
        others: vec![
            lengths("master.bore", &MASTER_BORES[4..12]),
            pistons(&inputs, "front_brake.caliper.pistons", &CALIPER_PISTONS[5..15]),
            pistons(&inputs, "rear_brake.caliper.pistons", &CALIPER_PISTONS[..10]),
            ratios("front_brake.pad.friction", &pads),
            ratios("rear_brake.pad.friction", &pads),
        ],
    };
    let limits = Limits {
        hand: Force::from_n(250.0),
        travel: Length::from_m(0.15),
        foot: Force::from_n(500.0),
        pedal_travel: None,
        lead: 0.0,
        grips: vec![0.65, 0.95],
        fluid: None,
        turn: None,
    };
    let conditions = Conditions::default();
    let found = space.search(&limits, &conditions, &|_| {});
    let all = timed(10, || {
        black_box(space.search(&limits, &conditions, &|_| {}));
    });
    let mut number = 0_usize;
    let one = timed(ONE_BY_ONE, || {
        number = (number + 7919) % space.cars();
        black_box(alone(&space, number, &limits, &conditions));
    });
    println!(
        "size: {} cars ({} computed, {} left out by a bound, {} keep the limits, {} best): {} median, {} 99 %",
        space.cars(),
        found.computed,
        found.excluded,
        found.met,
        found.best.len(),
        shown(all.median_s),
        shown(all.late_s),
    );
    let cars = u32::try_from(space.cars()).map_or(f64::INFINITY, f64::from);
    println!(
        "size: a car by itself, from the sheet: {}; all of them so, on one core, over the search: {:.0}",
        shown(one.median_s),
        one.median_s * cars / all.median_s
    );
}

fn alone(space: &Space<'_>, mut number: usize, limits: &Limits, conditions: &Conditions) -> Option<Figures> {
    let mut place = |count: usize| {
        let place = number % count;
        number /= count;
        place
    };
    let picked = Picked {
        bore: place(space.bores.len()),
        ratio: place(space.ratios.len()),
        others: space.others.iter().map(|choices| place(choices.len())).collect(),
    };
    let mut inputs = space.inputs.clone();
    for (slot, value) in space.patch(&picked) {
        inputs.set(slot, value);
    }
    let car = Car::assemble(&inputs).ok()?.car;
    Some(Figures::of(&car, limits, conditions).ok()?.0)
}
