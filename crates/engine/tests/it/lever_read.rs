//! How the lever reads a centre coupling that the sheet leaves open, and how long its pull takes.

use engine::Conditions;
use engine::brake::Warmth;
use engine::car::{Car, Coupling, Driven};
use engine::drivetrain::{Beyond, TurnsAt};
use engine::headline::Headlines;
use engine::lever::{LeverAnswer, LeverBench, Pull, WhatStops};
use engine::loads::{Aboard, Laden};
use engine::ranges::Sampling;
use engine::turn::PRESSURE_LAG_S;
use quantity::Dimension;
use quantity::si::{Force, Torque};

use crate::bench::Said::{Rows, Si, Word};
use crate::bench::{SPEED, Said, Sheet, lever, plain};

const RPM: f64 = core::f64::consts::TAU / 60.0;

fn curve(points: &[(f64, f64)]) -> Said {
    let row = |&(rpm, nm): &(f64, f64)| vec![(Dimension::Rotation, rpm * RPM), (Dimension::Torque, nm)];
    Rows(points.iter().map(row).collect())
}

/// All wheels driven through a viscous coupling: 80 N·m at 100 rpm, 160 N·m at 400 rpm, half the slope on logarithmic
/// scales. Wheels of 0.31 m turn 427.8 rpm at 50 km/h.
fn viscous(front_share: f64) -> Sheet {
    plain().with(&lever()).with(&[
        ("drivetrain.driven", Word("all")),
        ("drivetrain.centre.kind", Word("viscous")),
        (
            "drivetrain.centre.torque_at",
            curve(&[(0.0, 0.0), (100.0, 80.0), (400.0, 160.0)]),
        ),
        ("drivetrain.front_share", Si(front_share)),
        ("drivetrain.final_drive", Si(4.0)),
    ])
}

fn answer(car: &Car) -> LeverAnswer {
    let pull = Pull {
        hand: car.lever.as_ref().unwrap().hand_pull,
        grip: 1.0,
        speed: SPEED,
    };
    LeverBench::of(car, Warmth::Warm)
        .unwrap()
        .answer(&Laden::of(car, Aboard::default()), pull)
}

/// On tarmac of grip 1 no reading drags the front to a stop, so each shows all that it carries. Propshaft 4, front output
/// 4 × 0.6, rear output 4 × 0.4, wheels 1; flat 160 N·m each, going on 160 √(n · 427.8/400).
#[test]
fn every_place_and_both_ways_on_are_read_and_the_worst_stands_first() {
    let found = answer(&viscous(0.4).car());
    let wheels_rpm = 50.0 / 3.6 / 0.31 / RPM;
    let mut wanted: Vec<(TurnsAt, Beyond, f64)> = Vec::new();
    for (place, turns) in [
        (TurnsAt::Propshaft, 4.0),
        (TurnsAt::FrontOutput, 2.4),
        (TurnsAt::RearOutput, 1.6),
        (TurnsAt::Wheels, 1.0),
    ] {
        wanted.push((place, Beyond::HeldFlat, turns * 160.0));
        let on = 160.0 * (turns * wheels_rpm / 400.0).sqrt();
        wanted.push((place, Beyond::GoesOn, turns * on));
    }
    wanted.sort_by(|one, other| other.2.total_cmp(&one.2));
    let read: Vec<_> = core::iter::once((found.to_lock.reading.unwrap(), found.to_lock))
        .chain(found.also.iter().copied())
        .collect();
    assert_eq!(read.len(), 8);
    for ((reading, lock), (place, beyond, carried)) in read.iter().zip(&wanted) {
        assert_eq!((reading.turns_at, reading.beyond), (*place, *beyond));
        let off = lock.of_which_coupling.nm() / carried - 1.0;
        assert!(
            off.abs() < 1e-9,
            "{reading:?}: {:?}, by hand {carried}",
            lock.of_which_coupling
        );
        assert_eq!(lock.reading, Some(*reading));
    }
    for pair in read.windows(2) {
        assert!(pair[0].1.in_hand < pair[1].1.in_hand);
    }
    // Cold is read as warm is.
    assert_eq!(found.cold.reading, found.to_lock.reading);
    assert_eq!(found.cold.of_which_coupling, found.to_lock.of_which_coupling);
}

