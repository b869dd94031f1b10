//! What people who build these cars know, on cars made up for it.

use engine::Conditions;
use engine::balance::{Balance, First, KneeAnswer, Wish, failed_circuits, knee_for};
use engine::brake::Warmth;
use engine::car::{Car, Wheel};
use engine::fluid::air_given_up;
use engine::hydraulics::{Response, Forces, Hydraulics};
use engine::lever::{LeverBench, WhatStops, Pull};
use engine::heat::{By, HeatBench, StagePart, Stage, Stops};
use engine::hold::{From, HoldBench};
use engine::loads::{Aboard, Facing, Fuel, Grade, Laden};
use quantity::si::{Duration, Force, Length, Pressure, Speed, Temperature, Volume};

use crate::Error;
use crate::car::{LEVER, Plain};
use crate::source::{Answers, Inputs};

const SPEED: Speed = Speed::from_m_s(50.0 / 3.6);
/// Of the hand; makes 79.6 bar.
const HAND_N: f64 = 200.0;
const AIR: Temperature = Temperature::from_celsius(15.0);

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    lever(&mut answers)?;
    valve(&mut answers)?;
    lock_order(&mut answers)?;
    centre(&mut answers)?;
    travel(&mut answers)?;
    pedal(&mut answers)?;
    joined(&mut answers)?;
    latched(&mut answers)?;
    hot(&mut answers)?;
    Ok(answers)
}

fn car(changes: &[&str]) -> Result<Car, Error> {
    Plain::new("trade").with(LEVER)?.with(changes)?.car()
}

fn ask(car: &Car, foot_n: f64, hand_n: f64) -> Response {
    let laden = Laden::of(car, Aboard::AS_WEIGHED);
    let asked = Forces { foot: Force::from_n(foot_n), hand: Force::from_n(hand_n) };
    Hydraulics::of(car, Warmth::Warm).answer(&laden, asked)
}

fn rear_pa(answer: &Response) -> f64 {
    answer.wheels[Wheel::RearLeft.index()].pressure.pa()
}

fn lever(answers: &mut Answers) -> Result<(), Error> {
    let alike = car(&[])?;
    // 2000 N on 20 mm: 63.7 bar from the pedal; 600 N: 19.1 bar.
    let at_rest = ask(&alike, 2000.0, 0.0);
    answers.put("at_rest", rear_pa(&at_rest) / at_rest.pedal.chambers[1].pa());
    let own_pa = rear_pa(&ask(&alike, 0.0, HAND_N));
    answers.put("alone", own_pa);
    for (foot_n, hand_n) in [(2000.0, 50.0), (600.0, HAND_N)] {
        let both = ask(&alike, foot_n, hand_n);
        let own_pa = both.lever.and_then(|lever| lever.own).map_or(f64::NAN, Pressure::pa);
        answers.put("takes_over", rear_pa(&both) / own_pa.max(both.pedal.chambers[1].pa()));
    }
    let smaller = ask(&car(&["lever.rear_seal=8 mm"])?, 600.0, HAND_N);
    answers.put("adds", (rear_pa(&smaller) - own_pa) / smaller.pedal.chambers[1].pa());
    Ok(())
}

fn valve(answers: &mut Answers) -> Result<(), Error> {
    let with = |kind, place| {
        let (kind, place) = (format!("bias_valve.kind={kind}"), format!("bias_valve.place={place}"));
        car(&[&kind, &place, "bias_valve.knee=20 bar", "bias_valve.slope=0.4"])
    };
    let before = with("fixed", "before-lever")?;
    let low = ask(&before, 600.0, 0.0);
    answers.put("below_knee", rear_pa(&low) / low.pedal.chambers[1].pa());
    let high = ask(&before, 2000.0, 0.0);
    answers.put("above_knee", (rear_pa(&high) - 20e5) / (high.pedal.chambers[1].pa() - 20e5));
    let limiting = with("limiting", "after-lever")?;
    for car in [&before, &with("fixed", "after-lever")?, &limiting] {
        answers.put("after_lever", rear_pa(&ask(car, 0.0, HAND_N)));
    }
    let more = rear_pa(&ask(&limiting, 0.0, 2.0 * HAND_N)) - rear_pa(&ask(&limiting, 0.0, HAND_N));
    answers.put("more_hand", more);
    Ok(())
}

