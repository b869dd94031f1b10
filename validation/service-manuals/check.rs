//! Published figures of factory parts: rear valves, and the pressure that a foot makes with and without its booster.

use engine::brake::Warmth;
use engine::car::Car;
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::{Aboard, Laden};
use quantity::si::Force;

use crate::Error;
use crate::car::Plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    // The slope is left out: the one that is taken for factory valves.
    valve(&mut answers, 30.0, &[("30_below", 500.0), ("30_above", 4500.0), ("30_far", 10_000.0)])?;
    valve(&mut answers, 40.0, &[("40_below", 500.0), ("40_above", 5500.0), ("40_far", 10_000.0)])?;
    valve(&mut answers, 25.5, &[("other_below", 2550.0), ("other_above", 7850.0), ("other_far", 13_730.0)])?;
    let read = car(&[
        "pedal.ratio=4",
        "pedal.efficiency=0.90",
        "pedal.booster.gain=4",
        "measured.pedal[1].engine=off",
        "measured.pedal[1].points=98 N, 0 kPa; 294 N, 1700 kPa",
        "measured.pedal[2].engine=on",
        "measured.pedal[2].points=98 N, 4600 kPa; 294 N, 10500 kPa",
    ])?;
    let mut unassisted = read.clone();
    unassisted.pedal.booster = None;
    for foot_n in [98.0, 294.0] {
        answers.put("engine_off", front_pa(&unassisted, foot_n));
        answers.put("engine_on", front_pa(&read, foot_n));
    }
    Ok(answers)
}

fn car(changes: &[&str]) -> Result<Car, Error> {
    Plain::new("service-manuals").with(changes)?.car()
}

fn front_pa(car: &Car, foot_n: f64) -> f64 {
    answered(car, foot_n).0
}

/// Front and rear pressure (Pa).
fn answered(car: &Car, foot_n: f64) -> (f64, f64) {
    let laden = Laden::of(car, Aboard::AS_WEIGHED);
    let asked = Forces { foot: Force::from_n(foot_n), hand: Force::ZERO };
    let answer = Hydraulics::of(car, Warmth::Warm).answer(&laden, asked);
    (answer.wheels[0].pressure.pa(), answer.wheels[2].pressure.pa())
}

fn valve(answers: &mut Answers, knee_bar: f64, inlets_kpa: &[(&'static str, f64)]) -> Result<(), Error> {
    let knee = format!("bias_valve.knee={knee_bar} bar");
    let car = car(&["pedal.ratio=10", "bias_valve.kind=fixed", &knee])?;
    let foot = Hydraulics::of(&car, Warmth::Warm).foot;
    for &(key, inlet_kpa) in inlets_kpa {
        let inlet = quantity::si::Pressure::from_pa(inlet_kpa * 1e3);
        answers.put(key, answered(&car, foot.foot(foot.push_rod_for(0, inlet)).n()).1);
    }
    Ok(())
}
