//! How long it holds: trapped fluid, friction and grip on a slope.

use engine::Conditions;
use engine::car::{Brake, Cable, Car, LeverKind, MeasuredSoak, Parking};
use engine::hold::{
    Arrival, From, Hold, HoldBench, HoldFigures, Holds, Kept, LostBy, Seep, USUAL_AT, grip_holds,
};
use engine::loads::{Facing, Grade, Laden};
use engine::ranges::Sampling;
use engine::thresholds::{LONGEST, SERVICE, START_LINE};
use engine::trapped::{BODY_EXPANDS_PER_K, FLUID_EXPANDS_PER_K, IRON_EXPANDS_PER_K};
use proptest::prelude::*;
use quantity::si::{Duration, Force, Length, Pressure, Temperature};

use crate::bench::{cases, demo, lever, plain, separate};
use crate::random::cars;

fn usual() -> Conditions {
    Conditions {
        grade: Grade {
            slope: 0.10,
            facing: Facing::Up,
        },
        grip: Some(0.65),
        ..Conditions::default()
    }
}

fn car(name: &str) -> Car {
    demo(name).0.car
}

fn hold(car: &Car, conditions: &Conditions) -> Hold {
    HoldBench::of(car, conditions).unwrap().hold().unwrap()
}

fn on(slope: f64, facing: Facing) -> Conditions {
    Conditions {
        grade: Grade { slope, facing },
        ..usual()
    }
}

fn of(hold: &Hold, from: From) -> &Arrival {
    hold.arrivals.iter().find(|arrival| arrival.from == from).unwrap()
}

/// `m g sin θ R`, by hand: a 20 % slope has the sine 0.196116.
#[test]
fn the_slope_asks_for_its_share_of_the_weight() {
    let car = car("tarn");
    let laden = Laden::of(&car, usual().aboard);
    let asked = hold(&car, &on(0.20, Facing::Up));
    let by_hand = laden.mass.kg() * 9.81 * 0.196_116 * car.tyres.rear_radius.m();
    assert!((asked.needed.nm() / by_hand - 1.0).abs() < 1e-5);
    assert_eq!(hold(&car, &on(0.20, Facing::Down)).needed, asked.needed);
}

/// Loads of a car on its slope give the same limit: the rear's load times grip against the slope's pull.
#[test]
fn the_tyres_let_go_where_the_rear_load_says() {
    for name in ["tarn", "sedge", "scree"] {
        let car = car(name);
        let laden = Laden::of(&car, usual().aboard);
        for facing in [Facing::Up, Facing::Down] {
            for grip in [0.2, 0.5, 0.9] {
                let slope = grip_holds(&laden, grip, facing);
                let standing = laden.on(Grade { slope, facing });
                let pull = laden.weight_n() * standing.grade.pulls_back().abs();
                assert!(
                    (grip * standing.standing().rear.n() / pull - 1.0).abs() < 1e-12,
                    "{name} {facing:?}"
                );
            }
        }
        // Nose up the rear stands downhill and carries more.
        assert!(grip_holds(&laden, 0.5, Facing::Up) > grip_holds(&laden, 0.5, Facing::Down));
    }
}

#[test]
fn on_ice_the_tyres_end_it_whatever_the_brakes_do() {
    let asked = Conditions {
        grip: Some(0.12),
        ..usual()
    };
    for arrival in hold(&car("tarn"), &asked).arrivals {
        assert_eq!(
            (arrival.holds_for, arrival.lost_by),
            (Some(Duration::ZERO), Some(LostBy::Grip))
        );
        assert!(arrival.steepest < 0.10);
    }
}

