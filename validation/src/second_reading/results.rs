//! What the engine answers, in the shape in which the second reading wrote it down.

use engine::balance::{Balance, First, KneeAnswer, Left, Purpose, SettingRow, failed_circuits, settings};
use engine::car::{Car, Master, Surface, Wheel};
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverBench, Pull, ToLock, WhatStops, other_layout};
use engine::loads::{Fuel, Laden};
use quantity::si::{Force, Length, Pressure};
use serde_json::{Value as Json, json};

use super::options::{Case, Options};
use crate::Error;

pub(super) fn of(case: &Case) -> Result<Json, Error> {
    let Case { car, asked, .. } = case;
    let refuse = |why: &str| Error::Car {
        which: case.name.clone(),
        why: why.to_owned(),
    };
    let laden = Laden::of(car, asked.aboard());
    let hydraulics = Hydraulics::of(car, asked.warmth);
    let name = asked.surface.as_deref().unwrap_or("hard gravel");
    let surface = car.surface(name).ok_or_else(|| refuse("no such surface"))?;
    let grip = asked.grip.unwrap_or(surface.peak);
    let mut result = match case.verb.as_str() {
        "pressures" => pressures(car, &hydraulics, &laden, asked),
        "balance" => balance(car, hydraulics, laden, asked, grip),
        "settings" => of_settings(car, &hydraulics, asked, surface),
        "lever" => lever(car, &laden, asked, grip).ok_or_else(|| refuse("no lever"))?,
        verb => return Err(refuse(&format!("no verb {verb}"))),
    };
    result["verb"] = json!(case.verb);
    result["state"] =
        json!({ "surface": name, "grip": grip, "crew": asked.crew, "fuel_l": laden_litres(car, asked) });
    Ok(result)
}

fn laden_litres(car: &Car, asked: &Options) -> f64 {
    Laden::of(car, asked.aboard()).fuel.m3() * 1e3
}

const fn is_twin(car: &Car) -> bool {
    matches!(car.master, Master::Twin { .. })
}

fn pa(pressure: Option<Pressure>) -> Json {
    json!(pressure.map(Pressure::pa))
}

fn masters(row: &mut Json, car: &Car, chambers: Option<[Pressure; 2]>) {
    let twin = is_twin(car);
    let [first, second] = [0, 1].map(|chamber| chambers.map(|chambers| chambers[chamber]));
    row["master_pa"] = if twin { Json::Null } else { pa(first) };
    row["front_master_pa"] = if twin { pa(first) } else { Json::Null };
    row["rear_master_pa"] = if twin { pa(second) } else { Json::Null };
}

fn pressures(car: &Car, hydraulics: &Hydraulics, laden: &Laden, asked: &Options) -> Json {
    let hand = asked.hand.unwrap_or(Force::ZERO);
    let answer = hydraulics.answer(
        laden,
        Forces {
            foot: asked.foot,
            hand,
        },
    );
    let standing = laden.axle_loads(0.0);
    let mut pedal = json!({
        "pushrod_n": answer.pedal.push_rod.n(),
        "travel_m": answer.pedal.travel.m(),
        "runs_out": answer.pedal.runs_out,
    });
    masters(&mut pedal, car, Some(answer.pedal.chambers));
    let mut wheels = json!({});
    for wheel in Wheel::ALL {
        let at = &answer.wheels[wheel.index()];
        wheels[wheel.name()] = json!({
            "pressure_pa": at.pressure.pa(),
            "lever_pressure_pa": pa(at.lever_pressure),
            "torque_nm": at.torque.nm(),
            "ground_force_n": at.ground_force.n(),
        });
    }
    json!({
        "load": {
            "mass_kg": laden.mass.kg(),
            "cg_aft_m": laden.cg_aft.m(),
            "cg_height_m": laden.cg_height.m(),
            "front_static_n": standing.front.n(),
            "rear_static_n": standing.rear.n(),
        },
        "pedal": pedal,
        "lever": answer.lever.map(|lever| json!({
            "own_pa": pa(lever.own),
            "travel_m": lever.travel.map(Length::m),
            "runs_out": lever.runs_out.is_some(),
        })),
        "wheels": wheels,
        "braking_rate": answer.braking_rate,
        "front_share": answer.front_share,
    })
}