fn lock_order(answers: &mut Answers) -> Result<(), Error> {
    // 64 % of the weight in front, 69 % of the brakes: enough while little is moved forward.
    let car = car(&[
        "weighed.front=700 kg",
        "weighed.rear=400 kg",
        "front_brake.caliper.pistons=60 mm",
        "pedal.ratio=20",
    ])?;
    let laden = Laden::of(&car, Aboard::AS_WEIGHED);
    let balance = Balance::of(&car, Hydraulics::of(&car, Warmth::Warm), laden, SPEED);
    for grip in [0.12, 0.25, 1.0] {
        let first = match balance.lock(grip).first {
            First::Front => "front",
            First::Rear => "rear",
            First::Together => "together",
            First::Neither => "neither",
        };
        answers.say("front_heavy", first);
    }
    Ok(())
}

fn centre(answers: &mut Answers) -> Result<(), Error> {
    let all = "drivetrain.driven=all";
    let lets_go = "drivetrain.centre.kind=disengaging";
    let mut needed = Vec::new();
    for changes in [
        &["drivetrain.driven=rear"][..],
        &["drivetrain.driven=front"],
        &[all, "drivetrain.centre.kind=open"],
        &[all, lets_go, "lever.switch=true"],
        &[all, lets_go, "lever.switch=false"],
        &[all, "drivetrain.centre.kind=locked"],
    ] {
        let car = car(changes)?;
        let laden = Laden::of(&car, Aboard::AS_WEIGHED);
        let pull = Pull { hand: Force::from_n(600.0), grip: 0.65, speed: SPEED };
        let lock = LeverBench::of(&car, Warmth::Warm).map(|bench| bench.answer(&laden, pull).to_lock);
        answers.say(
            "centre",
            match lock.map(|lock| lock.outcome) {
                Some(WhatStops::Rear) => "the rear",
                Some(WhatStops::AllFour) => "all four",
                Some(WhatStops::None) => "nothing",
                None => "no lever",
            },
        );
        needed.push(lock.map_or(f64::NAN, |lock| lock.torque_needed.nm()));
    }
    answers.put("centre_torque", needed[5] / needed[2]);
    Ok(())
}

fn travel(answers: &mut Answers) -> Result<(), Error> {
    let of_lever = |car: &Car| {
        let hydraulics = Hydraulics::of(car, Warmth::Warm);
        hydraulics.effort(Pressure::from_pa(40e5)).map_or(f64::NAN, |effort| effort.travel.m())
    };
    let drums = |clearance: &str| {
        let clearance = format!("rear_brake.volume.clearance={clearance}");
        car(&[
            "rear_brake.kind=drum",
            "rear_brake.cylinder_bore=19 mm",
            "rear_brake.drum_radius=101.5 mm",
            "rear_brake.shoe_factor=2",
            "rear_brake.lining.friction=0.36",
            "rear_brake.volume.flex=0.006 cm3/bar",
            &clearance,
        ])
    };
    answers.put("shoes", of_lever(&drums("0.9 mm")?) / of_lever(&drums("0.3 mm")?));

    let soft = ["rear_brake.volume.clearance=0.1 mm", "rear_brake.volume.flex=0.008 cm3/bar"];
    let (bled, not) = (car(&soft)?, car(&[soft[0], soft[1], "air.rear=2 cm3"])?);
    answers.put("air", of_lever(&not) / of_lever(&bled));
    let of_pedal = |car: &Car| ask(car, 1500.0, 0.0).pedal.travel.m();
    answers.put("air", of_pedal(&not) / of_pedal(&bled));
    let (mut low, mut high) = (0.0, 10e5);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let gone = air_given_up(Volume::from_m3(2e-6), Pressure::from_pa(middle)).m3() > 1e-6;
        *(if gone { &mut high } else { &mut low }) = middle;
    }
    answers.put("air_first", low);
    Ok(())
}

