//! What to mind while it is bled.

use engine::car::{Brake, Car, LeverKind, OldParking, Outlets, Parking};
use plumbing::bleeding::{BledCorner, LeverAt, ValveAt};

/// What to mind, in the order of the work; `corners` as they are bled.
#[must_use]
pub fn mind(car: &Car, corners: &[BledCorner]) -> Vec<String> {
    let mut mind = vec![
        "Gloves and glasses; fluid off paint at once, with water. Car on stands, wheels off.".to_owned(),
        "Fluid from sealed bottles of one grade. Keep the reservoir above its least mark all the time."
            .to_owned(),
    ];
    if corners.iter().any(|corner| corner.valve == ValveAt::Mid) {
        mind.push(
            "Bias valve to mid-range, so that it restricts little; write down where it stood, and put it back after."
                .to_owned(),
        );
    }
    if corners.iter().any(|corner| corner.lever == LeverAt::Rest) {
        mind.push(
            "Handbrake at rest, right off its stop, so that its by-pass lets fluid and air through. A lever that is \
             held shuts the rear off."
                .to_owned(),
        );
    }
    mind.push(
        "The longest line first, unless the car's maker gives another order: then that one.".to_owned(),
    );
    mind.push(
        "Bleed screws at the highest point of each brake; both of an opposed caliper, inner first."
            .to_owned(),
    );
    let parking = |brake: &Brake| match brake {
        Brake::Disc(disc) => matches!(
            disc.caliper.parking,
            Parking::InCaliper | Parking::InCaliperGutted
        ),
        Brake::Drum(_) => false,
    };
    if parking(&car.rear_brake) || car.before.parking == OldParking::CableInCaliper {
        mind.push(
            "Rear calipers with a parking mechanism: screwed in to its stop, or air stays behind the piston."
                .to_owned(),
        );
    }
    if corners.iter().any(|corner| corner.lever == LeverAt::Works) {
        mind.push("The second calipers by the lever itself, from its own reservoir, last.".to_owned());
    }
    let inline_two = matches!(
        car.lever.as_ref().map(|lever| &lever.kind),
        Some(LeverKind::Inline(cylinder)) if cylinder.outlets != Outlets::One
    );
    if corners.iter().any(|corner| corner.lever == LeverAt::Rest) {
        mind.push(format!(
            "If two pulls afterwards still differ, the pocket is in the lever's cylinder. Put {} uppermost, then \
             pull strokes. Open a rear screw before each, and close it before the lever goes back.",
            if inline_two { "its outlets" } else { "its outlet" }
        ));
    }
    mind.push("What was opened and is left over draws water. Throw it away where oil is taken.".to_owned());
    mind
}
