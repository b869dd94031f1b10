//! Pairing: the page on which a new device types its code, and the page on which a paired one makes codes and lets
//! others go.

use std::time::Instant;

use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::{Markup, PreEscaped, html};

use super::desk::Desk;
use crate::shell::{assets, frame, trouble};
use crate::web::guard::{Caller, Reach, Sent, TOKEN, set_cookie};
use crate::web::pairing::{CodeFault, from_outside};

/// Where a code is typed; `query` may bring it, from the square that was looked at.
pub(crate) fn form(desk: &Desk, caller: &Caller, query: &str) -> Response {
    if desk.gate.reach == Reach::ThisMachine {
        return Redirect::to("/").into_response();
    }
    // Somebody wants in: where the last code was used or is over, a new one is shown where rearline was started.
    if desk.gate.pairing.wants_code(Instant::now()) {
        let address = from_outside(&caller.address, &desk.gate.addresses);
        desk.tell(&desk.gate.pairing.invite(Instant::now(), address));
    }
    let code = form_urlencoded::parse(query.as_bytes())
        .find(|(name, _)| name == "code")
        .map(|(_, code)| code.chars().take(16).collect::<String>())
        .unwrap_or_default();
    page(caller, StatusCode::OK, &code, None)
}

fn page(caller: &Caller, status: StatusCode, code: &str, refused: Option<&str>) -> Response {
    let main: Markup = html! {
        h1 { "Pair this device" }
        @if let Some(refused) = refused { div class="refused" role="alert" { p { (refused) } } }
        p { "The code is shown where rearline was started. It serves once, for five minutes." }
        form class="sent" method="post" action="/pair" {
            input type="hidden" name=(TOKEN) value=(caller.token);
            label for="code" { "Code" }
            input type="text" id="code" name="code" value=(code) required autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="16";
            label for="name" { "What this device is called" }
            input type="text" id="name" name="name" maxlength="60" autocomplete="off" placeholder="tablet";
            button type="submit" { "Pair" }
        }
        p class="caution" { "What is sent between this device and the workshop's is not encrypted. Use a network that is yours." }
    };
    let page = frame::bare(
        "Pair this device",
        assets::PAIRING_STYLE_PATH,
        assets::PAIRING_SCRIPT_PATH,
        &main,
    );
    (status, page).into_response()
}

/// Takes a code.
pub(crate) fn pair(desk: &Desk, caller: &Caller, sent: &Sent) -> Response {
    if desk.gate.reach == Reach::ThisMachine {
        return Redirect::to("/").into_response();
    }
    let paired = desk
        .gate
        .pairing
        .pair(Instant::now(), sent.get("code"), sent.get("name"), desk.today());
    let said = match paired {
        Ok(key) => {
            let Some(cookie) = set_cookie(&key) else {
                return trouble::of_ours();
            };
            desk.tell(&format!("paired: {}", shown(sent.get("name"))));
            return ([(SET_COOKIE, cookie)], Redirect::to("/")).into_response();
        }
        Err(CodeFault::Wrong(1)) => "That is not the code. One more try.".to_owned(),
        Err(CodeFault::Wrong(left)) => format!("That is not the code. {left} more tries."),
        Err(CodeFault::NoCode) => {
            "No code serves now: it was used, tried too often, or its five minutes are over. Load this page again for a new one; after \
             too many tries that takes five minutes."
                .to_owned()
        }
    };
    page(caller, StatusCode::FORBIDDEN, "", Some(&said))
}

/// What a device calls itself, as far as a terminal bears it.
fn shown(name: &str) -> String {
    let name: String = name
        .chars()
        .filter(|character| !character.is_control())
        .take(60)
        .collect();
    if name.trim().is_empty() {
        "a device without a name".to_owned()
    } else {
        name
    }
}

/// Paired devices, and a code for one more.
pub(crate) fn list(desk: &Desk, caller: &Caller) -> Response {
    let address = from_outside(&caller.address, &desk.gate.addresses);
    let invited = (desk.gate.reach == Reach::Network)
        .then(|| desk.gate.pairing.invite_on_page(Instant::now(), address))
        .flatten();
    let devices = desk.gate.pairing.devices();
    let main = html! {
        @if desk.gate.reach == Reach::ThisMachine {
            p { "This page is served on this machine alone. Start rearline with " code { "--lan" } " to reach it from a tablet." }
        } @else if let Some((code, square)) = invited {
            @if let Some(address) = address {
                p { "One more device: let it look at this square, or open " code { (address) "pair" } " on it and type" }
            } @else {
                p { "This machine has no address in a network now. Connect it, load this page again, and type on the other device" }
            }
            p class="pairing-code" { (code) }
            @if let Some(square) = square { div class="square" { (PreEscaped(square)) } }
            p { "It serves once, for five minutes." }
        } @else {
            p { "A wrong code was tried too often. A new one can be had in five minutes." }
        }
        h2 { "Paired" }
        @if devices.is_empty() { p { "None." } }
        ul class="devices" {
            @for device in &devices {
                li {
                    span { (shown(&device.name)) ", since " (device.since) }
                    form class="inline" method="post" action="/devices/forget" {
                        input type="hidden" name=(TOKEN) value=(caller.token);
                        input type="hidden" name="device" value=(device.digest);
                        button type="submit" { "Let go" }
                    }
                }
            }
        }
        p class="keys" { a class="key" href="/" { "All cars" } }
    };
    frame::plain("Devices", &caller.token, None, &main).into_response()
}

/// Lets a device go.
pub(crate) fn forget(desk: &Desk, sent: &Sent) -> Response {
    match desk.gate.pairing.forget(sent.get("device")) {
        Ok(()) => Redirect::to("/devices").into_response(),
        Err(fault) => {
            desk.tell(&format!(
                "a device was let go, and the disk does not know it: {fault}"
            ));
            trouble::plain(
                StatusCode::SERVICE_UNAVAILABLE,
                "the device is shut out now, but the disk did not take it",
                "make room, or give rearline the right to write beside the cars, and let it go once more: the next start would let it in",
            )
        }
    }
}
