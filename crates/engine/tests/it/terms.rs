//! Each term of the static car against figures worked by hand: a sign, a factor or a border that is wrong is seen here.

use engine::balance::failed_circuits;
use engine::brake::Warmth;
use engine::brake::{TorqueLaw, drum};
use engine::car::{Car, Curve, DrumBrake, Surface, built_in_surfaces};
use engine::drivetrain::Beyond;
use engine::hydraulics::Hydraulics;
use engine::lever::{LeverBench, Pull, WhatStops};
use engine::lining::{ShoeGeometry, Shoes, friction_radius};
use engine::loads::cg_height_as_weighed;
use engine::network::{Taken, Totals};
use engine::tyre::GripCurve;
use quantity::si::{Angle, Force, Length, Pressure, Rotation, Torque, Volume};

use crate::bench::{Said, Sheet, as_weighed, ask, lever, near, plain};
use Said::{Flag, Si, Word};

// Tyre. ----------------------------------------------------------------------------------------------------------------

#[test]
fn the_slope_of_a_curve_is_the_rate_of_its_grip() {
    for surface in built_in_surfaces() {
        let curve = GripCurve::of(&surface).unwrap();
        near(curve.slope(0.0), surface.stiffness, 1e-12);
        near(curve.stiffness(), surface.stiffness, 1e-12);
        for slip in [0.03, 0.2, 0.7, 3.0] {
            let step = 1e-5;
            let rise = (curve.grip(slip + step) - curve.grip(slip - step)) / (2.0 * step);
            assert!(
                (curve.slope(slip) - rise).abs() < 1e-7,
                "{} at {slip}: {} and {rise}",
                surface.name,
                curve.slope(slip)
            );
        }
        assert!(curve.slope(surface.slip_at_peak).abs() < 1e-9, "{}", surface.name);
        assert_eq!(curve.slope(f64::INFINITY), 0.0);
    }
}

/// As slippery sliding as rolling: C = 1, E = 0, B = K/D, so grip = D sin(atan(K s/D)).
#[test]
fn a_curve_without_a_peak_is_a_plain_bend() {
    let flat = |slide_over_peak: f64| Surface {
        peak: 0.5,
        slide_over_peak,
        stiffness: 4.0,
        slip_at_peak: 0.6,
        ..built_in_surfaces()[2].clone()
    };
    let curve = GripCurve::of(&flat(1.0)).unwrap();
    // tan⁻¹(4 · 0.25/0.5) = 63.435°, whose sine is 2/√5.
    near(curve.grip(0.25), 0.5 * 2.0 / 5.0_f64.sqrt(), 1e-12);
    near(curve.sliding(), 0.5, 1e-12);
    // A hair below it bends: the peak stands where it was asked for.
    let bent = GripCurve::of(&flat(0.999)).unwrap();
    assert!(bent.shape_factor > 1.0 && bent.slope(0.6).abs() < 1e-9);
}

// Brakes. --------------------------------------------------------------------------------------------------------------

/// Heel at 0, toe at a right angle, pivot 100 mm, drum 120 mm, force at 200 mm: ∫sin² = π/4 and ∫sin = 1, so per pressure
/// and width the normal moment is 0.1 · π/4, the friction moment μ (0.12 − 0.1/2), the drum's μ · 0.12.
fn square_shoe() -> ShoeGeometry {
    ShoeGeometry {
        drum_radius: Length::from_m(0.12),
        pivot_radius: Length::from_m(0.1),
        heel: Angle::from_rad(0.0),
        toe: Angle::from_rad(core::f64::consts::FRAC_PI_2),
        force_arm: Length::from_m(0.2),
    }
}

#[test]
fn shoes_by_moments_about_their_pivot() {
    let (normal, drum, drag) = (
        0.1 * core::f64::consts::FRAC_PI_4,
        0.3 * 0.12,
        0.3 * (0.12 - 0.05),
    );
    let (leading, trailing) = (
        drum / 0.12 * 0.2 / (normal - drag),
        drum / 0.12 * 0.2 / (normal + drag),
    );
    near(leading, 1.042_756, 1e-6);
    near(trailing, 0.602_774, 1e-6);
    let shoe = square_shoe();
    near(shoe.leading(0.3).unwrap(), leading, 1e-12);
    near(shoe.trailing(0.3), trailing, 1e-12);
    let factor = |shoes| shoe.factor(shoes, 0.3).unwrap();
    near(factor(Shoes::LeadingTrailing), leading + trailing, 1e-12);
    near(factor(Shoes::TwoLeading), 2.0 * leading, 1e-12);
    // The link pushes the second shoe with (200 − 100 mm + C · 120 mm)/100 mm of the first one's force.
    let link = (0.2 - 0.1 + leading * 0.12) / 0.1;
    near(factor(Shoes::Servo), leading * (1.0 + link), 1e-12);
}

