//! The order of work, as it is shown.

use proving::order::{WorkOrder, WorkStep};

use super::Ask;
use crate::question::Case;
use crate::report::{Block, Detail, Frame, Headline, Report, Section};

/// What is said of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// `buy: Buy what the list says.`
    pub what: String,
    /// `With: the list.`
    pub with: String,
    /// Whether one may stop after it for the night, and what of it.
    pub night: String,
}

/// What is said of a step.
#[must_use]
pub fn words(step: &WorkStep) -> Words {
    let (may, what) = step.night();
    Words {
        what: format!("{}.", step.what),
        with: format!("With: {}.", step.tools),
        night: format!("{may}: {what}."),
    }
}

pub(super) fn of(case: &Case<'_>, order: &WorkOrder) -> Report {
    let mut report = Report::of(&Ask, case, headline(case, order));
    report.section(steps(order));
    report.caution("Work under the car only on stands; gloves and glasses for fluid.");
    report
}

fn headline(case: &Case<'_>, order: &WorkOrder) -> Headline {
    let lost = case.opened.history().stop();
    let done = order.steps.iter().filter(|step| step.done).count();
    let so_many = format!(
        "{done} of {} steps {} done",
        order.steps.len(),
        wording::counted(done, "is", "are")
    );
    let (stamp, frame) = match order.next() {
        _ if lost.is_some() => ("Not known".to_owned(), Frame::Broken),
        Some(step) => (format!("Next: {}", step.slug.replace('-', " ")), Frame::Heavy),
        None => ("All of it done".to_owned(), Frame::Solid),
    };
    Headline {
        stamp,
        frame,
        because: match lost {
            Some(_) => format!("By the sheet alone, {so_many}."),
            None => format!("{so_many}, as far as sheet and logbook tell."),
        },
        though: order
            .next()
            .filter(|step| !step.may_stop_after)
            .map(|step| words(step).night)
            .into_iter()
            .collect(),
        first: lost.as_ref().map(|(_, remedy)| crate::report::sentence(remedy)),
        stops_first: lost.into_iter().map(|(said, _)| said).collect(),
        figures: Vec::new(),
    }
}

fn steps(order: &WorkOrder) -> Section {
    let next = order.next().map(|step| step.slug);
    let mut section = Section::new("Every step", order.short(), None);
    let mut facts = Vec::new();
    for (step, number) in order.steps.iter().zip(1..) {
        let sign = match (step.done, next == Some(step.slug)) {
            (true, _) => "[x]",
            (false, true) => "[>]",
            (false, false) => "[ ]",
        };
        let said = words(step);
        facts.push(Detail::new(format!("{sign} {number} {}", step.slug), said.what));
        if step.done {
            continue;
        }
        facts.push(Detail::new("", said.with));
        if step.may_stop_after {
            facts.push(Detail::new("", said.night));
        } else {
            section = section
                .with(Block::Details(core::mem::take(&mut facts)))
                .with(Block::Caution(said.night));
        }
    }
    section.with(Block::Details(facts))
}
