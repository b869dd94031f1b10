//! Where it leaks, as it is shown.

use symptoms::{CutStep, How, Sign, Suspect};
use wording::{counted, per_cent};

use super::{Ask, Outcome};
use crate::options::STILL;
use crate::question::Case;
use crate::report::{Block, Choice, Detail, Frame, Headline, Report, Section, Table};

/// What stands beside every plug and clamp.
const CLAMPS: &str = "Braided hose is never clamped; rubber hose only with smooth jaws.";
/// And beside whatever was opened.
const OPENED: &str =
    "Every joint that a plug opened is untried again: mark it, bleed, and feel it round once more.";
/// And beside the fluid.
const ON_FLUID: &str = "Fluid strips paint and harms eyes and skin: gloves, glasses, wash down with water, and dry before you look.";
/// A car that loses pressure is not driven.
const NOT_DRIVEN: &str = "A circuit that leaks is not driven, not even to the next service.";

/// Suspects that are listed at once.
const MOST: usize = 12;

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let mut report = Report::of(&Ask, case, headline(outcome));
    if let Some(step) = &outcome.found.next {
        report.section(next(outcome, step));
    }
    report.section(suspects(outcome));
    if !outcome.found.made.is_empty() {
        report.section(made(outcome));
    }
    report.caution(NOT_DRIVEN);
    report.caution(CLAMPS);
    report.caution(ON_FLUID);
    report.caution(OPENED);
    report
}

fn headline(outcome: &Outcome) -> Headline {
    let found = &outcome.found;
    let (stamp, because) = match (&found.suspects[..], &found.next, outcome.sign) {
        ([], ..) => (
            "Nothing can explain it",
            "No joint and no seal of this circuit is under that pressure.".to_owned(),
        ),
        ([one], ..) => (
            "Found",
            format!("{} is what is left.", wording::capital(&one.what)),
        ),
        (all, None, Sign::Wet(wheel)) => (
            "Look at that wheel",
            format!(
                "{} joints and seals can wet the {}.",
                all.len(),
                wheel.name().replace('_', " ")
            ),
        ),
        (all, None, _) => (
            "As near as it gets",
            format!("No cut parts the {} that are left.", all.len()),
        ),
        (all, Some(_), _) => (
            "Not found yet",
            format!(
                "{} joints and seals can explain it; at most {} {}.",
                all.len(),
                found.steps_at_most,
                counted(found.steps_at_most, "cut finds it", "cuts find it"),
            ),
        ),
    };
    let first = match &found.next {
        Some(step) => format!(
            "{}. Then build the pressure up again, and watch.",
            cut(step.how, &step.run)
        ),
        None if outcome.found.suspects.is_empty() => "Look at the sign again.".to_owned(),
        None => "Wipe it dry, press, and feel round it with dry paper.".to_owned(),
    };
    Headline {
        stamp: stamp.to_owned(),
        frame: if found.suspects.len() == 1 {
            Frame::Solid
        } else {
            Frame::Broken
        },
        because,
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: Some(first),
    }
}

fn cut(how: How, run: &str) -> String {
    match how {
        How::Clamp => format!("Clamp the hose of {run}"),
        How::Plug => format!("Take off the line {run}, and plug the port"),
    }
}

fn next(outcome: &Outcome, step: &CutStep) -> Section {
    let said: Vec<&str> = outcome
        .still
        .iter()
        .map(|still| if *still { "yes" } else { "no" })
        .collect();
    let left = |suspects: &[Suspect]| {
        let names: Vec<&str> = suspects.iter().take(3).map(|one| one.what.as_str()).collect();
        let more = suspects.len().saturating_sub(names.len());
        if more == 0 {
            names.join("; ")
        } else {
            format!("{}; and {more} more", names.join("; "))
        }
    };
    let with = |label: &str, suspects: &[Suspect], more: &'static str| {
        let mut all = said.clone();
        all.push(more);
        Choice {
            label: label.to_owned(),
            text: left(suspects),
            says: vec![(&STILL, all.join(","))],
            ..Choice::default()
        }
    };
    Section::new(
        "The next cut",
        format!("at most {} from here", outcome.found.steps_at_most),
        None,
    )
    .with(Block::Details(vec![
        Detail::new("do", cut(step.how, &step.run)),
        Detail::new("look", "build the pressure up, and watch it for five minutes"),
    ]))
    .with(Block::Choose(vec![
        with("It still loses", &step.still, "yes"),
        with("It holds", &step.holds, "no"),
    ]))
}

fn suspects(outcome: &Outcome) -> Section {
    let all = &outcome.found.suspects;
    let rows = all
        .iter()
        .take(MOST)
        .map(|one| vec![one.what.clone(), per_cent(one.weight)].into())
        .collect();
    let mut section = Section::new(
        "What can explain it",
        format!("{} joints and seals", all.len()),
        None,
    )
    .with(Block::Table(Table {
        caption: "What can explain it, the likeliest first".to_owned(),
        heads: vec!["what".to_owned(), "likely".to_owned()],
        names_row: 0,
        rows,
        of_words: true,
    }));
    if all.len() > MOST {
        section = section.with(Block::Text(format!(
            "And {} more, each less likely.",
            all.len() - MOST
        )));
    }
    section.with(Block::Text(
        "A joint that was opened and not found dry since counts five times, a seal twice (judgement)."
            .to_owned(),
    ))
}

fn made(outcome: &Outcome) -> Section {
    let rows = outcome.found.made.iter().map(|made| {
        Detail::new(
            cut(made.how, &made.run),
            if made.still { "it still lost" } else { "it held" },
        )
    });
    Section::new("The round so far", "cuts that were made", None).with(Block::Details(rows.collect()))
}
