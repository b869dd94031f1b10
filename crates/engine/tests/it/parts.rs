//! Single parts against plain arithmetic: shoes by quadrature, laws of torque and volume, couplings.

use engine::brake::{TorqueLaw, Warmth};
use engine::car::{Caliper, CaliperLayout, Coupling, Curve, Parking, circle};
use engine::drivetrain::{Beyond, carried_nm};
use engine::fluid::{REFERENCE_TEMPERATURE, air_given_up, bulk_modulus_pa, fluid_given_up};
use engine::hydraulics::Hydraulics;
use engine::lining::friction_radius;
use engine::lining::{ShoeGeometry, Shoes, factor_at};
use proptest::prelude::*;
use quantity::si::{Angle, Length, Pressure, Rotation, TemperatureDifference, Torque, Volume};

use crate::bench::Said::{Si, Word};
use crate::bench::{ask, lever, plain};

/// Simpson's rule over many cells.
fn integral(from: f64, to: f64, function: impl Fn(f64) -> f64) -> f64 {
    let cells = 400;
    let step = (to - from) / f64::from(cells);
    (0..cells)
        .map(|cell| {
            let left = from + step * f64::from(cell);
            step / 6.0 * (function(left) + 4.0 * function(left + step / 2.0) + function(left + step))
        })
        .sum()
}

fn geometry(pivot: f64, heel: f64, toe: f64, arm: f64) -> ShoeGeometry {
    ShoeGeometry {
        drum_radius: Length::from_m(0.114),
        pivot_radius: Length::from_m(pivot),
        heel: Angle::from_rad(heel),
        toe: Angle::from_rad(toe),
        force_arm: Length::from_m(arm),
    }
}

