//! The search over sold sizes against asking every car by itself, put together from a sheet with its values.

use engine::Conditions;
use engine::car::sold::{CALIPER_PISTONS, LEVER_BORES, LEVER_RATIOS, MASTER_BORES, Size};
use engine::car::{Car, Inputs, KeyId, LeverKind, Slot, Value};
use engine::heat::{By, HeatBench, Stage, StagePart, Stops};
use engine::lever::{LeverBench, WhatStops};
use engine::sizing::{
    Best, Breaks, Figures, FluidLimit, FoundRow, Limits, Picked, SizeChoice, Space, is_as_good, turned,
};
use engine::turn::TurnVerdict;
use proptest::prelude::*;
use quantity::si::{Duration, Force, Length, Speed, TemperatureDifference};
use quantity::{Amount, Dimension};

use crate::bench::{demo, near, written_inputs};

fn slot(path: &str) -> Slot {
    Slot {
        key: KeyId::of(path).unwrap(),
        entry: 0,
    }
}

fn one(path: &str, dimension: Dimension, si: f64) -> Vec<(Slot, Value)> {
    vec![(slot(path), Value::Amount(Amount::exact(dimension, si)))]
}

fn choices(of: impl IntoIterator<Item = Vec<(Slot, Value)>>) -> Vec<SizeChoice> {
    let choice = |(place, patch)| SizeChoice {
        patch,
        own: place == 0,
    };
    of.into_iter().enumerate().map(choice).collect()
}

fn lengths(path: &str, sizes: &[Size]) -> Vec<SizeChoice> {
    choices(
        sizes
            .iter()
            .map(|size| one(path, Dimension::Length, size.length().m())),
    )
}

/// Pistons in number as the car has them, pads, master, and the knob of the valve where there is one.
fn others(car: &Car, inputs: &Inputs, pick: &[usize]) -> Vec<Vec<SizeChoice>> {
    let mut others = Vec::new();
    let some = |sizes: &'static [Size], at: usize, count: usize| {
        let begin = at % (sizes.len() - count);
        &sizes[begin..begin + count]
    };
    if matches!(car.master, engine::car::Master::Tandem { .. }) {
        others.push(lengths("master.bore", some(MASTER_BORES, pick[0], 3)));
    }
    for (path, at) in [
        ("front_brake.caliper.pistons", pick[1]),
        ("rear_brake.caliper.pistons", pick[2]),
    ] {
        if let Some(Value::Amounts(now)) = inputs.get(slot(path)) {
            others.push(choices(some(CALIPER_PISTONS, at, 2).iter().map(|size| {
                let all = vec![Amount::exact(Dimension::Length, size.length().m()); now.len()];
                vec![(slot(path), Value::Amounts(all))]
            })));
        }
    }
    for path in ["front_brake.pad.friction", "rear_brake.pad.friction"] {
        if inputs.get(slot(path)).is_some() {
            others.push(choices(
                [0.36, 0.44].map(|friction| one(path, Dimension::Ratio, friction)),
            ));
        }
    }
    others
}

/// Everything, one by one: what the search has to find.
fn brute(space: &Space<'_>, limits: &Limits, conditions: &Conditions) -> (usize, Vec<FoundRow>) {
    let (mut best, mut met) = (Best::default(), 0);
    let mut others = vec![0; space.others.len()];
    loop {
        for ratio in 0..space.ratios.len() {
            for bore in 0..space.bores.len() {
                let picked = Picked {
                    others: others.clone(),
                    ratio,
                    bore,
                };
                if let Some(row) = alone(space, picked, limits, conditions) {
                    met += 1;
                    best.take(row);
                }
            }
        }
        let Some(place) = (0..others.len()).find(|&place| others[place] + 1 < space.others[place].len())
        else {
            break;
        };
        others[place] += 1;
        others[..place].fill(0);
    }
    (met, best.into_rows())
}

