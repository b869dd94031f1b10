//! What every request is looked at for before any room sees it.
//!
//! - `Host` has to be an address of this machine with our port: a name that was bent to point here is none.
//! - Where the network may reach the page, every request needs a paired device; only the pairing page itself does not.
//! - A request that changes something has to come from a page of ours: its `Origin` is our host, and it brings the token
//!   that this run gave to this device. That is looked at here once, for all rooms, and the form is handed on read.
//! - Another site may lead a person here, and ask for nothing else.
//! - Nothing but `GET`, `HEAD` and `POST` is known.
//!
//! Every answer forbids scripts, styles, frames and forms that are not ours.

use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, Mutex};

use core::time::Duration;

use axum::body::{Body, Bytes, to_bytes};
use axum::extract::multipart::Multipart;
use axum::extract::{FromRequest as _, Request, State};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;

use super::pairing::{Device, Pairing};
use super::places::Seat;
use Refusal::Wrong;

/// Who may reach the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// This machine alone.
    ThisMachine,
    /// Paired devices of the network that this machine is in.
    Network,
}

/// Who is let in, and what whoever is not is shown.
pub(crate) struct Gate {
    pub(crate) reach: Reach,
    pub(crate) pairing: Pairing,
    /// Under which the page can be opened, the likeliest first.
    pub(crate) addresses: Vec<String>,
    /// What a device may have before it is paired, beside the pairing page itself.
    pub(crate) open: fn(&str) -> bool,
    /// A refusal as a page.
    pub(crate) refused: fn(Refusal) -> Response,
}

/// Why a request is not handed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Refusal {
    /// What is wrong with it, and what to do.
    Wrong(StatusCode, &'static str, &'static str),
    /// It comes from a device that is not paired.
    NotPaired,
    /// A fault of ours.
    OfOurs,
}

/// Both ends of a connection, as far as it matters.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ends {
    /// The address of this machine that was called.
    pub(crate) here: SocketAddr,
}

/// Who asks, for the rooms.
#[derive(Clone, Debug)]
pub(crate) struct Caller {
    /// The token for the forms of the page that is given out.
    pub(crate) token: String,
    /// The address that was called: `http://127.0.0.1:7410/`.
    pub(crate) address: String,
    /// Who writes, for entries of the logbook: the paired device, or this machine's page.
    pub(crate) device: String,
}

/// A form that was sent, its token looked at. Names and values, in order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sent(pub(crate) Vec<(String, String)>);

impl Sent {
    /// The value of a field; empty where it was not sent.
    pub(crate) fn get(&self, name: &str) -> &str {
        self.0
            .iter()
            .find(|(field, _)| field == name)
            .map_or("", |(_, value)| value.as_str())
    }
}

/// A file that is being sent, its token looked at: what is left of the form. It is taken once.
#[derive(Clone)]
pub(crate) struct SentFile(Arc<Mutex<Option<Multipart>>>);

impl SentFile {
    pub(crate) fn take(&self) -> Option<Multipart> {
        self.0.lock().ok()?.take()
    }
}

/// What a request that changes something brings.
#[derive(Clone, Copy)]
enum Brings {
    Form,
    /// A form whose first field is the token, with a file behind it that is not held in memory. Each piece has to arrive
    /// within that time.
    File(Duration),
}

/// Entries that are written on this machine's own page.
const THIS_MACHINE: &str = "page";
/// Name of the cookie of a paired device.
const COOKIE: &str = "rearline_device";
/// Name of the field, and of the header, with the token.
pub(crate) const TOKEN: &str = "token";
const TOKEN_HEADER: &str = "x-token";
/// A token has fewer bytes.
const LARGEST_TOKEN: usize = 1024;
/// The most bytes that a form may have.
pub(crate) const LARGEST_FORM: usize = 64 * 1024;
/// How long a device stays paired, in seconds: 400 days, the most that browsers keep.
const COOKIE_AGE_S: u32 = 400 * 24 * 3600;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; \
                      manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// What stands in the head of every answer.
const ALWAYS: [(HeaderName, &str); 7] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::REFERRER_POLICY, "same-origin"),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
    (
        HeaderName::from_static("permissions-policy"),
        "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    ),
];

/// How long an answer may be kept, where it does not say so itself: not at all. What is under an address that changes with
/// it says so.
const NOT_KEPT: HeaderValue = HeaderValue::from_static("no-store");

/// Looks at a request, and hands it on or refuses it.
pub(crate) async fn guard(State(gate): State<Arc<Gate>>, request: Request, next: Next) -> Response {
    match looked_at(&gate, request, Brings::Form).await {
        Ok(request) => next.run(request).await,
        Err(refusal) => (gate.refused)(refusal),
    }
}

