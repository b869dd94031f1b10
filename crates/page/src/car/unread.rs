//! The page of a car whose sheet does not read.

use maud::{Markup, html};
use questions::on_the_car::OnTheCar;
use questions::report::Frame;
use questions::{Quotation, Sheet, Wrong};

use super::address::path;
use super::forms::Sender;
use super::{key_links, on_the_car, rooms};
use crate::shell::frame::{self, Stands};
use crate::shell::{look, parts};
use crate::web::guard::Caller;
use crate::web::pairing;

/// A sheet with faults: all of them, each at its place.
pub(crate) fn sheet(sheet: &Sheet, faults: &Wrong, caller: &Caller, stands: &Stands) -> Markup {
    let on_the_car = OnTheCar::of(sheet.read.text());
    let left = on_the_car.left();
    let main = html! {
        @if left > 0 {
            (look::stamp(&format!("{left} left"), Frame::Broken))
            p class="sentence" { "A first answer wants " (left) " more " (wording::counted(left, "figure", "figures")) "." }
        }
        p class="keys" {
            @if let Some(next) = on_the_car.next(None) {
                a class="key next" href=(on_the_car::of_figure(sheet.name(), &next.path)) { "Next: " (next.key.label) }
            }
            a class="key" href=(path(sheet.name(), on_the_car::SLUG)) { "What is on the car?" }
            a class="key" href=(path(sheet.name(), on_the_car::TEXT)) { "The sheet as text" }
        }
        @if on_the_car.is_only_unfinished() && left > 0 {
            (parts::fold("What is left, in the text", "", &listed(sheet, faults)))
        } @else { (listed(sheet, faults)) }
        p class="keys" { a class="key" href="" { "Look again" } a class="key" href="/" { "All cars" } }
        @let sender = Sender { car: sheet.name(), query: String::new(), token: &caller.token, page_id: &pairing::once() };
        div id="more" { (rooms::logbook::of_folder(&sender, &sheet.folder)) }
    };
    frame::plain(sheet.name(), &caller.token, Some(stands), &main)
}

fn listed(sheet: &Sheet, faults: &Wrong) -> Markup {
    let count = faults.troubles.len() + faults.more;
    html! {
        p {
            "Its sheet has " (count) " " (wording::counted(count, "fault", "faults")) ". Until "
            (wording::counted(count, "it is", "they are")) " put right nothing is computed of this car. Nothing is lost: the sheet is as you left it, in "
            code { (sheet.path()) } "."
        }
        ol class="wrong sheet" {
            @for trouble in &faults.troubles {
                li {
                    p {
                        @if let Some((line, _)) = trouble.place { span class="place" { "line " (line) } " " }
                        @if let Some(key) = &trouble.key { (key_links::key(Some(sheet.name()), key)) ": " }
                        strong { (parts::coded(&trouble.text)) }
                    }
                    @if let Quotation::Sheet(problem) = &trouble.shown
                        && let Some((before, marked, after)) = problem.quoted()
                    {
                        pre tabindex="0" { (before) mark { (marked) } (after) }
                    }
                    p class="do" { strong { "Do: " } (key_links::linked(Some(sheet.name()), &trouble.remedy)) }
                }
            }
            @if faults.more > 0 { li { "and " (faults.more) " more" } }
        }
    }
}