/// μ · 0.07 = 0.0785398: at 1.1220 the shoe locks itself; a thousandth before that nothing is said of it any more.
#[test]
fn a_shoe_that_locks_itself_has_no_factor() {
    let shoe = square_shoe();
    let locks_at = 0.1 * core::f64::consts::FRAC_PI_4 / 0.07;
    assert!(shoe.leading(locks_at * 0.9989).is_some());
    assert_eq!(shoe.leading(locks_at * 0.9991), None);
    assert_eq!(shoe.factor(Shoes::TwoLeading, locks_at * 0.9991), None);
}

#[test]
fn torque_over_pressure_of_disc_and_drum() {
    let sheet = plain().with(&[("rear_brake.pad.cold_friction", Si(0.25))]);
    let car = sheet.car();
    let piston_m2 = core::f64::consts::FRAC_PI_4 * 0.038 * 0.038;
    for (warmth, friction) in [(Warmth::Warm, 0.40), (Warmth::Cold, 0.25)] {
        let law = TorqueLaw::of(&car.rear_brake, warmth);
        near(law.gain_nm_pa, 2.0 * friction * piston_m2 * 0.98 * 0.115, 1e-12);
        near(law.threshold.pa(), 0.5e5, 1e-12);
    }
    let shoes = DrumBrake {
        factor: 2.3,
        cold_factor: 1.9,
        ..drums(&drum_sheet())
    };
    let cylinder_m2 = core::f64::consts::FRAC_PI_4 * 0.019 * 0.019;
    for (warmth, factor) in [(Warmth::Warm, 2.3), (Warmth::Cold, 1.9)] {
        let law = drum::torque_law(&shoes, warmth);
        near(law.gain_nm_pa, factor * cylinder_m2 * 0.98 * 0.1015, 1e-12);
        near(law.threshold.pa(), 3e5, 1e-12);
    }
    near(
        friction_radius(Length::from_m(0.08), Length::from_m(0.12)).m(),
        2.0 / 3.0 * (0.001_728 - 0.000_512) / (0.0144 - 0.0064),
        1e-12,
    );
}

fn drum_sheet() -> Sheet {
    let mut sheet = plain();
    sheet.0.retain(|(path, _)| !path.starts_with("rear_brake."));
    sheet.with(&[
        ("rear_brake.kind", Word("drum")),
        ("rear_brake.cylinder_bore", Si(0.019)),
        ("rear_brake.drum_radius", Si(0.1015)),
        ("rear_brake.shoe_factor", Si(2.0)),
        ("rear_brake.lining.friction", Si(0.36)),
        ("rear_brake.lining.cold_friction", Si(0.30)),
    ])
}

fn drums(sheet: &Sheet) -> DrumBrake {
    match sheet.car().rear_brake {
        engine::car::Brake::Drum(drum) => drum,
        engine::car::Brake::Disc(_) => panic!("a drum was asked for"),
    }
}

/// A cable shares the hand's force times ratio and efficiency between the two rear brakes: `2 μ r` of it at a disc,
/// `C* r` at a drum, each warm and cold.
#[test]
fn what_a_cable_makes() {
    let cable = [
        ("lever.kind", Word("cable")),
        ("lever.cable.ratio", Si(24.0)),
        ("lever.cable.efficiency", Si(0.6)),
        ("lever.hand_pull", Si(300.0)),
    ];
    let half_n = 250.0 * 24.0 * 0.6 / 2.0;
    let torque = |car: &Car, warmth| {
        let hydraulics = Hydraulics::of(car, warmth);
        hydraulics.cable_torque(Force::from_n(250.0)).unwrap().nm()
    };
    let discs = plain()
        .with(&cable)
        .with(&[("rear_brake.pad.cold_friction", Si(0.25))])
        .car();
    near(torque(&discs, Warmth::Warm), half_n * 2.0 * 0.40 * 0.115, 1e-12);
    near(torque(&discs, Warmth::Cold), half_n * 2.0 * 0.25 * 0.115, 1e-12);
    let drums = drum_sheet().with(&cable).car();
    near(torque(&drums, Warmth::Warm), half_n * 2.0 * 0.1015, 1e-12);
    let cold = 2.0 * (0.30_f64 / 0.36).powf(1.35);
    near(torque(&drums, Warmth::Cold), half_n * cold * 0.1015, 1e-12);
}

// Loads. ---------------------------------------------------------------------------------------------------------------

