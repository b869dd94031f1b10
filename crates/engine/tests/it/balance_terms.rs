//! The terms and borders of the balance one by one: failed circuits' travel, the road's rule, the settings, the lever's
//! border to all four. Each against a closed form or a case worked by hand.

use engine::balance::{
    Balance, First, KneeAnswer, Purpose, Wish, WishFault, bar_for, failed_circuits, knee_for, settings,
};
use engine::brake::Warmth;
use engine::car::{BiasValve, Car, Centre, Coupling, Curve, Knee, KnobScale, Surface, ValvePlace};
use engine::drivetrain::{Beyond, tie_for_pedal};
use engine::hydraulics::Hydraulics;
use engine::lever::{LeverAnswer, LeverBench, Pull, WhatStops};
use engine::loads::{Fuel, Laden};
use engine::thresholds::LATE;
use quantity::si::{Force, Length, Pressure, Rotation, Torque};

use crate::bench::Said::{Si, Word};
use crate::bench::{SPEED, Sheet, as_weighed, ask, lever, near, plain};

fn balance(car: &Car) -> Balance {
    Balance::of(car, Hydraulics::of(car, Warmth::Warm), as_weighed(car), SPEED)
}

/// Of the plain car, with no preload, and a stroke that nothing runs out of.
fn quiet() -> Sheet {
    plain().with(&[("pedal.preload", Si(0.0)), ("master.stroke", Si(0.06))])
}

/// Height over wheelbase.
const LEAN: f64 = 0.52 / 2.55;

/// The front's share of all brake force: torque goes with the pistons' area, all else being alike.
fn front_share(rear_piston_m: f64) -> f64 {
    let (front, rear) = (0.054 * 0.054, rear_piston_m * rear_piston_m);
    front / (front + rear)
}

fn with_rear_piston(piston_m: f64) -> Car {
    quiet()
        .with(&[(
            "rear_brake.caliper.pistons",
            crate::bench::Said::List(vec![piston_m]),
        )])
        .car()
}

fn twin(front_share: f64, stroke_m: f64) -> Car {
    let mut sheet = quiet();
    sheet.0.retain(|(path, _)| path != "master.bore");
    sheet
        .with(&[
            ("master.kind", Word("twin")),
            ("master.front_bore", Si(0.0178)),
            ("master.rear_bore", Si(0.0206)),
            ("master.bar.front_share", Si(front_share)),
            ("master.stroke", Si(stroke_m)),
        ])
        .car()
}

fn failed(car: &Car, grip: f64) -> [engine::balance::FailedCircuit; 2] {
    failed_circuits(car, &Hydraulics::of(car, Warmth::Warm), &as_weighed(car), grip)
}

// A failed circuit. ----------------------------------------------------------------------------------------------------

/// Half of a tandem's stroke is lost before the other chamber works: `s = i (S/2 + V/A)`. Both failures together need
/// the whole stroke and the sound car's travel, `i (S + (V₁ + V₂)/A)`.
#[test]
fn a_failed_tandem_uses_half_of_its_stroke_and_then_its_own() {
    let car = quiet().car();
    let sound = ask(&car, 500.0, 0.0).pedal;
    assert!(!sound.runs_out);
    let [front, rear] = failed(&car, 0.6).map(|left| left.travel.m());
    near(front + rear, 5.0 * 0.06 + sound.travel.m(), 1e-9);
    // 0.1 mm more between each front pad and its disc: 2 · 2 · A_piston · 0.1 mm more out of the bore, times five.
    let clearance = |m: f64| {
        let car = quiet().with(&[("front_brake.volume.clearance", Si(m))]).car();
        failed(&car, 0.6).map(|left| left.travel.m())
    };
    let (narrow, wide) = (clearance(1e-4), clearance(2e-4));
    near(
        wide[0] - narrow[0],
        5.0 * 4.0 * 1e-4 * (0.054_f64 / 0.0222).powi(2),
        1e-9,
    );
    near(wide[1], narrow[1], 1e-12);
}

