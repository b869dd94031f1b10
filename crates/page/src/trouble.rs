//! Pages that say why there is no other.

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Response};
use maud::{Markup, html};
use questions::{Sheet, Shown, Stop, Wrong};

use crate::guard::Caller;
use crate::parts::Sender;
use crate::stands::Stands;
use crate::{assets, frame, parts, rooms};

/// A refusal in two sentences, without anything that a stranger should not see.
pub(crate) fn plain(status: StatusCode, what: &str, remedy: &str) -> Response {
    let main = html! {
        h1 { "That did not work" }
        p { (capital(what)) "." }
        p class="do" { strong { "Do: " } (remedy) "." }
        p class="keys" { a class="key" href="/" { "All cars" } }
    };
    let page = frame::bare("No", assets::style_path(), assets::script_path(), &main);
    (status, page).into_response()
}

/// A fault of ours.
pub(crate) fn of_ours() -> Response {
    plain(
        StatusCode::INTERNAL_SERVER_ERROR,
        "a fault of rearline's own kept this page from being made",
        "go back; everything else goes on. What happened is written where rearline was started: please report it",
    )
}

/// A device that is not paired is shown the way.
pub(crate) fn not_paired() -> Response {
    let main = html! {
        h1 { "This device is not paired" }
        p { "Whoever started rearline was shown a code for it." }
        p class="keys" { a class="key" href="/pair" { "Type the code" } }
    };
    let page = frame::bare(
        "Pair this device",
        assets::PAIRING_STYLE_PATH,
        assets::PAIRING_SCRIPT_PATH,
        &main,
    );
    (StatusCode::FORBIDDEN, page).into_response()
}

/// There is no such page.
pub(crate) fn nowhere() -> Response {
    plain(
        StatusCode::NOT_FOUND,
        "there is no such page",
        "go back, or to the list of cars",
    )
}

/// The status of an answer that says so, and what it says.
pub(crate) fn told(stop: &Stop) -> (StatusCode, &Wrong) {
    match stop {
        Stop::Wrong(wrong) => (StatusCode::BAD_REQUEST, wrong),
        Stop::File(wrong) => {
            let missing = wrong
                .troubles
                .iter()
                .any(|trouble| matches!(trouble.slug.as_str(), "no-such-car" | "missing"));
            let status = if missing {
                StatusCode::NOT_FOUND
            } else {
                StatusCode::SERVICE_UNAVAILABLE
            };
            (status, wrong)
        }
    }
}

/// What kept a question from being answered, on a page of its own.
pub(crate) fn stop(stop: &Stop, caller: &Caller) -> Response {
    let (status, wrong) = told(stop);
    let main = html! { (parts::wrong(wrong)) p class="keys" { a class="key" href="/" { "All cars" } } };
    (
        status,
        frame::plain("That did not work", &caller.token, None, &main),
    )
        .into_response()
}

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
                        @if let Some(key) = &trouble.key { code { (key) } ": " }
                        strong { (parts::coded(&trouble.text)) }
                    }
                    @if let Shown::Sheet(problem) = &trouble.shown
                        && let Some((before, marked, after)) = problem.quoted()
                    {
                        pre tabindex="0" { (before) mark { (marked) } (after) }
                    }
                    p class="do" { strong { "Do: " } (parts::coded(&trouble.remedy)) }
                }
            }
            @if faults.more > 0 { li { "and " (faults.more) " more" } }
        }
        p class="keys" { a class="key" href="" { "Look again" } a class="key" href="/" { "All cars" } }
        @let sender = Sender { car: sheet.name(), query: String::new(), token: &caller.token, page_id: &crate::pairing::once() };
        div id="more" { (rooms::logbook::of_folder(&sender, &sheet.folder)) }
    };
    frame::plain(sheet.name(), &caller.token, Some(stands), &main)
}

/// The same sentence, begun as sentences are.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
