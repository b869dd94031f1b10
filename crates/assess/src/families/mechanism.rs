//! Parking mechanisms inside calipers and discs.

use engine::car::Parking;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    if seen.car.lever.as_ref().is_some_and(|lever| lever.cable_kept) {
        return gutted(seen).into_iter().collect();
    }
    let mut findings: Vec<Finding> = gutted(seen).into_iter().collect();
    for (which, brake) in seen.disc_brakes() {
        match brake.caliper.parking {
            Parking::InCaliper if seen.by_fluid() => findings.push(
                Finding::new(
                    "caliper-mechanism-left",
                    Weight::Fix,
                    format!("Parking screws are still in the {which} calipers"),
                )
                .because(
                    "Without its cable the mechanism stays wherever it was left. Off its stop it keeps the piston \
                     from coming home. Then the pads drag, or the first pull is long, and its adjuster no longer takes up wear.",
                )
                .remedy(
                    "Lock both levers off, hard against their stops, with a bracket or a screw. Bleed with them \
                     there. Do not take the inner parts out.",
                )
                .caution(cautions::STANDS),
            ),
            Parking::DrumInDisc if seen.by_fluid() => findings.push(
                Finding::new("parking-shoes-left", Weight::Know, format!("Small shoes stay inside the {which} discs"))
                    .because(
                        "Their cable is gone. Shoes that nothing holds back or works may rattle, wear or jam. Whole \
                         and with a cable they would be the parking brake that the car lacks.",
                    )
                    .remedy("Put a cable back on them, or take shoes and springs out together.")
                    .caution(cautions::STANDS),
            ),
            _ => {}
        }
    }
    findings
}

fn gutted(seen: &Seen<'_>) -> Option<Finding> {
    let (which, _) = seen
        .disc_brakes()
        .into_iter()
        .find(|(_, brake)| brake.caliper.parking == Parking::InCaliperGutted)?;
    Some(
        Finding::new(
            "caliper-mechanism-gutted",
            Weight::Stop,
            format!("The {which} calipers have lost their inner parts"),
        )
        .because(
            "The parking screw also carries the piston and its seal's way home. Without it the caliper is soft and \
             the pads creep back. A bore that was made to be closed by the shaft may leak.",
        )
        .remedy("Fit calipers that never had a mechanism, or whole ones with the lever locked at its stop.")
        .caution(cautions::STANDS),
    )
}
