//! Layouts side by side, and bleeding.

use engine::balance::{Leaking, leaking_runs};
use engine::brake::Warmth;
use engine::car::Outlets;
use engine::lever::{LeverBench, Pull};
use engine::loads::{Aboard, Laden};
use plumbing::Plumbing;
use plumbing::bleeding::{LeverAt, ValveAt, in_order};
use plumbing::layouts::{Layout, LayoutKind, Layouts};
use plumbing::prices::Prices;
use proptest::prelude::*;
use quantity::si::{Force, Speed};

use crate::cars::{DEMO, any_car, demo};

fn layouts(name: &str) -> Layouts {
    Layouts::of(&demo(name), &Prices::default())
}

/// Every run of a layout, open.
fn leaking(layout: &Layout) -> Vec<Leaking> {
    let laden = Laden::of(&layout.car, Aboard::AS_WEIGHED);
    leaking_runs(&layout.car, &layout.plumbing.circuit, &laden, 0.65)
}

#[test]
fn every_demonstration_car_has_its_own_layout_first_and_nothing_is_left_out() {
    for name in DEMO {
        let layouts = layouts(name);
        assert!(layouts.can[0].on_sheet, "{name}");
        assert_eq!(layouts.can.iter().filter(|layout| layout.on_sheet).count(), 1);
        // Inline, two outlets, separate, cable kept: each is there or says why not.
        let own = usize::from(layouts.can[0].cable_kept);
        assert!(layouts.can.len() + layouts.cannot.len() >= 4 - own, "{name}");
        for way in [LayoutKind::Inline, LayoutKind::TwoOutlets, LayoutKind::Separate] {
            let there = layouts.can.iter().any(|layout| layout.way == way)
                || layouts.cannot.iter().any(|other| other.name == way.name());
            assert!(there, "{name}: {way:?}");
        }
    }
}

#[test]
fn a_separate_lever_has_more_joints_and_keeps_the_hand_when_the_pedal_leaks() {
    let layouts = layouts("tarn");
    let of = |way| layouts.can.iter().find(|layout| layout.way == way).unwrap();
    let (inline, two, separate) = (
        of(LayoutKind::Inline),
        of(LayoutKind::TwoOutlets),
        of(LayoutKind::Separate),
    );
    assert!(separate.plumbing.joints.len() > inline.plumbing.joints.len());
    // Two outlets: no tee, and so no run to it: one run and two joints fewer.
    assert_eq!(two.plumbing.joints.len() + 2, inline.plumbing.joints.len());
    assert!(leaking(inline).iter().any(|leaking| leaking.hand.is_empty()));
    let pedals = |layout: &Layout| {
        leaking(layout)
            .iter()
            .filter(|failed| !failed.run.starts_with("lever_") && failed.hand.is_empty())
            .count()
    };
    assert_eq!(pedals(separate), 0);
    // Tandem outlets: strokes add, so the grip goes further for the same pressure than with one outlet.
    let pull = Pull {
        hand: Force::from_n(250.0),
        grip: 0.65,
        speed: Speed::from_m_s(50.0 / 3.6),
    };
    let travel = |layout: &Layout| {
        let laden = Laden::of(&layout.car, Aboard::AS_WEIGHED);
        let bench = LeverBench::of(&layout.car, Warmth::Warm).unwrap();
        bench.answer(&laden, pull).to_lock.travel
    };
    assert_eq!(
        two.car.lever.as_ref().unwrap().cylinder().unwrap().outlets,
        Outlets::Tandem
    );
    assert!(
        travel(two) > travel(inline),
        "{:?} {:?}",
        travel(two),
        travel(inline)
    );
}

/// A fact of the trade (common practice, no source): the longest line first.
#[test]
fn the_longest_run_is_bled_first() {
    for name in DEMO {
        let car = demo(name);
        let order = in_order(&car, &Plumbing::of(&car));
        let own: Vec<_> = order
            .corners
            .iter()
            .filter(|corner| corner.lever != LeverAt::Works)
            .collect();
        assert!(
            own.windows(2).all(|pair| pair[0].length >= pair[1].length),
            "{name}"
        );
        assert_eq!(own.len(), 4, "{name}");
    }
    let order = in_order(&demo("tarn"), &Plumbing::of(&demo("tarn")));
    let names: Vec<&str> = order.corners.iter().map(|corner| corner.name.as_str()).collect();
    assert_eq!(names, ["rear_left", "rear_right", "front_right", "front_left"]);
    // 0.60 + 1.45 + 1.80 + 0.90 m of 3.2 mm, and a caliper of 40 mm: 38.2 + 18.1 cm³, three times.
    let first = &order.corners[0];
    assert!((first.run.m3() - 4.75 * core::f64::consts::FRAC_PI_4 * 3.2e-3_f64.powi(2)).abs() < 1e-12);
    assert!(
        (first.through.m3() * 1e6 - 3.0 * (38.202 + 18.080)).abs() < 0.01,
        "{:?}",
        first.through
    );
}

/// A fact of the trade (common practice, no source): bias valve at mid-range, lever at rest while bleeding.
#[test]
fn the_valve_stands_mid_range_and_the_lever_at_rest() {
    let car = demo("tarn");
    let order = in_order(&car, &Plumbing::of(&car));
    for corner in &order.corners {
        let rear = corner.name.starts_with("rear");
        assert_eq!(corner.valve, if rear { ValveAt::Mid } else { ValveAt::None });
        assert_eq!(corner.lever, if rear { LeverAt::Rest } else { LeverAt::None });
    }
}

#[test]
fn a_separate_lever_bleeds_its_own_calipers_last() {
    let car = demo("scree");
    let order = in_order(&car, &Plumbing::of(&car));
    let works: Vec<bool> = order
        .corners
        .iter()
        .map(|corner| corner.lever == LeverAt::Works)
        .collect();
    assert_eq!(works, [false, false, false, false, true, true]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(64), ..ProptestConfig::default() })]

    #[test]
    fn the_bottles_hold_what_goes_through(car in any_car()) {
        let plumbing = Plumbing::of(&car);
        let order = in_order(&car, &plumbing);
        prop_assert!(order.buy() >= order.needed && order.buy().m3() < order.needed.m3() + 0.5e-3 + 1e-12);
        let brakes: f64 = order.corners.iter().map(|corner| corner.brake.m3()).sum();
        prop_assert!((brakes - plumbing.fluid.brakes.m3()).abs() < 1e-12);
        // Every run of the circuit lies on the way to some corner.
        let along: f64 = order.corners.iter().map(|corner| corner.run.m3()).sum();
        prop_assert!(along >= plumbing.fluid.lines.m3() - 1e-12);
    }
}
