//! The page of `assess`.

use questions::Opened;
use wording::Units;

use super::page::Page;
use super::{findings, ink, leaned, ranges, title};
use questions::answers::assessment::Outcome;

/// The answer, findings worst first, headline figures, what to measure, what comes out, what to mind.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let assessment = &outcome.assessment;
    page.paragraph(ink::heavy, &assessment.answer);
    ranges::balance(&mut page, Some(&outcome.figures.headlines));
    ranges::lever(&mut page, Some(&outcome.figures.headlines), units);
    let mut said: Vec<&str> = assessment.cautions.clone();
    findings::onto(&mut page, &assessment.findings, &mut said);
    if !assessment.measure_next.is_empty() {
        page.heading("Measure next");
        for next in &assessment.measure_next {
            page.item(&format!(
                "{}: settles {} of {}. {}",
                next.key,
                wording::per_cent(next.settles),
                next.figure.replace('_', "\u{a0}"),
                next.how
            ));
        }
    }
    if !assessment.comes_out.is_empty() {
        page.heading("What comes out");
        for part in &assessment.comes_out {
            page.item(&format!(
                "{}: {}; in its place: {}",
                part.part, part.did, part.replaced_by
            ));
        }
    }
    page.heading("Mind");
    for caution in &assessment.cautions {
        page.item(caution);
    }
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}
