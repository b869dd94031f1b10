//! The page in the network: only paired devices get in. 127.0.0.2 is the other machine.

use std::io::Write as _;
use std::net::SocketAddr;

use page::{Reach, ServerLimits};
use tempfile::TempDir;

use crate::workshop::{Answer, Open, connect, demonstration_cars, rest, send};

struct Lan {
    open: Open,
    tablet: SocketAddr,
}

impl Lan {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        demonstration_cars(folder.path());
        Self::over(folder)
    }

    fn over(folder: TempDir) -> Self {
        let open = Open::over(folder, Reach::Network, ServerLimits::default());
        let tablet = SocketAddr::from(([127, 0, 0, 2], open.at.port()));
        Self { open, tablet }
    }

    fn get(&self, path: &str, cookie: &str) -> Answer {
        let host = self.tablet;
        let request =
            format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\nCookie: {cookie}\r\n\r\n");
        send(self.tablet, request.as_bytes())
    }

    fn post(&self, path: &str, cookie: &str, form: &str) -> Answer {
        let host = self.tablet;
        let request = format!(
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\nCookie: {cookie}\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{form}",
            form.len()
        );
        send(self.tablet, request.as_bytes())
    }

    /// The code that was shown where the server was started, asked for by opening the pairing page.
    fn code(&self) -> String {
        assert_eq!(self.get("/pair", "").status, 200);
        let told = self.open.told.lock().unwrap();
        let shown = told
            .iter()
            .rev()
            .find(|text| text.contains("type "))
            .expect("a code");
        let (_, behind) = shown.split_once("type ").unwrap();
        behind.chars().take(9).collect()
    }

    fn pair(&self, code: &str) -> Answer {
        let token = self.get("/pair", "").token();
        self.post("/pair", "", &format!("token={token}&code={code}&name=tablet"))
    }

    /// Pairs, and gives the cookie.
    fn paired(&self) -> String {
        let answer = self.pair(&self.code());
        assert_eq!(
            (answer.status, answer.header("location")),
            (303, Some("/")),
            "{}",
            answer.body
        );
        let set = answer.header("set-cookie").unwrap();
        for flag in ["HttpOnly", "SameSite=Strict", "Path=/"] {
            assert!(set.contains(flag), "{set}");
        }
        set.split(';').next().unwrap().to_owned()
    }
}

#[test]
fn nothing_is_shown_to_a_device_that_is_not_paired() {
    let lan = Lan::new();
    let script = {
        let cookie = lan.paired();
        let page = lan.get("/", &cookie).body;
        page.split('"')
            .find(|word| word.ends_with(".js"))
            .unwrap()
            .to_owned()
    };
    for path in [
        "/",
        "/car/tarn/balance",
        "/car/tarn/alone",
        "/preferences",
        "/devices",
        "/nowhere",
        &script,
    ] {
        for cookie in ["", "rearline_device=", "rearline_device=00", "other=1"] {
            let answer = lan.get(path, cookie);
            assert_eq!(answer.status, 403, "{path}");
            assert!(!answer.body.contains("Tarn"), "{path}");
        }
    }
    // The machine itself is a device like any other.
    assert_eq!(lan.open.get("/").status, 403);
    // Another name of this machine is not what was called.
    let request = format!(
        "GET /pair HTTP/1.1\r\nHost: localhost:{}\r\nConnection: close\r\n\r\n",
        lan.tablet.port()
    );
    assert_eq!(send(lan.tablet, request.as_bytes()).status, 403);
    for path in ["/cars", "/preferences", "/devices/forget"] {
        let token = lan.get("/pair", "").token();
        assert_eq!(
            lan.post(path, "", &format!("token={token}&name=fell")).status,
            403,
            "{path}"
        );
    }
    assert!(!lan.open.has_car("fell"));
}

/// What a home screen wants (W3C, *Web Application Manifest*): browsers ask for it without the key of a paired device.
#[test]
fn a_device_may_put_the_page_on_its_home_screen() {
    let lan = Lan::new();
    let page = lan.get("/pair", "");
    let from = page
        .body
        .find("rel=\"manifest\" href=\"")
        .expect("a link to the manifest");
    let at = page.body[from..].split('"').nth(3).unwrap();
    assert!(
        page.header("content-security-policy")
            .unwrap()
            .contains("manifest-src 'self'")
    );
    let manifest = lan.get(at, "");
    assert_eq!(
        (manifest.status, manifest.header("content-type")),
        (200, Some("application/manifest+json"))
    );
    let told: serde_json::Value = serde_json::from_str(&manifest.body).unwrap();
    assert_eq!(
        (&told["start_url"], &told["name"]),
        (&"/".into(), &"rearline".into())
    );
    let icons = told["icons"].as_array().unwrap();
    let mut largest = 0;
    for icon in icons {
        let (source, kind, sizes) = (
            icon["src"].as_str().unwrap(),
            icon["type"].as_str(),
            icon["sizes"].as_str().unwrap(),
        );
        let answer = lan.get(source, "");
        assert_eq!(
            (answer.status, answer.header("content-type")),
            (200, kind),
            "{source}"
        );
        if kind == Some("image/png") {
            // Width and height stand in the first chunk: W3C, *Portable Network Graphics*, 11.2.1.
            let file = concat!(env!("CARGO_MANIFEST_DIR"), "/assets");
            let bytes = std::fs::read(format!("{file}{source}")).unwrap();
            let number = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
            assert_eq!(format!("{}x{}", number(16), number(20)), sizes, "{source}");
            assert!(icon["purpose"].as_str().unwrap().contains("maskable"));
            largest = largest.max(number(16));
        }
    }
    assert_eq!(largest, 512);
}