#[test]
fn heat_soak_raises_the_pressure_before_it_falls() {
    for name in ["tarn", "scree"] {
        let held = hold(&car(name), &usual());
        let hot = of(&held, From::Hot);
        let (first, most) = (hot.pressure.unwrap(), hot.pressure_max.unwrap());
        assert!(most.pa() > 1.2 * first.pa(), "{name} {first:?} {most:?}");
        assert!((3.0..30.0).contains(&(hot.pressure_max_at.s() / 60.0)));
        let last = hot.way.last().unwrap();
        assert!(last.pressure.unwrap() < first, "{name}: it falls once it cools");
        let cold = of(&held, From::Cold);
        assert_eq!(
            cold.pressure_max, cold.pressure,
            "{name}: nothing warms a cold brake"
        );
    }
}

/// Long after, everything is as cold as the air: what is left of the pressure is arithmetic.
#[test]
fn once_cold_the_pressure_is_what_the_shrinking_leaves() {
    let mut car = plain().with(&lever()).car();
    car.measured.soak.clear();
    let asked = Conditions {
        hand: Some(Force::from_n(250.0)),
        ..on(0.01, Facing::Up)
    };
    let held = hold(&car, &asked);
    let warm = of(&held, From::Warm);
    let Brake::Disc(rear) = &car.rear_brake else {
        panic!("discs")
    };
    let area = rear.caliper.piston_area().m2();
    let fluid_m3 = area * 12e-3 + 3e-6;
    // From 150/60 °C; pads as warm as the mean of both.
    let last = warm.way.last().unwrap();
    let (disc_k, fluid_k) = (last.disc.celsius() - 150.0, last.fluid.celsius() - 60.0);
    let per_wheel = (FLUID_EXPANDS_PER_K - BODY_EXPANDS_PER_K) * fluid_m3 * fluid_k
        + area
            * (IRON_EXPANDS_PER_K * rear.disc.unwrap().thickness.m() * disc_k
                + 20e-6 * 20e-3 * (disc_k + fluid_k) / 2.0);
    let network = engine::network::Network::of(&car);
    let at = |pressure: Pressure| {
        network
            .taken_behind_lever(&network.pressures(&engine::network::Acting {
                first: Pressure::ZERO,
                second: Pressure::ZERO,
                own: Some(pressure),
                knee: Pressure::ZERO,
            }))
            .m3()
    };
    let (first, now) = (warm.pressure.unwrap(), last.pressure.unwrap());
    let crept = 0.03 * at(first) * (1.0 - (-last.time.s() / 240.0).exp());
    let left_m3 = at(first) - at(now) + 2.0 * per_wheel - crept;
    // What is left over is what seeped: 0.05 cm³/h at 80 bar, at a mean pressure between the two.
    let seeped = 0.05e-6 * last.time.s() / 3600.0 / 80e5;
    assert!(now > Pressure::ZERO && now < first);
    assert!(
        left_m3 > seeped * 0.5 * now.pa() && left_m3 < seeped * 1.5 * warm.pressure_max.unwrap().pa(),
        "{left_m3:e}"
    );
}

#[test]
fn a_cooling_drum_closes_on_its_shoes() {
    let held = hold(&car("sedge"), &usual());
    let drums = of(&held, From::Hot);
    let discs = hold(&car("tarn"), &usual());
    let discs = of(&discs, From::Hot);
    let left = |arrival: &Arrival| {
        arrival.way.last().unwrap().pressure.unwrap().pa() / arrival.pressure.unwrap().pa()
    };
    assert!(
        left(drums) > 1.0 && left(discs) < 0.7,
        "{} {}",
        left(drums),
        left(discs)
    );
    assert!(drums.holds_for.is_none());
}

#[test]
fn cold_pads_hold_less_than_warm_ones() {
    for name in ["tarn", "scree", "sedge"] {
        let held = hold(&car(name), &usual());
        assert!(
            of(&held, From::Cold).steepest <= of(&held, From::Warm).steepest,
            "{name}"
        );
        assert!(
            of(&held, From::Cold).ratio < of(&held, From::Warm).ratio,
            "{name}"
        );
    }
}