/// It runs out where what the other chamber takes is more than the half that is left.
#[test]
fn a_failed_tandem_runs_out_at_half_of_its_stroke() {
    let with_stroke = |stroke_m: f64| {
        let car = quiet().with(&[("master.stroke", Si(stroke_m))]).car();
        failed(&car, 0.6)
    };
    let [front, rear] = with_stroke(0.06);
    let own_m = |travel: Length| travel.m() / 5.0 - 0.03;
    let (front_m, rear_m) = (own_m(front.travel), own_m(rear.travel));
    assert!(rear_m > 0.0 && front_m > 1.05 * rear_m, "{front_m} and {rear_m}");
    let runs_out = |stroke_m: f64| with_stroke(stroke_m).map(|left| left.runs_out);
    assert_eq!(runs_out(2.0 * front_m * 1.001), [false, false]);
    assert_eq!(runs_out(2.0 * front_m * 0.999), [true, false]);
    assert_eq!(runs_out(2.0 * rear_m * 0.999), [true, true]);
}

/// Of twins the failed one bottoms: the bar's middle goes by `share · V/A + (1 − share) · S`, the shares those of the
/// cylinder that is left and of the one that is not.
#[test]
fn a_failed_twin_bottoms_and_the_bars_share_stays() {
    let car = twin(0.6, 0.03);
    let sound = ask(&car, 500.0, 0.0).pedal;
    assert!(!sound.runs_out);
    let [front, rear] = failed(&car, 0.6);
    near(
        front.travel.m() + rear.travel.m(),
        5.0 * 0.03 + sound.travel.m(),
        1e-9,
    );
    // 4 mm more of stroke: the rear's 0.4 of it with the front left, the front's 0.6 with the rear left.
    let longer = failed(&twin(0.6, 0.034), 0.6);
    near(longer[0].travel.m() - front.travel.m(), 5.0 * 0.4 * 0.004, 1e-9);
    near(longer[1].travel.m() - rear.travel.m(), 5.0 * 0.6 * 0.004, 1e-9);
    // What is left has a whole stroke of its own.
    let front_m = (front.travel.m() / 5.0 - 0.4 * 0.03) / 0.6;
    assert!(!failed(&twin(0.6, front_m * 1.001), 0.6)[0].runs_out);
    assert!(failed(&twin(0.6, front_m * 0.999), 0.6)[0].runs_out);
}

/// Front brakes strong enough to slide bring more than two thirds of the grip: 0.56/(1 − h/L) at a grip of 1.
#[test]
fn the_front_left_alone_may_bring_seven_tenths_of_the_grip() {
    let car = quiet().with(&[("pedal.ratio", Si(8.0))]).car();
    near(failed(&car, 1.0)[0].rate.m_s2() / 9.81, 0.56 / (1.0 - LEAN), 1e-9);
}

// Utilisation. ---------------------------------------------------------------------------------------------------------

/// `f₁ = z s/(b/L + z h/L)`, `f₂ = z (1 − s)/(a/L − z h/L)`.
#[test]
fn what_each_axle_uses_of_its_load() {
    let share = front_share(0.038);
    let used = balance(&quiet().car()).utilisation(0.3).unwrap();
    near(used.front, 0.3 * share / (0.56 + 0.3 * LEAN), 1e-9);
    near(used.rear, 0.3 * (1.0 - share) / (0.44 - 0.3 * LEAN), 1e-9);
}

/// The ideal split: `z N_f(z)` and `z N_r(z)`; nothing at an axle that has left the ground.
#[test]
fn the_ideal_split_is_that_of_the_loads() {
    let car = quiet().car();
    let weight_n = 1250.0 * 9.81;
    let ideal = balance(&car).ideal(0.3);
    near(ideal.front.n(), 0.3 * weight_n * (0.56 + 0.3 * LEAN), 1e-12);
    near(ideal.rear.n(), 0.3 * weight_n * (0.44 - 0.3 * LEAN), 1e-12);
    let high = Laden {
        cg_height: Length::from_m(1.5),
        ..as_weighed(&car)
    };
    assert_eq!(balance(&car).at_load(high).ideal(0.9).rear, Force::ZERO);
}

/// The rear's share is the ideal one where `1 − s = a/L − z h/L`: at z = 0.53 with 38 mm pistons behind, beyond 1 with
/// 30 mm.
#[test]
fn the_rears_curve_stays_below_the_fronts() {
    let crosses = |piston_m: f64| (0.44 - (1.0 - front_share(piston_m))) / LEAN;
    assert!((crosses(0.038) - 0.53).abs() < 0.01 && crosses(0.030) > 0.8);
    assert!(!balance(&with_rear_piston(0.038)).road_rules().rear_below_front);
    assert!(balance(&with_rear_piston(0.030)).road_rules().rear_below_front);
}

