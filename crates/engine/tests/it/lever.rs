//! The lever's answer, put to the car again.

use engine::brake::Warmth;
use engine::car::{Car, Centre, Coupling, LeverKind, Outlets};
use engine::hydraulics::{Forces, Hydraulics, TravelEnd};
use engine::lever::{LeverBench, Pull, ToLock, WhatStops, other_layout};
use engine::loads::{Aboard, Laden};
use proptest::prelude::*;
use quantity::si::{Force, Pressure, Torque};

use crate::bench::Said::{Si, Word};
use crate::bench::{SPEED, ask, lever, plain, senses_load, separate, written};
use crate::random::cars;

/// Torque of both rear wheels' brakes at a hand force, the knee of a load-sensing valve as the locked axle has it.
fn torque(car: &Car, laden: &Laden, hand: Force, lock: &ToLock) -> Torque {
    let hydraulics = Hydraulics::of(car, Warmth::Warm);
    let hydraulics = match hydraulics.knee(lock.rear_load) {
        Some(knee) => hydraulics.with_knee(knee),
        None => hydraulics,
    };
    let answer = hydraulics.answer(
        laden,
        Forces {
            foot: Force::ZERO,
            hand,
        },
    );
    answer.wheels[2].torque + answer.wheels[3].torque
}

fn bench(car: &Car, laden: &Laden, grip: f64, hand: Option<Force>) -> Option<ToLock> {
    let hand = hand.or(car.lever.as_ref().map(|lever| lever.hand_pull))?;
    let pull = Pull {
        hand,
        grip,
        speed: SPEED,
    };
    Some(LeverBench::of(car, Warmth::Warm)?.answer(laden, pull).to_lock)
}

#[test]
fn the_hand_force_that_it_takes_makes_the_torque_needed() {
    let mut tried = 0;
    for (name, car) in written() {
        let couplings = [
            Coupling::Open,
            Coupling::Plates {
                preload: Torque::from_nm(60.0),
                bias: 0.2,
            },
            Coupling::Locked,
        ];
        for coupling in couplings {
            let mut car = car.clone();
            car.drivetrain.centre = Centre::Fixed(coupling);
            let laden = Laden::of(&car, Aboard::default());
            for grip in [0.12, 0.35, 0.65, 1.0] {
                let Some(lock) = bench(&car, &laden, grip, None) else {
                    continue;
                };
                let Some(hand) = lock.hand.filter(|_| lock.enough_travel != Some(false)) else {
                    continue;
                };
                let made = torque(&car, &laden, hand, &lock);
                let off = made / lock.torque_needed - 1.0;
                assert!(
                    off.abs() < 1e-9,
                    "{name} at {grip}: {made:?}, not {:?}",
                    lock.torque_needed
                );
                tried += 1;
                // And the verdict turns over just there.
                let at = |share: f64| bench(&car, &laden, grip, Some(hand * share)).unwrap();
                let (less, more) = (at(1.0 - 1e-7), at(1.0 + 1e-7));
                assert_eq!(less.outcome, WhatStops::None, "{name} at {grip}");
                assert!(!less.enough_force && more.enough_force, "{name} at {grip}");
                if lock.enough_travel == Some(true) {
                    assert_ne!(more.outcome, WhatStops::None, "{name} at {grip}");
                    assert!((more.in_hand - 1.0).abs() < 1e-6, "{name} at {grip}");
                }
            }
        }
    }
    assert!(tried > 60, "{tried}");
}

#[test]
fn the_travel_that_it_takes_is_the_travel_then() {
    let mut tried = 0;
    for (name, car) in written() {
        let laden = Laden::of(&car, Aboard::default());
        for grip in [0.12, 0.35, 0.65] {
            let Some(lock) = bench(&car, &laden, grip, None) else {
                continue;
            };
            let (Some(hand), Some(travel), Some(true)) = (lock.hand, lock.travel, lock.enough_travel) else {
                continue;
            };
            if senses_load(&car) {
                continue;
            }
            let answer = ask(&car, 0.0, hand.n()).lever.unwrap();
            assert!(
                (answer.travel.unwrap() / travel - 1.0).abs() < 1e-9,
                "{name} at {grip}"
            );
            assert!(
                (answer.own.unwrap() / lock.own.unwrap() - 1.0).abs() < 1e-9,
                "{name} at {grip}"
            );
            tried += 1;
        }
    }
    assert!(tried > 20, "{tried}");
}

