//! A new car: its name, and six questions of one tap each.

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use questions::Stop;
use records::CarName;
use sheet::{Blank, FIRST_QUESTIONS, FirstAnswer, FirstQuestion};

use super::address::path;
use super::desk::Desk;
use super::on_the_car;
use crate::shell::{frame, parts};
use crate::web::guard::{Caller, Sent, TOKEN};

/// The form.
pub(crate) fn form(caller: &Caller) -> Response {
    page(caller, None, None)
}

fn page(caller: &Caller, sent: Option<&Sent>, refused: Option<&Stop>) -> Response {
    let main = html! {
        @if let Some(Stop::Wrong(wrong) | Stop::File(wrong)) = refused {
            div class="refused" role="alert" { (parts::wrong(wrong)) }
        }
        p { "Six taps, and its sheet asks only for what such a car needs. What you cannot tell yet may be left." }
        form class="new-car" method="post" action="/cars" {
            input type="hidden" name=(TOKEN) value=(caller.token);
            label for="new-name" { "Its name" }
            input type="text" id="new-name" name="name" required maxlength="60" autocomplete="off" value=(sent.map_or("", |sent| sent.get("name")));
            @for (index, question) in FIRST_QUESTIONS.iter().enumerate() { (asked(index + 1, question, sent)) }
            div class="keys" { button type="submit" class="keep" { "Make its sheet" } }
        }
        p class="keys" {
            a class="key" href="/cars/bring" { "Bring a sheet instead" }
            a class="key" href="/" { "All cars" }
        }
    };
    let status = if refused.is_some() {
        StatusCode::BAD_REQUEST
    } else {
        StatusCode::OK
    };
    (status, frame::plain("A new car", &caller.token, None, &main)).into_response()
}

fn asked(number: usize, question: &FirstQuestion, sent: Option<&Sent>) -> Markup {
    let said = sent.map_or("", |sent| sent.get(question.name));
    html! {
        fieldset class="first" {
            legend { (number) ". " (question.asks) }
            div class="answers" {
                @for answer in question.answers {
                    label {
                        input type="radio" name=(question.name) value=(answer.word) checked[said == answer.word];
                        span class="answer-key" {
                            (drawn(question, answer))
                            span { strong { (answer.says) } small { (answer.told_by) } }
                        }
                    }
                }
            }
        }
    }
}

/// A small plain drawing of an answer, where one says more than words.
fn drawn(question: &FirstQuestion, answer: &FirstAnswer) -> Markup {
    /// A car from above, its nose up: the wheels that are filled, and lines within.
    fn car(filled: [bool; 4], lines: &str) -> String {
        let wheels: String = [(6, 10), (46, 10), (6, 50), (46, 50)]
            .iter()
            .zip(filled)
            .map(|((x, y), filled)| {
                let fill = if filled { "#1d2328" } else { "#ffffff" };
                format!("<rect x='{x}' y='{y}' width='8' height='18' fill='{fill}' stroke='#1d2328' stroke-width='2'/>")
            })
            .collect();
        format!(
            "<path d='M18 14Q30 2 42 14V66H18Z' fill='none' stroke='#c3bdae' stroke-width='2'/>{lines}{wheels}"
        )
    }
    let inside = match (question.name, answer.word) {
        ("driven", word) => {
            let (front, rear) = (word != "rear", word != "front");
            car([front, front, rear, rear], "")
        }
        ("split", "axle") => car(
            [false; 4],
            "<path d='M14 19H46' stroke='#16264a' stroke-width='3'/><path d='M30 22V59M14 59H46' fill='none' stroke='#8a4510' stroke-width='3' stroke-dasharray='6 4'/>",
        ),
        ("split", "diagonal") => car(
            [false; 4],
            "<path d='M14 19L46 59' stroke='#16264a' stroke-width='3'/><path d='M46 19L14 59' stroke='#8a4510' stroke-width='3' stroke-dasharray='6 4'/>",
        ),
        ("split", _) => car(
            [false; 4],
            "<path d='M14 19H46M26 19V26' fill='none' stroke='#16264a' stroke-width='3'/><path d='M34 26V59M14 59H46' fill='none' stroke='#8a4510' stroke-width='3' stroke-dasharray='6 4'/><path d='M22 26H38' stroke='#1d2328' stroke-width='4'/>",
        ),
        ("behind", word) => {
            let drum = "<circle cx='30' cy='40' r='24' fill='#c3bdae' stroke='#1d2328' stroke-width='2'/><path d='M16 30A17 17 0 0 0 16 50M44 30A17 17 0 0 1 44 50' fill='none' stroke='#1d2328' stroke-width='4'/>";
            let disc = "<circle cx='30' cy='40' r='24' fill='none' stroke='#1d2328' stroke-width='2'/><circle cx='30' cy='40' r='11' fill='none' stroke='#1d2328' stroke-width='2'/><path d='M38 17A25 25 0 0 1 53 33L43 37A14 14 0 0 0 34 27Z' fill='#1d2328'/>";
            match word {
                "drum" => drum.to_owned(),
                "disc" => disc.to_owned(),
                _ => format!(
                    "{disc}<path d='M24 36A7 7 0 0 0 24 44M36 36A7 7 0 0 1 36 44' fill='none' stroke='#1d2328' stroke-width='3'/>"
                ),
            }
        }
        _ => return html! {},
    };
    html! {
        span class="drawn small" aria-hidden="true" {
            (PreEscaped(format!("<svg viewBox='0 0 60 80' width='60' height='80'>{inside}</svg>")))
        }
    }
}

/// Makes a car of what was answered. What was not is open on its sheet.
pub(crate) fn add(desk: &Desk, caller: &Caller, sent: &Sent) -> Response {
    let typed = sent.get("name");
    let refused = |fault: records::Fault| questions::of_records(typed, &fault, None);
    let made = CarName::new(typed).map_err(refused).and_then(|name| {
        let mut blank = Blank::new(name.as_str());
        for question in FIRST_QUESTIONS {
            if let Some(answer) = question.answer(sent.get(question.name)) {
                blank = blank.answered(answer);
            }
        }
        desk.cars()?.add(&name, &blank.to_string()).map_err(refused)
    });
    match made {
        Ok(car) => Redirect::to(&path(car.name(), on_the_car::SLUG)).into_response(),
        Err(stop) => page(caller, Some(sent), Some(&stop)),
    }
}
