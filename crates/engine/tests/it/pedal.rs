//! The pedal's two lines: preload without assistance, jump-in and gain with it; and what is fitted to readings.

use engine::car::{Assembled, Booster, Car, circle};
use engine::foot::FootLaw;
use quantity::Dimension;
use quantity::si::{Force, Length, Pressure};

use engine::balance::{Balance, First, Lock};
use engine::brake::Warmth;
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Laden};

use crate::bench::{SPEED, Said, Sheet, plain};
use Said::{Rows, Si, Word};

const BORE_M: f64 = 0.0222;

#[track_caller]
fn close(one: f64, other: f64) {
    assert!(
        (one - other).abs() <= 1e-8 * other.abs().max(1e-9),
        "{one} and {other}"
    );
}

fn lock_at(car: &Car, grip: f64) -> Lock {
    let laden = Laden::of(car, Aboard::default());
    Balance::of(car, Hydraulics::of(car, Warmth::Warm), laden, SPEED).lock(grip)
}

fn per_rod_pa_n() -> f64 {
    1.0 / circle(Length::from_m(BORE_M)).m2()
}

fn pressure_pa(car: &Car, foot_n: f64) -> f64 {
    let law = FootLaw::of(car);
    law.pressures(law.push_rod(Force::from_n(foot_n)))[0].pa()
}

fn boosted() -> Sheet {
    plain().with(&[
        ("pedal.efficiency", Si(0.90)),
        ("pedal.booster.gain", Si(3.0)),
        ("pedal.booster.run_out", Si(60e5)),
        ("pedal.booster.jump_in", Si(8e5)),
    ])
}

fn readings(sheet: Sheet, engine: &'static str, points: &[(f64, f64)]) -> Sheet {
    let rows = points
        .iter()
        .map(|&(foot_n, pa)| vec![(Dimension::Force, foot_n), (Dimension::Pressure, pa)])
        .collect();
    sheet.with(&[
        ("measured.pedal[1].engine", Word(engine)),
        ("measured.pedal[1].points", Rows(rows)),
    ])
}

fn keys(assembled: &Assembled) -> Vec<&'static str> {
    assembled
        .replaced
        .iter()
        .flat_map(|replaced| replaced.keys.clone())
        .collect()
}

/// What fits readings again starts from the sheet without them: the car is that of the sheet's own figures.
#[test]
fn without_what_was_measured_the_sheets_figures_stand() {
    let measured = readings(boosted(), "on", &[(100.0, 19e5), (200.0, 38e5)]).with(&[
        ("measured.valve[1].front", Si(60e5)),
        ("measured.valve[1].rear", Si(41e5)),
    ]);
    let with = measured.assemble().unwrap();
    assert!(!with.replaced.is_empty() && with.car.measured.pedal.len() == 1);
    let without = Car::assemble(&measured.inputs().without_measured()).unwrap();
    assert!(without.replaced.is_empty());
    assert_eq!(without.car.pedal, boosted().car().pedal);
    assert_eq!(without.car.pedal.booster.unwrap().gain, 3.0);
    assert!(without.car.measured.pedal.is_empty() && without.car.measured.valve.is_empty());
}

#[test]
fn without_a_booster_the_preload_moves_nothing() {
    let car = plain()
        .with(&[("pedal.efficiency", Si(0.90)), ("pedal.preload", Si(65.0))])
        .car();
    assert_eq!(pressure_pa(&car, 65.0), 0.0);
    close(pressure_pa(&car, 265.0), 200.0 * 5.0 * 0.90 * per_rod_pa_n());
    let law = FootLaw::of(&car);
    close(law.foot(law.push_rod(Force::from_n(265.0))).n(), 265.0);
    let leaned = plain().assemble().unwrap();
    assert_eq!(leaned.car.pedal.preload.n(), 65.0);
    assert!(
        leaned
            .defaults_used
            .iter()
            .any(|leaned| leaned.slot.path() == "pedal.preload")
    );
}