#[test]
fn half_an_hour_from_hot_is_not_to_be_trusted_but_a_start_line_is_fine() {
    let car = car("scree");
    let held = hold(&car, &on(0.15, Facing::Up));
    let hot = of(&held, From::Hot);
    assert!(held.holds(START_LINE) && held.holds(SERVICE));
    let minutes = hot.holds_for.unwrap().s() / 60.0;
    assert!(minutes < 60.0, "{minutes}");
    assert_eq!(hot.lost_by, Some(LostBy::Cooling));
    assert_eq!(held.worst().unwrap().from, From::Hot);
}

/// The steepest for two minutes, asked again as the slope: it holds just that long or longer; a little steeper, not.
#[test]
fn the_steepest_slope_is_the_steepest() {
    for (name, grip) in [("tarn", 2.0), ("sedge", 2.0), ("bin", 0.65)] {
        let car = car(name);
        let asked = |slope: f64| Conditions {
            grip: Some(grip),
            ..on(slope, Facing::Up)
        };
        let steepest = hold(&car, &asked(0.10)).steepest_for_two_minutes;
        assert!(
            hold(&car, &asked(steepest * 0.999)).holds(START_LINE),
            "{name} {steepest}"
        );
        assert!(
            !hold(&car, &asked(steepest * 1.001)).holds(START_LINE),
            "{name} {steepest}"
        );
    }
}

#[test]
fn a_soak_that_was_measured_says_what_seeps() {
    let mut car = plain().with(&lever()).car();
    let soak = |to_bar: f64| MeasuredSoak {
        on: None,
        from: Pressure::from_pa(50e5),
        to: Pressure::from_pa(to_bar * 1e5),
        held_for: Duration::from_s(600.0),
        air: None,
    };
    let seeps = |car: &Car| hold(car, &usual()).seep.unwrap();
    assert!(!seeps(&car).measured);
    assert!((seeps(&car).per_hour(USUAL_AT).m3() - 0.05e-6).abs() < 1e-12);
    car.measured.soak = vec![soak(49.9)];
    let tight = seeps(&car);
    // Rubber's creep alone is more than that: nothing is left for the seals.
    assert!(tight.measured && tight.m3_s_pa == 0.0);
    car.measured.soak = vec![soak(20.0)];
    let leaks = seeps(&car);
    assert!(leaks.measured && leaks.m3_s_pa > 10.0 * Seep::usual().m3_s_pa);
    let (tight_for, leaks_for) = (|car: &Car| hold(car, &usual()), hold(&car, &usual()));
    let cold = of(&leaks_for, From::Cold).clone();
    assert_eq!(cold.lost_by, Some(LostBy::Seep));
    car.measured.soak = vec![soak(49.9)];
    assert!(of(&tight_for(&car), From::Cold).holds_for.is_none());
    // Played back: from 50 bar, cold, ten minutes later the gauge reads what it read.
    car.measured.soak = vec![soak(20.0)];
    let cylinder = *car.lever.as_ref().unwrap().cylinder().unwrap();
    let asked = Conditions {
        hand: Some(Force::from_n(50e5 / cylinder.pressure_per_hand_pa_n())),
        ..usual()
    };
    let again = hold(&car, &asked);
    let moment = |after_s: f64| {
        let way = &of(&again, From::Cold).way;
        let at = way.windows(2).find(|pair| pair[1].time.s() >= after_s).unwrap();
        let share = (after_s - at[0].time.s()) / (at[1].time.s() - at[0].time.s());
        at[0].pressure.unwrap().pa() + share * (at[1].pressure.unwrap() - at[0].pressure.unwrap()).pa()
    };
    assert!((moment(0.0) / 50e5 - 1.0).abs() < 1e-9);
    // It seeps in proportion to pressure; the fit took the mean of both ends.
    assert!((moment(600.0) / 20e5 - 1.0).abs() < 0.10, "{}", moment(600.0));
}

