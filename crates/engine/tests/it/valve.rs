//! The bias valve: its usual slope, what gauges say of it, and a load-sensing one that lets nothing flow back.

use engine::balance::Balance;
use engine::brake::Warmth;
use engine::car::Knee;
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::{Aboard, Laden};
use quantity::Dimension;
use quantity::si::{Force, Pressure};

use crate::bench::{SPEED, Said, Sheet, plain};
use Said::{Rows, Si, Word};

fn knob() -> Sheet {
    plain().with(&[
        ("bias_valve.kind", Word("adjustable")),
        ("bias_valve.slope", Si(0.40)),
        ("bias_valve.knee.at_fewest", Si(10e5)),
        ("bias_valve.knee.at_most", Si(60e5)),
        ("bias_valve.knee.turns", Si(5.0)),
        ("bias_valve.setting", Si(2.0)),
    ])
}

#[test]
fn factory_valves_are_flatter_than_knobs() {
    let slope = |sheet: Sheet| sheet.car().bias_valve.unwrap().slope;
    assert_eq!(
        slope(plain().with(&[("bias_valve.kind", Word("fixed")), ("bias_valve.knee", Si(30e5))])),
        0.30
    );
    assert_eq!(slope(steep(None)), 0.30);
    let left_out = Sheet(
        knob()
            .0
            .into_iter()
            .filter(|(path, _)| path != "bias_valve.slope")
            .collect(),
    );
    assert_eq!(slope(left_out), 0.43);
}

/// One reading or many, with a knob or without: what was read is computed with, and a misfit is said.
#[test]
fn what_gauges_read_is_computed_with() {
    // 30 bar at two turns by the ends; the gauges say (39 − 0.4 · 60)/0.6.
    let read = knob().with(&[
        ("measured.valve[1].setting", Si(2.0)),
        ("measured.valve[1].front", Si(60e5)),
        ("measured.valve[1].rear", Si(39e5)),
    ]);
    let assembled = read.assemble().unwrap();
    let Knee::Knob { at, .. } = &assembled.car.bias_valve.as_ref().unwrap().knee else {
        panic!()
    };
    let knees: Vec<(f64, f64)> = at
        .iter()
        .map(|&(setting, knee)| (setting, (knee.pa() / 1e5).round()))
        .collect();
    assert_eq!(knees, [(0.0, 10.0), (2.0, 25.0), (5.0, 60.0)]);
    assert!(assembled.warnings.iter().any(|warning| {
        warning
            .text
            .to_string()
            .contains("what was read is computed with")
    }));
    assert_eq!(assembled.replaced.len(), 1);

    let fixed = plain().with(&[
        ("bias_valve.kind", Word("fixed")),
        ("bias_valve.knee", Si(40e5)),
        ("bias_valve.slope", Si(0.40)),
        ("measured.valve[1].front", Si(60e5)),
        ("measured.valve[1].rear", Si(41e5)),
    ]);
    let assembled = fixed.assemble().unwrap();
    let Knee::Fixed(knee) = assembled.car.bias_valve.as_ref().unwrap().knee else {
        panic!()
    };
    assert!((knee.pa() - 17e5 / 0.6).abs() < 1e-3);
    assert!(
        assembled
            .warnings
            .iter()
            .any(|warning| warning.text.to_string().contains("the sheet at 40.0 bar"))
    );
}

/// A valve whose knee falls steeply as the rear lightens.
fn steep(slope: Option<f64>) -> Sheet {
    let point =
        |load_n: f64, pa: f64| Rows(vec![vec![(Dimension::Force, load_n), (Dimension::Pressure, pa)]]);
    let mut sheet = plain().with(&[
        ("bias_valve.kind", Word("load-sensing")),
        ("bias_valve.knee.empty", point(3000.0, 5e5)),
        ("bias_valve.knee.laden", point(5400.0, 90e5)),
    ]);
    if let Some(slope) = slope {
        sheet = sheet.with(&[("bias_valve.slope", Si(slope))]);
    }
    sheet
}

/// By brute force: the greatest outlet that the law gives at any foot up to this one.
#[test]
fn nothing_flows_back_through_a_load_sensing_valve() {
    let car = steep(Some(0.10)).car();
    let laden = Laden::of(&car, Aboard::default());
    let hydraulics = Hydraulics::of(&car, Warmth::Warm);
    let balance = Balance::of(&car, hydraulics.clone(), laden, SPEED);
    let Knee::OverRearLoad { empty, laden: full } = car.bias_valve.as_ref().unwrap().knee else {
        panic!()
    };
    let law_pa = |foot_n: f64| {
        // Fixed point of rate and knee, by bisection on the rate.
        let push_rod = hydraulics.foot.push_rod(Force::from_n(foot_n));
        let inlet_pa = hydraulics.foot.pressures(push_rod)[1].pa();
        let knee_pa = |rate: f64| {
            let share = (laden.axle_loads(rate).rear.n() - empty.0.n()) / (full.0.n() - empty.0.n());
            (empty.1.pa() + share * (full.1.pa() - empty.1.pa())).max(0.0)
        };
        let (mut low, mut high) = (0.0, 5.0);
        for _ in 0..60 {
            let rate = 0.5 * (low + high);
            if hydraulics
                .with_knee(Pressure::from_pa(knee_pa(rate)))
                .answer_to_push_rod(&laden, push_rod)
                .braking_rate
                > rate
            {
                low = rate;
            } else {
                high = rate;
            }
        }
        let knee_pa = knee_pa(low);
        if inlet_pa <= knee_pa {
            inlet_pa
        } else {
            knee_pa + 0.10 * (inlet_pa - knee_pa)
        }
    };
    let (mut greatest_pa, mut held) = (0.0_f64, 0);
    for step in 1..=160 {
        let foot_n = 5.0 * f64::from(step);
        let law = law_pa(foot_n);
        greatest_pa = greatest_pa.max(law);
        let asked = Forces {
            foot: Force::from_n(foot_n),
            hand: Force::ZERO,
        };
        let answer = hydraulics.answer(&laden, asked);
        let rear_pa = answer.wheels[2].pressure.pa();
        // The steps of the foot miss the very top by a little.
        assert!(
            (rear_pa - greatest_pa).abs() < 0.03 * greatest_pa + 1e3,
            "{foot_n} N: {rear_pa} and {greatest_pa}"
        );
        assert!(rear_pa > greatest_pa - 1e2);
        let braking = balance.braking(hydraulics.foot.push_rod(Force::from_n(foot_n)));
        assert!((braking.rate - answer.braking_rate).abs() < 1e-9);
        if greatest_pa > law + 1e4 {
            held += 1;
            assert!(hydraulics.holds(&laden, &answer));
        }
    }
    assert!(held > 20, "{held} feet at which it holds");
}
