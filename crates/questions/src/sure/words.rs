//! Figures, readings and ways of reading, in words.

use engine::car::Wheel;
use engine::figures::Headlined;
use engine::settles::OfTurn;
use engine::updating::{Read, Reading, ReadingWay};
use quantity::{Dimension, Unit, units_of};
use wording::{Measured, Units, figure};

use crate::opened::Opened;
use crate::readings::ReadingForm as Form;

/// A figure of the turn.
pub(super) const fn name_of_turn(of: OfTurn) -> &'static str {
    match of {
        OfTurn::Heading => "the heading at the end",
        OfTurn::ComesRound => "whether it comes round",
    }
}

/// A figure in its unit.
pub(super) fn measured(
    of: Headlined,
    si: f64,
    range: Option<engine::ranges::Range>,
    units: &Units,
) -> Measured {
    match of {
        Headlined::HandForce => Measured::new(si, range, units.force),
        Headlined::Travel => Measured::new(si, range, units.length),
        Headlined::Pressure => Measured::new(si, range, units.pressure),
        Headlined::FrontFirstBy | Headlined::InHand | Headlined::RearStops => Measured::per_cent(si, range),
    }
}

/// The unit of a key's figure.
pub(super) fn unit(of: Dimension, units: &Units) -> Unit {
    match of {
        Dimension::Pressure => units.pressure,
        Dimension::Length => units.length,
        Dimension::Force => units.force,
        Dimension::Torque => units.torque,
        Dimension::Mass => units.mass,
        other => units_of(other)[0],
    }
}

/// What a reading read, at what: `134 N m at the rear left hub, 15 bar held, cold`.
pub(super) fn reading(reading: &Reading, units: &Units) -> String {
    let value = value(reading, reading.value_si(), units);
    match reading.read {
        Read::Pedal { engine_on, foot, .. } => {
            let how = if engine_on {
                "engine running"
            } else {
                "no assistance"
            };
            format!("{value} under {} of foot, {how}", figure(foot.n(), units.force))
        }
        Read::Hand { hand, .. } => {
            format!(
                "{value} at the rear under {} of hand",
                figure(hand.n(), units.force)
            )
        }
        Read::Travel { pressure, .. } => {
            format!(
                "{value} of grip travel at {}",
                figure(pressure.pa(), units.pressure)
            )
        }
        Read::Wheel {
            wheel,
            warmth,
            pressure,
            ..
        } => {
            let warmth = match warmth {
                Some(engine::brake::Warmth::Cold) => ", cold",
                Some(engine::brake::Warmth::Warm) => ", warm",
                None => "",
            };
            let held = figure(pressure.pa(), units.pressure);
            format!("{value} at the {} hub, {held} held{warmth}", side(wheel))
        }
    }
}

/// A figure of a reading's kind.
pub(super) fn value(of: &Reading, si: f64, units: &Units) -> String {
    match of.read {
        Read::Pedal { .. } | Read::Hand { .. } => figure(si, units.pressure),
        Read::Travel { .. } => figure(si, units.length),
        Read::Wheel { .. } => figure(si, units.torque),
    }
}

/// The entry of the sheet that a reading stands in, and its point where it has several: `measured.pull[2]`.
pub(super) fn entry(of: &Reading) -> String {
    format!("{}[{}]", of.table(), of.entry)
}

/// The same for people: `pull 1`.
pub(super) fn taken(of: &Reading) -> String {
    let table = of.table();
    format!("{} {}", table.rsplit('.').next().unwrap_or(table), of.entry)
}

const fn side(wheel: Wheel) -> &'static str {
    match wheel {
        Wheel::FrontLeft => "front left",
        Wheel::FrontRight => "front right",
        Wheel::RearLeft => "rear left",
        Wheel::RearRight => "rear right",
    }
}

/// A way of taking readings, as it is done.
pub(super) const fn way(of: ReadingWay) -> &'static str {
    match of {
        ReadingWay::PedalOn => {
            "The pedal on a scale against a gauge, engine running: one light press, one firm"
        }
        ReadingWay::PedalOff => {
            "The pedal on a scale against a gauge, booster empty or none: one firm press, one hard"
        }
        ReadingWay::HandForce => {
            "The handbrake on a luggage scale against a gauge at the rear: half a pull, and a whole one"
        }
        ReadingWay::GripTravel => {
            "The grip's travel against a gauge at the rear: stops at low, middle and high pressure"
        }
        ReadingWay::RearWheel => {
            "A torque wrench on a rear hub, the wheel off the ground and its pressure held"
        }
        ReadingWay::FrontWheel => {
            "A torque wrench on a front hub, the wheel off the ground and its pressure held"
        }
    }
}

/// Its name in machine-read results.
pub(super) const fn way_named(of: ReadingWay) -> &'static str {
    match of {
        ReadingWay::PedalOn => "pedal-engine-on",
        ReadingWay::PedalOff => "pedal-engine-off",
        ReadingWay::HandForce => "hand-force",
        ReadingWay::GripTravel => "grip-travel",
        ReadingWay::RearWheel => "rear-wheel",
        ReadingWay::FrontWheel => "front-wheel",
    }
}

/// The form that takes it down.
pub(super) const fn form(of: ReadingWay) -> Form {
    match of {
        ReadingWay::PedalOn | ReadingWay::PedalOff => Form::Pedal,
        ReadingWay::HandForce | ReadingWay::GripTravel => Form::Pull,
        ReadingWay::RearWheel | ReadingWay::FrontWheel => Form::Wheel,
    }
}

/// How many readings stand on the sheet that may narrow its tolerances.
pub(crate) fn readings(opened: &Opened) -> usize {
    let measured = &opened.car().measured;
    measured.pedal.len() + measured.pull.len() + measured.wheel.len()
}

/// The same for the index: nothing is computed for it.
pub(super) fn in_short(opened: &Opened) -> String {
    match readings(opened) {
        0 => "no reading yet".to_owned(),
        count => format!("{} on the sheet", wording::readings(count)),
    }
}
