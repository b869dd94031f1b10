//! Pages that say why there is no other.

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Response};
use maud::html;
use questions::{Stop, Wrong};

use super::{assets, frame, parts};
use crate::web::guard::{Caller, Refusal};

/// What the guard would not hand on.
pub(crate) fn refusal(refusal: Refusal) -> Response {
    match refusal {
        Refusal::Wrong(status, what, remedy) => plain(status, what, remedy),
        Refusal::NotPaired => not_paired(),
        Refusal::OfOurs => of_ours(),
    }
}

/// A refusal in two sentences, without anything that a stranger should not see.
pub(crate) fn plain(status: StatusCode, what: &str, remedy: &str) -> Response {
    let main = html! {
        h1 { "That did not work" }
        p { (wording::capital(what)) "." }
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
fn not_paired() -> Response {
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
