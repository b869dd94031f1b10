//! What was wrong once, each with its numbers.

use engine::balance::{Balance, Purpose, Wish, settings};
use engine::brake::Warmth;
use engine::car::{Car, KeyId, Knee, Slot, Value};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use quantity::Dimension;
use quantity::si::{Force, Pressure};

use crate::bench::Said::{List, Rows, Si, Word};
use crate::bench::{SPEED, Sheet, ask, plain};

fn load_sensing(light: (f64, f64), heavy: (f64, f64), slope: f64) -> Sheet {
    let row = |(force_n, pa)| Rows(vec![vec![(Dimension::Force, force_n), (Dimension::Pressure, pa)]]);
    plain().with(&[
        ("bias_valve.kind", Word("load-sensing")),
        ("bias_valve.knee.empty", row(light)),
        ("bias_valve.knee.laden", row(heavy)),
        ("bias_valve.slope", Si(slope)),
        ("pedal.ratio", Si(12.0)),
    ])
}

fn used(laden: &Laden, balance: &Balance, push_rod: Force) -> [f64; 2] {
    let braking = balance.braking(push_rod);
    let loads = laden.axle_loads(braking.rate);
    [braking.front / loads.front, braking.rear / loads.rear]
}

/// At a grip of 0.6 the rear of this car passes its grip at z = 0.50 or so, and is 14 % beyond it at z = 0.55. The lock was
/// once reported in front, at z = 0.62, above the grip itself: the rear's excess was only looked at for the strongest foot,
/// by when its knee has come down and let it go again.
#[test]
fn a_steep_load_sensing_valve_lets_the_rear_lock_early() {
    let car = load_sensing((3000.0, 10e5), (6000.0, 70e5), 0.1)
        .with(&[("rear_brake.caliper.pistons", List(vec![0.045]))])
        .car();
    let laden = Laden::of(&car, Aboard::default());
    let balance = Balance::of(&car, Hydraulics::of(&car, Warmth::Warm), laden, SPEED);
    let at = balance.lock(0.6).at.unwrap();
    let rod = balance.hydraulics().foot.push_rod(at.foot);
    for share in 1..=100 {
        let [front, rear] = used(&laden, &balance, rod * (f64::from(share) / 100.0));
        assert!(
            front.max(rear) <= 0.6 * (1.0 + 1e-6),
            "beyond its grip before the first lock: {rear} at {share} %"
        );
    }
    assert!(at.efficiency <= 1.0);
}

/// The braking rate under a load-sensing valve is the one at which the brakes ask for just that rate with the knee that
/// the rear has at it. Where the pedal runs out with the knee at infinity (not even with the real one), the search once
/// ended too early: the knee reported belonged to another rate.
#[test]
fn a_load_sensing_valve_on_a_pedal_that_runs_out() {
    let car = load_sensing((3500.0, 10e5), (7000.0, 60e5), 0.3)
        .with(&[
            ("master.stroke", Si(0.016)),
            ("rear_brake.volume.flex", Si(0.03e-11)),
        ])
        .car();
    let laden = Laden::of(&car, Aboard::default());
    let knee_at = |rate: f64| {
        car.bias_valve
            .as_ref()
            .unwrap()
            .knee_at(laden.axle_loads(rate).rear)
    };
    for foot_n in [100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 600.0] {
        let answer = ask(&car, foot_n, 0.0);
        let (found, own) = (answer.knee.unwrap(), knee_at(answer.braking_rate));
        let off = (found.pa() - own.pa()).abs();
        assert!(
            off <= 1e-6 * own.pa() + 1.0,
            "the knee of another rate, at {foot_n} N: {found:?}, not {own:?}"
        );
    }
}

/// A valve without a knob that will do because its knee is lower than the one needed stays at its own knee. What follows
/// from it at lower grips was once looked at with the knee that was needed.
#[test]
fn a_fixed_valve_is_judged_at_its_own_knee() {
    let car = plain()
        .with(&[
            ("bias_valve.kind", Word("limiting")),
            ("bias_valve.knee", Si(20e5)),
            ("pedal.ratio", Si(12.0)),
            ("weighed.rear", Si(500.0)),
        ])
        .car();
    let hydraulics = Hydraulics::of(&car, Warmth::Warm);
    let surface = car.surface("dry tarmac").unwrap().clone();
    let found = settings(
        &car,
        &hydraulics,
        &[surface],
        &[Fuel::Dry],
        true,
        Wish::front_first(0.02),
    );
    let row = found
        .rows
        .into_iter()
        .find(|row| row.purpose == Purpose::Stage)
        .unwrap();
    assert!(row.reachable);
    let first = |car: &Car, grip: f64| {
        let laden = Laden::of(
            car,
            Aboard {
                crew: true,
                fuel: Fuel::Dry,
            },
        );
        Balance::of(car, Hydraulics::of(car, Warmth::Warm), laden, SPEED)
            .lock(grip)
            .at
            .unwrap()
            .front_first_by
    };
    let stands = Knee::Fixed(Pressure::from_pa(20e5));
    assert_eq!(car.bias_valve.as_ref().unwrap().knee, stands);
    if let Some(grip) = row.rear_first_below {
        let leads = first(&car, grip * 0.98);
        assert!(
            leads < 0.0,
            "the rear first below {grip}, though its knee stands at 20 bar and the front leads by {leads}"
        );
    }
}

/// `yaw_inertia = "guess"` is taken by rule, as if it were left out; the list of defaults once said that it was left out.
#[test]
fn a_guess_by_rule_is_a_guess() {
    let key = KeyId::of("geometry.yaw_inertia").unwrap();
    let mut inputs = plain().inputs();
    inputs.set(Slot { key, entry: 0 }, Value::Guess);
    let leaned = Car::assemble(&inputs).unwrap().defaults_used;
    let yaw = leaned.iter().find(|leaned| leaned.slot.key == key).unwrap();
    assert!(yaw.guess, "said to be left out");
}

/// A pull whose free stroke alone is longer than the room: no pressure, and the room says so.
#[test]
fn a_free_stroke_beyond_the_room_is_running_out() {
    let car = plain()
        .with(&[
            ("lever.kind", Word("inline")),
            ("lever.bore", Si(0.0159)),
            ("lever.ratio", Si(7.0)),
            ("lever.room", Si(0.010)),
            ("lever.free_play", Si(0.003)),
            ("lever.free_stroke", Si(0.0015)),
        ])
        .car();
    let lever = ask(&car, 0.0, 200.0).lever.unwrap();
    assert!(lever.runs_out.is_some());
    assert_eq!(lever.own.unwrap(), Pressure::ZERO);
    assert!((lever.travel.unwrap().m() - 0.010).abs() < 1e-12);
}