/// The same where a file is taken in.
pub(crate) async fn guard_of_files(
    State((gate, piece_within)): State<(Arc<Gate>, Duration)>,
    request: Request,
    next: Next,
) -> Response {
    match looked_at(&gate, request, Brings::File(piece_within)).await {
        Ok(request) => next.run(request).await,
        Err(refusal) => (gate.refused)(refusal),
    }
}

/// Puts the head on every answer, refusals too.
pub(crate) async fn forbid(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    for (name, value) in ALWAYS {
        response
            .headers_mut()
            .insert(name, HeaderValue::from_static(value));
    }
    response
        .headers_mut()
        .entry(header::CACHE_CONTROL)
        .or_insert(NOT_KEPT);
    response
}

async fn looked_at(gate: &Gate, mut request: Request, brings: Brings) -> Result<Request, Refusal> {
    let Some(&Ends { here }) = request.extensions().get::<Ends>() else {
        return Err(Refusal::OfOurs);
    };
    let host = host(request.headers(), here).ok_or(Wrong(
        StatusCode::FORBIDDEN,
        "this page is not served under that name",
        "open it under the address that was printed when it was started",
    ))?;
    if ![Method::GET, Method::HEAD, Method::POST].contains(request.method()) {
        return Err(Wrong(
            StatusCode::METHOD_NOT_ALLOWED,
            "that cannot be done here",
            "open the page in a browser",
        ));
    }
    if request.method() != Method::POST && is_drawn_in(request.headers()) {
        return Err(Wrong(
            StatusCode::FORBIDDEN,
            "another page asks for this one without a person",
            "open it yourself: type its address, or follow a link to it",
        ));
    }
    let device = cookie(request.headers()).and_then(|key| gate.pairing.device(key));
    let path = request.uri().path();
    let open = path == "/pair" || (gate.open)(path);
    if gate.reach == Reach::Network && device.is_none() && !open {
        return Err(Refusal::NotPaired);
    }
    if let (Some(_), Some(seat)) = (&device, request.extensions().get::<Seat>()) {
        seat.is_of_a_paired_device();
    }
    if request.method() == Method::POST {
        request = change(gate, device.as_ref(), &host, request, brings).await?;
    }
    request.extensions_mut().insert(Caller {
        token: gate.pairing.token(device.as_ref()),
        address: format!("http://{host}/"),
        device: device.as_ref().map_or_else(
            || THIS_MACHINE.to_owned(),
            |device| device.digest.chars().take(16).collect(),
        ),
    });
    Ok(request)
}

/// `Host`, if it is the address that was called, or a name that always means this machine.
fn host(headers: &HeaderMap, here: SocketAddr) -> Option<String> {
    let mut all = headers.get_all(header::HOST).iter();
    let host = all.next()?.to_str().ok()?;
    if all.next().is_some() {
        return None;
    }
    let names_here = host == here.to_string()
        || (here.ip() == IpAddr::from([127, 0, 0, 1]) && host == format!("localhost:{}", here.port()))
        || (here.port() == 80 && host == here.ip().to_string());
    names_here.then(|| host.to_owned())
}

const AGAIN: &str = "load the page again and do it once more; nothing was changed";

const fn refused(what: &'static str) -> Refusal {
    Wrong(StatusCode::FORBIDDEN, what, AGAIN)
}

/// Whether another site asks, and not because a person goes from there to here: it would only make this machine work.
fn is_drawn_in(headers: &HeaderMap) -> bool {
    let said = |name: &'static str| headers.get(name).and_then(|value| value.to_str().ok());
    let from_elsewhere = said("sec-fetch-site").is_some_and(|site| !matches!(site, "same-origin" | "none"));
    let by_a_person =
        said("sec-fetch-mode") == Some("navigate") && said("sec-fetch-dest") == Some("document");
    from_elsewhere && !by_a_person
}