/// 1250 kg on 2.55 m, 0.52 m high; 0.56 of it in front. What slides is given its grip at its own load:
/// in front z = μ b/L/(1 − μ h/L), behind z = μ a/L/(1 + μ h/L).
#[test]
fn what_the_ground_gives_to_one_axle_and_to_both() {
    let laden = as_weighed(&plain().car());
    let (weight_n, lean) = (1250.0 * 9.81, 0.52 / 2.55);
    let rate =
        |front_n: f64, rear_n: f64| laden.rate_on_ground(0.6, Force::from_n(front_n), Force::from_n(rear_n));
    near(rate(2000.0, 1000.0), 3000.0 / weight_n, 1e-10);
    near(rate(1e5, 0.0), 0.6 * 0.56 / (1.0 - 0.6 * lean), 1e-10);
    near(rate(0.0, 1e5), 0.6 * 0.44 / (1.0 + 0.6 * lean), 1e-10);
    near(rate(1e5, 1e5), 0.6, 1e-10);
    // Front past its grip, rear with 1500 N: z = (μ b/L + F/W)/(1 − μ h/L).
    near(
        rate(1e5, 1500.0),
        (0.6 * 0.56 + 1500.0 / weight_n) / (1.0 - 0.6 * lean),
        1e-10,
    );
}

/// 700 and 500 kg on 2.5 m, wheels of 0.30 and 0.33 m, an axle lifted by 0.45 m: the other gains
/// `W (h − R) tan α/L`, sin α = 0.45/2.5, R = (0.30 · 700 + 0.33 · 500)/1200 = 0.3125 m.
#[test]
fn height_from_a_lifted_axle() {
    let rise = (0.45_f64 / 2.5).asin().tan();
    let gain_kg = 1200.0 * (0.56 - 0.3125) * rise / 2.5;
    for (lifted, gains) in [("rear", "front_gains"), ("front", "rear_gains")] {
        let mut sheet = plain();
        sheet
            .0
            .retain(|(path, _)| !["weighed.cg_height", "tyres.rolling_radius"].contains(&path.as_str()));
        let gains = format!("weighed.cg_raise.{gains}");
        let car = sheet
            .with(&[
                ("weighed.front", Si(700.0)),
                ("weighed.rear", Si(500.0)),
                ("geometry.wheelbase", Si(2.5)),
                ("tyres.front", Si(0.30)),
                ("tyres.rear", Si(0.33)),
                (
                    "weighed.cg_raise.lifted",
                    Word(if lifted == "rear" { "rear" } else { "front" }),
                ),
                ("weighed.cg_raise.by", Si(0.45)),
                (&gains, Si(gain_kg)),
            ])
            .car();
        near(cg_height_as_weighed(&car).m(), 0.56, 1e-12);
    }
}

// A failed circuit. ----------------------------------------------------------------------------------------------------

/// On ice the wheels that are left slide: the front alone makes μ b/L/(1 − μ h/L), the rear alone μ a/L/(1 + μ h/L), both in
/// g; with grip to spare each makes what 500 N of foot press out of it.
#[test]
fn what_is_left_of_a_failed_circuit() {
    let sheet = plain().with(&[("pedal.preload", Si(0.0))]);
    let car = sheet.car();
    let (laden, hydraulics) = (as_weighed(&car), Hydraulics::of(&car, Warmth::Warm));
    let lean = 0.52 / 2.55;
    let rates =
        |grip: f64| failed_circuits(&car, &hydraulics, &laden, grip).map(|left| left.rate.m_s2() / 9.81);
    let [front, rear] = rates(0.1);
    near(front, 0.1 * 0.56 / (1.0 - 0.1 * lean), 1e-9);
    near(rear, 0.1 * 0.44 / (1.0 + 0.1 * lean), 1e-9);
    // 500 N · 5 · 0.9 on 22.2 mm; two wheels of 2 μ A η r over 0.31 m.
    let pressed_pa = 500.0 * 5.0 * 0.9 / (core::f64::consts::FRAC_PI_4 * 0.0222 * 0.0222) - 0.5e5;
    let by_hand = |piston_m: f64| {
        let wheel_nm =
            2.0 * 0.40 * core::f64::consts::FRAC_PI_4 * piston_m * piston_m * 0.98 * 0.115 * pressed_pa;
        2.0 * wheel_nm / 0.31 / (1250.0 * 9.81)
    };
    let [front, rear] = rates(1.5);
    near(front, by_hand(0.054), 1e-9);
    near(rear, by_hand(0.038), 1e-9);
}

// What ties the axles. -------------------------------------------------------------------------------------------------

