//! Internal shoes and sector pads of Bhandari's chapter on brakes.

use core::f64::consts::PI;

use engine::Conditions;
use engine::brake::disc::EFFICIENCY;
use engine::lining::{ShoeGeometry, Shoes};
use engine::brake::{TorqueLaw, Warmth};
use engine::GRAVITY_M_S2;
use engine::car::Brake;
use engine::heat::{By, HeatBench, StagePart, Stage, Stops, TURNING_PARTS};
use engine::loads::Aboard;
use quantity::Dimension;
use quantity::si::{Angle, Duration, Length, Mass, Pressure, Speed, Temperature};

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    shoes(inputs, &mut answers)?;
    pads(inputs, &mut answers)?;
    stop(inputs, &mut answers)?;
    Ok(answers)
}

/// The flywheel as a car of the same energy and speed on wheels of its radius.
fn stop(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let radius = inputs.si("flywheel_diameter", Dimension::Length)? / 2.0;
    let turning = inputs.si("flywheel_speed", Dimension::Rotation)?;
    let takes = inputs.si("flywheel_stops_in", Dimension::Duration)?;
    let thickness = inputs.si("flywheel_thickness", Dimension::Length)?;
    let kg = inputs.number("flywheel_density_kg_m3")? * PI * radius * radius * thickness;
    // Its inertia, half of m r², at the rim.
    let mut car = plain("bhandari-ch12", ["front_brake.disc.vented=false"])?;
    (car.weighed.front, car.weighed.rear) = (Mass::from_kg(kg / 4.0), Mass::from_kg(kg / 4.0));
    let speed = turning * radius;
    let stops = Stops {
        from: Speed::from_m_s(speed),
        to: Speed::ZERO,
        rate: speed / takes / GRAVITY_M_S2,
        every: Duration::from_s(takes),
        repeat: 1,
        slope: 0.0,
        by: By::Pedal,
    };
    let stage = Stage { name: "flywheel".into(), about: "".into(), parts: vec![StagePart::Stops(stops)] };
    let conditions = Conditions { ambient: Temperature::from_celsius(15.0), aboard: Aboard::AS_WEIGHED, ..Conditions::default() };
    let heat = HeatBench::of(&car, &conditions).drive(&stage);
    let energy = heat.map_or(f64::NAN, |heat| heat.account.made_j) / TURNING_PARTS;
    answers.put("stop_energy", energy);
    answers.put("stop_torque", energy / (0.5 * turning * takes));
    Ok(())
}

fn shoes(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let length = |key| inputs.si(key, Dimension::Length).map(Length::from_m);
    let angle = |key| inputs.si(key, Dimension::Angle).map(Angle::from_rad);
    let geometry = ShoeGeometry {
        drum_radius: length("drum_radius")?,
        pivot_radius: length("pivot_radius")?,
        heel: angle("heel")?,
        toe: angle("toe")?,
        force_arm: length("force_arm")?,
    };
    let friction = inputs.number("friction")?;
    let moments = geometry.moments(friction);
    // What the moments are counted in: greatest pressure, width, radius, over the sine of the angle of the greatest
    // pressure. The lining ends before the square, so that is its toe.
    let (pressure_pa, radius_m) = (inputs.si("greatest_pressure", Dimension::Pressure)?, geometry.drum_radius.m());
    let per_m = pressure_pa * length("width")?.m() * radius_m / geometry.toe.rad().sin();
    let (normal, drag) = (moments.normal_m * per_m, moments.friction_m * per_m);
    let force = (normal - drag) / geometry.force_arm.m();
    answers.put("normal_moment", normal);
    answers.put("friction_moment", drag);
    answers.put("leading_torque", moments.drum_m * per_m);
    answers.put("force", force);
    let (leading, trailing) = (geometry.leading(friction).unwrap_or(f64::NAN), geometry.trailing(friction));
    answers.put("leading_factor", leading);
    answers.put("trailing_factor", trailing);
    answers.put("trailing_torque", trailing * force * radius_m);
    answers.put("trailing_pressure", pressure_pa * force * geometry.force_arm.m() / (normal + drag));
    let whole = geometry.factor(Shoes::LeadingTrailing, friction).unwrap_or(f64::NAN);
    answers.put("whole_factor", whole);
    answers.put("torque", inputs.number("shoes_of_a_kind")? * whole * force * radius_m);
    Ok(())
}

/// A caliper whose pistons press a pad of the example's face at the line's pressure.
fn pads(inputs: &Inputs, answers: &mut Answers) -> Result<(), Error> {
    let edges = inputs.list("pad_edges", Dimension::Length)?;
    let [inner, outer] = edges[..] else {
        return Err(Error::Data { folder: "bhandari-ch12", why: "two pad edges".to_owned() });
    };
    let face_m2 = inputs.si("pad_angle", Dimension::Angle)? / 2.0 * (outer.powi(2) - inner.powi(2));
    let piston_m = (face_m2 / 2.0 * 4.0 / PI).sqrt();
    let mut car = plain(
        "bhandari-ch12",
        [
            format!("front_brake.caliper.pistons={piston_m} m, {piston_m} m"),
            format!("front_brake.pad.friction={}", inputs.number("pad_friction")?),
        ],
    )?;
    let friction_radius = engine::lining::friction_radius(Length::from_m(inner), Length::from_m(outer));
    if let Brake::Disc(disc) = &mut car.front_brake {
        disc.effective_radius = friction_radius;
    }
    answers.put("friction_radius", friction_radius.m());
    let law = TorqueLaw::of(&car.front_brake, Warmth::Warm);
    let pressure = Pressure::from_pa(inputs.si("pad_pressure", Dimension::Pressure)?);
    answers.put("pad_torque", law.torque(law.threshold + pressure).nm() / EFFICIENCY);
    Ok(())
}