/// Straight on with the rear axle stopped: grip of the rear and pull of the coupling brake the car.
#[test]
fn ground_forces_balance_with_the_rear_stopped() {
    for (name, car) in written() {
        let laden = Laden::of(&car, Aboard::default());
        for nm in [0.0, 80.0, 400.0, 1e4] {
            let mut car = car.clone();
            car.drivetrain.centre = Centre::Fixed(Coupling::Plates {
                preload: Torque::from_nm(nm),
                bias: 0.0,
            });
            car.drivetrain.turns_per_wheel_turn = Some(1.0);
            let Some(lock) = bench(&car, &laden, 0.6, None) else {
                continue;
            };
            let (front_m, rear_m) = (car.tyres.front_radius.m(), car.tyres.rear_radius.m());
            let loads = laden.axle_loads(lock.rate);
            assert_eq!(loads.rear, lock.rear_load);
            let pull_n = lock.of_which_coupling.nm() / front_m;
            let asked_n = 0.6 * loads.rear.n() + pull_n;
            assert!(
                (asked_n / (lock.rate * laden.weight_n()) - 1.0).abs() < 1e-12,
                "{name} with {nm}"
            );
            let own_nm = 0.6 * loads.rear.n() * rear_m + lock.of_which_coupling.nm();
            assert!(
                (own_nm / lock.torque_needed.nm() - 1.0).abs() < 1e-12,
                "{name} with {nm}"
            );
            assert!(
                pull_n <= 0.6 * loads.front.n() * (1.0 + 1e-12),
                "{name} with {nm}"
            );
        }
    }
}

#[test]
fn a_lever_that_runs_out_has_used_what_there_is() {
    for (room, stroke, limit) in [(0.06, 0.03, TravelEnd::Room), (0.5, 0.008, TravelEnd::Stroke)] {
        for keys in [lever(), separate()] {
            let car = plain()
                .with(&keys)
                .with(&[
                    ("lever.room", Si(room)),
                    ("lever.stroke", Si(stroke)),
                    ("lever.free_play", Si(0.004)),
                ])
                .car();
            let answer = ask(&car, 0.0, 2000.0).lever.unwrap();
            assert_eq!(answer.runs_out, Some(limit));
            let travel = if limit == TravelEnd::Room {
                room
            } else {
                stroke * 7.0 + 0.004
            };
            assert!((answer.travel.unwrap().m() - travel).abs() < 1e-12);
            // The pressure reached takes just the volume that is left of the stroke.
            let hydraulics = Hydraulics::of(&car, Warmth::Warm);
            let effort = hydraulics.effort(answer.own.unwrap()).unwrap();
            assert!((effort.travel.m() - travel).abs() < 1e-9, "{effort:?}");
        }
    }
}

#[test]
fn two_pistons_take_up_two_free_strokes_and_two_bores_share_the_force() {
    let with = |outlets| {
        let keys = [
            ("lever.outlets", Word(outlets)),
            ("lever.free_stroke", Si(1.5e-3)),
            ("lever.free_play", Si(0.0)),
        ];
        plain()
            .with(&lever())
            .with(&keys)
            .with(&[("routes.lever_to_rear_tee", Si(0.0))])
            .car()
    };
    let [one, tandem, abreast] = ["one", "tandem", "side-by-side"].map(with);
    let effort = |car: &Car| {
        Hydraulics::of(car, Warmth::Warm)
            .effort(Pressure::from_pa(40e5))
            .unwrap()
    };
    // Tandem: the same force, the same fluid in one bore, one free stroke more.
    assert_eq!(effort(&tandem).hand, effort(&one).hand);
    assert!((effort(&tandem).stroke.m() - effort(&one).stroke.m() - 1.5e-3).abs() < 1e-12);
    // Abreast: twice the force, half of the stroke but for the free stroke.
    assert!((effort(&abreast).hand / effort(&one).hand - 2.0).abs() < 1e-12);
    let working = |car: &Car| effort(car).stroke.m() - 1.5e-3;
    assert!((working(&one) / working(&abreast) - 2.0).abs() < 1e-9);
}

