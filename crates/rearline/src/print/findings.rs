//! Findings on a terminal.

use assess::{Finding, Weight};

use super::ink;
use super::page::Page;

/// Findings, each with its caution where that has not been said yet: a caution stands where it first belongs; those that
/// go with every answer stand at the end.
pub(super) fn onto<'f>(page: &mut Page, findings: &'f [Finding], said: &mut Vec<&'f str>) {
    for finding in findings {
        page.gap();
        found(page, finding);
        if let Some(caution) = finding.caution
            && !said.contains(&caution)
        {
            page.barred(bar(finding.weight), ink::aside, caution);
            said.push(caution);
        }
    }
}

/// Findings by their titles alone, a line each.
pub(super) fn titles(page: &mut Page, findings: &[Finding]) {
    page.gap();
    for finding in findings {
        let title = format!("{}: {}", finding.weight.word(), finding.title);
        page.barred(bar(finding.weight), str::to_owned, &title);
    }
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