/// At z = 0.3 the rear may use up to 0.2 + (0.3 − 0.1)/0.7 = 0.486: `1 − s` up to 0.613. It is the axle that uses more
/// which decides.
#[test]
fn the_axle_that_uses_more_has_its_least_rate() {
    assert!(balance(&with_rear_piston(0.038)).road_rules().least_rate_met);
    let car = with_rear_piston(0.0736);
    let used = balance(&car).utilisation(0.3).unwrap();
    assert!(used.rear > 0.486 && used.front < 0.2, "{used:?}");
    assert!(!balance(&car).road_rules().least_rate_met);
}

// Axles that are tied. -------------------------------------------------------------------------------------------------

/// All wheels driven, plates in the centre that carry so much at the wheels (N·m).
fn tied_by(car: Car, carries_nm: f64) -> Car {
    let mut car = car;
    car.drivetrain.turns_per_wheel_turn = Some(2.0);
    car.drivetrain.centre = Centre::Fixed(Coupling::Plates {
        preload: Torque::from_nm(carries_nm / 2.0),
        bias: 0.0,
    });
    car
}

fn all_driven(sheet: Sheet) -> Car {
    sheet
        .with(&[
            ("drivetrain.driven", Word("all")),
            ("drivetrain.centre.kind", Word("locked")),
        ])
        .car()
}

#[test]
fn a_coupling_ties_and_none_does_not() {
    let sheet = quiet();
    assert!(!balance(&sheet.car()).tied());
    assert!(balance(&all_driven(sheet.clone())).tied());
    let plates = tied_by(all_driven(sheet), 180.0);
    near(tie_for_pedal(&plates, SPEED).carries_nm, 180.0, 1e-12);
    assert!(balance(&plates).tied());
}

/// The rear stops by itself once `(B_r − μ N_r) R` is what the coupling carries.
#[test]
fn an_axle_stops_once_the_coupling_holds_it_no_more() {
    let sheet = quiet().with(&[(
        "rear_brake.caliper.pistons",
        crate::bench::Said::List(vec![0.0736]),
    )]);
    let car = tied_by(all_driven(sheet), 180.0);
    let balance = balance(&car);
    let lock = balance.lock(0.3);
    assert_eq!(lock.first, First::Rear);
    let braking = balance.braking(balance.hydraulics().foot.push_rod(lock.at.unwrap().foot));
    let rear_n = balance.laden().axle_loads(braking.rate).rear.n();
    near((braking.rear.n() - 0.3 * rear_n) * 0.31, 180.0, 1e-6);
}

/// So high that the rear is off the ground from z = a/h on: there it carries nothing, not less, and the coupling alone
/// turns it until `B_r R` is what that carries.
#[test]
fn a_rear_off_the_ground_carries_nothing() {
    let sheet = quiet().with(&[(
        "rear_brake.caliper.pistons",
        crate::bench::Said::List(vec![0.020]),
    )]);
    let car = tied_by(all_driven(sheet), 430.0);
    let high = Laden {
        cg_height: Length::from_m(1.5),
        ..as_weighed(&car)
    };
    let balance = balance(&car).at_load(high);
    let lock = balance.lock(1.0);
    let point = lock.at.unwrap();
    assert!(lock.first == First::Rear && high.axle_loads(point.rate).rear < Force::ZERO);
    let share = 1.0 - front_share(0.020);
    near(point.rate * 1250.0 * 9.81 * share * 0.31, 430.0, 1e-6);
}

/// A valve whose knee is one value holds nothing back from falling.
#[test]
fn without_a_load_sensing_valve_nothing_is_held() {
    let car = quiet().car();
    let hydraulics = Hydraulics::of(&car, Warmth::Warm);
    assert!(!hydraulics.holds(&as_weighed(&car), &ask(&car, 400.0, 0.0)));
}

// The lever. -----------------------------------------------------------------------------------------------------------

fn pulled(car: &Car, grip: f64) -> LeverAnswer {
    let pull = Pull {
        hand: Force::from_n(1500.0),
        grip,
        speed: SPEED,
    };
    LeverBench::of(car, Warmth::Warm)
        .unwrap()
        .answer(&as_weighed(car), pull)
}