/// 100 N·m at 10 rad/s and 200 at 20: half at half the first, straight between, and beyond flat or along the slope of one.
#[test]
fn a_viscous_curve_between_and_beyond_its_points() {
    let curve = Curve {
        points: [(10.0, 100.0), (20.0, 200.0), (40.0, 240.0)]
            .map(|(speed, torque)| (Rotation::from_rad_s(speed), Torque::from_nm(torque)))
            .to_vec(),
        guessed: false,
    };
    let at = |speed: f64, beyond| curve.torque(Rotation::from_rad_s(speed), beyond).nm();
    for beyond in [Beyond::HeldFlat, Beyond::GoesOn] {
        near(at(5.0, beyond), 50.0, 1e-12);
        near(at(-15.0, beyond), 150.0, 1e-12);
        near(at(30.0, beyond), 220.0, 1e-12);
        near(at(40.0, beyond), 240.0, 1e-12);
    }
    near(at(80.0, Beyond::HeldFlat), 240.0, 1e-12);
    // 240 · 2^n, n = ln(240/200)/ln(40/20).
    near(at(80.0, Beyond::GoesOn), 288.0, 1e-12);
}

/// A centre that lets go does so only where something tells it.
#[test]
fn a_centre_lets_go_when_it_is_told() {
    let with = |switch: bool| {
        let car = plain()
            .with(&lever())
            .with(&[
                ("drivetrain.driven", Word("all")),
                ("drivetrain.centre.kind", Word("disengaging")),
                ("lever.switch", Flag(switch)),
            ])
            .car();
        let pull = Pull {
            hand: Force::from_n(1500.0),
            grip: 0.3,
            speed: crate::bench::SPEED,
        };
        let bench = LeverBench::of(&car, Warmth::Warm).unwrap();
        bench.answer(&as_weighed(&car), pull).to_lock
    };
    let (told, not_told) = (with(true), with(false));
    assert_eq!(
        (told.outcome, not_told.outcome),
        (WhatStops::Rear, WhatStops::AllFour)
    );
    assert_eq!(told.of_which_coupling, Torque::ZERO);
    // Held, all four stand: 0.3 of the whole weight on 0.31 m.
    near(not_told.torque_needed.nm(), 0.3 * 1250.0 * 9.81 * 0.31, 1e-10);
}

// Volumes. -------------------------------------------------------------------------------------------------------------

#[test]
fn volumes_add_and_come_off_each_kind_by_itself() {
    let cm3 = |cm3: f64| Volume::from_m3(cm3 * 1e-6);
    let taken = |from: f64| Taken {
        clearance: cm3(from),
        flex: cm3(2.0 * from),
        hoses: cm3(3.0 * from),
        fluid: cm3(4.0 * from),
        air: cm3(5.0 * from),
    };
    near(taken(1.0).total().m3(), 15e-6, 1e-12);
    let kinds = |taken: Taken| {
        [taken.clearance, taken.flex, taken.hoses, taken.fluid, taken.air].map(|volume| volume.m3() * 1e6)
    };
    for (got, by_hand) in [(taken(3.0) - taken(1.0), 2.0), (taken(3.0) + taken(1.0), 4.0)] {
        for (kind, times) in kinds(got).into_iter().zip(1_u8..) {
            near(kind, by_hand * f64::from(times), 1e-12);
        }
    }
    let totals = |from: f64| Totals {
        hose_growth_m3_pa: from,
        fluid: cm3(2.0 * from),
        air: cm3(3.0 * from),
    };
    let both = totals(2.0) + totals(5.0);
    near(both.hose_growth_m3_pa, 7.0, 1e-12);
    near(both.fluid.m3(), 14e-6, 1e-12);
    near(both.air.m3(), 21e-6, 1e-12);
}

/// Air of an axle stands half at each of its wheels: squeezed to p it gives up V p/(p₀ + p), p₀ one atmosphere.
#[test]
fn air_of_an_axle_is_shared_by_its_wheels() {
    let car = plain()
        .with(&[
            ("air.front", Si(3e-6)),
            ("air.rear", Si(2e-6)),
            ("master.stroke", Si(0.12)),
        ])
        .car();
    let answer = ask(&car, 400.0, 0.0);
    let pressure_pa = answer.pedal.chambers[0].pa();
    assert!(pressure_pa > 30e5 && !answer.pedal.runs_out);
    let share = pressure_pa / (101_325.0 + pressure_pa);
    near(answer.pedal.taken.air.m3(), 5e-6 * share, 1e-9);
    near(
        Pressure::from_pa(pressure_pa).pa(),
        answer.pedal.chambers[1].pa(),
        1e-12,
    );
}