/// One car by itself; `None` where it breaks a limit. Hand and travel are asked as the question of the lever asks them.
fn alone(space: &Space<'_>, picked: Picked, limits: &Limits, conditions: &Conditions) -> Option<FoundRow> {
    let mut inputs = space.inputs.clone();
    for (slot, value) in space.patch(&picked) {
        inputs.set(slot, value);
    }
    let car = Car::assemble(&inputs).ok()?.car;
    let (figures, breaks) = Figures::of(&car, limits, conditions).ok()?;
    let grip = conditions.grip_of(&car)?;
    let bench = LeverBench::of(&car, conditions.warmth)?;
    let answer = bench.answer(&conditions.laden(&car), conditions.pull_at(&car, grip));
    let all = || core::iter::once(&answer.to_lock).chain(answer.also.iter().map(|(_, lock)| lock));
    let hand = all().filter_map(|lock| lock.hand).fold(Force::ZERO, Force::max);
    let travel = all()
        .filter_map(|lock| lock.travel)
        .fold(Length::ZERO, Length::max);
    assert_eq!((figures.hand, figures.travel), (hand, travel), "{picked:?}");
    let does_it = all().all(|lock| lock.enough_force && lock.enough_travel == Some(true));
    assert_eq!(
        does_it && travel <= limits.travel,
        !breaks.contains(&Breaks::Hand) && !breaks.contains(&Breaks::Travel)
    );
    assert!(all().all(|lock| lock.outcome != WhatStops::AllFour));
    let changes = changes(space, &picked);
    breaks.is_empty().then_some(FoundRow {
        picked,
        changes,
        figures,
    })
}

/// How many parts are other than the car's own.
fn changes(space: &Space<'_>, picked: &Picked) -> usize {
    let changed = |choices: &[SizeChoice], place: usize| usize::from(!choices[place].own);
    let others = space.others.iter().zip(&picked.others);
    others
        .map(|(choices, &place)| changed(choices, place))
        .sum::<usize>()
        + changed(&space.ratios, picked.ratio)
        + changed(&space.bores, picked.bore)
}

fn limits(hand_n: f64, travel_m: f64, foot_n: f64, lead: f64) -> Limits {
    Limits {
        hand: Force::from_n(hand_n),
        travel: Length::from_m(travel_m),
        foot: Force::from_n(foot_n),
        pedal_travel: None,
        lead,
        grips: vec![0.4, 0.65, 0.95],
        fluid: None,
        turn: None,
    }
}

