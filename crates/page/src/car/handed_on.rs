//! The assessment as one file that stands alone: to be sent, kept, printed, read without rearline.

use axum::http::HeaderValue;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse as _, Response};
use engine::working::{OF_STAGE_OR_SLOPE, WorkingBench};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use quantity::si::Force;

use super::key_links::linked;
use super::visit::Visit;
use super::{foot, report, rooms};
use crate::shell::assets;
use questions::Question as _;
use questions::report::Report;
use questions::working::{self, each_step_once};

/// The file.
pub(crate) fn file(visit: &Visit<'_>) -> Response {
    let page = page(visit).into_string();
    let ascii: String = visit
        .name()
        .chars()
        .map(|character| {
            if character.is_ascii_alphanumeric() || character == '-' {
                character
            } else {
                '_'
            }
        })
        .collect();
    let named = format!("attachment; filename=\"{ascii}-assessment.html\"");
    let mut response = ([(CONTENT_TYPE, "text/html; charset=utf-8")], page).into_response();
    if let Ok(named) = HeaderValue::from_str(&named) {
        response.headers_mut().insert(CONTENT_DISPOSITION, named);
    }
    response
}

fn page(visit: &Visit<'_>) -> Markup {
    visit.hand_on();
    let car = visit.opened.car();
    let case = visit.case();
    let question = &questions::assess::Ask;
    let answer = question.answer(&case);
    let report = match &answer {
        Ok(answer) => answer.report(),
        Err(wrong) => Report::refused(question, &case, wrong),
    };
    html! {
        (DOCTYPE)
        html lang="en" class="alone" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
                title { "Will it work? " (car.name) }
                style { (PreEscaped(assets::STYLE)) }
            }
            body {
                main id="main" {
                    h1 { (car.name) }
                    p class="state" { (questions::state_in_words(&visit.opened, &visit.units)) }
                    @for said in questions::measured_in_words(&visit.opened, &visit.units) { p class="state" { (said) } }
                    @if let Some(other) = questions::other_in_words(&visit.opened) { p class="state" { (linked(None, &other)) } }
                    p class="state" {
                        "Computed on " (visit.opened.state.day) " from the sheet with the digest "
                        code { (visit.opened.sheet.digest) } "."
                    }
                    (report::answer_alone(&report))
                    (rooms::plan_in_full(visit, Force::ZERO, visit.pull()))
                    (report::alone(visit, &report, answer.as_deref().ok()))
                    h2 { "Workings" }
                    div class="workings" { (workings(visit, &report)) }
                    (foot::alone(&visit.opened.assembled, &visit.units))
                }
            }
        }
    }
}

/// Every working that belongs here. A step that several figures lean on stands once, where it comes first.
fn workings(visit: &Visit<'_>, report: &Report) -> Markup {
    let asked = asked(visit);
    // Those of a stage and of a slope where the answer is about one.
    let wanted = |name: &str| {
        !OF_STAGE_OR_SLOPE.contains(&name) || report.workings.iter().any(|(named, _)| *named == name)
    };
    let found = asked.map_or_else(Vec::new, |asked| each_step_once(&asked, wanted));
    html! {
        p class="source" { "A step that is told above already is left out." }
        @for working in &found { h3 { (working::meaning(working.figure)) } (report::without_heads(visit, &working::report(&visit.case(), working))) }
    }
}

/// What workings of a visit are asked with.
pub(crate) fn asked<'v>(visit: &'v Visit<'_>) -> Option<WorkingBench<'v>> {
    let wish = questions::wish(visit.wanted()).ok()?;
    let case = visit.case();
    let stage = questions::heat::stage(&case).ok();
    Some(questions::working_bench(
        &visit.opened,
        &case.conditions(),
        stage,
        wish,
    ))
}