#[test]
fn what_ends_it_is_told() {
    // A soft lever: too little from the start.
    let weak = Conditions {
        hand: Some(Force::from_n(20.0)),
        ..usual()
    };
    let held = hold(&car("tarn"), &weak);
    let cold = of(&held, From::Cold);
    assert_eq!(
        (cold.holds_for, cold.lost_by),
        (Some(Duration::ZERO), Some(LostBy::Friction))
    );
    assert!(cold.ratio < 1.0);
    // Pads that lose nearly all when cold: friction, though the pressure falls too.
    let mut cold_pads = car("tarn");
    let Brake::Disc(rear) = &mut cold_pads.rear_brake else {
        panic!("discs")
    };
    let warm = rear.friction.warm;
    rear.friction.at = [(20.0, 0.05 * warm), (140.0, warm), (500.0, warm)]
        .map(|(at, friction)| (Temperature::from_celsius(at), friction))
        .to_vec();
    assert_eq!(
        of(&hold(&cold_pads, &usual()), From::Warm).lost_by,
        Some(LostBy::Friction)
    );
}

#[test]
fn on_the_level_it_holds_for_ever_and_says_so_without_dividing_by_nothing() {
    let held = hold(&car("tarn"), &on(0.0, Facing::Up));
    for arrival in &held.arrivals {
        assert_eq!((arrival.holds_for, arrival.lost_by), (None, None));
    }
    assert!(held.steepest_for_two_minutes > 0.2);
    assert_eq!(HoldFigures::of(&held).shortest, LONGEST);
}

#[test]
fn a_separate_levers_own_calipers_hold() {
    let car = plain().with(&separate()).car();
    let held = hold(&car, &usual());
    let cylinder = *car.lever.as_ref().unwrap().cylinder().unwrap();
    let pressure = of(&held, From::Cold).pressure.unwrap();
    let by_hand = 280.0 * cylinder.pressure_per_hand_pa_n();
    assert!((pressure.pa() / by_hand - 1.0).abs() < 1e-9);
    assert!(of(&held, From::Hot).pressure_max.unwrap() > pressure);
}

#[test]
fn a_cable_has_no_pressure_and_loses_by_friction_alone() {
    let mut car = plain().with(&lever()).car();
    let cable = Cable {
        ratio: 28.0,
        efficiency: 0.6,
    };
    car.lever.as_mut().unwrap().kind = LeverKind::Cable(cable);
    let held = hold(&car, &usual());
    assert!(held.seep.is_none());
    for arrival in &held.arrivals {
        assert_eq!(arrival.pressure_max, None);
    }
    let cold = of(&held, From::Cold);
    // 2 μ F rₑ a wheel, F halved over the wheels, μ cold.
    let Brake::Disc(rear) = &car.rear_brake else {
        panic!("discs")
    };
    let torque = 280.0 * 28.0 * 0.6 * 2.0 * rear.friction.cold * rear.effective_radius.m();
    assert!((cold.ratio * held.needed.nm() / torque - 1.0).abs() < 0.02);
}

#[test]
fn a_kept_cable_is_computed_beside_it() {
    let mut car = car("tarn");
    assert_eq!(hold(&car, &usual()).kept, Kept::None);
    car.lever.as_mut().unwrap().cable_kept = true;
    assert_eq!(hold(&car, &usual()).kept, Kept::NoFigures);
    let cable = Cable {
        ratio: 28.0,
        efficiency: 0.6,
    };
    car.lever.as_mut().unwrap().parking_cable = Some(cable);
    let Kept::Computed(beside) = hold(&car, &usual()).kept else {
        panic!("its figures are there")
    };
    let Brake::Disc(rear) = &car.rear_brake else {
        panic!("discs")
    };
    let torque = 250.0 * 28.0 * 0.6 * 2.0 * rear.friction.cold * rear.effective_radius.m();
    assert!((beside.torque.nm() / torque - 1.0).abs() < 1e-9);
    assert!(beside.steepest > 0.0 && beside.hand == Force::from_n(250.0));
    let Brake::Disc(rear) = &mut car.rear_brake else {
        panic!("discs")
    };
    rear.caliper.parking = Parking::DrumInDisc;
    assert_eq!(hold(&car, &usual()).kept, Kept::OwnShoes);
}

