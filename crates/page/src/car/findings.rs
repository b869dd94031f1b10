//! Findings, and what stops the car first.

use assess::{Assessment, Finding, Weight};
use maud::{Markup, html};

use super::address::path;
use super::key_links::linked;
use super::visit::Visit;
use super::workings::{is_explained, unfolds};
use crate::shell::parts::fold;

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
            p { (linked(visit.links_to(), &finding.because)) }
            p class="do" { strong { "Do: " } (linked(visit.links_to(), &finding.remedy)) }
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

/// Whether a stop is said above, as every whole page does with the first: by itself, or with how many more there are.
pub(crate) fn is_said_above(visit: &Visit<'_>, stop: &str) -> bool {
    if visit.asking.part {
        return false;
    }
    let Some(assessed) = visit.glanced() else {
        return false;
    };
    let mut stops = assessed.assessment.stops();
    let rest = stops
        .next()
        .and_then(|first| stop.strip_prefix(first.title.as_str()));
    rest.is_some_and(|rest| rest.is_empty() || rest == and_more(stops.count()))
}

/// The same of an assessment that is at hand: the first of them, which leads to its finding under a `link`.
pub(crate) fn stops_of(assessment: &Assessment, link: &str) -> Markup {
    let stops: Vec<&Finding> = assessment.stops().collect();
    stop_bar(&stops, link)
}

/// What stops the car first: a bar that leads to the finding, under a `link` where that is another page.
pub(crate) fn stop_bar(stops: &[&Finding], link: &str) -> Markup {
    html! {
        @if let [finding, others @ ..] = stops { (stop_line(finding.slug, &finding.title, others.len(), link)) }
    }
}

/// The same of one finding and a number of others.
pub(crate) fn stop_line(slug: &str, title: &str, more: usize, link: &str) -> Markup {
    html! {
        p class="stop-first" {
            strong class="weight" { "stop" } " "
            a href={ (link) "#finding-" (slug) } { (title) (and_more(more)) }
        }
    }
}

fn and_more(more: usize) -> String {
    match more {
        0 => String::new(),
        more => format!(", and {more} more"),
    }
}

/// How many findings stand open; the rest is folded.
const AT_ONCE: usize = 3;

/// Those that stand open.
pub(crate) fn open(findings: &[Finding]) -> &[Finding] {
    findings.split_at(findings.len().min(AT_ONCE)).0
}

/// All of them, worst first: the first few as they are, the rest under one line that counts them.
pub(crate) fn all(visit: &Visit<'_>, findings: &[Finding]) -> Markup {
    let mut said = Vec::new();
    let first = open(findings);
    let rest = findings.split_at(first.len()).1;
    html! {
        @for finding in first { (self::finding(visit, finding, &mut said)) }
        @if !rest.is_empty() {
            (fold(
                &format!("{} more found", rest.len()),
                &counted(rest),
                &html! { @for finding in rest { (self::finding(visit, finding, &mut said)) } },
            ))
        }
    }
}

/// `1 stop, 7 fix, 10 know`
fn counted(findings: &[Finding]) -> String {
    let count = |weight| {
        let count = findings.iter().filter(|finding| finding.weight == weight).count();
        (count > 0).then(|| format!("{count} {}", weight.word()))
    };
    let counts = [Weight::Stop, Weight::Fix, Weight::Know]
        .into_iter()
        .filter_map(count);
    counts.collect::<Vec<_>>().join(", ")
}
