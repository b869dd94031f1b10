//! What falls due, as it is shown.

use proving::due::{Due, Urgency};

use super::Ask;
use crate::question::Case;
use crate::report::{Block, Detail, Frame, Headline, Report, Section, sentence};

pub(super) fn of(case: &Case<'_>, due: &[Due]) -> Report {
    let mut report = Report::of(&Ask, case, headline(case, due));
    if !due.is_empty() {
        let facts = due.iter().map(|due| {
            let said = format!("{}: {}. Do: {}.", due.what, due.why, due.remedy);
            Detail::new(due.urgency.word(), said)
        });
        let title = format!("Due on {}", case.opened.state.day);
        let summary = due[0].what.clone();
        report.section(Section::new(title, summary, None).with(Block::Details(facts.collect())));
    }
    report
}

fn headline(case: &Case<'_>, due: &[Due]) -> Headline {
    let lost = case.opened.history().stop();
    let (stamp, frame) = match due.first().map(|first| first.urgency) {
        _ if lost.is_some() => ("Not known", Frame::Broken),
        None => ("Nothing falls due", Frame::Solid),
        Some(Urgency::Now) => ("Due now", Frame::Heavy),
        Some(Urgency::Soon) => ("Due soon", Frame::Heavy),
        Some(Urgency::NotKnown) => ("Look and note it", Frame::Broken),
    };
    let known = if lost.is_some() {
        "the sheet alone"
    } else {
        "sheet and logbook"
    };
    let because = match due {
        [] => format!("Nothing is due by {known}."),
        [one] => format!("One thing is due by {known}: {}.", one.what),
        [first, ..] => format!("{} things are due by {known}, first {}.", due.len(), first.what),
    };
    let remedy = lost.as_ref().map(|(_, remedy)| remedy.as_str());
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though: Vec::new(),
        first: remedy.or(due.first().map(|due| due.remedy)).map(sentence),
        stops_first: lost.as_ref().map(|(said, _)| said.clone()).into_iter().collect(),
        figures: Vec::new(),
    }
}