#[test]
fn a_code_lets_one_device_in_and_it_stays_known() {
    let lan = Lan::new();
    let code = lan.code();
    let cookie = lan.paired();
    assert_eq!(lan.get("/car/tarn/balance", &cookie).status, 200);
    assert_eq!(lan.pair(&code).status, 403, "a code serves once");
    let token = lan.get("/", &cookie).token();
    assert_eq!(
        lan.post("/cars", &cookie, &format!("token={token}&name=fell"))
            .status,
        303
    );
    assert!(lan.open.has_car("fell"));

    // The token of one device is none of another's.
    let other = lan.paired();
    assert_ne!(cookie, other);
    assert_eq!(
        lan.post("/cars", &other, &format!("token={token}&name=moor"))
            .status,
        403
    );

    // Another run knows both, but not the token; a device that is let go is a stranger.
    let lan = Lan::over(lan.open.close());
    assert_eq!(lan.get("/", &cookie).status, 200);
    assert_eq!(
        lan.post("/cars", &cookie, &format!("token={token}&name=moor"))
            .status,
        403
    );
    let devices = lan.get("/devices", &other);
    assert_eq!(
        devices.body.matches("tablet, since 2026-05-01").count(),
        2,
        "{}",
        devices.body
    );
    let first = devices
        .body
        .split("name=\"device\" value=\"")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap();
    let form = format!("token={}&device={first}", devices.token());
    assert_eq!(lan.post("/devices/forget", &other, &form).status, 303);
    assert_eq!(
        (lan.get("/", &cookie).status, lan.get("/", &other).status),
        (403, 200)
    );
}

#[test]
fn five_wrong_codes_end_the_right_one() {
    let lan = Lan::new();
    let code = lan.code();
    for left in [
        "4 more tries",
        "3 more tries",
        "2 more tries",
        "One more try",
        "No code serves now",
    ] {
        let answer = lan.pair("2222-2222");
        assert_eq!(answer.status, 403);
        assert!(answer.body.contains(left), "{left}: {}", answer.body);
    }
    assert_eq!(lan.pair(&code).status, 403);
    // Asking again gives no new code before the time of the old one is over.
    let before = lan.open.told.lock().unwrap().len();
    lan.get("/pair", "");
    assert_eq!(lan.open.told.lock().unwrap().len(), before);
}

#[test]
fn a_square_with_the_code_is_on_a_paired_devices_page() {
    let lan = Lan::new();
    let cookie = lan.paired();
    let page = lan.get("/devices", &cookie);
    assert!(
        page.body.contains("<svg") && page.body.contains("pairing-code"),
        "{}",
        page.body
    );
    let code = page
        .body
        .split("pairing-code\">")
        .nth(1)
        .unwrap()
        .chars()
        .take(9)
        .collect::<String>();
    let link = lan.get(&format!("/pair?code={code}"), "");
    assert!(
        link.body.contains(&format!("value=\"{code}\"")),
        "the link fills it in"
    );
    assert_eq!(lan.pair(&code).status, 303);
    // What a link brings is text.
    let hostile = lan.get("/pair?code=%22%3E%3Cscript%3E", "");
    assert!(!hostile.body.contains("<script>"));
}

#[test]
fn what_is_sent_over_the_network_is_packed_where_that_is_asked_for() {
    let lan = Lan::new();
    let page = lan.get("/pair", "");
    assert_eq!(page.header("content-encoding"), None, "nobody has asked for it");
    let packed = |at: SocketAddr| {
        let request = format!(
            "GET /pair.css HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\nAccept-Encoding: gzip\r\n\r\n"
        );
        let mut stream = connect(at);
        stream.write_all(request.as_bytes()).unwrap();
        rest(&mut stream)
    };
    let plain = lan.get("/pair.css", "").body.len();
    let bytes = packed(lan.tablet);
    let head = String::from_utf8_lossy(&bytes).to_lowercase();
    assert!(
        head.contains("content-encoding: gzip") && head.contains("vary: accept-encoding"),
        "{head:.600}"
    );
    assert!(
        plain > 30_000 && bytes.len() * 3 < plain,
        "{} of {plain} bytes",
        bytes.len()
    );
    // On this machine the wire costs nothing.
    let here = Open::here();
    let head = String::from_utf8_lossy(&packed(here.at)).to_lowercase();
    assert!(!head.contains("content-encoding"), "{head:.600}");
}