#[test]
fn places_that_are_none_or_the_same_are_read_once() {
    let places = |share: f64| -> Vec<TurnsAt> {
        let mut places = engine::drivetrain::places(&viscous(share).car());
        places.sort_by_key(|place| *place as u8);
        places
    };
    let (shaft, front, rear, wheels) = (
        TurnsAt::Propshaft,
        TurnsAt::FrontOutput,
        TurnsAt::RearOutput,
        TurnsAt::Wheels,
    );
    assert_eq!(places(0.4), [shaft, front, rear, wheels]);
    assert_eq!(places(0.5), [shaft, front, wheels]);
    assert_eq!(places(0.0), [shaft, wheels]);
    assert_eq!(places(1.0), [shaft, wheels]);
    let given = viscous(0.4).with(&[("drivetrain.centre.turns_per_wheel_turn", Si(2.0))]);
    assert_eq!(engine::drivetrain::places(&given.car()), [TurnsAt::Given]);
}

fn headlines(sheet: &Sheet, hand: f64) -> Headlines {
    let assembled = sheet.assemble().unwrap();
    let conditions = Conditions {
        surface: "dry tarmac".into(),
        speed: SPEED,
        hand: Some(Force::from_n(hand)),
        ..Conditions::default()
    };
    let sampling = Sampling { draws: 512, seed: 7 };
    Headlines::of(
        &assembled.car,
        &sheet.inputs(),
        &assembled.toleranced,
        &conditions,
        sampling,
    )
    .unwrap()
}

/// A pull that would do behind the final drive and does not on the propshaft: within the deciding reading no car turns, over
/// all readings some do; and a pull for the worst of them turns all.
#[test]
fn draws_know_of_the_reading() {
    let sheet = viscous(0.4);
    let car = sheet.car();
    let found = answer(&car);
    let hand_of = |lock: &engine::lever::ToLock| lock.hand.unwrap().n();
    let (worst, best) = (&found.to_lock, &found.also.last().unwrap().1);
    let between = 0.5 * (hand_of(worst) + hand_of(best));
    let found = headlines(&sheet, between);
    assert_eq!(found.middle.outcome, Some(WhatStops::None));
    let (at_worst, over_all) = (
        found.chance_rear_stops_at_worst().unwrap(),
        found.chance_rear_stops().unwrap(),
    );
    assert!(at_worst < 0.1, "{at_worst}");
    assert!((0.3..0.9).contains(&over_all), "{over_all}");
    // A share of the readings, each as likely as another: four in eight carry less than half way.
    let plenty = headlines(&sheet, 3.0 * hand_of(worst));
    assert!(plenty.chance_rear_stops_at_worst().unwrap() > 0.99);
    assert!(plenty.chance_rear_stops().unwrap() >= plenty.chance_rear_stops_at_worst().unwrap());
}

/// A curve without a tolerance is drawn with ± 30 % on all its torques together; one that has its own is left alone.
#[test]
fn a_curve_without_tolerance_is_drawn_with_thirty_per_cent() {
    let given = viscous(0.4).with(&[("drivetrain.centre.turns_per_wheel_turn", Si(1.0))]);
    let assembled = given.assemble().unwrap();
    let slot = assembled
        .toleranced
        .iter()
        .find(|slot| slot.path() == "drivetrain.centre.torque_at")
        .copied()
        .unwrap();
    let last = |share: f64| {
        let mut draw = engine::car::Draw::default();
        draw.set(slot, share);
        let car = Car::drawn(&given.inputs(), &draw).unwrap();
        match car.drivetrain.centre {
            engine::car::Centre::Fixed(Coupling::Viscous(curve)) => curve.points[2].1,
            other => panic!("{other:?}"),
        }
    };
    // 95 % of a normal distribution within ± 30 %: 2.5 % lie below 0.7.
    assert!((last(0.025) / Torque::from_nm(0.7 * 160.0) - 1.0).abs() < 1e-9);
    assert!((last(0.5) / Torque::from_nm(160.0) - 1.0).abs() < 1e-9);
    assert!((last(0.975) / Torque::from_nm(1.3 * 160.0) - 1.0).abs() < 1e-9);
}

