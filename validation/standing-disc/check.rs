//! A disc that stands in still air.

use engine::car::Brake;
use engine::thermal::{Corner, Unsure, convection_w_m2_k};
use quantity::Dimension;
use quantity::si::{Length, Mass, Speed, Temperature};

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let standing = convection_w_m2_k(Speed::ZERO);
    answers.put("least", standing);
    answers.put("most", standing);
    let mut car = plain("standing-disc", ["front_brake.disc.vented=false"])?;
    // Both faces of a ring of that area, on a bore of 100 mm.
    let outer_m = (0.05_f64.powi(2) + inputs.number("disc_area_m2")? / (2.0 * core::f64::consts::PI)).sqrt();
    if let Brake::Disc(brake) = &mut car.front_brake
        && let Some(disc) = &mut brake.disc
    {
        disc.mass = Mass::from_kg(inputs.si("disc_mass", Dimension::Mass)?);
        disc.inner_diameter = Some(Length::from_m(0.1));
        disc.outer_diameter = Some(Length::from_m(2.0 * outer_m));
    }
    let at = |key| inputs.si(key, Dimension::Temperature).map(Temperature::from_k);
    let corner = Corner::of(&car.front_brake, true, Unsure::default());
    answers.put("time", corner.cooling_time(at("disc_at")?, at("air")?, Speed::ZERO).s());
    Ok(answers)
}
