//! Repeated stops of a brake that is one lump.

use engine::Conditions;
use engine::car::{Brake, Car};
use engine::heat::{By, HeatBench, StagePart, Stage, Stops};
use engine::loads::Aboard;
use engine::thermal::{Corner, Unsure};
use quantity::Dimension;
use quantity::si::{Duration, Mass, Speed, Temperature};

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

/// Nothing reaches a caliper.
const ONE_LUMP: Unsure = Unsure { convection: 1.0, to_caliper: 0.0, disc_to_caliper: 0.0, caliper: 1.0 };
const AIR: Temperature = Temperature::from_celsius(15.0);
/// Each stop takes so little speed.
const SPEEDS: [Speed; 2] = [Speed::from_m_s(20.0), Speed::from_m_s(19.5)];

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let every = Duration::from_s(inputs.si("between", Dimension::Duration)?);
    let mut car = plain("lumped-heat", ["front_brake.disc.vented=false"])?;
    let mean = Speed::from_m_s(0.5 * (SPEEDS[0] + SPEEDS[1]).m_s());
    set_mass(&mut car, 1.0);
    let of_a_kilogram = Corner::of(&car.front_brake, true, ONE_LUMP).cooling_time(AIR, AIR, mean);
    set_mass(&mut car, inputs.si("tau", Dimension::Duration)? / of_a_kilogram.s());
    let peak = |repeat: u32| {
        let stops = Stops { from: SPEEDS[0], to: SPEEDS[1], rate: 1.0, every, repeat, slope: 0.0, by: By::Pedal };
        let stage = Stage { name: "repeated".into(), about: "".into(), parts: vec![StagePart::Stops(stops)] };
        let conditions = Conditions { ambient: AIR, aboard: Aboard::AS_WEIGHED, ..Conditions::default() };
        let heat = HeatBench::unsure(&car, &conditions, ONE_LUMP).drive(&stage);
        heat.map_or(f64::NAN, |heat| (heat.front.disc_peak - AIR).dk())
    };
    let one = peak(1);
    let mut answers = Answers::default();
    for repeat in [5, 20] {
        answers.put("stops", peak(repeat) / one);
    }
    Ok(answers)
}

fn set_mass(car: &mut Car, kg: f64) {
    if let Brake::Disc(disc) = &mut car.front_brake
        && let Some(disc) = &mut disc.disc
    {
        disc.mass = Mass::from_kg(kg);
    }
}
