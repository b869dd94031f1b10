//! Findings from what was written down: joints that weep or were never felt, checks that fail, what falls due.

use proving::due::{Due, Urgency};
use proving::{Ignored, Judged, Proof, State};

use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::list;

/// The finding that a logbook does not read.
pub(crate) const LOGBOOK_LOST: &str = "logbook-lost";

/// Joints that are named before the rest is counted.
const NAMED: usize = 4;

/// What a logbook's entries mean, as findings that go beside the others. `proof` is `None` where nothing was written about
/// joints or checks: a car that is still a plan is not told that nobody has felt its joints. `not_read` are entries that
/// mean to say something and cannot be read, each with why.
#[must_use]
pub fn written(proof: Option<&Proof>, not_read: &[(i64, String)], due: &[Due]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    if let Some(proof) = proof {
        findings.extend(
            [weeps(proof), fails(proof), not_proved(proof), left(proof)]
                .into_iter()
                .flatten(),
        );
    }
    let ignored = proof.map_or(&[][..], |proof| proof.ignored.as_slice());
    findings.extend(not_counted(not_read, ignored));
    findings.extend(due.iter().map(falls_due));
    findings
}

fn places(proof: &Proof, wanted: impl Fn(State) -> bool) -> Vec<String> {
    proof
        .joints
        .iter()
        .filter(|joint| wanted(joint.state))
        .map(|joint| format!("{} ({})", joint.number, joint.place))
        .collect()
}

fn named(places: &[String]) -> String {
    let mut shown: Vec<String> = places.iter().take(NAMED).cloned().collect();
    if places.len() > NAMED {
        shown.push(format!("{} more", places.len() - NAMED));
    }
    list(&shown)
}

fn weeps(proof: &Proof) -> Option<Finding> {
    let wet = places(proof, |state| state == State::Weep);
    (!wet.is_empty()).then(|| {
        Finding::new("joint-weeps", Weight::Stop, "A joint weeps")
            .because(format!(
                "Joint {}, as the logbook has it. What seeps today lets go under the foot one day.",
                named(&wet)
            ))
            .remedy("Remake it, bleed that corner, hold pressure, feel it again; the car stays where it is until then.")
            .caution(cautions::FLUID)
            .figure("joints", count(wet.len()))
    })
}

fn fails(proof: &Proof) -> Option<Finding> {
    let failing: Vec<String> = proof
        .checks
        .iter()
        .filter_map(|state| match &state.judged {
            Some(Judged::Fails(why)) => Some(format!("{}: {why}", state.check.words())),
            _ => None,
        })
        .collect();
    (!failing.is_empty()).then(|| {
        Finding::new("check-fails", Weight::Stop, "A check of the brakes does not hold")
            .because(format!("{}.", failing.join("; ")))
            .remedy("Find out why, put it right, and make the check again before the car is driven.")
            .caution(cautions::FIRST_DRIVE)
    })
}

fn not_proved(proof: &Proof) -> Option<Finding> {
    let open = places(proof, |state| !matches!(state, State::Dry | State::Weep));
    (!open.is_empty()).then(|| {
        Finding::new(
            "joints-not-proved",
            Weight::Fix,
            "Not every joint has been found dry",
        )
        .because(format!(
            "Joint {}: never felt under pressure since it was last open, as far as the logbook tells.",
            named(&open)
        ))
        .remedy("Go the round: tighten, mark, hold pressure, feel, write it down.")
        .caution(cautions::FLUID)
        .figure("joints", count(open.len()))
    })
}

fn left(proof: &Proof) -> Option<Finding> {
    let left: Vec<String> = proof
        .left
        .iter()
        .map(|(check, because)| format!("{}, because {}", check.words(), because.trim_end_matches('.')))
        .collect();
    (!left.is_empty()).then(|| {
        Finding::new("check-left", Weight::Know, "A check was left out")
            .because(format!("Not done: {}.", left.join("; ")))
            .remedy("Make it where it can be made, before the first event.")
    })
}

/// A logbook that does not read: what it says of weeping joints and failed checks is not known.
#[must_use]
pub fn logbook_lost(said: &str, remedy: &str) -> Finding {
    Finding::new(LOGBOOK_LOST, Weight::Stop, "The logbook does not read")
        .because(format!(
            "{}. A joint that weeps or a check that fails may stand in it, and is not counted here.",
            sentence(said).trim_end_matches('.')
        ))
        .remedy(remedy)
}

/// Nothing that a person wrote is dropped in silence.
fn not_counted(not_read: &[(i64, String)], ignored: &[Ignored]) -> Option<Finding> {
    let mut all: Vec<(i64, &str)> = not_read
        .iter()
        .map(|(entry, why)| (*entry, why.as_str()))
        .chain(ignored.iter().map(|ignored| (ignored.id, ignored.why.as_str())))
        .collect();
    all.sort_unstable_by_key(|(entry, _)| *entry);
    let said: Vec<String> = all
        .iter()
        .map(|(entry, why)| format!("entry {entry}: {why}"))
        .collect();
    (!said.is_empty()).then(|| {
        Finding::new(
            "entries-not-counted",
            Weight::Fix,
            "Entries of the logbook do not count",
        )
        .because(sentence(&named(&said)))
        .remedy("Strike each and write it anew as it is meant.")
        .figure("entries", count(said.len()))
    })
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        format!("{}{}.", first.to_uppercase(), letters.as_str())
    })
}

fn falls_due(due: &Due) -> Finding {
    let weight = match due.urgency {
        Urgency::Now => Weight::Fix,
        Urgency::Soon | Urgency::NotKnown => Weight::Know,
    };
    let title = match due.urgency {
        Urgency::Now => format!("Due now: {}", due.what),
        Urgency::Soon => format!("Due before long: {}", due.what),
        Urgency::NotKnown => format!("Nobody wrote down: {}", due.what),
    };
    Finding::new("falls-due", weight, title)
        .because(sentence(&due.why))
        .remedy(sentence(due.remedy))
}

fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}
