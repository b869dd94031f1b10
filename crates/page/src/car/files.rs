//! A car's folder: copied, renamed, put away. Nothing is deleted.

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::{Markup, html};
use questions::{Stop, Wrong};
use records::CarName;

use super::address::path;
use super::desk::Desk;
use super::on_the_car;
use super::visit::folder;
use crate::shell::{frame, parts, trouble};
use crate::web::guard::{Caller, Sent, TOKEN};
use crate::web::pairing;

/// The page.
pub(crate) fn page(desk: &Desk, caller: &Caller, car: &str) -> Response {
    match folder(desk, car) {
        Ok(folder) => forms(caller, folder.name(), "", None),
        Err(stop) => trouble::stop(&stop, caller),
    }
}

fn forms(caller: &Caller, car: &str, typed: &str, refused: Option<&Wrong>) -> Response {
    let form = |what: &str, id: &str, label: &str, key: &str, names: bool| -> Markup {
        html! {
            form class="sent" method="post" action=(path(car, "files")) {
                input type="hidden" name=(TOKEN) value=(caller.token);
                input type="hidden" name="what" value=(what);
                input type="hidden" name="entry" value=(pairing::once());
                @if names {
                    label for=(id) { (label) }
                    input type="text" id=(id) name="name" required maxlength="60" autocomplete="off" value=(typed);
                }
                button type="submit" { (key) }
            }
        }
    };
    let main = html! {
        @if let Some(wrong) = refused {
            div class="refused" role="alert" { p { strong { "That was not done." } " Nothing was changed." } (parts::wrong(wrong)) }
        }
        section aria-labelledby="copy" {
            h2 id="copy" { "A copy" }
            p { "Sheet, stages and logger's files under another name. The copy begins a logbook of its own, which names this one." }
            (form("copy", "copy-name", "Name of the copy", "Copy it", true))
        }
        section aria-labelledby="rename" {
            h2 id="rename" { "Another name" }
            p { "Its folder is renamed, logbook and all." }
            (form("rename", "rename-name", "New name", "Rename it", true))
        }
        section aria-labelledby="away" {
            h2 id="away" { "Put away" }
            p { "It leaves the list. Its folder is kept whole beside the others, in " code { "put-away" } "." }
            (form("put-away", "", "", "Put it away", false))
        }
        p class="keys" { a class="key" href=(path(car, on_the_car::SLUG)) { "Back to its figures" } }
    };
    let status = if refused.is_some() {
        StatusCode::BAD_REQUEST
    } else {
        StatusCode::OK
    };
    (
        status,
        frame::plain(&format!("{car}: its folder"), &caller.token, None, &main),
    )
        .into_response()
}

/// Does what a form of it asks.
pub(crate) fn write(desk: &Desk, caller: &Caller, car: &str, sent: &Sent) -> Response {
    let typed = sent.get("name");
    let done = || -> Result<String, Stop> {
        let refused = |fault: records::Fault| questions::of_records(typed, &fault, None);
        let cars = desk.cars()?;
        let folder = folder(desk, car)?;
        let name = || CarName::new(typed).map_err(refused);
        match sent.get("what") {
            "copy" => {
                let stamp = desk.stamp(&caller.device, sent.get("entry")).map_err(refused)?;
                let copied = cars.copy(&folder, &name()?, &stamp).map_err(refused)?;
                Ok(path(copied.car.name(), on_the_car::SLUG))
            }
            "rename" => {
                let renamed = cars.rename(&folder, &name()?).map_err(refused)?;
                Ok(path(renamed.name(), on_the_car::SLUG))
            }
            "put-away" => {
                cars.put_away(&folder).map_err(refused)?;
                Ok("/".to_owned())
            }
            _ => {
                let what = "there is no such form".to_owned();
                Err(Wrong::plain("form", "no-form", what, "load the page again".to_owned()).into())
            }
        }
    };
    match done() {
        Ok(onward) => Redirect::to(&onward).into_response(),
        Err(Stop::Wrong(wrong) | Stop::File(wrong)) => forms(caller, car, typed, Some(&wrong)),
    }
}
