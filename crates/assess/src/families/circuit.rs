//! What is left of the brakes when something leaks.

use engine::balance::{FailedCircuit, Left};
use engine::thresholds::LEAST_SECONDARY;
use wording::deceleration;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::list;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let foot = &seen.figures.foot;
    if foot.failed.iter().any(|failed| failed.joined) {
        return vec![joined(seen)];
    }
    vec![one_gone(seen, &foot.failed, &foot.failed_on_tarmac)]
}

fn joined(seen: &Seen<'_>) -> Finding {
    let failed = &seen.figures.foot.failed[0];
    Finding::new("circuits-joined", Weight::Stop, "One leak empties both circuits")
        .because(format!(
            "The circuits run corner to corner, and both rear pipes end in one outlet of the handbrake's cylinder. \
             There their fluid meets. With any rear pipe or hose open, a foot of {} stops nothing.",
            seen.say.force(failed.foot)
        ))
        .remedy(
            "Fit a cylinder with two outlets, tandem or side by side, one for each circuit. Or change the split to \
             front and rear.",
        )
        .caution(cautions::FLUID)
        .figure("rate_m_s2", failed.rate.m_s2())
}

/// As a title begins.
const fn wheels(failed: &FailedCircuit) -> &'static str {
    match failed.left {
        Left::Front => "Front wheels",
        Left::Rear => "Rear wheels",
        Left::OneDiagonal => "Two wheels across",
    }
}

const fn left(failed: &FailedCircuit) -> &'static str {
    match failed.left {
        Left::Front => "the front wheels",
        Left::Rear => "the rear wheels",
        Left::OneDiagonal => "one front wheel and the rear wheel across",
    }
}

/// Of the wheels that are left, the friction that nobody measured: `the rear pads' friction`.
fn guessed(seen: &Seen<'_>, failed: &FailedCircuit) -> Vec<String> {
    let (front, rear) = match failed.left {
        Left::Front => (true, false),
        Left::Rear => (false, true),
        Left::OneDiagonal => (true, true),
    };
    let sides = [("front", front), ("rear", rear)];
    let parts = [("pad", "pads'"), ("lining", "linings'")];
    sides
        .into_iter()
        .filter(|(_, left)| *left)
        .flat_map(|(axle, _)| parts.map(|(part, whose)| (axle, part, whose)))
        .filter(|(axle, part, _)| {
            let path = format!("{axle}_brake.{part}.friction");
            let leaned = seen.figures.defaults_used.iter();
            leaned
                .filter(|leaned| leaned.guess)
                .any(|leaned| leaned.slot.path() == path)
        })
        .map(|(axle, _, whose)| format!("the {axle} {whose} friction"))
        .collect()
}

fn one_gone(seen: &Seen<'_>, here: &[FailedCircuit; 2], tarmac: &[FailedCircuit; 2]) -> Finding {
    let weak = |failed: &&FailedCircuit| failed.rate < LEAST_SECONDARY;
    let long = tarmac.iter().find(|failed| failed.runs_out);
    let short = tarmac.iter().find(weak);
    let weight = match (long.or(short), seen.car.road_registered) {
        (Some(_), true) => Weight::Stop,
        (Some(_), false) => Weight::Fix,
        (None, _) => Weight::Know,
    };
    // A diagonal split leaves the same twice.
    let told = if tarmac[0].left == tarmac[1].left { 1 } else { 2 };
    let each: Vec<String> = tarmac
        .iter()
        .zip(here)
        .take(told)
        .map(|(tarmac, here)| {
            let (dry, here) = (deceleration(tarmac.rate), deceleration(here.rate));
            let rates = if dry == here {
                format!("{dry} on dry tarmac and here")
            } else {
                format!("{dry} on dry tarmac, {here} here")
            };
            let down = seen.say.length(tarmac.travel);
            format!("With {} alone: {rates}, the pedal {down} down.", left(tarmac))
        })
        .collect();
    let guesses = long
        .or(short)
        .map_or_else(Vec::new, |failed| guessed(seen, failed));
    let sure = if guesses.is_empty() { "" } else { " (guessed)" };
    let (title, remedy) = match (long, short) {
        (Some(failed), _) => (
            format!("{} alone: the pedal runs out{sure}", wheels(failed)),
            "Shorten what eats the pedal's travel (air, clearance, soft hose), or fit a master cylinder with more \
             stroke or bore.",
        ),
        (None, Some(failed)) => (
            format!("{} alone hardly stop the car{sure}", wheels(failed)),
            "Give the weak circuit more: pads with more friction, larger pistons, a larger disc, a better booster.",
        ),
        (None, None) => (
            "With one circuit gone the car still stops".to_owned(),
            "Tell whoever drives how far the pedal falls then, and that it takes the whole foot.",
        ),
    };
    Finding::new("one-circuit-gone", weight, title)
        .because(format!(
            "The road rule wants {1} at {0} of foot. {2}{3}",
            seen.say.force(tarmac[0].foot),
            deceleration(LEAST_SECONDARY),
            each.join(" "),
            if guesses.is_empty() {
                String::new()
            } else {
                format!(" It rests on a guess: {}.", list(&guesses))
            }
        ))
        .remedy(if guesses.is_empty() {
            remedy.to_owned()
        } else {
            format!("Measure {} before you buy. {remedy}", list(&guesses))
        })
        .caution(cautions::FIRST_DRIVE)
        .figure("first_left_rate_m_s2", tarmac[0].rate.m_s2())
        .figure("second_left_rate_m_s2", tarmac[1].rate.m_s2())
        .figure("first_left_travel_m", tarmac[0].travel.m())
        .figure("second_left_travel_m", tarmac[1].travel.m())
}
