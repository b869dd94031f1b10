//! The cars: each with its answer and its worst finding; a new one.

use assess::Weight;
use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use engine::ranges::Plan;
use maud::{Markup, html};
use quantity::si::{Force, Length};
use questions::assess as assessment;
use questions::plan::order_of;
use questions::{Opened, Sheet, Stop};
use records::CarName;
use wording::Units;

use super::address::{all_hows, path};
use super::desk::Desk;
use super::{findings, stands};
use crate::shell::{frame, look, parts, trouble};
use crate::web::guard::{Caller, Reach, Sent, TOKEN};

/// The list.
pub(crate) fn list(desk: &Desk, caller: &Caller) -> Response {
    page(desk, caller, "", None)
}

fn page(desk: &Desk, caller: &Caller, typed: &str, refused: Option<&Stop>) -> Response {
    let stands = stands::of_cars(desk);
    let listing = match desk.cars().and_then(|cars| {
        cars.list()
            .map_err(|fault| questions::of_records(&desk.folder.display().to_string(), &fault, None))
    }) {
        Ok(listing) => listing,
        Err(stop) => return trouble::stop(&stop, caller),
    };
    let main = html! {
        @if listing.found.is_empty() {
            p class="sentence" { "This folder holds no car yet." }
            p { "Write a sheet of your own below: it lists every figure that is asked for, with what it is and where it is found." }
        }
        @for car in listing.found { (one(desk, car)) }
        @if !listing.left_out.is_empty() {
            section class="left-out" {
                h2 { "Passed over" }
                ul { @for left in &listing.left_out { li { code { (left.path.display()) } ": " (parts::coded(&left.why.to_string())) } } }
            }
        }
        section aria-labelledby="new" {
            h2 id="new" { "A new car" }
            @if let Some(Stop::Wrong(wrong) | Stop::File(wrong)) = refused {
                div class="refused" role="alert" { (parts::wrong(wrong)) }
            }
            form class="sent" method="post" action="/cars" {
                input type="hidden" name=(TOKEN) value=(caller.token);
                label for="new-name" { "Name of its folder" }
                input type="text" id="new-name" name="name" required maxlength="60" autocomplete="off" value=(typed);
                button type="submit" { "Make its sheet" }
            }
        }
        p class="caution" { (parts::CAUTION) }
        p class="keys" {
            a class="key" href=(all_hows(None)) { "How to measure" }
            a class="key" href="/preferences" { "Units" }
            @if desk.gate.reach == Reach::Network { a class="key" href="/devices" { "Devices" } }
        }
        p class="source" { "Cars are kept in " code { (desk.folder.display()) } "." }
    };
    let status = if refused.is_some() {
        StatusCode::BAD_REQUEST
    } else {
        StatusCode::OK
    };
    (status, frame::plain("Cars", &caller.token, Some(&stands), &main)).into_response()
}

fn one(desk: &Desk, car: records::Car) -> Markup {
    let name = car.name().to_owned();
    let opened = Sheet::read(car).and_then(|sheet| Opened::as_it_is(sheet, desk.today()));
    let units = desk.units();
    let answered = opened.and_then(|opened| {
        let speed = questions::speed(None)?;
        let outcome = assessment::Outcome::of(&opened, speed, Plan::default(), &units)?;
        Ok((opened, outcome))
    });
    let link = path(&name, "assessment");
    html! {
        article class="one-car" {
            @match answered {
                Ok((opened, outcome)) => {
                    div class="who" {
                        h2 { a href=(&link) { (opened.car().name) } }
                        @if let Some(build) = &opened.car().build { p class="build" { (build) } }
                    }
                    div class="word" {
                        (findings::stops_of(&outcome.assessment, &link))
                        (look::stamp(outcome.assessment.answer.said, outcome.frame()))
                    }
                    dl class="row-figures" {
                        @for (name, text) in figures(&outcome, &units) { div { dt { (name) } dd { (text) } } }
                    }
                    div class="then" {
                        p { strong { "Next: " } (order_of(&opened).short()) }
                        @if let Some(worst) = outcome.assessment.findings.iter().find(|finding| finding.weight != Weight::Stop) {
                            p { strong class="weight" { (worst.weight.word()) } " " (worst.title) }
                        }
                    }
                },
                Err(Stop::Wrong(wrong) | Stop::File(wrong)) => {
                    @let count = wrong.troubles.len() + wrong.more;
                    h2 { a href=(link) { (name) } }
                    p class="sentence" { "Its sheet has " (count) " " (wording::counted(count, "fault", "faults")) "." }
                }
            }
        }
    }
}

/// The three figures that cars are compared by, rounded as they are everywhere else.
fn figures(outcome: &assessment::Outcome, units: &Units) -> [(&'static str, String); 3] {
    let middle = &outcome.figures.headlines.middle;
    let shown = |text: Option<String>| text.unwrap_or_else(|| "–".to_owned());
    let force = |hand: Force| outcome.precision.hand(hand, units);
    let length = |travel: Length| outcome.precision.travel(travel, units);
    [
        ("torque", shown(middle.in_hand.map(wording::per_cent))),
        ("pull", shown(middle.hand.map(force))),
        ("travel", shown(middle.travel.map(length))),
    ]
}

/// Makes a car of a blank sheet.
pub(crate) fn add(desk: &Desk, caller: &Caller, sent: &Sent) -> Response {
    let typed = sent.get("name");
    let refused = |fault: records::Fault| questions::of_records(typed, &fault, None);
    let made = CarName::new(typed).map_err(refused).and_then(|name| {
        let blank = sheet::Blank::new(name.as_str()).to_string();
        desk.cars()?.add(&name, &blank).map_err(refused)
    });
    match made {
        Ok(car) => Redirect::to(&path(car.name(), "assessment")).into_response(),
        Err(stop) => page(desk, caller, typed, Some(&stop)),
    }
}
