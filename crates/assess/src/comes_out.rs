//! What the new parts replace or make useless, what it did, and what has to take its place.

use engine::car::{Brake, Car, Master, OldParking, Parking, ShoeAdjuster};

/// A part that comes out, or should.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ComesOut {
    /// The part.
    pub part: String,
    /// What it did.
    pub did: String,
    /// What takes its place, or has to.
    pub replaced_by: String,
}

fn out(part: impl Into<String>, did: impl Into<String>, replaced_by: impl Into<String>) -> ComesOut {
    ComesOut {
        part: part.into(),
        did: did.into(),
        replaced_by: replaced_by.into(),
    }
}

/// The list, in the order in which a car is stripped.
#[must_use]
pub fn comes_out(car: &Car) -> Vec<ComesOut> {
    let mut list = Vec::new();
    if car.before.factory_valve {
        let by = match (&car.bias_valve, &car.master) {
            (Some(_), _) => {
                "the bias valve on the sheet, once the balance says that it is set right".to_owned()
            }
            (None, Master::Twin { .. }) => "the balance bar".to_owned(),
            (None, Master::Tandem { .. }) => "nothing yet: a bias valve has to".to_owned(),
        };
        list.push(out(
            "the factory's rear valve",
            "held the rear back as load moved forward",
            by,
        ));
    }
    let lever = match &car.lever {
        Some(lever) if lever.cylinder().is_some() => lever,
        _ => return list,
    };
    if !lever.cable_kept {
        list.extend(parking(car));
    }
    if let Brake::Disc(brake) = &car.rear_brake
        && brake.caliper.parking == Parking::InCaliper
        && !lever.cable_kept
    {
        list.push(out(
            "the screws in the rear calipers (they stay, locked at their stops)",
            "pressed the pads for parking and took up their wear",
            "calipers without a mechanism, if they drag",
        ));
    }
    if let Some(place) = &car.before.old_rear_pipe {
        list.push(out(
            format!("the old rear pipe ({place})"),
            "carried the foot's pressure to the rear",
            "the new rear line; close the ports that it leaves",
        ));
    }
    list
}

const PARKS: &str = "a mechanical parking brake with a latch: nothing on the sheet holds the parked car";

fn parking(car: &Car) -> Vec<ComesOut> {
    let shoes_need = match &car.rear_brake {
        Brake::Drum(drum) if drum.adjuster == ShoeAdjuster::LeverRatchet => {
            "the shoes: a spanner before every event, or self-adjusters"
        }
        _ => "nothing: the shoes are taken up by other means",
    };
    match car.before.parking {
        OldParking::None => Vec::new(),
        OldParking::CableShoes => vec![
            out(
                "the parking lever and its cables",
                "held the parked car, whatever the fluid did",
                PARKS,
            ),
            out(
                "the levers inside the drums",
                "spread the shoes, and worked the ratchet that took up their wear",
                shoes_need,
            ),
        ],
        OldParking::CableInCaliper => {
            vec![out(
                "the parking lever and its cables",
                "pressed the rear pads by screws in the calipers",
                PARKS,
            )]
        }
        OldParking::CableDrumInDisc => vec![
            out(
                "the parking lever and its cables",
                "held the parked car, whatever the fluid did",
                PARKS,
            ),
            out(
                "the small shoes inside the rear discs",
                "were the parking brake",
                "nothing, if shoes, springs and levers come out together; better a cable to them",
            ),
        ],
        OldParking::Electric => vec![out(
            "the electric parking brake, its motors, switch and wiring",
            "held the parked car, and stopped it when the pedal failed",
            format!("{PARKS}. The car's electronics have to be told that it is gone"),
        )],
    }
}
