//! The turn's arithmetic: against far finer runs, its order, its energy, its closed forms.

use engine::car::{Car, Coupling};
use engine::loads::{Aboard, Laden};
use engine::turn::{
    After, Assumed, Bend, Clutch, Footwork, Motion, Release, Segment, Steering, Stepping, Technique, Turn,
    TurnBench, TurnVerdict, follow,
};
use proptest::prelude::*;
use quantity::si::{Angle, Duration, Force, Speed};

use crate::bench::{cases, written};
use crate::random::cars;

fn demonstration() -> Vec<(String, Car)> {
    written()
        .into_iter()
        .filter(|(name, _)| name.starts_with("demo/"))
        .collect()
}

fn bench(car: &Car, surface: &str, stepping: Stepping) -> TurnBench {
    let reading = Assumed {
        stepping,
        ..Assumed::default()
    };
    let laden = Laden::of(car, Aboard::default());
    TurnBench::of(car, &laden, car.surface(surface).unwrap(), reading).unwrap()
}

/// 0.1°, 0.02 m, 0.01 s: what is promised of every headline figure.
fn agree(name: &str, one: &Turn, other: &Turn) {
    let degrees = |angle: Angle| angle.rad().to_degrees();
    let angles = |turn: &Turn| {
        [
            turn.heading.at_release.map_or(0.0, degrees),
            degrees(turn.heading.end),
            turn.without_lever.at_release.map_or(0.0, degrees),
            degrees(turn.without_lever.end),
        ]
    };
    let times = |turn: &Turn| {
        [
            turn.locking.rear_from.map_or(0.0, Duration::s),
            turn.locking.rear_for.s(),
            turn.locking.inner_only_for.s(),
            turn.locking.front_for.s(),
            turn.released.map_or(0.0, Duration::s),
        ]
    };
    for (found, wanted) in angles(one).into_iter().zip(angles(other)) {
        assert!((found - wanted).abs() < 0.1, "{name}: {found}° and {wanted}°");
    }
    for (found, wanted) in times(one).into_iter().zip(times(other)) {
        assert!((found - wanted).abs() < 0.01, "{name}: {found} s and {wanted} s");
    }
    // Two speeds that run along each other cross where a hair decides: three times as much for a figure that is no
    // headline.
    let dragged = |turn: &Turn| turn.locking.front_dragged_for.s();
    assert!(
        (dragged(one) - dragged(other)).abs() < 0.03,
        "{name}: {} {}",
        dragged(one),
        dragged(other)
    );
    for (found, wanted) in one.room.into_iter().zip(other.room) {
        assert!(
            (found - wanted).m().abs() < 0.02,
            "{name}: {found:?} and {wanted:?}"
        );
    }
    assert_eq!(one.verdict, other.verdict, "{name}");
}

#[test]
fn every_demonstration_car_and_surface_agrees_with_a_far_finer_run() {
    let fine = Stepping::Adaptive { tolerance: 1e-9 };
    for (name, car) in demonstration() {
        for surface in &car.surfaces {
            let technique = Technique::on(surface, &car);
            let usual = bench(&car, &surface.name, Stepping::default());
            let finer = bench(&car, &surface.name, fine);
            agree(
                &format!("{name} on {}", surface.name),
                &usual.turn_alone(&technique).unwrap(),
                &finer.turn_alone(&technique).unwrap(),
            );
        }
    }
}

/// Through a bend, driven on: the word, what the lever gives, and where on the road.
#[test]
fn a_run_through_a_bend_agrees_with_a_far_finer_one() {
    let fine = Stepping::Adaptive { tolerance: 1e-8 };
    for (name, car) in demonstration() {
        let mut technique = Technique::on(car.surface("hard gravel").unwrap(), &car).at_best();
        technique.entry = Speed::from_m_s(10.0);
        let best = bench(&car, "hard gravel", Stepping::default())
            .turn_alone(&technique)
            .unwrap();
        let finer = bench(&car, "hard gravel", fine)
            .turn_alone(&best.technique)
            .unwrap();
        assert_eq!(best.verdict, finer.verdict, "{name}");
        let gave = |turn: &Turn| turn.judged.lever_gave.map_or(0.0, |gave| gave.rad().to_degrees());
        assert!(
            (gave(&best) - gave(&finer)).abs() < 0.1,
            "{name}: {} {}",
            gave(&best),
            gave(&finer)
        );
        let off = |turn: &Turn| turn.judged.through.off_m.unwrap_or_default();
        assert!(
            (off(&best) - off(&finer)).abs() < 0.05,
            "{name}: {} {}",
            off(&best),
            off(&finer)
        );
    }
}

/// Steps of 25 µs of another method, which shares nothing with the usual one but the equations.
#[test]
fn the_classic_fourth_order_method_in_tiny_steps_agrees() {
    let fine = Stepping::Fixed {
        step: Duration::from_s(25e-6),
    };
    for (name, car) in demonstration() {
        let technique = Technique::on(car.surface("hard gravel").unwrap(), &car);
        agree(
            &name,
            &bench(&car, "hard gravel", Stepping::default())
                .turn_alone(&technique)
                .unwrap(),
            &bench(&car, "hard gravel", fine).turn_alone(&technique).unwrap(),
        );
    }
}