fn balance(car: &Car, hydraulics: Hydraulics, laden: Laden, asked: &Options, grip: f64) -> Json {
    let failed = failed_circuits(car, &hydraulics, &laden, grip);
    let balance = Balance::of(car, hydraulics, laden, asked.speed);
    let grips = asked
        .grips
        .clone()
        .unwrap_or_else(|| (1..=12).map(|tenth| f64::from(tenth) / 10.0).collect());
    let lock: Vec<Json> = grips
        .into_iter()
        .map(|grip| {
            let lock = balance.lock(grip);
            let first = match lock.first {
                First::Front => "front",
                First::Rear => "rear",
                First::Together => "together",
                First::Neither => "neither",
            };
            let at = lock.at;
            let mut row = json!({
                "grip": grip,
                "first": first,
                "braking_rate": at.map(|at| at.rate),
                "efficiency": at.map(|at| at.efficiency),
                "foot_force_n": at.map(|at| at.foot.n()),
                "rear_pa": pa(at.map(|at| at.rear)),
                "front_first_by": at.map(|at| at.front_first_by).filter(|by| by.is_finite()),
            });
            masters(&mut row, car, at.map(|at| at.chambers));
            row
        })
        .collect();
    let rates = || (2..=20).map(|twentieth| f64::from(twentieth) / 20.0);
    let utilisation: Vec<Json> = rates()
        .filter_map(|rate| balance.utilisation(rate))
        .map(|used| json!({ "braking_rate": used.rate, "front": used.front, "rear": used.rear }))
        .collect();
    let ideal: Vec<Json> = rates()
        .take_while(|&rate| laden.axle_loads(rate).rear >= Force::ZERO)
        .map(|rate| balance.ideal(rate))
        .map(|ideal| json!({ "braking_rate": ideal.rate, "front_n": ideal.front.n(), "rear_n": ideal.rear.n() }))
        .collect();
    let rules = balance.road_rules();
    let road = car.road_registered;
    json!({
        "lock": lock,
        "utilisation": utilisation,
        "ideal": ideal,
        "road_rules": {
            "applies": road,
            "rear_below_front": road.then_some(rules.rear_below_front),
            "least_rate_met": road.then_some(rules.least_rate_met),
        },
        "failed_circuit": failed.map(|failed| json!({
            "left": match failed.left {
                Left::Front => "front",
                Left::Rear => "rear",
                Left::OneDiagonal => "one diagonal",
            },
            "foot_force_n": failed.foot.n(),
            "rate_m_s2": failed.rate.m_s2(),
            "met": failed.met,
            "travel_m": failed.travel.m(),
            "runs_out": failed.runs_out,
        })),
    })
}

fn of_settings(car: &Car, hydraulics: &Hydraulics, asked: &Options, surface: &Surface) -> Json {
    let surfaces = if asked.surface.is_some() || asked.grip.is_some() {
        vec![surface.with_peak(asked.grip.unwrap_or(surface.peak))]
    } else {
        car.surfaces
            .iter()
            .filter(|surface| !surface.is_by_name_only())
            .cloned()
            .collect()
    };
    let fuels = match (asked.fuel, car.load.tank) {
        (Some(fuel), _) => vec![fuel],
        (None, Some(_)) => vec![Fuel::Dry, Fuel::Half, Fuel::Full],
        (None, None) => vec![Fuel::Dry],
    };
    let found = settings(car, hydraulics, &surfaces, &fuels, asked.crew, asked.wish);
    let row = |row: &SettingRow| {
        let knee = match row.knee {
            KneeAnswer::At(knee) => Some(knee),
            KneeAnswer::NoneNeeded | KneeAnswer::Cannot(_) => None,
        };
        json!({
            "surface": &*row.surface,
            "grip": row.grip,
            "fuel_l": row.laden.fuel.m3() * 1e3,
            "for": if row.purpose == Purpose::Stage { "stage" } else { "road" },
            "knee_pa": pa(knee),
            "turns": row.knob,
            "bar_front_share": row.bar.map(|bar| bar.front_share),
            "bar_turns": row.bar.map(|bar| bar.turns),
            "reachable": row.reachable,
            "rear_first_below_grip": row.rear_first_below,
        })
    };
    json!({ "settings": found.rows.iter().map(row).collect::<Vec<_>>() })
}

fn lever(car: &Car, laden: &Laden, asked: &Options, grip: f64) -> Option<Json> {
    let of_car = car.lever.as_ref()?;
    let pull = Pull {
        hand: asked.hand.unwrap_or(of_car.hand_pull),
        grip,
        speed: asked.speed,
    };
    let answer = LeverBench::of(car, asked.warmth)?.answer(laden, pull);
    let other = other_layout(car).and_then(|(layout, car)| {
        let answer = LeverBench::of(&car, asked.warmth)?.answer(laden, pull);
        let mut other = to_lock(&answer.to_lock);
        other["layout"] = json!(layout);
        Some(other)
    });
    Some(json!({
        "to_lock": to_lock(&answer.to_lock),
        "cold": to_lock(&answer.cold),
        "front_dragged": answer.front_dragged,
        "also": answer.also.iter().map(|(_, lock)| json!({ "outcome": outcome(lock), "in_hand": lock.in_hand })).collect::<Vec<_>>(),
        "other_layout": other,
    }))
}

const fn outcome(lock: &ToLock) -> &'static str {
    match lock.outcome {
        WhatStops::Rear => "rear",
        WhatStops::AllFour => "all-four",
        WhatStops::None => "none",
    }
}

fn to_lock(lock: &ToLock) -> Json {
    json!({
        "outcome": outcome(lock),
        "rear_load_n": lock.rear_load.n(),
        "torque_needed_nm": lock.torque_needed.nm(),
        "of_which_coupling_nm": lock.of_which_coupling.nm(),
        "drag": lock.drag,
        "pressure_pa": pa(lock.pressure),
        "own_pa": pa(lock.own),
        "hand_force_n": lock.hand.map(Force::n),
        "travel_m": lock.travel.map(Length::m),
        "enough_force": lock.enough_force,
        "enough_travel": lock.enough_travel,
        "in_hand": lock.in_hand,
    })
}
