//! The page of `assess`.

use assess::{Finding, Weight};
use questions::Opened;
use wording::Units;

use super::page::Page;
use super::{ink, leaned, ranges, title};
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
    for finding in &assessment.findings {
        page.gap();
        found(&mut page, finding);
        // A caution stands where it first belongs; those that go with every answer stand at the end.
        if let Some(caution) = finding.caution
            && !said.contains(&caution)
        {
            page.barred(bar(finding.weight), ink::aside, caution);
            said.push(caution);
        }
    }
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

/// A finding: its weight as a word and as the thickness of the rule beside it.
fn found(page: &mut Page, finding: &Finding) {
    let bar = bar(finding.weight);
    page.barred(
        bar,
        ink::heavy,
        &format!("{}: {}", finding.weight.word(), finding.title),
    );
    page.barred(bar, str::to_owned, &finding.because);
    page.barred(bar, str::to_owned, &format!("Do: {}", finding.remedy));
}

const fn bar(weight: Weight) -> char {
    match weight {
        Weight::Stop => '█',
        Weight::Fix => '▌',
        Weight::Know => '▏',
    }
}
