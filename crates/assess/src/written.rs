//! Findings from what was written down: joints that weep or were never felt, checks that fail, what falls due.

use proving::due::{Due, Urgency};
use proving::{CheckResult, Ignored, Proof, Standing};

use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::capital;

/// The finding that a logbook does not read.
pub(crate) const LOGBOOK_LOST: &str = "logbook-lost";

/// Entries that are told before the rest is counted.
const TOLD: usize = 4;

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

/// How many joints are in a state, and which: a sentence.
fn joints_in(proof: &Proof, wanted: impl Fn(Standing) -> bool) -> (usize, String) {
    let joints: Vec<(String, &str)> = proof
        .joints
        .iter()
        .filter(|joint| wanted(joint.state))
        .map(|joint| (joint.number.to_string(), joint.place.as_str()))
        .collect();
    (joints.len(), crate::say::joints(&joints))
}

fn weeps(proof: &Proof) -> Option<Finding> {
    let (wet, which) = joints_in(proof, |state| state == Standing::Weep);
    (wet > 0).then(|| {
        Finding::new("joint-weeps", Weight::Stop, "A joint weeps")
            .because(format!(
                "{which} The logbook has it so. What seeps today lets go under the foot one day."
            ))
            .remedy("Remake it, bleed that corner, hold pressure, feel it again. The car stays where it is until then.")
            .caution(cautions::FLUID)
            .figure("joints", count(wet))
    })
}

fn fails(proof: &Proof) -> Option<Finding> {
    let failing: Vec<String> = proof
        .checks
        .iter()
        .filter_map(|state| match &state.judged {
            Some(CheckResult::Fails(why)) => Some(sentence(&format!("{}: {why}", state.check.words()))),
            _ => None,
        })
        .collect();
    (!failing.is_empty()).then(|| {
        Finding::new("check-fails", Weight::Stop, "A check of the brakes does not hold")
            .because(failing.join(" "))
            .remedy("Find out why, put it right, and make the check again before the car is driven.")
            .caution(cautions::FIRST_DRIVE)
    })
}

fn not_proved(proof: &Proof) -> Option<Finding> {
    let (open, which) = joints_in(proof, |state| !matches!(state, Standing::Dry | Standing::Weep));
    (open > 0).then(|| {
        Finding::new(
            "joints-not-proved",
            Weight::Fix,
            "Not every joint has been found dry",
        )
        .because(format!(
            "{which} The logbook does not say that anybody felt it under pressure since it was last open."
        ))
        .remedy("Go the round: tighten, mark, hold pressure, feel, write it down.")
        .caution(cautions::FLUID)
        .figure("joints", count(open))
    })
}

fn left(proof: &Proof) -> Option<Finding> {
    let left: Vec<String> = proof
        .left
        .iter()
        .map(|(check, because)| {
            format!(
                "Not done: {}, because {}.",
                check.words(),
                because.trim_end_matches('.')
            )
        })
        .collect();
    (!left.is_empty()).then(|| {
        Finding::new("check-left", Weight::Know, "A check was left out")
            .because(left.join(" "))
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
    let mut said: Vec<String> = all
        .iter()
        .take(TOLD)
        .map(|(entry, why)| format!("Entry {entry}: {}.", why.trim_end_matches('.')))
        .collect();
    if all.len() > TOLD {
        said.push(format!("And {} more.", all.len() - TOLD));
    }
    (!all.is_empty()).then(|| {
        Finding::new(
            "entries-not-counted",
            Weight::Fix,
            "Entries of the logbook do not count",
        )
        .because(said.join(" "))
        .remedy("Strike each and write it anew as it is meant.")
        .figure("entries", count(all.len()))
    })
}

/// A phrase as a sentence; it may hold several already.
fn sentence(text: &str) -> String {
    format!("{}.", capital(text))
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