/// A lane change at 70 km/h with plain differentials: nothing stops, nothing lets go, nothing is stiff. Where it ends, and
/// after how many steps.
fn swerve(stepping: Stepping) -> (Motion, f64) {
    let (_, mut car) = demonstration()
        .into_iter()
        .find(|(name, _)| name.contains("sedge"))
        .unwrap();
    car.drivetrain.front_diff = Coupling::Open;
    let bench = bench(&car, "hard gravel", Stepping::default());
    let part = |from: f64, to: f64, rate: f64| {
        let mut part = Segment::coasting(from, to);
        part.steering = Steering::Rate(rate);
        part
    };
    let start = Motion::rolling(70.0 / 3.6, car.tyres.front_radius.m(), car.tyres.rear_radius.m());
    let path = follow(
        bench.vehicle(),
        &start,
        &[part(0.0, 0.3, 0.4), part(0.3, 0.9, -0.4)],
        stepping,
    )
    .unwrap();
    (
        path.last().unwrap().1,
        f64::from(u32::try_from(path.len()).unwrap() - 1),
    )
}

fn apart(one: &Motion, other: &Motion) -> f64 {
    (one.y_m - other.y_m).hypot(one.heading_rad - other.heading_rad)
        + (one.yaw_rate_rad_s - other.yaw_rate_rad_s).abs()
}

/// How fast the error falls as the number of steps rises.
fn order(coarse: Stepping, fine: Stepping) -> f64 {
    let (exact, _) = swerve(fixed(5e-5));
    let error = |stepping| {
        let (end, steps) = swerve(stepping);
        (apart(&end, &exact), steps)
    };
    let ((much, few), (little, many)) = (error(coarse), error(fine));
    (much / little).ln() / (many / few).ln()
}

fn fixed(step_s: f64) -> Stepping {
    Stepping::Fixed {
        step: Duration::from_s(step_s),
    }
}

#[test]
fn the_explicit_method_is_of_fourth_order() {
    let order = order(fixed(5e-3), fixed(1.25e-3));
    assert!((3.8..4.3).contains(&order), "order {order}");
}

#[test]
fn the_implicit_method_is_of_third_order() {
    let with = |tolerance| Stepping::Adaptive { tolerance };
    let order = order(with(1e-5), with(1e-7));
    assert!((2.8..3.4).contains(&order), "order {order}");
}

/// A tolerance ten times tighter gives a tenth of the error.
#[test]
fn the_error_follows_the_tolerance() {
    let (exact, _) = swerve(fixed(5e-5));
    let error = |tolerance| apart(&swerve(Stepping::Adaptive { tolerance }).0, &exact);
    for tolerance in [1e-5, 1e-6, 1e-7] {
        let falls = error(tolerance) / error(0.1 * tolerance);
        assert!((7.0..13.0).contains(&falls), "{tolerance:e}: {falls}");
    }
}

/// All four wheels held: `v²/(2 μ g)` to rest, μ the sliding grip, whatever the loads. The slip of a wheel that stands is
/// counted over 0.1 m/s and so is large, not endless: its grip is a thousandth above that of endless slip.
#[test]
fn a_stop_on_four_locked_wheels_meets_the_closed_form() {
    let (_, mut car) = demonstration()
        .into_iter()
        .find(|(name, _)| name.contains("scree"))
        .unwrap();
    car.tyres.load_sensitivity = 0.0;
    let bench = bench(&car, "dry tarmac", Stepping::default());
    let speed = 25.0;
    let mut start = Motion::rolling(speed, car.tyres.front_radius.m(), car.tyres.rear_radius.m());
    start.wheel_rad_s = [0.0; 4];
    start.rear_pa = 400e5;
    let hold = engine::turn::Course::steady;
    let mut held = Segment::coasting(0.0, 6.0);
    held.front_nm = hold(20_000.0);
    held.rear_pa = hold(400e5);
    let path = follow(bench.vehicle(), &start, &[held], Stepping::default()).unwrap();
    let last = path.last().unwrap().1;
    let surface = car.surface("dry tarmac").unwrap();
    let by_hand = speed * speed / (2.0 * surface.peak * surface.slide_over_peak * 9.81);
    assert!(
        (last.x_m / by_hand - 1.0).abs() < 1e-3,
        "{} m, by hand {by_hand} m",
        last.x_m
    );
    assert!(last.forward_m_s.abs() < 0.02, "{last:?}");
    assert!(last.heading_rad.abs() < 1e-6);
}