/// Some 400 cars a case, four cases; `SIZING_CARS=20000` looks at so many.
fn cases() -> ProptestConfig {
    let cars: u32 = std::env::var("SIZING_CARS")
        .ok()
        .and_then(|cars| cars.parse().ok())
        .unwrap_or(1600);
    ProptestConfig {
        cases: cars.div_ceil(400),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn the_best_are_those_of_asking_every_car(
        which in 0_usize..64,
        pick in proptest::collection::vec(0_usize..64, 3),
        bore in 0_usize..12,
        hand_n in 80.0..400.0_f64,
        travel_m in 0.06..0.25_f64,
        foot_n in 150.0..900.0_f64,
        lead in -0.3..0.2_f64,
    ) {
        let conditions = Conditions {
            hand: Some(Force::from_n(hand_n)),
            ..Conditions::default()
        };
        let cars: Vec<(String, Inputs, Car)> = written_inputs()
            .into_iter()
            .filter_map(|(name, inputs)| {
                let car = Car::assemble(&inputs).ok()?.car;
                let kind = &car.lever.as_ref()?.kind;
                (!matches!(kind, LeverKind::Cable(_)) && conditions.grip_of(&car).is_some())
                    .then_some((name, inputs, car))
            })
            .collect();
        let (name, inputs, car) = &cars[which % cars.len()];
        let space = Space {
            inputs,
            bores: lengths("lever.bore", &LEVER_BORES[bore..bore + 4]),
            ratios: choices(LEVER_RATIOS[1..4].iter().map(|&ratio| one("lever.ratio", Dimension::Ratio, ratio))),
            others: others(car, inputs, &pick),
        };
        let limits = limits(hand_n, travel_m, foot_n, lead);
        let found = space.search(&limits, &conditions, &|_| {});
        prop_assert_eq!(found.computed + found.excluded, space.cars(), "{}", name);
        let (met, best) = brute(&space, &limits, &conditions);
        prop_assert_eq!(found.met, met, "{}", name);
        prop_assert_eq!(found.best.into_rows(), best, "{}", name);
        let nearest = space.nearest(&limits, &conditions);
        if met > 0 {
            prop_assert!(nearest.is_some_and(|miss| miss.off_by <= 0.0 && miss.breaks.is_empty()));
        }
    }
}

/// The demonstration's car with every bore and ratio: by hand, the pull is pressure by bore over ratio and efficiency, and
/// the row of one ratio keeps the limits between a least and a most bore.
#[test]
fn a_row_of_bores_keeps_the_limits_between_two_of_them() {
    let (assembled, inputs) = demo("tarn-let-go");
    let conditions = Conditions {
        hand: Some(Force::from_n(220.0)),
        ..Conditions::default()
    };
    let space = Space {
        inputs: &inputs,
        bores: lengths("lever.bore", LEVER_BORES),
        ratios: choices([one("lever.ratio", Dimension::Ratio, 7.0)]),
        others: Vec::new(),
    };
    let limits = limits(220.0, 0.2, 1e4, -1.0);
    let found = space.search(&limits, &conditions, &|_| {});
    let efficiency = assembled
        .car
        .lever
        .as_ref()
        .unwrap()
        .cylinder()
        .unwrap()
        .efficiency;
    for row in found.best.clone().into_rows() {
        let bore_m = LEVER_BORES[row.picked.bore].length().m();
        let area_m2 = core::f64::consts::PI / 4.0 * bore_m * bore_m;
        let by_hand = row.figures.pressure.pa() * area_m2 / (7.0 * efficiency);
        near(row.figures.hand.n(), by_hand, 1e-9);
    }
    let kept: Vec<usize> = (0..LEVER_BORES.len())
        .filter(|&bore| {
            let picked = Picked {
                others: Vec::new(),
                ratio: 0,
                bore,
            };
            alone(&space, picked, &limits, &conditions).is_some()
        })
        .collect();
    assert_eq!(kept.len(), found.met);
    assert!(kept.windows(2).all(|pair| pair[1] == pair[0] + 1), "{kept:?}");
    assert!(found.met > 0 && found.met < LEVER_BORES.len(), "{kept:?}");
    assert_eq!(
        found.breaking(Breaks::Hand) + found.breaking(Breaks::Travel) + found.met,
        LEVER_BORES.len()
    );
}

/// Every car of a space that keeps the limits, each with its car.
fn all_that_keep(space: &Space<'_>, limits: &Limits, conditions: &Conditions) -> Vec<(FoundRow, Car)> {
    let mut kept = Vec::new();
    for others in 0..space.others.iter().map(Vec::len).product::<usize>() {
        let mut left = others;
        let others: Vec<usize> = space
            .others
            .iter()
            .map(|choices| {
                let place = left % choices.len();
                left /= choices.len();
                place
            })
            .collect();
        for (ratio, bore) in
            (0..space.ratios.len()).flat_map(|ratio| (0..space.bores.len()).map(move |bore| (ratio, bore)))
        {
            let picked = Picked {
                others: others.clone(),
                ratio,
                bore,
            };
            let mut inputs = space.inputs.clone();
            for (slot, value) in space.patch(&picked) {
                inputs.set(slot, value);
            }
            let car = Car::assemble(&inputs).unwrap().car;
            let Ok((figures, breaks)) = Figures::of(&car, limits, conditions) else {
                continue;
            };
            if breaks.is_empty() {
                let changes = changes(space, &picked);
                let row = FoundRow {
                    picked,
                    changes,
                    figures,
                };
                kept.push((row, car));
            }
        }
    }
    kept
}

fn best_of<'r>(rows: impl Iterator<Item = &'r FoundRow>) -> Vec<FoundRow> {
    let mut best = Best::default();
    rows.for_each(|row| best.take(row.clone()));
    best.into_rows()
}

