//! The page of a car whose sheet does not read.

use maud::{Markup, html};
use questions::{Quotation, Sheet, Wrong};

use super::forms::Sender;
use super::{key_links, rooms};
use crate::shell::frame::{self, Stands};
use crate::shell::parts;
use crate::web::guard::Caller;
use crate::web::pairing;

/// A sheet with faults: all of them, each at its place.
pub(crate) fn sheet(sheet: &Sheet, faults: &Wrong, caller: &Caller, stands: &Stands) -> Markup {
    let count = faults.troubles.len() + faults.more;
    let main = html! {
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
        p class="keys" { a class="key" href="" { "Look again" } a class="key" href="/" { "All cars" } }
        @let sender = Sender { car: sheet.name(), query: String::new(), token: &caller.token, page_id: &pairing::once() };
        div id="more" { (rooms::logbook::of_folder(&sender, &sheet.folder)) }
    };
    frame::plain(sheet.name(), &caller.token, Some(stands), &main)
}