proptest! {
    #![proptest_config(crate::bench::cases())]

    /// Pressure goes with the sine; every strip's moment about the pivot, and about the drum's centre, summed up.
    #[test]
    fn shoe_moments_are_their_integrals(pivot in 0.07..0.11, heel in 0.1..0.7, more in 0.6..1.8, friction in 0.2..0.5) {
        let shoe = geometry(pivot, heel, heel + more, 0.18);
        let moments = shoe.moments(friction);
        let radius = 0.114;
        let normal = integral(heel, heel + more, |angle| angle.sin() * pivot * angle.sin());
        let drag = friction * integral(heel, heel + more, |angle| angle.sin() * (radius - pivot * angle.cos()));
        let drum = friction * radius * integral(heel, heel + more, f64::sin);
        prop_assert!((moments.normal_m - normal).abs() < 1e-11, "{normal}");
        prop_assert!((moments.friction_m - drag).abs() < 1e-11, "{drag}");
        prop_assert!((moments.drum_m - drum).abs() < 1e-11, "{drum}");
    }

    /// Friction pulls a leading shoe on and pushes a trailing one off, so that the one outdoes the other; two leading
    /// outdo one of each, and a servo outdoes both.
    #[test]
    fn leading_outdoes_trailing(pivot in 0.08..0.1, friction in 0.15..0.4) {
        let shoe = geometry(pivot, 0.3, 2.0, 0.175);
        if let (Some(leading), [Some(mixed), Some(two), Some(servo)]) = (
            shoe.leading(friction),
            [Shoes::LeadingTrailing, Shoes::TwoLeading, Shoes::Servo].map(|shoes| shoe.factor(shoes, friction)),
        ) {
            prop_assert!(leading > shoe.trailing(friction));
            prop_assert!((mixed - leading - shoe.trailing(friction)).abs() < 1e-12);
            prop_assert!((two - 2.0 * leading).abs() < 1e-12);
            prop_assert!(servo > two);
            // Moments of all forces on the second shoe about the anchor, with the first shoe's push as its force.
            let push = (0.175 - pivot + leading * 0.114) / pivot;
            prop_assert!((servo - leading - leading * push).abs() < 1e-9);
        }
    }

    #[test]
    fn torque_and_pressure_lead_back_to_each_other(gain in 1e-6..1e-3, threshold in 0.0..5e5, nm in 0.1..5000.0) {
        let law = TorqueLaw { gain_nm_pa: gain, threshold: Pressure::from_pa(threshold) };
        let pressure = law.pressure(Torque::from_nm(nm));
        prop_assert!((law.torque(pressure).nm() / nm - 1.0).abs() < 1e-9);
        prop_assert_eq!(law.torque(Pressure::from_pa(threshold * 0.99)), Torque::ZERO);
    }

    #[test]
    fn air_gives_up_less_and_less_and_never_all(at_rest_m3 in 1e-8..1e-4, pa in 1e3..200e5) {
        let air = Volume::from_m3(at_rest_m3);
        let gone = |pa: f64| air_given_up(air, Pressure::from_pa(pa)).m3();
        prop_assert!(gone(pa) < at_rest_m3 && gone(2.0 * pa) > gone(pa) && gone(2.0 * pa) < 2.0 * gone(pa));
        // What is left, times its absolute pressure, stays.
        let left = (at_rest_m3 - gone(pa)) * (101_325.0 + pa);
        prop_assert!((left / (at_rest_m3 * 101_325.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_curve_continued_keeps_its_last_slope(low_nm in 10.0..100.0, more in 1.05..3.0, times in 1.0..20.0) {
        let points = vec![
            (Rotation::ZERO, Torque::ZERO),
            (Rotation::from_rad_s(10.0), Torque::from_nm(low_nm)),
            (Rotation::from_rad_s(40.0), Torque::from_nm(low_nm * more)),
        ];
        let curve = Curve { points, guessed: false };
        let at = |rad_s: f64, beyond| curve.torque(Rotation::from_rad_s(rad_s), beyond).nm();
        prop_assert_eq!(at(40.0 * times, Beyond::HeldFlat), low_nm * more);
        let power = f64::ln(more) / 4.0_f64.ln();
        let continued = low_nm * more * f64::powf(times, power);
        prop_assert!((at(40.0 * times, Beyond::GoesOn) / continued - 1.0).abs() < 1e-9);
        prop_assert!((at(25.0, Beyond::GoesOn) - low_nm * (1.0 + more) / 2.0).abs() < 1e-9);
        prop_assert!((at(-25.0, Beyond::HeldFlat) - at(25.0, Beyond::HeldFlat)).abs() < 1e-12);
        prop_assert_eq!(curve.is_beyond(Rotation::from_rad_s(40.0 * times * 1.001)), true);
    }
}

#[test]
fn couplings_carry_what_their_kind_does() {
    let rolling = Rotation::from_rad_s(45.0);
    let at = |coupling: Option<&Coupling>| carried_nm(coupling, 4.0, rolling, Beyond::HeldFlat);
    assert_eq!(at(None), 0.0);
    assert_eq!(at(Some(&Coupling::Open)), 0.0);
    assert_eq!(at(Some(&Coupling::Locked)), f64::INFINITY);
    // No throttle, no input: the preload alone, four times at the wheels.
    assert_eq!(
        at(Some(&Coupling::Plates {
            preload: Torque::from_nm(25.0),
            bias: 0.4
        })),
        100.0
    );
    let points = vec![
        (Rotation::ZERO, Torque::ZERO),
        (Rotation::from_rad_s(360.0), Torque::from_nm(90.0)),
    ];
    // Turns four times as fast as the wheels, 180 rad/s: half-way up the curve.
    assert_eq!(
        at(Some(&Coupling::Viscous(Curve {
            points,
            guessed: false
        }))),
        4.0 * 45.0
    );
}

#[test]
fn an_opposed_caliper_counts_one_side() {
    let pistons = vec![Length::from_m(0.0413), Length::from_m(0.0365)];
    let one_side = circle(pistons[0]) + circle(pistons[1]);
    for layout in [CaliperLayout::Opposed, CaliperLayout::Sliding] {
        let caliper = Caliper {
            layout,
            pistons: pistons.clone(),
            parking: Parking::None,
        };
        assert_eq!(caliper.piston_area(), one_side);
    }
    // Ring of 100 to 150 mm: the middle of the areas, not of the edges.
    let radius = friction_radius(Length::from_m(0.100), Length::from_m(0.150)).m();
    let (area, first) = (integral(0.1, 0.15, |r| r), integral(0.1, 0.15, |r| r * r));
    assert!((radius - first / area).abs() < 1e-12);
}

#[test]
fn fluid_grows_softer_when_hot() {
    let at = |kelvin| bulk_modulus_pa(REFERENCE_TEMPERATURE + TemperatureDifference::from_dk(kelvin));
    assert_eq!(at(0.0), 1.9e9);
    assert!((at(100.0) / at(0.0) - 0.55).abs() < 1e-12);
    assert!(at(1000.0) > 0.0);
    let pressure = Pressure::from_pa(80e5);
    let given_up = fluid_given_up(Volume::from_m3(1e-4), pressure, REFERENCE_TEMPERATURE).m3();
    assert!((given_up - 1e-4 * 80e5 / 1.9e9).abs() < 1e-18);
}

#[test]
fn a_factor_at_its_own_friction_is_itself() {
    assert_eq!(factor_at(2.4, 0.36, 0.36), 2.4);
    assert!(
        factor_at(2.4, 0.36, 0.30) < 2.4 * 0.30 / 0.36,
        "falls faster than the friction"
    );
}

/// The formula of the travel by hand, on one car: 38 mm piston, 0.1 mm a pad, flex 0.008 cm³/bar, 1 m of pipe each.
#[test]
fn the_travel_of_one_car_by_hand() {
    let car = plain()
        .with(&lever())
        .with(&[
            ("lever.efficiency", Si(0.9)),
            ("lever.free_stroke", Si(1.2e-3)),
            ("lever.free_play", Si(3e-3)),
            ("rear_brake.volume.clearance", Si(0.1e-3)),
            ("rear_brake.volume.flex", Si(0.008e-11)),
            ("routes.lever_to_rear_tee", Si(1.0)),
            ("routes.tee_to_rear_left", Si(1.0)),
            ("routes.tee_to_rear_right", Si(1.0)),
            ("lines.rear.pipe", Word("steel 3/16 in")),
        ])
        .car();
    let (bore_m2, piston_m2) = (
        std::f64::consts::PI / 4.0 * 0.0175_f64.powi(2),
        std::f64::consts::PI / 4.0 * 0.038_f64.powi(2),
    );
    let pa = 200.0 * 7.0 * 0.9 / bore_m2;
    let pipe_m3 = 3.0 * std::f64::consts::PI / 4.0 * 0.0033_f64.powi(2);
    let caliper_m3 = 2.0 * (piston_m2 * 0.012 + 3e-6);
    let taken = 2.0 * 2.0 * piston_m2 * 0.1e-3 + 2.0 * 0.008e-11 * pa + (pipe_m3 + caliper_m3) * pa / 1.9e9;
    let travel = (taken / bore_m2 + 1.2e-3) * 7.0 + 3e-3;
    let answer = ask(&car, 0.0, 200.0);
    let lever = answer.lever.unwrap();
    assert!((lever.own.unwrap().pa() / pa - 1.0).abs() < 1e-12);
    assert!(
        (lever.travel.unwrap().m() / travel - 1.0).abs() < 1e-9,
        "{:?}, not {travel}",
        lever.travel
    );
    // Torque by hand too: 2 μ A (p − 0.5 bar) 0.98 r.
    let nm = 2.0 * 0.40 * piston_m2 * (pa - 0.5e5) * 0.98 * 0.115;
    assert!((answer.wheels[2].torque.nm() / nm - 1.0).abs() < 1e-12);
    // Without a cold figure of its own a pad has 0.80 of the warm one.
    let gain = |warmth| Hydraulics::of(&car, warmth).wheels[2].gain_nm_pa;
    assert!((gain(Warmth::Cold) / gain(Warmth::Warm) - 0.8).abs() < 1e-12);
}