/// The rear locked, the front is dragged along from `T = μ W (b/L + μ h/L) R` on; the drag is the coupling's torque over
/// what the front wheels can give, `μ N_f R` at `z = (μ a/L + T/(R W))/(1 + μ h/L)`.
#[test]
fn the_front_is_dragged_where_the_coupling_brings_its_grip() {
    let (grip, weight_n, radius_m) = (0.3, 1250.0 * 9.81, 0.31);
    let border_nm = grip * weight_n * (0.56 + grip * LEAN) * radius_m;
    let answer = |carries_nm: f64| pulled(&tied_by(all_driven(quiet().with(&lever())), carries_nm), grip);
    assert!(!answer(0.999 * border_nm).front_dragged);
    assert!(answer(1.001 * border_nm).front_dragged);
    assert_eq!(answer(1.001 * border_nm).to_lock.outcome, WhatStops::AllFour);
    let carries_nm = 200.0;
    let rate = (grip * 0.44 + carries_nm / radius_m / weight_n) / (1.0 + grip * LEAN);
    let front_nm = grip * weight_n * (0.56 + rate * LEAN) * radius_m;
    near(
        answer(carries_nm).to_lock.drag.unwrap(),
        carries_nm / front_nm,
        1e-9,
    );
}

#[test]
fn late_begins_below_its_border() {
    let mut lock = pulled(&quiet().with(&lever()).car(), 0.3).to_lock;
    lock.stands_first = false;
    lock.in_hand = LATE;
    assert!(lock.outcome != WhatStops::None && !lock.is_late());
    lock.in_hand = LATE * (1.0 - 1e-12);
    assert!(lock.is_late());
}

/// Behind a lever the valve lets through `knee + s (p − knee)`: the cylinder needs `knee + (p − knee)/s`, and one that
/// limits never gives it.
#[test]
fn what_the_lever_needs_before_a_valve() {
    let with_slope = |slope: f64| {
        let mut car = quiet().with(&lever()).car();
        car.bias_valve = Some(BiasValve {
            knee: Knee::Fixed(Pressure::from_pa(5e5)),
            slope,
            place: ValvePlace::AfterLever,
        });
        pulled(&car, 0.6).to_lock
    };
    let reduced = with_slope(0.4);
    let at_brakes_pa = reduced.pressure.unwrap().pa();
    assert!(at_brakes_pa > 10e5, "{at_brakes_pa}");
    near(reduced.own.unwrap().pa(), 5e5 + (at_brakes_pa - 5e5) / 0.4, 1e-12);
    assert_eq!(with_slope(0.0).own, None);
}

// A viscous curve. -----------------------------------------------------------------------------------------------------

fn curve(points: &[(f64, f64)]) -> Curve {
    Curve {
        points: points
            .iter()
            .map(|&(speed, torque)| (Rotation::from_rad_s(speed), Torque::from_nm(torque)))
            .collect(),
        guessed: false,
    }
}

#[test]
fn the_last_point_still_lies_on_its_curve() {
    let curve = curve(&[(10.0, 100.0), (20.0, 200.0)]);
    assert!(!curve.is_beyond(Rotation::from_rad_s(20.0)) && !curve.is_beyond(Rotation::from_rad_s(-20.0)));
    assert!(curve.is_beyond(Rotation::from_rad_s(-20.001)));
}

/// From a point at rest, or one without torque, no slope on logarithmic scales can be read: straight on, 200 · 40/20.
#[test]
fn a_curve_goes_on_straight_where_its_slope_cannot_be_read() {
    for first in [(0.0, 50.0), (10.0, 0.0)] {
        let torque = curve(&[first, (20.0, 200.0)]).torque(Rotation::from_rad_s(40.0), Beyond::GoesOn);
        near(torque.nm(), 400.0, 1e-12);
    }
}

// Settings. ------------------------------------------------------------------------------------------------------------

/// Pressures that bring both axles to a grip of 0.3, `T = μ N R/2` a wheel: z = 0.3, and the rear needs more than the
/// one pressure that there is. Even cannot be had then; front first can.
#[test]
fn how_much_more_the_rear_needs() {
    let car = quiet().car();
    let (hydraulics, laden) = (Hydraulics::of(&car, Warmth::Warm), as_weighed(&car));
    let pressure_pa = |piston_m: f64, share: f64| {
        let gain_nm_pa = 2.0 * 0.40 * core::f64::consts::FRAC_PI_4 * piston_m * piston_m * 0.98 * 0.115;
        0.5e5 + 0.3 * 1250.0 * 9.81 * share * 0.31 / 2.0 / gain_nm_pa
    };
    let front_pa = pressure_pa(0.054, 0.56 + 0.3 * LEAN);
    let rear_pa = pressure_pa(0.038, 0.44 - 0.3 * LEAN);
    let KneeAnswer::Cannot(WishFault::NeedsMoreRear { more }) =
        knee_for(&hydraulics, &laden, 0.3, Wish::EVEN)
    else {
        panic!("the rear is the weaker one");
    };
    near(more, (rear_pa / front_pa - 1.0) * 100.0, 1e-9);
    assert_eq!(
        knee_for(&hydraulics, &laden, 0.3, Wish::front_first(0.02)),
        KneeAnswer::NoneNeeded
    );
}