/// A request that changes something: from a page of ours, with its token.
async fn change(
    gate: &Gate,
    device: Option<&Device>,
    host: &str,
    request: Request,
    brings: Brings,
) -> Result<Request, Refusal> {
    let headers = request.headers();
    let said = |name: HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
    if said(header::ORIGIN) != Some(&*format!("http://{host}")) {
        return Err(refused("this change does not come from a page of ours"));
    }
    if said(HeaderName::from_static("sec-fetch-site")).is_some_and(|site| site != "same-origin") {
        return Err(refused("this change comes from another page"));
    }
    let in_head = said(HeaderName::from_static(TOKEN_HEADER)).map(str::to_owned);
    let wanted = match brings {
        Brings::Form => "application/x-www-form-urlencoded",
        Brings::File(_) => "multipart/form-data",
    };
    if said(header::CONTENT_TYPE).is_none_or(|kind| kind.split(';').next() != Some(wanted)) {
        let what = "only a form can be sent here";
        return Err(Wrong(StatusCode::UNSUPPORTED_MEDIA_TYPE, what, AGAIN));
    }
    let is_ours = |token: &str| {
        if gate.pairing.is_token(device, token) {
            Ok(())
        } else {
            Err(refused(
                "the page that this came from is not of this run any more",
            ))
        }
    };
    if let Brings::File(within) = brings {
        let mut parts = Parts::of(request).await?;
        let first = tokio::time::timeout(within, parts.token()).await;
        is_ours(&first.unwrap_or_default())?;
        return Ok(parts.handed_on());
    }
    let (mut parts, body) = request.into_parts();
    let too_much = Wrong(
        StatusCode::PAYLOAD_TOO_LARGE,
        "that is more than a form here can hold",
        "write less: 64 kB are taken",
    );
    let announced = parts
        .headers
        .get(header::CONTENT_LENGTH)
        .and_then(|length| length.to_str().ok()?.parse::<usize>().ok());
    if announced.is_some_and(|bytes| bytes > LARGEST_FORM) {
        return Err(too_much);
    }
    let bytes: Bytes = to_bytes(body, LARGEST_FORM).await.map_err(|_| too_much)?;
    let sent = Sent(form_urlencoded::parse(&bytes).into_owned().collect());
    is_ours(in_head.as_deref().unwrap_or_else(|| sent.get(TOKEN)))?;
    parts.extensions.insert(sent);
    Ok(Request::from_parts(parts, Body::empty()))
}

/// A form in parts, read as far as its token.
struct Parts {
    head: axum::http::request::Parts,
    rest: Multipart,
}

impl Parts {
    async fn of(request: Request) -> Result<Self, Refusal> {
        let (head, body) = request.into_parts();
        let whole = Request::from_parts(head.clone(), body);
        let rest = Multipart::from_request(whole, &()).await;
        let rest = rest.map_err(|_| Wrong(StatusCode::BAD_REQUEST, "that is no whole form", AGAIN))?;
        Ok(Self { head, rest })
    }

    /// The first field, if it is a token: no more of it than a token has.
    async fn token(&mut self) -> String {
        let mut token = Vec::new();
        let Ok(Some(mut field)) = self.rest.next_field().await else {
            return String::new();
        };
        if field.name() != Some(TOKEN) {
            return String::new();
        }
        while let Ok(Some(piece)) = field.chunk().await {
            token.extend_from_slice(&piece);
            if token.len() > LARGEST_TOKEN {
                return String::new();
            }
        }
        String::from_utf8(token).unwrap_or_default()
    }

    fn handed_on(mut self) -> Request {
        let file = SentFile(Arc::new(Mutex::new(Some(self.rest))));
        self.head.extensions.insert(file);
        Request::from_parts(self.head, Body::empty())
    }
}

fn cookie(headers: &HeaderMap) -> Option<&str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .find_map(|pair| pair.trim().strip_prefix(COOKIE)?.strip_prefix('='))
}

/// The cookie of a device that was just paired.
pub(crate) fn set_cookie(key: &str) -> Option<HeaderValue> {
    HeaderValue::from_str(&format!(
        "{COOKIE}={key}; Path=/; Max-Age={COOKIE_AGE_S}; HttpOnly; SameSite=Strict"
    ))
    .ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with_host(hosts: &[&str]) -> HeaderMap {
        hosts
            .iter()
            .map(|host| (header::HOST, HeaderValue::from_str(host).unwrap()))
            .collect()
    }

    #[test]
    fn only_the_address_that_was_called_is_a_host() {
        let here: SocketAddr = "127.0.0.1:7410".parse().unwrap();
        for right in ["127.0.0.1:7410", "localhost:7410"] {
            assert_eq!(host(&with_host(&[right]), here).as_deref(), Some(right));
        }
        for wrong in [
            "",
            "127.0.0.1",
            "localhost",
            "localhost:80",
            "127.0.0.1:7411",
            "bent.example:7410",
            "127.0.0.2:7410",
            "localhost.bent.example:7410",
            "user@127.0.0.1:7410",
        ] {
            assert_eq!(host(&with_host(&[wrong]), here), None, "{wrong}");
        }
        assert_eq!(host(&with_host(&[]), here), None);
        assert_eq!(
            host(&with_host(&["127.0.0.1:7410", "127.0.0.1:7410"]), here),
            None
        );
        let other: SocketAddr = "192.0.2.7:7410".parse().unwrap();
        assert_eq!(host(&with_host(&["localhost:7410"]), other), None);
    }
}
