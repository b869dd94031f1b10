//! The anti-lock unit.

use engine::car::{Abs, LeverKind, Master};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    match seen.car.abs {
        Abs::None => Vec::new(),
        Abs::Fitted => fitted(seen).into_iter().collect(),
        Abs::Removed => vec![removed(seen)],
    }
}

fn fitted(seen: &Seen<'_>) -> Option<Finding> {
    let lever = seen.car.lever.as_ref().filter(|_| seen.by_fluid())?;
    let (weight, how) = match lever.kind {
        LeverKind::Inline(_) => (
            Weight::Fix,
            "The lever locks the wheels that the unit keeps turning, in the line that it shuts and opens. The unit \
             may bleed the hand's pressure away, or hold it. Or it shuts itself down and takes its share of the balance with it.",
        ),
        _ => (
            Weight::Know,
            "The lever has brakes of its own. But the unit sees rear wheels stop without a foot on the pedal, and \
             may shut itself down.",
        ),
    };
    Some(
        Finding::new(
            "antilock-fitted",
            weight,
            "The anti-lock unit is still in the line",
        )
        .because(how)
        .remedy(
            "Take it out of the circuit, and fit a bias valve for what it did at the rear. Or leave the \
                handbrake out.",
        )
        .caution(cautions::ROAD),
    )
}

fn removed(seen: &Seen<'_>) -> Finding {
    let replaced = seen.car.bias_valve.is_some() || matches!(seen.car.master, Master::Twin { .. });
    let (weight, title, now) = if replaced {
        (
            Weight::Know,
            "Anti-lock unit gone: what limits the rear?",
            "A valve or a bar is in its place; see where the rear locks first.",
        )
    } else {
        (
            Weight::Fix,
            "Anti-lock unit gone: nothing limits the rear",
            "Nothing is in its place.",
        )
    };
    Finding::new("antilock-removed", weight, title)
        .because(format!(
            "Units of later cars also held the rear back in plain braking. Such cars have no other \
            valve. {now}"
        ))
        .remedy("Find out what limited the rear on this car. Set valve or bar by the balance, not by feel.")
        .caution(cautions::ROAD)
        .figure(
            "front_first_by",
            seen.figures.braked.lock.at.map(|point| point.front_first_by),
        )
}