fn pedal(answers: &mut Answers) -> Result<(), Error> {
    let boosted = car(&["pedal.ratio=4", "pedal.booster.jump_in=0 bar", "pedal.booster.gain=4", "pedal.booster.run_out=60 bar"])?;
    let foot = Hydraulics::of(&boosted, Warmth::Warm).foot;
    let per_bar = |bar: f64| {
        let at = |bar: f64| foot.foot(foot.push_rod_for(0, Pressure::from_pa(bar * 1e5))).n();
        at(bar + 1.0) - at(bar)
    };
    answers.put("booster", per_bar(80.0) / per_bar(20.0));

    let mut tank = car(&["bias_valve.kind=fixed", "bias_valve.knee=20 bar", "bias_valve.slope=0.4"])?;
    tank.load.tank = Some(engine::car::Tank {
        capacity: Volume::from_m3(0.06),
        aft: Length::from_m(2.3),
        height: Length::from_m(0.4),
    });
    let hydraulics = Hydraulics::of(&tank, Warmth::Warm);
    let knee = |fuel| {
        let laden = Laden::of(&tank, Aboard { crew: false, fuel });
        match knee_for(&hydraulics, &laden, 0.65, Wish::EVEN) {
            KneeAnswer::At(knee) => knee.pa(),
            KneeAnswer::NoneNeeded | KneeAnswer::Cannot(_) => f64::NAN,
        }
    };
    answers.put("tank", knee(Fuel::Full) - knee(Fuel::Dry));
    Ok(())
}

fn joined(answers: &mut Answers) -> Result<(), Error> {
    for (key, outlets) in [("joined", "lever.outlets=one"), ("parted", "lever.outlets=tandem")] {
        let car = car(&["master.split=diagonal", "pedal.ratio=5", outlets])?;
        let laden = Laden::of(&car, Aboard::AS_WEIGHED);
        for left in failed_circuits(&car, &Hydraulics::of(&car, Warmth::Warm), &laden, 0.8) {
            answers.put(key, left.rate.m_s2());
        }
    }
    Ok(())
}

/// A latched lever on 10 %, with pads that grip a third less when cold.
fn latched(answers: &mut Answers) -> Result<(), Error> {
    let car = car(&[
        "lever.hand_pull=150 N",
        "rear_brake.volume.flex=0.008 cm3/bar",
        "rear_brake.pad.cold_friction=0.27",
    ])?;
    let conditions = Conditions {
        grade: Grade { slope: 0.1, facing: Facing::Up },
        ambient: AIR,
        grip: Some(0.8),
        aboard: Aboard::AS_WEIGHED,
        ..Conditions::default()
    };
    let hold = HoldBench::of(&car, &conditions).and_then(|bench| bench.hold().ok());
    let minutes = |from: From| {
        let arrival = hold.as_ref()?.arrivals.iter().find(|arrival| arrival.from == from)?;
        Some(arrival.holds_for.map_or(480.0, |held| held.s() / 60.0))
    };
    let worst = From::ALL.into_iter().filter_map(minutes).fold(f64::INFINITY, f64::min);
    answers.put("start_line", worst);
    answers.put("half_an_hour", minutes(From::Hot).unwrap_or(f64::NAN));
    let steepest = |from: From| {
        let all = &hold.as_ref()?.arrivals;
        all.iter().find(|arrival| arrival.from == from).map(|arrival| arrival.steepest)
    };
    answers.put("cold_pads", steepest(From::Cold).zip(steepest(From::Warm)).map_or(f64::NAN, |(cold, warm)| cold / warm));
    Ok(())
}

/// The fluid once the car stands.
fn hot(answers: &mut Answers) -> Result<(), Error> {
    let car = car(&["lever.free_play=3 mm"])?;
    let stops = Stops {
        from: Speed::from_m_s(33.0),
        to: Speed::from_m_s(15.0),
        rate: 0.5,
        every: Duration::from_s(16.0),
        repeat: 25,
        slope: 0.0,
        by: By::Pedal,
    };
    let stage = Stage { name: "trade".into(), about: "".into(), parts: vec![StagePart::Stops(stops)] };
    let conditions = Conditions { ambient: AIR, aboard: Aboard::AS_WEIGHED, ..Conditions::default() };
    let heat = HeatBench::of(&car, &conditions).drive(&stage).ok();
    let front = heat.map(|heat| heat.front);
    answers.put("soak", front.map_or(f64::NAN, |front| (front.fluid_soak - front.fluid_running).dk()));
    let at = front.map_or(f64::NAN, |front| front.fluid_soak_at.s());
    answers.put("soak_after", at);
    answers.put("soak_within", at);
    Ok(())
}
