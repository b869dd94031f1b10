//! The page of a room: the car and its state on top, the index of questions with their short answers at the side, the
//! answer, what it rests on.

use maud::{Markup, html};
use questions::Wrong;

use super::address::{all_hows, path};
use super::key_links::linked;
use super::rooms::{self, Room};
use super::visit::Visit;
use super::{book, findings, foot, handles, report, what_if};
use crate::shell::{frame, parts};

/// A page of a room.
pub(crate) fn room(visit: &Visit<'_>, room: &dyn Room, refused: Option<&Wrong>) -> Markup {
    let car = &visit.opened.car().name;
    let here = path(visit.name(), room.slug());
    visit.show_room(room.slug());
    let said = room.say(visit);
    let more = html! {
        div class="more" id="more" {
            (said.more)
            (foot::foot(visit.name(), &visit.opened.assembled, &visit.units))
            @if room.slug() == report::ASSESSMENT { (book::keys(visit)) }
            p class="keys" {
                button type="button" class="with-script" data-print hidden { "Print" }
                a class="key" href={ (path(visit.name(), "alone")) (visit.asking.query()) } {
                    "Take the assessment with you"
                }
            }
        }
    };
    // Of two sides every figure is held against the other's before anything is drawn.
    let lists_first = room.slug() == what_if::ROOM;
    let body = html! {
        a class="skip" href="#main" { "To the answer" }
        header class="top" {
            div class="house" {
                a href="/" { "All cars" }
                p class="car" id="car" { (car) @if let Some(build) = &visit.opened.car().build { span class="build" { (build) } } }
                a class="to-index" href="#index" { "All questions" }
            }
            (state(visit, room, &here))
        }
        (index(visit, room.slug()))
        main id="main" tabindex="-1" {
            h1 { (room.question()) }
            @if let Some(wrong) = &visit.wrong {
                div class="refused" role="alert" {
                    p { strong { "That cannot be asked so." } " Below is the car as the sheet has it." }
                    (parts::wrong(wrong))
                }
            }
            @if let Some(refused) = refused {
                div class="refused" role="alert" {
                    p { strong { "That was not written." } " Nothing was changed." }
                    (parts::wrong(refused))
                }
            }
            div class="answer" id="answer" aria-live="polite" { (said.answer) }
            (what_if::beside(visit, room.slug()))
            @if lists_first { (what_if::drawer(visit, room.slug(), &here)) (more) }
            @let handles = room.handles(visit);
            @if said.picture.is_some() || said.plan.is_some() || !handles.is_empty() {
                div class="bench" {
                    @if let Some(picture) = said.picture { div class="drawing" id="drawing" { (picture) } }
                    @if !handles.is_empty() {
                        // On a phone the script makes it a drawer at the foot of the screen; otherwise it stands open.
                        details class="drawer" id="drawer" open {
                            summary { span class="name" { "Handles" } span class="now" {} }
                            (handles::form(visit, &here, &handles))
                        }
                    }
                    @if let Some(plan) = said.plan { div class="plan" id="plan" { (plan) } }
                }
            }
            @if !lists_first { (what_if::drawer(visit, room.slug(), &here)) (more) }
        }
    };
    frame::page(
        &format!("{} · {car}", room.question()),
        &visit.caller.token,
        Some(&visit.stands),
        &body,
    )
}

/// Only what moves with a handle.
pub(crate) fn part(visit: &Visit<'_>, room: &dyn Room) -> Markup {
    visit.show_room(room.slug());
    let said = room.say(visit);
    html! {
        @if let Some(wrong) = &visit.wrong {
            div id="answer" { (parts::wrong(wrong)) }
        } @else {
            div id="answer" { (said.answer) }
            @if let Some(plan) = said.plan { div id="plan" { (plan) } }
            @if let Some(picture) = said.picture { div id="drawing" { (picture) } }
        }
    }
}

/// The state in a few words, and what is other than on the sheet. What stops the car stands here unless the answer says so.
fn state(visit: &Visit<'_>, room: &dyn Room, path: &str) -> Markup {
    let state = questions::state_in_words(&visit.opened, &visit.units);
    let measured: Vec<String> = questions::measured_in_words(&visit.opened, &visit.units).collect();
    html! {
        div class="state" id="state" {
            @if room.slug() != report::ASSESSMENT { (findings::stops(visit)) }
            @if measured.is_empty() { p { (state) } } @else {
                details class="of-state" {
                    summary { span { (state) "; " (measured.len()) " " (wording::counted(measured.len(), "reading", "readings")) " taken over" } }
                    @for said in &measured { p { (said) } }
                }
            }
            @if let Some(proposed) = &visit.opened.proposal { p class="other" { strong { (wording::capital(&proposed.words())) } } }
            @if let Some(other) = questions::other_in_words(&visit.opened) {
                p class="other" { (linked(visit.links_to(), &other)) " " a class="on-screen" href=(path) { "as the sheet has it" } }
            }
        }
    }
}

/// The questions, each with its present answer.
fn index(visit: &Visit<'_>, here: &str) -> Markup {
    html! {
        nav id="index" aria-label="Questions" {
            ol {
                @for room in rooms::ALL {
                    li {
                        a href={ (path(visit.name(), room.slug())) (visit.asking.query()) }
                            aria-current=[(room.slug() == here).then_some("page")]
                        {
                            span class="question" { (room.question()) }
                            " "
                            span class="short" { (room.short(visit)) }
                        }
                    }
                }
            }
            p class="aside" {
                a class="close" href="#main" { "Back to the answer" }
                a href=(all_hows(Some(visit.name()))) { "How to measure" }
                a href="/preferences" { "Units" }
            }
        }
    }
}
