//! What holds the car when nobody is in it.

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [nothing_mechanical(seen), latched(seen)]
        .into_iter()
        .flatten()
        .collect()
}

fn nothing_mechanical(seen: &Seen<'_>) -> Option<Finding> {
    if seen.parks_mechanically() {
        return None;
    }
    if seen.car.lever.is_none() {
        return Some(
            Finding::new("parking-unknown", Weight::Know, "Nobody said what parks the car")
                .because("There is no lever on it, and `before.parking` names no parking brake.")
                .remedy("Write down what holds the car when it is parked.")
                .caution(cautions::LATCH),
        );
    }
    let (weight, because) = if seen.car.road_registered {
        (
            Weight::Stop,
            "The lever works by fluid, and nothing mechanical stays beside it. The car has number plates. Road rules \
             ask for a parking brake that holds by mechanical means alone.",
        )
    } else {
        (
            Weight::Know,
            "The lever works by fluid and nothing mechanical stays beside it. A car without number plates may do \
             with chocks. A slope does not ask about plates.",
        )
    };
    Some(
        Finding::new("no-parking-brake", weight, "Nothing mechanical holds the parked car")
            .because(because)
            .remedy(
                "Keep or put back a cable, with a lever that latches, to shoes or a caliper of its own. Until then: \
                 chocks, a gear, level ground.",
            )
            .caution(if seen.car.road_registered { cautions::ROAD } else { cautions::LATCH }),
    )
}

fn latched(seen: &Seen<'_>) -> Option<Finding> {
    let lever = seen
        .car
        .lever
        .as_ref()
        .filter(|lever| lever.latch && seen.by_fluid())?;
    let (weight, title) = if lever.cable_kept {
        (Weight::Know, "The latch is no parking brake")
    } else {
        (Weight::Stop, "Only a latch on pressure parks the car")
    };
    let lost = seen
        .figures
        .soaked
        .iter()
        .max_by(|one, other| one.lost.total_cmp(&other.lost));
    let because = lost.map_or_else(
        || {
            "The lever can be held on, and then trapped fluid holds the car. It cools and seeps, and the wheels come \
             free with nobody aboard."
                .to_owned()
        },
        |soaked| {
            format!(
                "The lever can be held on, and then trapped fluid holds the car. Measured here: from {} to {} in {}, \
                 with nobody aboard.",
                seen.say.pressure(soaked.from),
                seen.say.pressure(soaked.to),
                wording::minutes(soaked.held_for)
            )
        },
    );
    Some(
        Finding::new("latched-parking", weight, title)
            .because(because)
            .remedy("Take the latch off, or use it only with the driver strapped in. Park on something mechanical.")
            .caution(cautions::LATCH)
            .figure("from_pa", lost.map(|soaked| soaked.from.pa()))
            .figure("to_pa", lost.map(|soaked| soaked.to.pa())),
    )
}