#[test]
fn without_a_lever_there_is_nothing_to_ask() {
    assert!(HoldBench::of(&plain().car(), &usual()).is_none());
}

#[test]
fn ranges_hold_the_middle() {
    let (assembled, inputs) = demo("scree");
    let sampling = Sampling { draws: 64, seed: 3 };
    let holds = Holds::of(
        &assembled.car,
        &inputs,
        &assembled.toleranced,
        &on(0.15, Facing::Up),
        sampling,
    )
    .unwrap()
    .unwrap();
    let middle = HoldFigures::of(&holds.middle);
    for figure in [
        |figures: &HoldFigures| figures.shortest.s(),
        |figures: &HoldFigures| figures.steepest,
        |figures: &HoldFigures| figures.pressure_max.pa(),
    ] {
        let range = holds.range(figure).unwrap();
        assert!(
            range.low <= figure(&middle) && figure(&middle) <= range.high,
            "{range:?} {}",
            figure(&middle)
        );
    }
}

proptest! {
    #![proptest_config(cases())]

    /// A stronger pull never holds less steep, a steeper slope never longer, a heavier seep never longer.
    #[test]
    fn more_hand_holds_more(sheet in cars(), hand in 60.0..300.0_f64, slope in 0.02..0.3_f64) {
        let car = sheet.assemble().unwrap().car;
        let asked = |hand_n: f64, slope: f64| Conditions {
            hand: Some(Force::from_n(hand_n)),
            ..on(slope, Facing::Down)
        };
        let Some(bench) = HoldBench::of(&car, &asked(hand, slope)) else {
            return Ok(());
        };
        let one = bench.hold().unwrap();
        let stronger = hold(&car, &asked(hand * 1.2, slope));
        prop_assert!(stronger.steepest_for_two_minutes >= one.steepest_for_two_minutes * (1.0 - 1e-9));
        let steeper = hold(&car, &asked(hand, slope * 1.3));
        let time = |hold: &Hold, from: From| of(hold, from).holds_for.unwrap_or(LONGEST).s();
        for from in From::ALL {
            prop_assert!(
                time(&steeper, from) <= time(&one, from) + 1.0,
                "{from:?}: {} s on the steeper, {} s, lost by {:?} and {:?}",
                time(&steeper, from),
                time(&one, from),
                of(&steeper, from).lost_by,
                of(&one, from).lost_by,
            );
        }
        for arrival in &one.arrivals {
            if let (Some(first), Some(most)) = (arrival.pressure, arrival.pressure_max) {
                prop_assert!(most >= first);
            }
            prop_assert!(arrival.way.iter().all(|moment| moment.pressure.is_none_or(|pressure| pressure >= Pressure::ZERO)));
        }
    }
}

/// A lever without room makes no pressure, and holds nothing.
#[test]
fn a_pull_that_runs_out_of_room_is_latched_at_what_it_reached() {
    let mut car = car("tarn");
    let full = of(&hold(&car, &usual()), From::Cold).pressure.unwrap();
    car.lever.as_mut().unwrap().room = Length::from_m(0.06);
    let short = of(&hold(&car, &usual()), From::Cold).pressure.unwrap();
    assert!(short < full * 0.9, "{short:?} {full:?}");
}

/// Eight hours of standing, long after anything happens, with discs that cool in minutes: nothing is lost track of.
#[test]
fn a_light_disc_is_followed_to_the_end() {
    for kg in [0.3, 1.0, 4.0, 30.0] {
        let mut car = car("scree");
        let Brake::Disc(rear) = &mut car.rear_brake else {
            panic!("discs")
        };
        rear.disc.as_mut().unwrap().mass = quantity::si::Mass::from_kg(kg);
        for slope in [0.0, 0.02, 0.2] {
            let held = HoldBench::of(&car, &on(slope, Facing::Up)).unwrap().hold();
            assert!(held.is_ok(), "{kg} kg, {slope}: {held:?}");
        }
    }
}