#[test]
fn a_booster_leaps_in_helps_and_runs_out() {
    let car = boosted().car();
    assert_eq!(pressure_pa(&car, 19.99), 0.0);
    let helped = |foot_n: f64| 8e5 + 3.0 * foot_n * 5.0 * 0.90 * per_rod_pa_n();
    close(pressure_pa(&car, 20.0), helped(20.0));
    close(pressure_pa(&car, 100.0), helped(100.0));
    let run_out_n = (60e5 - 8e5) / (3.0 * 5.0 * 0.90 * per_rod_pa_n());
    close(
        pressure_pa(&car, run_out_n + 100.0),
        60e5 + 100.0 * 5.0 * 0.90 * per_rod_pa_n(),
    );
    // The preload is overcome by the booster.
    let heavy = boosted().with(&[("pedal.preload", Si(150.0))]).car();
    close(pressure_pa(&heavy, 100.0), helped(100.0));
    let law = FootLaw::of(&car);
    for foot_n in [20.0, 21.0, 100.0, run_out_n, run_out_n + 100.0] {
        close(law.foot(law.push_rod(Force::from_n(foot_n))).n(), foot_n);
    }
    // Within the leap: the foot that wakes it.
    let within = law.push_rod_for(0, Pressure::from_pa(5e5));
    assert_eq!(law.foot(within), Booster::WAKES);
    assert_eq!(law.foot(Force::ZERO), Force::ZERO);
}

#[test]
fn a_run_out_within_the_leap_ends_it_on_the_second_line() {
    let car = boosted()
        .with(&[
            ("pedal.booster.gain", Si(15.0)),
            ("pedal.booster.run_out", Si(20e5)),
        ])
        .car();
    let run_out_n = (20e5 - 8e5) / (15.0 * 5.0 * 0.90 * per_rod_pa_n());
    assert!(run_out_n < 20.0);
    let second = |foot_n: f64| 20e5 + (foot_n - run_out_n) * 5.0 * 0.90 * per_rod_pa_n();
    assert_eq!(pressure_pa(&car, 19.99), 0.0);
    close(pressure_pa(&car, 20.0), second(20.0));
    close(pressure_pa(&car, 50.0), second(50.0));
}

#[test]
fn axles_that_lock_within_the_leap_lock_in_order_at_the_waking_foot() {
    let sheet = boosted().with(&[("pedal.booster.jump_in", Si(50e5))]);
    let lock = lock_at(&sheet.car(), 0.10);
    let point = lock.at.unwrap();
    assert_eq!(point.foot, Booster::WAKES);
    assert!(point.chambers[0].pa() < 50e5, "{point:?}");
    close(point.efficiency * 0.10, point.rate);
    let unassisted = lock_at(&plain().car(), 0.10);
    assert_eq!(lock.first, unassisted.first);
    assert_ne!(lock.first, First::Neither);
    close(point.chambers[0].pa(), unassisted.at.unwrap().chambers[0].pa());
}

#[test]
fn jump_in_lies_below_run_out() {
    let refusals = boosted()
        .with(&[("pedal.booster.jump_in", Si(56e5))])
        .assemble()
        .unwrap_err();
    assert_eq!(refusals[0].path, "pedal.booster.jump_in");
    // What is only taken gives way.
    let low = plain()
        .with(&[
            ("pedal.booster.gain", Si(3.0)),
            ("pedal.booster.run_out", Si(12e5)),
        ])
        .car();
    close(low.pedal.booster.unwrap().jump_in.pa(), 7e5);
}

