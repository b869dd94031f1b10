//! Findings, and what stops the car first.

use assess::{Assessment, Finding};
use maud::{Markup, html};

use super::address::path;
use super::visit::Visit;
use super::workings::{is_explained, unfolds};
use crate::shell::parts::coded;

/// A finding. Its caution stands with it unless it was said before.
pub(crate) fn finding(visit: &Visit<'_>, finding: &Finding, said: &mut Vec<&'static str>) -> Markup {
    let caution = finding.caution.filter(|caution| !said.contains(caution));
    said.extend(caution);
    let explained: Vec<&str> = finding
        .figures
        .iter()
        .map(|(name, _)| *name)
        .filter(|name| is_explained(name))
        .collect();
    html! {
        article class={ "finding " (finding.weight.word()) } id={ "finding-" (finding.slug) } {
            h3 { strong class="weight" { (finding.weight.word()) } " " (finding.title) }
            p { (coded(&finding.because)) }
            p class="do" { strong { "Do: " } (coded(&finding.remedy)) }
            @if let Some(caution) = caution { p class="caution" { (caution) } }
            @for name in explained { (unfolds(visit, name)) }
        }
    }
}

/// What stops the car first, before any word about it.
pub(crate) fn stops(visit: &Visit<'_>) -> Markup {
    let link = format!("{}{}", path(visit.name(), "assessment"), visit.asking.query());
    html! { @if let Some(assessed) = visit.glanced() { (stops_of(&assessed.assessment, &link)) } }
}

/// The same as text: what stands above on every whole page.
pub(crate) fn stop_above(visit: &Visit<'_>) -> Option<String> {
    if visit.asking.part {
        return None;
    }
    let assessed = &visit.glanced()?.assessment;
    let title = &assessed.stops().next()?.title;
    Some(match assessed.stops().count() - 1 {
        0 => title.clone(),
        more => format!("{title}, and {more} more"),
    })
}

/// The same of an assessment that is at hand: the first of them, which leads to its finding under a `link`.
pub(crate) fn stops_of(assessment: &Assessment, link: &str) -> Markup {
    html! {
        @if let Some(finding) = assessment.stops().next() {
            @let more = assessment.stops().count() - 1;
            p class="stop-first" {
                strong class="weight" { "stop" } " "
                a href={ (link) "#finding-" (finding.slug) } {
                    (finding.title) @if more > 0 { ", and " (more) " more" }
                }
            }
        }
    }
}
