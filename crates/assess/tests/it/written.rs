//! Findings from what was written down, each on a logbook that has it and gone from one that does not.

use assess::Weight::{self, Fix, Know, Stop};
use engine::car::{Assembled, Date};
use plumbing::Plumbing;
use proving::due::due;
use proving::{Check, CheckFound, Fact, JointFound, Noted, prove};

use crate::looked::{read, read_aloud, sheet_text};

fn car(name: &str) -> Assembled {
    read(&sheet_text(name), &[]).unwrap().1
}

fn day(of: &str) -> Date {
    of.parse().unwrap()
}

fn noted(facts: &[(&str, Fact)]) -> Vec<Noted> {
    (1..)
        .zip(facts)
        .map(|(id, (on, fact))| Noted {
            id,
            day: day(on),
            fact: fact.clone(),
        })
        .collect()
}

/// The finding of a slug in what was written, as seen on a day; checks come after a round in which every joint was found
/// so.
fn weight(slug: &str, found: &[JointFound], facts: &[Fact]) -> Option<Weight> {
    let car = car("tarn").car;
    let plumbing = Plumbing::of(&car);
    let mut all: Vec<(&str, Fact)> = Vec::new();
    for joint in &plumbing.joints {
        all.extend(found.iter().map(|&found| {
            let joint = joint.id.clone();
            ("2026-04-01", Fact::Joint { joint, found })
        }));
    }
    all.extend(facts.iter().map(|fact| ("2026-04-02", fact.clone())));
    let history = noted(&all);
    let proof = prove(&car, &plumbing, &history);
    assert!(proof.ignored.is_empty(), "{:?}", proof.ignored);
    let findings = assess::written(Some(&proof), &[], &[]);
    read_aloud(&findings);
    findings
        .iter()
        .find(|finding| finding.slug == slug)
        .map(|finding| finding.weight)
}

const DRY: [JointFound; 2] = [JointFound::Marked, JointFound::Dry];

fn one(joint: &str, found: JointFound) -> Fact {
    Fact::Joint {
        joint: joint.to_owned(),
        found,
    }
}

#[test]
fn one_joint_of_all_decides() {
    assert_eq!(weight("joint-weeps", &DRY, &[]), None);
    assert_eq!(weight("joints-not-proved", &DRY, &[]), None);
    let weeps = [one("1", JointFound::Weep)];
    assert_eq!(weight("joint-weeps", &DRY, &weeps), Some(Stop));
    assert_eq!(weight("joints-not-proved", &DRY, &weeps), None, "it is known");
    let remade = [one("1", JointFound::Weep), one("1", JointFound::Remade)];
    assert_eq!(weight("joint-weeps", &DRY, &remade), None);
    assert_eq!(weight("joints-not-proved", &DRY, &remade), Some(Fix));
    let again = [&remade[..], &[one("1", JointFound::Dry)]].concat();
    assert_eq!(weight("joints-not-proved", &DRY, &again), None);
    assert_eq!(weight("joints-not-proved", &[JointFound::Marked], &[]), Some(Fix));
}

#[test]
fn checks_that_fail_or_are_left() {
    let of = |check: Check, said: CheckFound| Fact::Checked { check, said };
    let said = |said: CheckFound| of(Check::Screws, said);
    assert_eq!(weight("check-fails", &DRY, &[said(CheckFound::Held)]), None);
    assert_eq!(
        weight("check-fails", &DRY, &[said(CheckFound::Failed)]),
        Some(Stop)
    );
    let again = [said(CheckFound::Failed), said(CheckFound::Held)];
    assert_eq!(weight("check-fails", &DRY, &again), None, "the last one counts");
    let left = CheckFound::NotDone("no slope here".to_owned());
    assert_eq!(weight("check-left", &DRY, &[of(Check::Even, left)]), Some(Know));
    assert_eq!(
        weight("check-left", &DRY, &[of(Check::Even, CheckFound::Held)]),
        None
    );
}

/// What a person wrote and nobody could read, or could not count, is told; a logbook that does not read is a stop.
#[test]
fn nothing_written_is_dropped_in_silence() {
    let told = |not_read: &[(i64, String)]| -> Vec<(&'static str, Weight)> {
        let findings = assess::written(None, not_read, &[]);
        read_aloud(&findings);
        findings
            .iter()
            .map(|finding| (finding.slug, finding.weight))
            .collect()
    };
    assert_eq!(told(&[]), []);
    assert_eq!(
        told(&[(3, "no number".to_owned())]),
        [("entries-not-counted", Fix)]
    );
    let lost = assess::logbook_lost("it is cut short", "Look at it.");
    assert_eq!((lost.slug, lost.weight), ("logbook-lost", Stop));
}

/// Fluid after a season of 365 days is due, from 300 days on before long; nothing is said of it earlier.
#[test]
fn what_falls_due_is_a_finding() {
    let car = car("tarn").car;
    let plumbing = Plumbing::of(&car);
    let history = noted(&[("2026-04-01", Fact::FluidChanged)]);
    let weights = |on: &str| -> Vec<Weight> {
        let mut due = due(&car, &plumbing, &history, day(on));
        due.retain(|due| due.slug == "fluid-age");
        let findings = assess::written(None, &[], &due);
        read_aloud(&findings);
        findings
            .iter()
            .filter(|finding| finding.slug == "falls-due")
            .map(|finding| finding.weight)
            .collect()
    };
    assert_eq!(weights("2027-01-25"), [], "299 days");
    assert_eq!(weights("2027-01-27"), [Know], "301 days");
    assert_eq!(weights("2027-04-03"), [Fix], "367 days");
}
