//! The cars: each with its answer and its worst finding.

use assess::Weight;
use axum::response::{IntoResponse as _, Response};
use engine::ranges::Sampling;
use maud::{Markup, html};
use quantity::si::{Force, Length};
use questions::assess as assessment;
use questions::on_the_car::OnTheCar;
use questions::plan::order_of;
use questions::{Opened, Sheet, Stop};
use wording::Units;

use super::address::{all_hows, path};
use super::desk::Desk;
use super::{findings, on_the_car, stands};
use crate::shell::{frame, look, parts, trouble};
use crate::web::guard::{Caller, Reach};

/// The list.
pub(crate) fn list(desk: &Desk, caller: &Caller) -> Response {
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
            p { "Begin one: six taps, then its figures one by one." }
        }
        @for car in listing.found { (one(desk, car)) }
        @if !listing.left_out.is_empty() {
            section class="left-out" {
                h2 { "Passed over" }
                ul { @for left in &listing.left_out { li { code { (left.path.display()) } ": " (parts::coded(&left.why.to_string())) } } }
            }
        }
        p class="keys" {
            a class="key" href="/cars/new" { "A new car" }
            a class="key" href="/cars/bring" { "Bring a sheet" }
        }
        p class="caution" { (parts::CAUTION) }
        p class="keys" {
            a class="key" href=(all_hows(None)) { "How to measure" }
            a class="key" href="/preferences" { "Units" }
            @if desk.gate.reach == Reach::Network { a class="key" href="/devices" { "Devices" } }
        }
        p class="source" { "Cars are kept in " code { (desk.folder.display()) } "." }
    };
    frame::plain("Cars", &caller.token, Some(&stands), &main).into_response()
}

fn one(desk: &Desk, car: records::CarFolder) -> Markup {
    let name = car.name().to_owned();
    let mut unfinished = None;
    let opened = Sheet::read(car).and_then(|sheet| {
        let on_the_car = OnTheCar::of(sheet.read.text());
        unfinished = (on_the_car.left() > 0 && on_the_car.is_only_unfinished()).then(|| on_the_car.short());
        Opened::as_it_is(sheet, desk.today())
    });
    let units = desk.units();
    let answered = opened.and_then(|opened| {
        let speed = questions::speed(None)?;
        let outcome = assessment::Outcome::of(&opened, speed, Sampling::default(), &units)?;
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
                    @match unfinished {
                        Some(short) => {
                            h2 { a href=(path(&name, on_the_car::SLUG)) { (name) } }
                            p class="sentence" { (short) "." }
                        },
                        None => {
                            h2 { a href=(link) { (name) } }
                            p class="sentence" { "Its sheet has " (count) " " (wording::counted(count, "fault", "faults")) "." }
                        },
                    }
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
