//! The frame that every page hangs in: the car and its state on top, the index of questions with their short answers at
//! the side, the answer, what it rests on.

use maud::{DOCTYPE, Markup, html};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use questions::Wrong;

use crate::assets;
use crate::rooms::{self, Room};
use crate::stands::Stands;
use crate::visit::Visit;
use crate::{handles, parts};

const IN_A_PATH: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// A car's name as a part of a path.
pub(crate) fn segment(name: &str) -> String {
    utf8_percent_encode(name, IN_A_PATH).to_string()
}

/// The path of a room of a car.
pub(crate) fn path(car: &str, room: &str) -> String {
    format!("/car/{}/{room}", segment(car))
}

/// A whole page. `stands`: how the files that it was made of stood before they were read.
pub(crate) fn page(title: &str, token: &str, stands: Option<&Stands>, body: &Markup) -> Markup {
    let more = html! {
        meta name="color-scheme" content="light dark";
        meta name="token" content=(token);
        @if let Some(stands) = stands { meta name="stands" content=(stands.word) data-from=(stands.address); }
        script type="module" src=(assets::script_path()) {}
    };
    document(title, assets::style_path(), &more, body)
}

/// A page without token: for strangers, and where nothing else can be made. Its script shows what waits on the device.
pub(crate) fn bare(title: &str, style: &str, script: &str, main: &Markup) -> Markup {
    let more = html! { script type="module" src=(script) {} };
    document(title, style, &more, &html! { main id="main" { (main) } })
}

fn document(title: &str, style: &str, more_head: &Markup, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · rearline" }
                link rel="icon" type="image/svg+xml" href="/icon.svg";
                link rel="stylesheet" href=(style);
                (more_head)
            }
            body { (body) }
        }
    }
}

/// A page that belongs to no car.
pub(crate) fn plain(title: &str, token: &str, stands: Option<&Stands>, main: &Markup) -> Markup {
    let body = html! {
        a class="skip" href="#main" { "To the text" }
        header class="top" { p class="house" { a href="/" { "rearline: all cars" } } }
        main id="main" tabindex="-1" { h1 { (title) } (main) }
    };
    page(title, token, stands, &body)
}

/// What a room says, in the places that the frame has for it.
pub(crate) struct Said {
    /// The answer, in a sentence or two.
    pub(crate) answer: Markup,
    /// The car from above with this question's figures.
    pub(crate) plan: Option<Markup>,
    /// The picture that moves with the handles.
    pub(crate) picture: Option<Markup>,
    /// Everything else.
    pub(crate) more: Markup,
}

/// A page of a room.
pub(crate) fn room(visit: &Visit<'_>, room: &dyn Room, refused: Option<&Wrong>) -> Markup {
    let car = &visit.opened.car().name;
    let path = path(visit.name(), room.slug());
    let said = room.say(visit);
    let body = html! {
        a class="skip" href="#main" { "To the answer" }
        header class="top" {
            p class="house" { a href="/" { "All cars" } a class="to-index" href="#index" { "All questions" } }
            p class="car" id="car" { (car) @if let Some(build) = &visit.opened.car().build { span class="build" { (build) } } }
            (state(visit, &path))
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
            @let handles = room.handles(visit);
            @if said.picture.is_some() || said.plan.is_some() || !handles.is_empty() {
                div class="bench" {
                    @if let Some(picture) = said.picture { div class="drawing" id="drawing" { (picture) } }
                    (handles::form(visit, &path, &handles))
                    @if let Some(plan) = said.plan { div class="plan" id="plan" { (plan) } }
                }
            }
            div class="more" id="more" {
                (said.more)
                (parts::foot(&visit.opened.assembled, &visit.units))
                p class="keys" {
                    button type="button" class="with-script" data-print hidden { "Print" }
                    a class="key" href={ (self::path(visit.name(), "alone")) (visit.asking.query()) } {
                        "Take the assessment with you"
                    }
                }
            }
        }
    };
    page(
        &format!("{} · {car}", room.question()),
        &visit.caller.token,
        Some(&visit.stands),
        &body,
    )
}

/// Only what moves with a handle.
pub(crate) fn part(visit: &Visit<'_>, room: &dyn Room) -> Markup {
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

/// The state in a few words, and what is other than on the sheet.
fn state(visit: &Visit<'_>, path: &str) -> Markup {
    html! {
        div class="state" id="state" {
            (parts::stops(visit))
            p { (questions::state_in_words(&visit.opened, &visit.units)) }
            @for said in questions::measured_in_words(&visit.opened, &visit.units) { p { (said) } }
            @if !visit.opened.overrides.is_empty() {
                p class="other" {
                    "Other than on the sheet: "
                    @for (index, (key, value)) in visit.opened.overrides.iter().enumerate() {
                        @if index > 0 { "; " }
                        code { (key) " = " (value) }
                    }
                    " " a href=(path) { "as the sheet has it" }
                }
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
                a href="/preferences" { "Units" }
            }
        }
    }
}
