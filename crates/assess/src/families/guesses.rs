//! Where guesses and tolerances decide the answer.

use engine::car::Slot;
use engine::figures::{Headlined, Settles};
use engine::thresholds::OPEN_FROM;

use super::Seen;
use crate::finding::{Finding, Weight};
use crate::say::{capital, list, percent};

/// A key that settles less is not named.
const NAMED: f64 = 0.05;

/// Whether a chance leaves a verdict open.
#[must_use]
pub fn is_open(chance: Option<f64>) -> bool {
    chance.is_some_and(|chance| (OPEN_FROM..=1.0 - OPEN_FROM).contains(&chance))
}

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let headlines = &seen.figures.headlines;
    let stops = headlines.chance_rear_stops_at_worst();
    let rear_first = headlines.chance_rear_first();
    let mut findings = Vec::new();
    if is_open(stops) {
        let chance = stops.unwrap_or_default();
        findings.push(
            open(
                seen,
                "lever-open",
                "Not sure whether the lever turns the car",
                &crate::say::rear_stops_at_worst(headlines).unwrap_or_default(),
                Headlined::InHand,
            )
            .figure("rear_stops", chance),
        );
    }
    if is_open(rear_first) {
        let chance = rear_first.unwrap_or_default();
        findings.push(
            open(
                seen,
                "balance-open",
                "Which end locks first is not sure",
                &format!(
                    "The rear leads in {} of the cars that the sheet's tolerances allow.",
                    percent(chance)
                ),
                Headlined::FrontFirstBy,
            )
            .figure("rear_locks_first", chance),
        );
    }
    findings.extend(guessed(seen, is_open(stops), is_open(rear_first)));
    findings
}

fn settling<'a>(seen: &Seen<'a>, figure: Headlined) -> impl Iterator<Item = &'a Settles> {
    let figures = seen.figures;
    figures
        .settles
        .iter()
        .filter(move |(of, _)| *of == figure)
        .flat_map(|(_, settles)| settles)
        .filter(|settles| settles.share >= NAMED)
}

fn open(seen: &Seen<'_>, slug: &'static str, title: &str, chance: &str, figure: Headlined) -> Finding {
    let mut keys = settling(seen, figure).take(3);
    let most = keys.next().map_or_else(String::new, |first| {
        format!(
            " It depends most on this: {} ({} of the spread).",
            wording::key_name(first.slot),
            percent(first.share)
        )
    });
    let others: Vec<String> = keys
        .map(|next| format!("{} ({})", wording::key_name(next.slot), percent(next.share)))
        .collect();
    let then = match others.len() {
        0 => String::new(),
        1 => format!(" Then comes: {}.", others[0]),
        _ => format!(" Then come: {}.", list(&others)),
    };
    Finding::new(slug, Weight::Fix, title)
        .because(format!("{chance}{most}{then}"))
        .remedy("Measure the first of these before anything is bought or set. The list of what to measure says how.")
}

/// Defaults and guesses that decide an open verdict.
fn guessed(seen: &Seen<'_>, lever: bool, balance: bool) -> Option<Finding> {
    let open = [(lever, Headlined::InHand), (balance, Headlined::FrontFirstBy)];
    let mut named: Vec<(Slot, String)> = Vec::new();
    for (_, figure) in open.into_iter().filter(|(open, _)| *open) {
        for settles in settling(seen, figure) {
            let leaned = seen
                .figures
                .defaults_used
                .iter()
                .find(|leaned| leaned.slot == settles.slot);
            if let Some(leaned) = leaned.filter(|_| !named.iter().any(|(known, _)| *known == settles.slot)) {
                let name = capital(&wording::key_name(settles.slot));
                named.push((
                    settles.slot,
                    format!("{name}: taken as {}.", wording::taken(leaned)),
                ));
            }
        }
    }
    if named.is_empty() {
        return None;
    }
    let said: Vec<String> = named.into_iter().map(|(_, said)| said).collect();
    Some(
        Finding::new("guesses-decide", Weight::Fix, "Guesses decide the answer")
            .because(format!(
                "Nobody measured what decides. {} The verdict changes within what that may be.",
                said.join(" ")
            ))
            .remedy("Put readings in the place of these. Until then take the answer as a question."),
    )
}

#[cfg(test)]
mod tests {
    use super::is_open;

    #[test]
    fn open_is_from_one_in_twenty_to_nineteen_in_twenty() {
        let open = |chance: f64| is_open(Some(chance));
        assert!(!open(0.0499) && open(0.05) && open(0.95) && !open(0.9501) && !is_open(None));
    }
}
