//! Trapped air and the liquid around it under pressure.

use engine::brake::Warmth;
use engine::fluid::{REFERENCE_TEMPERATURE, air_given_up, bulk_modulus_pa, fluid_given_up};
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::{Aboard, Laden};
use quantity::Dimension;
use quantity::si::{Force, Pressure, TemperatureDifference, Volume};

use crate::Error;
use crate::car::{LEVER, Plain};
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let all_m3 = inputs.si("volume", Dimension::Volume)?;
    let wanted_pa = inputs.number("bulk_modulus_gpa")? * 1e9;
    // Our modulus falls straight with temperature: where it has come down to the wanted one.
    let cold_pa = bulk_modulus_pa(REFERENCE_TEMPERATURE);
    let warmer_pa = bulk_modulus_pa(REFERENCE_TEMPERATURE + TemperatureDifference::from_dk(10.0));
    let warmer = TemperatureDifference::from_dk(10.0 * (cold_pa - wanted_pa) / (cold_pa - warmer_pa));
    let shares = inputs.list("share", Dimension::Ratio)?;
    for (share, pressure_pa) in shares.into_iter().zip(inputs.list("pressure", Dimension::Pressure)?) {
        let (air, pressure) = (Volume::from_m3(share * all_m3), Pressure::from_pa(pressure_pa));
        let liquid = Volume::from_m3(all_m3) - air;
        answers.put("air", air_given_up(air, pressure).m3());
        answers.put("liquid", fluid_given_up(liquid, pressure, REFERENCE_TEMPERATURE + warmer).m3());

        let car = Plain::new("boyle").with(LEVER)?.with([format!("air.rear={} m3", air.m3())])?.car()?;
        let hydraulics = Hydraulics::of(&car, Warmth::Warm);
        let hand = hydraulics.effort(pressure).map_or(Force::ZERO, |effort| effort.hand);
        let answer = hydraulics.answer(&Laden::of(&car, Aboard::AS_WEIGHED), Forces { foot: Force::ZERO, hand });
        answers.put("in_the_car", answer.lever.map_or(f64::NAN, |lever| lever.taken.air.m3()));
    }
    Ok(answers)
}
