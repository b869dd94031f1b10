//! Fluid where people sit.

use engine::car::{LeverKind, Place};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [reservoir(seen), joints(seen)].into_iter().flatten().collect()
}

fn reservoir(seen: &Seen<'_>) -> Option<Finding> {
    let places = seen.car.places;
    let separate = seen
        .car
        .lever
        .as_ref()
        .is_some_and(|lever| matches!(lever.kind, LeverKind::Separate(..)));
    let of_pedal = places.reservoir == Place::Cabin;
    let of_lever = separate && places.lever_reservoir == Place::Cabin;
    let which = match (of_pedal, of_lever) {
        (false, false) => return None,
        (true, false) => "The brake reservoir is in the cabin",
        (false, true) => "The lever's reservoir is in the cabin",
        (true, true) => "Both reservoirs are in the cabin",
    };
    let taken = if of_lever && seen.leaned_on("places.lever_reservoir") {
        " The sheet does not say where the lever's is; it is taken to sit on the lever."
    } else {
        ""
    };
    Some(
        Finding::new("reservoir-in-cabin", Weight::Fix, which)
            .because(format!("It is plastic with a push-on cap, beside people in a car that may end on its \
                roof.{taken}"))
            .remedy("Move it behind a bulkhead with a hose, or put it in a sealed metal box. Ask what the event's \
                rules want.")
            .caution(cautions::CABIN),
    )
}

fn joints(seen: &Seen<'_>) -> Option<Finding> {
    let places = seen.car.places;
    (places.rear_run == Place::Cabin && !places.rear_guard).then(|| {
        Finding::new(
            "cabin-joints",
            Weight::Fix,
            "Bare brake line and joints in the cabin",
        )
        .because(
            "The rear run lies inside and nothing covers it. Boots, jacks and helmets lie on it, and a leak \
                sprays inside.",
        )
        .remedy("Cover it, above all the joints at the lever; keep them where they can still be felt.")
        .caution(cautions::CABIN)
    })
}