/// At a grip of 1 with a = h the rear weighs nothing, exactly: no knee and no bar.
#[test]
fn a_rear_without_load_has_no_setting() {
    let car = twin(0.6, 0.03);
    let hydraulics = Hydraulics::of(&car, Warmth::Warm);
    let laden = |aft_m: f64| Laden {
        cg_aft: Length::from_m(aft_m),
        cg_height: Length::from_m(0.5),
        wheelbase: Length::from_m(2.5),
        ..as_weighed(&car)
    };
    assert_eq!(
        knee_for(&hydraulics, &laden(0.5), 1.0, Wish::EVEN),
        KneeAnswer::Cannot(WishFault::RearOffGround)
    );
    assert_eq!(bar_for(&car, &hydraulics, &laden(0.5), 1.0, Wish::EVEN), None);
    assert!(bar_for(&car, &hydraulics, &laden(0.51), 1.0, Wish::EVEN).is_some());
}

/// 10 bar at 1, 40 bar at 16.
#[test]
fn how_far_a_knee_lies_outside_the_knob() {
    let bar = |bar: f64| Pressure::from_pa(bar * 1e5);
    let valve = BiasValve {
        knee: Knee::Knob {
            at: vec![(1.0, bar(10.0)), (16.0, bar(40.0))],
            scale: KnobScale::Positions(16),
            setting: 4.0,
        },
        slope: 0.4,
        place: ValvePlace::BeforeLever,
    };
    match valve.knob_for(bar(47.5)) {
        Err(WishFault::AboveRange { above_bar }) => near(above_bar, 7.5, 1e-12),
        other => panic!("{other:?}"),
    }
    match valve.knob_for(bar(7.25)) {
        Err(WishFault::BelowRange { below_bar }) => near(below_bar, 2.75, 1e-12),
        other => panic!("{other:?}"),
    }
    near(valve.knob_for(bar(20.0)).unwrap(), 6.0, 1e-12);
    // Both ends are within it.
    near(valve.knob_for(bar(10.0)).unwrap(), 1.0, 1e-12);
    near(valve.knob_for(bar(40.0)).unwrap(), 16.0, 1e-12);
}

fn with_valve(knee: Pressure) -> Car {
    let mut car = with_rear_piston(0.052);
    car.bias_valve = Some(BiasValve {
        knee: Knee::Fixed(knee),
        slope: 0.4,
        place: ValvePlace::BeforeLever,
    });
    car
}

fn gravel(car: &Car) -> Surface {
    car.surface("hard gravel").unwrap().clone()
}

fn rows(car: &Car, wish: Wish) -> Vec<engine::balance::SettingRow> {
    settings(
        car,
        &Hydraulics::of(car, Warmth::Warm),
        &[gravel(car)],
        &[Fuel::Dry],
        false,
        wish,
    )
    .rows
}

/// A valve without a knob does it where it stands within a thousandth of the knee that is needed.
#[test]
fn a_fixed_valve_does_it_within_a_thousandth() {
    let car = with_valve(Pressure::from_pa(20e5));
    let KneeAnswer::At(needed) = rows(&car, Wish::EVEN)[0].knee else {
        panic!("too strong a rear")
    };
    assert!(needed.pa() > 1e5, "{needed:?}");
    for (off, will_do) in [
        (0.9995, true),
        (1.0005, true),
        (0.9985, false),
        (1.0015, false),
        (1.5, false),
    ] {
        let row = rows(&with_valve(needed * off), Wish::EVEN).remove(0);
        assert_eq!(
            row.why_not,
            (!will_do).then_some(WishFault::NoKnob),
            "{off} of the knee"
        );
    }
}

/// On the road the front goes first, by the wish where it says so, and never the rear.
#[test]
fn the_roads_wish_is_never_rear_first() {
    let mut car = with_valve(Pressure::from_pa(20e5));
    car.road_registered = true;
    for (wish, road) in [(Wish::front_first(0.05), 0.05), (Wish::rear_first(0.05), 0.0)] {
        let rows = rows(&car, wish);
        assert_eq!(rows.len(), 2);
        assert_eq!(
            (rows[0].purpose, rows[1].purpose),
            (Purpose::Stage, Purpose::Road)
        );
        assert_eq!(rows[0].wish, wish);
        assert!((rows[1].wish.margin() - road).abs() < 1e-15);
    }
}

