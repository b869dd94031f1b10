//! Style and script: written here, carried in the program, sent under names that change with what is in them. What puts
//! the page on a device's home screen: a manifest (W3C, *Web Application Manifest*) and its icons.

use std::sync::LazyLock;

use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Response};
use sha2::{Digest as _, Sha256};

pub(crate) const STYLE: &str = include_str!("../../assets/workshop.css");
pub(crate) const SCRIPT: &str = include_str!("../../assets/workshop.js");
/// A job card with the three strokes: front, rear, hand.
const ICON: &str = include_str!("../../assets/icon.svg");

/// The same for a home screen, in squares of so many pixels. What counts stands within the circle that a device may cut.
/// Made from `home.svg` beside them: `rsvg-convert -w 192 home.svg -o home-192.png`.
const HOME: [&[u8]; 2] = [
    include_bytes!("../../assets/home-192.png"),
    include_bytes!("../../assets/home-512.png"),
];
const MANIFEST: &str = include_str!("../../assets/rearline.webmanifest");

/// Where a browser asks what stands on the home screen. It asks without the key of a paired device.
pub(crate) const MANIFEST_PATH: &str = "/rearline.webmanifest";
/// The icons that the manifest names.
pub(crate) const HOME_PATHS: [&str; 2] = ["/home-192.png", "/home-512.png"];
/// The icon of the page itself.
pub(crate) const ICON_PATH: &str = "/icon.svg";

/// What a device may have before it is paired: nothing of it tells of a car.
pub(crate) fn is_open(path: &str) -> bool {
    [PAIRING_STYLE_PATH, PAIRING_SCRIPT_PATH, ICON_PATH, MANIFEST_PATH].contains(&path)
        || HOME_PATHS.contains(&path)
}

/// The same style under an address that a device may have before it is paired.
pub(crate) const PAIRING_STYLE_PATH: &str = "/pair.css";
/// The same script likewise: what waits on a device is shown there too.
pub(crate) const PAIRING_SCRIPT_PATH: &str = "/pair.js";

static STYLE_PATH: LazyLock<String> = LazyLock::new(|| named("workshop", STYLE, "css"));
static SCRIPT_PATH: LazyLock<String> = LazyLock::new(|| named("workshop", SCRIPT, "js"));

pub(crate) fn style_path() -> &'static str {
    &STYLE_PATH
}

pub(crate) fn script_path() -> &'static str {
    &SCRIPT_PATH
}

fn named(name: &str, text: &str, ending: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    let short: String = digest.iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    format!("/assets/{name}-{short}.{ending}")
}

/// Under an address that carries its digest: a browser keeps it for good.
pub(crate) async fn style() -> Response {
    for_good(sent("text/css; charset=utf-8", STYLE))
}

/// The same.
pub(crate) async fn script() -> Response {
    for_good(sent("text/javascript; charset=utf-8", SCRIPT))
}

/// Under an address that stays: not kept.
pub(crate) async fn pairing_style() -> Response {
    sent("text/css; charset=utf-8", STYLE)
}

/// The same.
pub(crate) async fn pairing_script() -> Response {
    sent("text/javascript; charset=utf-8", SCRIPT)
}

pub(crate) async fn icon() -> Response {
    sent("image/svg+xml", ICON)
}

pub(crate) async fn manifest() -> Response {
    sent("application/manifest+json", MANIFEST)
}

pub(crate) async fn home_small() -> Response {
    sent("image/png", HOME[0])
}

pub(crate) async fn home_large() -> Response {
    sent("image/png", HOME[1])
}

fn sent(kind: &'static str, body: impl IntoResponse) -> Response {
    ([(CONTENT_TYPE, kind)], body).into_response()
}

fn for_good(mut response: Response) -> Response {
    let kept = HeaderValue::from_static("private, max-age=31536000, immutable");
    response.headers_mut().insert(CACHE_CONTROL, kept);
    response
}
