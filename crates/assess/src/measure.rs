//! What to measure next: the keys that settle most of the figure that is least sure.

use engine::figures::{Figures, Headlined};

use crate::families::guesses::is_open;

/// Keys that settle less are left out.
const WORTH_IT: f64 = 0.05;
/// How many are given for one figure.
const MOST: usize = 3;

/// One reading that would settle something.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureNext {
    /// Key of the sheet.
    pub key: String,
    /// Headline figure that it settles, by its name in machine-read results.
    pub figure: &'static str,
    /// Share of that figure's range that goes with the key (of its variance, by rank correlation over the draws).
    pub settles: f64,
    /// How it is measured.
    pub how: &'static str,
}

/// For the open verdicts, the lever's before the balance; where none is open, for what is in hand.
pub(crate) fn measure_next(figures: &Figures) -> Vec<MeasureNext> {
    let headlines = &figures.headlines;
    let doubts = [
        (
            Headlined::InHand,
            is_open(headlines.chance_rear_stops()) || is_open(headlines.chance_rear_stops_at_worst()),
        ),
        (Headlined::FrontFirstBy, is_open(headlines.chance_rear_first())),
    ];
    let mut open: Vec<Headlined> = doubts
        .iter()
        .filter(|(_, open)| *open)
        .map(|&(figure, _)| figure)
        .collect();
    if open.is_empty() {
        let has_lever = headlines.middle.in_hand.is_some();
        open.push(if has_lever {
            Headlined::InHand
        } else {
            Headlined::FrontFirstBy
        });
    }
    let mut next: Vec<MeasureNext> = Vec::new();
    for figure in open {
        let settles = figures
            .settles
            .iter()
            .filter(|(of, _)| *of == figure)
            .flat_map(|(_, settles)| settles);
        for settled in settles.filter(|settled| settled.share >= WORTH_IT).take(MOST) {
            let key = settled.slot.path();
            if !next.iter().any(|known| known.key == key) {
                next.push(MeasureNext {
                    how: how(settled.slot.key.key().path),
                    key,
                    figure: figure.name(),
                    settles: settled.share,
                });
            }
        }
    }
    next
}

/// How a key is measured, with what a small workshop has.
fn how(path: &str) -> &'static str {
    let ends = |end: &str| path.ends_with(end);
    match path {
        "weighed.cg_height"
        | "weighed.cg_raise.by"
        | "weighed.cg_raise.front_gains"
        | "weighed.cg_raise.rear_gains" => {
            "Weigh the front, lift the rear wheels by a fifth of the wheelbase or more, weigh the front again on the same \
             scales: wheels free to roll, a strap to hold the car, suspension blocked, tank full or empty."
        }
        "weighed.front" | "weighed.rear" | "weighed.fuel_aboard" => {
            "Corner scales on a level floor, fluids in, nobody aboard, a known amount of fuel; read twice and roll the car \
             off between."
        }
        "geometry.wheelbase" => "A plumb line from both hubs to the floor, then the tape, on both sides.",
        "drivetrain.centre.feel" | "drivetrain.centre.torque_at" => {
            "One rear wheel off the ground, front wheels chocked: a torque wrench on its hub turned steadily, at two or \
             three speeds counted with a watch. Or the coupling on a bench at the speed difference of a pull."
        }
        "drivetrain.centre.turns_per_wheel_turn" => {
            "Look where the coupling sits: on the propshaft, between a centre differential's case and one of its outputs, \
             or behind the final drive. Then chalk on it and on a wheel: its turns to one turn of both wheels."
        }
        "drivetrain.centre.kind" => {
            "Gearbox in neutral, one front and one rear wheel off the ground, the others chocked: turn one by hand and look \
             at the other. It stays: open. It follows at once: locked. It follows slowly: viscous."
        }
        "drivetrain.final_drive" => {
            "Chalk on propshaft and wheel: turns of the shaft to one turn of both wheels."
        }
        "lever.hand_pull" => {
            "A luggage scale on the grip, the driver belted in: the best of three pulls, held for a second."
        }
        "lever.ratio" => {
            "Grip travel over push-rod travel, both with the ruler, near the middle of the stroke."
        }
        "lever.efficiency" | "lever.bore" => {
            "A luggage scale on the grip and a gauge at a rear nipple: force against pressure, three readings."
        }
        "lever.room" | "lever.stroke" | "lever.free_play" | "lever.free_stroke" => {
            "A ruler at the grip, belted in."
        }
        "pedal.ratio" => "Travel of the foot pad over travel of the push rod, with the ruler.",
        "pedal.efficiency" | "pedal.booster.gain" | "pedal.booster.run_out" | "master.bore" => {
            "A bathroom scale under the foot and a gauge at a front nipple, engine on and off: three forces each."
        }
        "bias_valve.knee" | "bias_valve.slope" | "bias_valve.knee.at_fewest" | "bias_valve.knee.at_most" => {
            "Two gauges, one before and one behind the valve: press until the second lags, note where, then well above it."
        }
        _ if ends(".pad.friction") || ends(".lining.friction") || ends(".shoe_factor") => {
            "Wheel off the ground, brake warm, pressure held against a gauge: a torque wrench on the hub at the moment the \
             wheel slips. Both sides."
        }
        _ if ends("cold_friction") => "The same with a torque wrench on the hub, pads or linings stone cold.",
        _ if ends("volume.clearance") || ends("volume.flex") || path.starts_with("air.") => {
            "Pull the lever slowly against a gauge: grip travel at five pressures or more. The start tells clearance, the \
             slope flex, the bend between them air."
        }
        _ if ends("caliper.pistons") || ends("cylinder_bore") => {
            "A vernier on the piston, or on a spare of the same part."
        }
        _ if ends("pad_edges") || ends("effective_radius") => {
            "A ruler on the disc: inner and outer edge of the pad's mark, from the centre of the hub."
        }
        _ if path.starts_with("tyres.") => {
            "A chalk mark on the tyre, one turn along the yard, driver aboard: length over 6.283."
        }
        _ if path.starts_with("surface") => {
            "A stop from 40 km/h with all wheels just short of locking: speed against distance."
        }
        _ if path.starts_with("routes.") || path.starts_with("lines.") => {
            "A string along the path, then the tape."
        }
        _ => "As its help on the sheet says.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whatever_decides_can_be_measured() {
        for path in [
            "weighed.cg_height",
            "rear_brake.pad.friction",
            "rear_brake.lining.friction",
            "drivetrain.centre.feel",
            "lever.hand_pull",
            "bias_valve.knee",
            "rear_brake.volume.flex",
            "rear_brake.caliper.pistons",
        ] {
            assert!(engine::car::KeyId::of(path).is_some(), "{path} is no key");
            assert_ne!(how(path), how("car.name"), "{path}");
        }
    }
}