#[test]
fn the_other_layout_is_there_and_back() {
    for (name, car) in written() {
        let Some((layout, other)) = other_layout(&car) else {
            continue;
        };
        let kinds = |car: &Car| matches!(car.lever.as_ref().unwrap().kind, LeverKind::Inline(_));
        assert_eq!(layout, if kinds(&car) { "separate" } else { "inline" }, "{name}");
        assert_ne!(kinds(&other), kinds(&car), "{name}");
        let (back, again) = other_layout(&other).unwrap();
        assert_ne!(back, layout, "{name}");
        if car.lever.as_ref().unwrap().cylinder().unwrap().outlets != Outlets::One {
            continue; // there is no run to a tee behind two outlets
        }
        // The foot's rear run keeps its length by the one way and the other.
        let rear_m = |car: &Car| {
            let routes = &car.routes;
            if kinds(car) {
                routes.bulkhead_to_lever.then(routes.lever_to_rear_tee).length.m()
            } else {
                routes.bulkhead_to_rear_tee.length.m()
            }
        };
        assert!((rear_m(&again) - rear_m(&car)).abs() < 1e-12, "{name}");
    }
}

proptest! {
    #![proptest_config(crate::bench::cases())]

    #[test]
    fn the_hand_force_makes_the_torque(sheet in cars(), grip in 0.1..1.1) {
        let car = sheet.car();
        let laden = Laden::of(&car, Aboard::default());
        let Some(lock) = bench(&car, &laden, grip, None) else { return Ok(()) };
        if let Some(hand) = lock.hand.filter(|_| lock.enough_travel != Some(false)) {
            let made = torque(&car, &laden, hand, &lock);
            prop_assert!((made / lock.torque_needed - 1.0).abs() < 1e-9, "{made:?} {lock:?}");
        }
        // What there is, is what the driver's pull makes.
        let there_is = torque(&car, &laden, car.lever.as_ref().unwrap().hand_pull, &lock);
        prop_assert!((there_is.nm() - lock.torque_available.nm()).abs() <= 1e-9 * there_is.nm().max(1.0));
        prop_assert_eq!(lock.outcome == WhatStops::None, lock.in_hand < 1.0);
    }

    /// More grip takes more; more coupling takes more.
    #[test]
    fn what_it_takes_grows_with_grip_and_coupling(sheet in cars(), grip in 0.1..1.0, more in 1.01..1.2) {
        let mut car = sheet.car();
        if car.lever.is_none() {
            return Ok(());
        }
        let laden = Laden::of(&car, Aboard::default());
        car.drivetrain.turns_per_wheel_turn = Some(1.0);
        let needed = |coupling, grip: f64| {
            let mut car = car.clone();
            car.drivetrain.centre = Centre::Fixed(coupling);
            bench(&car, &laden, grip, None).unwrap().torque_needed.nm()
        };
        let plates = |nm| Coupling::Plates { preload: Torque::from_nm(nm), bias: 0.0 };
        prop_assert!(needed(plates(100.0), grip) > needed(plates(0.0), grip));
        prop_assert!(needed(plates(400.0), grip) >= needed(plates(100.0), grip));
        prop_assert!(needed(Coupling::Locked, grip) >= needed(plates(400.0), grip) * (1.0 - 1e-12));
        prop_assert!(needed(Coupling::Locked, grip * more) > needed(Coupling::Locked, grip));
    }
}