/// Pads decide how the heat is shared: of some the fluid stays cool enough, of others not, whatever the lever.
#[test]
fn what_comes_too_near_to_boiling_is_left_out_with_every_lever() {
    let (_, inputs) = demo("tarn-let-go");
    let conditions = Conditions::default();
    let pads = [0.30, 0.38, 0.50].map(|friction| one("front_brake.pad.friction", Dimension::Ratio, friction));
    let space = Space {
        inputs: &inputs,
        bores: lengths("lever.bore", &LEVER_BORES[..4]),
        ratios: choices([one("lever.ratio", Dimension::Ratio, 7.0)]),
        others: vec![choices(pads)],
    };
    let stops = Stops {
        from: Speed::from_m_s(30.0),
        to: Speed::from_m_s(12.0),
        rate: 0.5,
        every: Duration::from_s(15.0),
        repeat: 10,
        slope: 0.0,
        by: By::Pedal,
    };
    let stage = Stage {
        name: "ten stops".into(),
        about: "".into(),
        parts: vec![StagePart::Stops(stops)],
    };
    let mut limits = limits(400.0, 0.3, 1e4, -1.0);
    let all = all_that_keep(&space, &limits, &conditions);
    let left = |car: &Car| {
        let heat = HeatBench::of(car, &conditions).drive(&stage).unwrap();
        heat.front.to_wet.dk().min(heat.rear.to_wet.dk())
    };
    let margins: Vec<f64> = all.iter().map(|(_, car)| left(car)).collect();
    // Between the least and the most.
    let (least, most) = margins
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), &margin| {
            (least.min(margin), most.max(margin))
        });
    let border = f64::midpoint(least, most);
    let cool = |margin: f64| margin >= border;
    let kept = all.iter().zip(&margins).filter(|(_, margin)| cool(**margin));
    let kept: Vec<&FoundRow> = kept.map(|((row, _), _)| row).collect();
    assert!(
        most - least > 1.0 && !kept.is_empty() && kept.len() < all.len(),
        "{margins:?}"
    );
    limits.fluid = Some(FluidLimit {
        stage: stage.clone(),
        least: TemperatureDifference::from_dk(border),
    });
    let found = space.search(&limits, &conditions, &|_| ());
    assert_eq!(
        (found.met, found.breaking(Breaks::Fluid)),
        (kept.len(), all.len() - kept.len())
    );
    assert_eq!(found.best.into_rows(), best_of(kept.into_iter()));
    for ((row, car), margin) in all.iter().zip(&margins) {
        let (_, breaks) = Figures::of(car, &limits, &conditions).unwrap();
        assert_eq!(breaks.contains(&Breaks::Fluid), !cool(*margin), "{row:?}");
    }
    // Where all are too hot, the one that is least so is the nearest.
    limits.fluid = Some(FluidLimit {
        stage,
        least: TemperatureDifference::from_dk(most + 25.0),
    });
    let miss = space.nearest(&limits, &conditions).unwrap();
    near(miss.off_by, 0.25, 1e-9);
    assert_eq!(miss.breaks, [Breaks::Fluid]);
}

/// Whatever does not come round is left out, and what it beat is looked at again: as if all had been driven. One car comes
/// round with every lever that keeps the limits, the other with none.
#[test]
fn what_stays_has_come_round_as_if_every_car_had_been_driven() {
    for (name, pull_n, hand_n, comes_round) in
        [("tarn", 250.0, 800.0, true), ("tarn-let-go", 160.0, 160.0, false)]
    {
        let (_, inputs) = demo(name);
        let conditions = Conditions {
            hand: Some(Force::from_n(pull_n)),
            ..Conditions::default()
        };
        let space = Space {
            inputs: &inputs,
            bores: lengths("lever.bore", &LEVER_BORES[..6]),
            ratios: choices([5.0, 7.0, 9.0].map(|ratio| one("lever.ratio", Dimension::Ratio, ratio))),
            others: Vec::new(),
        };
        let mut limits = limits(hand_n, 0.4, 1e4, -1.0);
        let all = all_that_keep(&space, &limits, &conditions);
        let cars: Vec<Car> = all.iter().map(|(_, car)| car.clone()).collect();
        let verdicts = turned(&cars, &conditions);
        let wanted = TurnVerdict::ComesRoundLate;
        let round = all.iter().zip(&verdicts);
        let round = round.filter(|(_, verdict)| is_as_good(**verdict, wanted));
        let round: Vec<&FoundRow> = round.map(|((row, _), _)| row).collect();
        assert!(!all.is_empty() && round.is_empty() != comes_round, "{verdicts:?}");
        limits.turn = Some(wanted);
        let found = space.search(&limits, &conditions, &|_| ());
        assert_eq!(
            found.best.clone().into_rows(),
            best_of(round.iter().copied()),
            "{name}"
        );
        assert_eq!(found.undriven, 0);
        assert!(found.driven <= all.len() && found.breaking(Breaks::Turn) <= all.len() - round.len());
        assert_eq!(found.met + found.breaking(Breaks::Turn), all.len());
    }
}

#[test]
fn what_comes_round_late_is_less_than_what_comes_round() {
    use TurnVerdict::{ComesRound, ComesRoundLate, Ploughs, RotatesLittle, Spins};
    let good = |wanted| {
        TurnVerdict::ALL
            .into_iter()
            .filter(|&verdict| is_as_good(Some(verdict), wanted))
            .collect::<Vec<_>>()
    };
    assert_eq!(good(ComesRound), [ComesRound]);
    assert_eq!(good(ComesRoundLate), [ComesRound, ComesRoundLate]);
    for never in [Ploughs, RotatesLittle, Spins] {
        assert_eq!(good(never), [ComesRound, ComesRoundLate], "no less is ever good");
    }
    assert!(!is_as_good(None, ComesRoundLate));
}
