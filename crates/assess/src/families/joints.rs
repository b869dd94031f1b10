//! What is screwed into what: ends that do not mate, ports that nobody looked at, hoses and leaks.

use engine::car::{LeverKind, Outlets};
use plumbing::rules::{Caught, caught};
use plumbing::{Joint, Meeting, Plumbing};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::{capital, list};

/// Places that are told before the rest is counted.
const NAMED: usize = 2;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let plumbing = Plumbing::of(seen.car);
    let broken = caught(seen.car, &plumbing);
    let rule = |slug: &str| broken.iter().find(|caught| caught.rule.slug == slug);
    let mut findings: Vec<Finding> = [
        unlisted(&plumbing),
        none_made(&plumbing),
        rule("rigid-to-the-wheel").map(|caught| of_rule(caught, Weight::Fix)),
        rule("pulled-hose").map(|caught| short_hose(seen, caught)),
        shared(seen),
        not_known(&plumbing),
        adapters(&plumbing),
    ]
    .into_iter()
    .flatten()
    .collect();
    findings.extend(
        ["starts-and-strips", "one-nut-two-flares", "thread-not-seat"]
            .into_iter()
            .filter_map(rule)
            .map(|caught| of_rule(caught, Weight::Know)),
    );
    findings
}

/// Which joints these are: a sentence.
fn at(joints: &[&Joint]) -> String {
    let joints: Vec<(String, &str)> = joints
        .iter()
        .map(|joint| (joint.number.to_string(), joint.place.as_str()))
        .collect();
    crate::say::joints(&joints)
}

/// Where a rule is broken: a sentence.
fn here(caught: &Caught) -> String {
    let mut told: Vec<String> = caught.places.iter().take(NAMED).cloned().collect();
    if caught.places.len() > NAMED {
        told.push(format!("{} more", caught.places.len() - NAMED));
    }
    format!("Here: {}.", list(&told))
}

/// A figure that is a count.
fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}

fn joints(plumbing: &Plumbing, wanted: impl Fn(&Meeting) -> bool) -> Vec<&Joint> {
    plumbing
        .joints
        .iter()
        .filter(|joint| wanted(&joint.meeting))
        .collect()
}

fn of_rule(caught: &Caught, weight: Weight) -> Finding {
    Finding::new(caught.rule.slug, weight, caught.rule.title)
        .because(format!("{} {}", caught.rule.because, here(caught)))
        .remedy(caught.rule.remedy)
        .caution(cautions::FLUID)
}

fn unlisted(plumbing: &Plumbing) -> Option<Finding> {
    let first = plumbing.unlisted.first()?;
    let all: Vec<String> = plumbing
        .unlisted
        .iter()
        .map(|unlisted| format!("`{}`: {}.", unlisted.key, unlisted.fault))
        .collect();
    Some(
        Finding::new("unlisted-port", Weight::Fix, "A port on the sheet is not known")
            .because(all.join(" "))
            .remedy(format!(
                "Write thread and seat as they are listed: {}.",
                first.fault.help()
            )),
    )
}

fn none_made(plumbing: &Plumbing) -> Option<Finding> {
    let off = joints(plumbing, |meeting| matches!(meeting, Meeting::None { .. }));
    let Meeting::None { why, change } = &off.first()?.meeting else {
        return None;
    };
    Some(
        Finding::new("none-made", Weight::Fix, "Some ends fit nothing that is made")
            .because(format!("{}. {}", capital(why), at(&off)))
            .remedy(format!("{}.", capital(change)))
            .caution(cautions::FLUID)
            .figure("joints", count(off.len())),
    )
}

fn adapters(plumbing: &Plumbing) -> Option<Finding> {
    let off = joints(plumbing, |meeting| meeting.adapter().is_some());
    if off.is_empty() {
        return None;
    }
    let kinds: std::collections::BTreeSet<&str> =
        off.iter().filter_map(|joint| joint.meeting.adapter()).collect();
    let kinds: Vec<String> = kinds
        .into_iter()
        .map(|kind| format!("Adapter: {kind}."))
        .collect();
    Some(
        Finding::new(
            "adapters-needed",
            Weight::Know,
            format!(
                "{} of {} joints need an adapter",
                off.len(),
                plumbing.joints.len()
            ),
        )
        .because(format!("{} {}", at(&off), kinds.join(" ")))
        .remedy("Each adapter is one more place to weep. Where lines are made anew, ends that suit the ports save \
            them.")
        .figure("joints", count(off.len())),
    )
}

fn not_known(plumbing: &Plumbing) -> Option<Finding> {
    let off = joints(plumbing, |meeting| *meeting == Meeting::NotKnown);
    if off.is_empty() {
        return None;
    }
    Some(
        Finding::new(
            "port-not-known",
            Weight::Know,
            "Threads and seats of some ports are unknown",
        )
        .because(format!("Which nuts and adapters they take cannot be said. {}", at(&off)))
        .remedy(
            "Take out what is in them. Look at the floor of the hole, and count the thread with a gauge. Write both \
             on the sheet, at the part's ports. The listing of threads and seats tells them apart.",
        )
        .figure("joints", count(off.len())),
    )
}

fn short_hose(seen: &Seen<'_>, caught: &Caught) -> Finding {
    let long = caught.length.map_or_else(String::new, |length| {
        format!(
            "It is {} long, where 0.3 to 0.5 m let a wheel move. ",
            seen.say.length(length)
        )
    });
    Finding::new("pulled-hose", Weight::Fix, "A hose is too short for its wheel")
        .because(format!("{long}{} {}", caught.rule.because, here(caught)))
        .remedy(caught.rule.remedy)
        .caution(cautions::STANDS)
        .figure("hose_m", caught.length.map(|length| length.m()))
}

/// An inline lever works through the foot's own rear lines: one leak takes both.
fn shared(seen: &Seen<'_>) -> Option<Finding> {
    let lever = seen.car.lever.as_ref()?;
    let inline = matches!(&lever.kind, LeverKind::Inline(cylinder) if cylinder.outlets == Outlets::One);
    (inline && !lever.cable_kept).then(|| {
        Finding::new(
            "hand-shares-the-rear",
            Weight::Know,
            "One leak takes rear brakes and handbrake",
        )
        .because(
            "The lever sits in the rear line, and works through the same pipes, hoses and seals as the foot. It is \
             no second way of stopping should one of them open.",
        )
        .remedy(
            "Keep a cable beside it, or give the lever calipers of its own. Prove every joint behind it first, and \
             again after the first event.",
        )
        .caution(cautions::LATCH)
    })
}
