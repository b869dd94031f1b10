//! Steady drifts: in an equilibrium nothing changes.

use engine::turn::Motion;
use quantity::Dimension;

use crate::Error;
use crate::single_track::{Fiala, SingleTrack, idle};
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    let numbers = |key| inputs.list(key, Dimension::Ratio);
    let (arms, stiffness) = (numbers("arms_m")?, numbers("stiffness_n_rad")?);
    let car = SingleTrack {
        mass_kg: inputs.number("mass_kg")?,
        // It turns no force into a rate that is nought.
        yaw_inertia_kg_m2: 1000.0,
        arms_m: [arms[0], arms[1]],
        height_m: 0.0,
        wheel_inertia_kg_m2: 2.0,
        radius_m: 0.3,
    };
    let (steer, slip) = (numbers("steer_deg")?, numbers("side_slip_deg")?);
    let (yaw, along) = (numbers("yaw_rate_rad_s")?, numbers("rear_along_n")?);
    for (index, speed) in numbers("speed_m_s")?.into_iter().enumerate() {
        let vehicle = car.on(Fiala {
            stiffness_n_rad: [0.5 * stiffness[0], 0.5 * stiffness[1]],
            grip: inputs.number("grip")?,
            rear_along_n: 0.5 * along[index],
        });
        let motion = Motion {
            forward_m_s: speed,
            sideways_m_s: speed * slip[index].to_radians().tan(),
            yaw_rate_rad_s: yaw[index],
            steer_rad: steer[index].to_radians(),
            wheel_rad_s: [speed / 0.3; 4],
            ..Motion::default()
        };
        let rates = vehicle.rates(&motion, &idle(0.0, 1.0), 0.5);
        answers.put("along", rates.forward_m_s);
        answers.put("across", rates.sideways_m_s);
        answers.put("round", rates.yaw_rate_rad_s);
    }
    Ok(answers)
}