/// On a slope the ground is pressed by the cosine of its angle: `B = N z/cos`, for a slope of 0.75 five quarters of it.
#[test]
fn the_ideal_split_on_a_slope() {
    use engine::loads::{Facing, Grade};
    let car = quiet().car();
    let laden = as_weighed(&car).on(Grade {
        slope: 0.75,
        facing: Facing::Up,
    });
    let (ideal, loads) = (balance(&car).at_load(laden).ideal(0.3), laden.axle_loads(0.3));
    near(ideal.front.n(), loads.front.n() * 0.3 * 1.25, 1e-12);
    near(ideal.rear.n(), loads.rear.n() * 0.3 * 1.25, 1e-12);
}

/// Where a cylinder bottoms before anything locks, the other axle still locks: the axle that does is at the grip and the
/// other behind it by what is told, and both together make the rate.
#[test]
fn what_locks_once_a_cylinder_has_bottomed() {
    let grip = 0.8;
    let mut locked = Vec::new();
    for (share, stroke_mm) in [
        (0.5, 60),
        (0.5, 10),
        (0.5, 9),
        (0.5, 8),
        (0.5, 7),
        (0.35, 8),
        (0.65, 8),
    ] {
        let lock = balance(&twin(share, f64::from(stroke_mm) * 1e-3)).lock(grip);
        let Some(point) = lock.at else { continue };
        let lead = 1.0 + point.front_first_by;
        let (front, rear) = match lock.first {
            First::Front => (grip, grip / lead),
            First::Rear => (grip * lead, grip),
            other => panic!("{other:?} at {share}, {stroke_mm} mm"),
        };
        let (on_front, on_rear) = (0.56 + point.rate * LEAN, 0.44 - point.rate * LEAN);
        near(point.rate, front * on_front + rear * on_rear, 1e-6);
        locked.push((share, stroke_mm, lock.first, point.rate));
    }
    let sound = locked[0];
    assert_eq!((sound.0, sound.1), (0.5, 60));
    assert!(
        locked[1..]
            .iter()
            .any(|one| one.0 == 0.5 && (one.3 - sound.3).abs() > 0.01),
        "one of them has bottomed: {locked:?}"
    );
}

/// A foot that just reaches a rate reaches it.
#[test]
fn the_highest_rate_that_a_foot_reaches() {
    use engine::thresholds::FOOT_LIMIT;
    let balance = balance(&quiet().car());
    let most = balance
        .braking(balance.hydraulics().foot.push_rod(FOOT_LIMIT))
        .rate;
    assert!(balance.utilisation(most).is_some() && balance.utilisation(most.next_up()).is_none());
}

/// Of a coupling's readings a draw takes each as often: the first has most in hand, the last is the one that decides.
#[test]
fn the_reading_that_a_draw_takes() {
    use engine::drivetrain::CouplingReading;
    use engine::drivetrain::TurnsAt;
    let mut car = quiet().with(&lever()).car();
    let mut answer = pulled(&car, 0.8);
    let reading = CouplingReading {
        supposed: None,
        turns_at: TurnsAt::Given,
        turns: 1.0,
        beyond: Beyond::HeldFlat,
        off_the_curve: false,
    };
    answer.also = [1.5, 2.0]
        .map(|in_hand| {
            let mut other = answer.to_lock;
            other.in_hand = in_hand;
            (reading, other)
        })
        .to_vec();
    answer.to_lock.in_hand = 1.0;
    let mut drawn = |share: f64| {
        car.drivetrain.reading_drawn = Some(share);
        answer.drawn(&car).in_hand
    };
    assert_eq!(
        [0.0, 0.3, 0.35, 0.65, 0.7, 1.0].map(&mut drawn),
        [2.0, 2.0, 1.5, 1.5, 1.0, 1.0]
    );
}

/// At the grip at which both axles are at theirs, they lock as one; a hundredth of grip on either side, one goes first.
#[test]
fn an_even_lock_is_told_as_one() {
    // 38 mm pistons behind.
    let even = (0.44 - (1.0 - front_share(0.038))) / LEAN;
    let balance = balance(&with_rear_piston(0.038));
    let first = |grip: f64| balance.lock(grip).first;
    assert_eq!(
        [first(even - 0.01), first(even), first(even + 0.01)],
        [First::Front, First::Together, First::Rear]
    );
}