/// On ground that gives nothing only inertia stops the rear: the brakes' torque, its pressure rising in 0.1 s and 50 ms
/// behind, summed until it has taken `J ω`. J is both wheels and, where the rear is driven, the gearbox side by the final
/// drive squared; with the clutch up the engine by gear and final drive, both squared, and its drag helps.
#[test]
fn time_to_lock_meets_the_sum_by_hand_where_the_ground_gives_nothing() {
    let mut car = plain()
        .with(&lever())
        .with(&[
            ("drivetrain.rear_diff.kind", Word("open")),
            ("drivetrain.final_drive", Si(4.3)),
            ("drivetrain.gear", Si(1.7)),
            ("drivetrain.input_inertia", Si(0.07)),
            ("drivetrain.engine_inertia", Si(0.16)),
        ])
        .car();
    for driven in [Driven::Rear, Driven::Front] {
        car.drivetrain.driven = driven;
        car.drivetrain.front_share = if driven == Driven::Front { 1.0 } else { 0.0 };
        let laden = Laden::of(&car, Aboard::default());
        let pull = Pull {
            hand: Force::from_n(120.0),
            grip: 1e-4,
            speed: SPEED,
        };
        let surface = car.surface("hard gravel").unwrap().clone();
        let bench = LeverBench::of(&car, Warmth::Warm).unwrap();
        let found = bench.timed(&laden, pull, &surface).to_lock;
        // Torque over pressure, from two answers of the still car.
        let wheel = engine::hydraulics::Hydraulics::of(&car, Warmth::Warm).wheels[2];
        let (gain, threshold) = (wheel.gain_nm_pa, wheel.threshold.pa());
        let full = found.torque_available.nm() / (2.0 * gain) + threshold;
        let sum = |inertia: f64, drag_nm: f64| {
            let (mut t, step, mut taken) = (0.0, 1e-6, 0.0);
            let mut pressure = 0.0;
            // A wheel counts as standing from 0.05 m/s on.
            let wanted = inertia * (SPEED.m_s() - 0.05) / 0.31;
            while taken < wanted {
                let asked = full * f64::min(t / 0.1, 1.0);
                pressure += step * (asked - pressure) / PRESSURE_LAG_S;
                taken += step * (2.0 * gain * f64::max(pressure - threshold, 0.0) + drag_nm);
                t += step;
            }
            t
        };
        let wheels = 2.0 * car.tyres.wheel_inertia.kg_m2();
        let by_hand = match driven {
            Driven::Rear => sum(wheels + 0.07 * 4.3 * 4.3, 0.0),
            _ => sum(wheels, 0.0),
        };
        let time = found.time_to_lock.unwrap().s();
        assert!(
            (time - by_hand).abs() < 1e-3,
            "{driven:?}: {time} s, by hand {by_hand} s"
        );
        let up = bench.time_with_clutch_up(&laden, pull, &surface, &found);
        if driven == Driven::Rear {
            let inertia = wheels + (0.07 + 0.16 * 1.7 * 1.7) * 4.3 * 4.3;
            let by_hand = sum(inertia, 30.0 * 1.7 * 4.3);
            let up = up.unwrap().s();
            assert!((up - by_hand).abs() < 1e-3, "{up} s, by hand {by_hand} s");
        } else {
            assert_eq!(up, None);
        }
    }
}

/// Just enough on paper, and the car stands before its rear wheels do: no time, and late.
#[test]
fn a_car_that_stands_first_has_no_time_and_is_late() {
    let car = plain().with(&lever()).car();
    let laden = Laden::of(&car, Aboard::default());
    let surface = car.surface("hard gravel").unwrap().clone();
    let bench = LeverBench::of(&car, Warmth::Warm).unwrap();
    let pull = |hand: Force, speed| Pull {
        hand,
        grip: surface.peak,
        speed,
    };
    let needed = bench
        .answer(&laden, pull(Force::from_n(200.0), SPEED))
        .to_lock
        .hand
        .unwrap();
    let slow = quantity::si::Speed::from_m_s(2.0);
    let barely = bench.timed(&laden, pull(needed * 1.001, slow), &surface).to_lock;
    assert_eq!(barely.outcome, WhatStops::Rear);
    assert!(barely.stands_first && barely.time_to_lock.is_none());
    let much = bench.timed(&laden, pull(needed * 2.0, SPEED), &surface).to_lock;
    assert!(!much.stands_first && !much.is_late());
    assert!(
        (0.05..0.6).contains(&much.time_to_lock.unwrap().s()),
        "{:?}",
        much.time_to_lock
    );
    // With plenty in hand on paper it is late all the same where it stands first.
    let mut stands = much;
    stands.stands_first = true;
    assert!(stands.is_late());
}

/// The borders of a drag, both sides; the working says the same two figures.
#[test]
fn what_a_drag_is_called() {
    use engine::thresholds::{DragGrade, SPOILT_ABOVE, TURNS_BELOW};
    let called = |drag: f64| DragGrade::of(Some(drag));
    assert_eq!(
        (called(0.399), called(0.4)),
        (DragGrade::Turns, DragGrade::Partly)
    );
    assert_eq!(
        (called(0.65), called(0.651)),
        (DragGrade::Partly, DragGrade::Spoilt)
    );
    assert_eq!(
        (called(0.999), called(1.0)),
        (DragGrade::Spoilt, DragGrade::AllFour)
    );
    assert_eq!(DragGrade::of(None), DragGrade::AllFour);
    assert_eq!((TURNS_BELOW, SPOILT_ABOVE), (0.4, 0.65), "the working's words");
}