/// The path up to the release does not hang on what comes after it.
#[test]
fn what_follows_the_release_changes_nothing_before_it() {
    let (_, car) = demonstration()
        .into_iter()
        .find(|(name, _)| name.contains("tarn-let-go"))
        .unwrap();
    let bench = bench(&car, "loose gravel", Stepping::default());
    let technique = Technique {
        release: Release::Heading(Angle::from_rad(1.2)),
        ..Technique::on(car.surface("loose gravel").unwrap(), &car)
    };
    let (hold, into) = (
        bench.turn_alone(&technique).unwrap(),
        bench
            .turn(&Technique {
                after: After::IntoSlide,
                ..technique
            })
            .unwrap(),
    );
    let at_release = |turn: &Turn| turn.heading.at_release.unwrap().rad();
    assert!((at_release(&hold) - 1.2).abs() < 1e-6, "{}", at_release(&hold));
    assert!((at_release(&hold) - at_release(&into)).abs() < 1e-9);
    assert!((hold.heading.end - into.heading.end).rad().abs() > 0.05);
}

fn techniques() -> impl Strategy<Value = Technique> {
    let whole = (
        (2.0..45.0, -0.6..0.6, 0.0..0.8, 0.0..0.6),
        (0.0..900.0, 0.0..1.5, 0.0..0.3),
        (any::<bool>(), any::<bool>(), 0_u8..3, 0.2..2.5),
        proptest::option::of((0.0..600.0, 0.0..1.0)),
        0.5..3.0,
    );
    whole.prop_map(|(steering, pull, (clutch_up, into, release, at), foot, until)| {
        let (entry, steer, steer_at, steer_in) = steering;
        let (hand, lever_at, rise) = pull;
        Technique {
            entry: Speed::from_m_s(entry),
            steer: Angle::from_rad(steer),
            steer_at: Duration::from_s(steer_at),
            steer_in: Duration::from_s(steer_in),
            hand: Force::from_n(hand),
            lever_at: Duration::from_s(lever_at),
            lever_rise: Duration::from_s(rise),
            // From the start or not at all, so that one sum of energy holds throughout.
            clutch: if clutch_up {
                Clutch::Up
            } else {
                Clutch::DownAt(Duration::ZERO)
            },
            release: match release {
                0 => Release::Never,
                1 => Release::At(Duration::from_s(at)),
                _ => Release::Heading(Angle::from_rad(at)),
            },
            after: if into { After::IntoSlide } else { After::Hold },
            bend: Bend::HAIRPIN,
            lock: Angle::from_rad(0.6),
            throttle: None,
            foot: foot.map(|(force, at)| Footwork {
                force: Force::from_n(force),
                at: Duration::from_s(at),
                rise: Duration::from_s(0.1),
                off: None,
            }),
            until: Duration::from_s(until),
        }
    })
}

proptest! {
    #![proptest_config(cases())]

    /// Whichever car, on whichever ground, whatever the driver does: the motion is followed to its end, every figure is a
    /// number, and nothing that is not driven gains energy.
    #[test]
    fn no_car_gains_energy_or_loses_its_footing(
        sheet in cars(),
        technique in techniques(),
        which in 0_usize..6,
    ) {
        let car = sheet.car();
        prop_assume!(car.lever.is_some());
        let laden = Laden::of(&car, Aboard::default());
        let surface = &car.surfaces[which % car.surfaces.len()];
        let bench = TurnBench::of(&car, &laden, surface, Assumed::default()).unwrap();
        let path = bench.motion(&technique).unwrap();
        let joined = technique.clutch == Clutch::Up;
        let energy = |motion: &Motion| bench.vehicle().energy_j(motion, joined);
        let start = energy(&path[0].1);
        let mut least = start;
        for (time, motion) in &path {
            let now = energy(motion);
            prop_assert!(now.is_finite() && motion.x_m.is_finite() && motion.heading_rad.is_finite());
            // The tolerance of the steps: a ten thousandth of what there was.
            prop_assert!(now <= least + 1e-4 * start, "{time:?}: {least} to {now} J of {start}");
            least = least.min(now);
        }
        let turn = bench.turn_alone(&technique).unwrap();
        prop_assert!(turn.room.iter().all(|side| side.m().is_finite()));
        prop_assert!(turn.tracks.x_m.iter().flatten().all(|x| x.is_finite()));
        let known = [TurnVerdict::ComesRound, TurnVerdict::RotatesLittle, TurnVerdict::Ploughs, TurnVerdict::Spins];
        prop_assert!(known.contains(&turn.verdict));
    }

    /// To the other side everything is the same, mirrored.
    #[test]
    fn a_mirrored_technique_gives_a_mirrored_motion(sheet in cars(), technique in techniques()) {
        let car = sheet.car();
        prop_assume!(car.lever.is_some());
        let laden = Laden::of(&car, Aboard::default());
        let bench = TurnBench::of(&car, &laden, &car.surfaces[2], Assumed::default()).unwrap();
        let end = |technique: &Technique| bench.motion(technique).unwrap().last().unwrap().1;
        let (left, right) = (end(&technique), end(&technique.mirrored()));
        // Where a car stands on a knife's edge the last bits may tip it over; what is promised of a heading holds.
        prop_assert!((left.heading_rad + right.heading_rad).abs() < 2e-3, "{} {}", left.heading_rad, right.heading_rad);
        prop_assert!((left.x_m - right.x_m).abs() < 0.02);
        prop_assert!((left.y_m + right.y_m).abs() < 0.02);
    }
}