/// Service manual of a hatch with anti-lock, engine off: 98 N gives nothing, 294 N gives 1,700 kPa.
#[test]
fn a_foot_that_moved_nothing_is_a_bound() {
    let sheet = readings(boosted(), "off", &[(98.0, 0.0), (294.0, 17e5)]);
    let car = sheet.car();
    let wanted = 294.0 - 17e5 / (5.0 * 0.90 * per_rod_pa_n());
    close(car.pedal.preload.n(), wanted.max(98.0));
    let bound = readings(plain(), "off", &[(120.0, 0.0)]).car();
    assert_eq!(bound.pedal.preload.n(), 120.0);
    assert_eq!(
        readings(plain(), "off", &[(40.0, 0.0)]).car().pedal.preload.n(),
        65.0
    );
}

#[test]
fn two_points_without_assistance_put_the_ratio_right_where_they_must() {
    let line = |per_foot: f64, foot_n: f64| (foot_n - 50.0) * per_foot * per_rod_pa_n();
    let fitted = |per_foot: f64| {
        readings(
            plain().with(&[("pedal.efficiency", Si(0.90))]),
            "off",
            &[150.0, 250.0, 350.0].map(|foot_n| (foot_n, line(per_foot, foot_n))),
        )
        .assemble()
        .unwrap()
    };
    let same = fitted(4.5);
    close(same.car.pedal.preload.n(), 50.0);
    assert_eq!(keys(&same), ["pedal.preload"]);
    let other = fitted(3.0);
    close(other.car.pedal.preload.n(), 50.0);
    close(other.car.pedal.ratio * other.car.pedal.efficiency, 3.0);
    assert_eq!(keys(&other), ["pedal.preload", "pedal.efficiency"]);
}

/// The same manual with 66.7 kPa of vacuum: 98 N gives 4,600 kPa, 294 N gives 10,500 kPa.
#[test]
fn a_booster_is_fitted_to_two_readings() {
    let assembled = readings(boosted(), "on", &[(98.0, 46e5), (294.0, 105e5)])
        .assemble()
        .unwrap();
    let booster = assembled.car.pedal.booster.unwrap();
    let slope = (105e5 - 46e5) / 196.0;
    close(booster.jump_in.pa(), 46e5 - 98.0 * slope);
    close(booster.gain, slope / (5.0 * 0.90 * per_rod_pa_n()));
    assert!(booster.run_out.pa() >= 105e5 - 1.0);
    close(pressure_pa(&assembled.car, 98.0), 46e5);
    close(pressure_pa(&assembled.car, 294.0), 105e5);
    assert_eq!(keys(&assembled), ["pedal.booster.gain", "pedal.booster.jump_in"]);
    assert!(assembled.warnings.is_empty(), "{:?}", assembled.warnings);
}

#[test]
fn a_kink_in_the_readings_is_the_run_out() {
    let truth = boosted().car();
    let points: Vec<(f64, f64)> = [60.0, 100.0, 400.0, 500.0]
        .iter()
        .map(|&foot_n| (foot_n, pressure_pa(&truth, foot_n)))
        .collect();
    let sheet = boosted().with(&[
        ("pedal.booster.gain", Si(5.0)),
        ("pedal.booster.run_out", Si(90e5)),
    ]);
    let booster = readings(sheet, "on", &points).car().pedal.booster.unwrap();
    close(booster.gain, 3.0);
    close(booster.jump_in.pa(), 8e5);
    close(booster.run_out.pa(), 60e5);
}

#[test]
fn one_reading_with_the_booster_fits_nothing_and_says_so() {
    for points in [
        &[(98.0, 46e5)][..],
        &[(10.0, 5e5), (98.0, 46e5)],
        &[(98.0, 46e5), (98.2, 47e5)],
    ] {
        let assembled = readings(boosted(), "on", points).assemble().unwrap();
        assert_eq!(assembled.car.pedal.booster.unwrap().gain, 3.0);
        assert!(assembled.replaced.is_empty());
        assert!(
            assembled
                .warnings
                .iter()
                .any(|warning| warning.text.to_string().contains("nothing is fitted")),
            "{points:?}"
        );
    }
}
