//! Whoever sends too much, too slowly or too often, and whoever does not read, is cut; nobody else notices.

use std::io::{Read as _, Write as _};
use std::time::Duration;

use page::{Reach, ServerLimits};

use crate::workshop::{Open, demonstration_cars, rest};

/// Soon, for tests that wait for it.
const SOON: Duration = Duration::from_millis(300);

fn strict(limits: ServerLimits) -> Open {
    let folder = tempfile::tempdir().unwrap();
    demonstration_cars(folder.path());
    Open::over(folder, Reach::ThisMachine, limits)
}

#[test]
fn a_head_that_is_too_long_is_refused() {
    let open = Open::here();
    let long = format!("X-Long: {}\r\n", "a".repeat(40_000));
    assert_eq!(open.get_with("/", &long).status, 431);
    let many: String = (0..100).map(|line| format!("X-{line}: a\r\n")).collect();
    assert_eq!(open.get_with("/", &many).status, 431);
    let path = format!("/?{}", "a".repeat(40_000));
    assert!([414, 431].contains(&open.get(&path).status));
    let asked = format!("/car/tarn/balance?{}", "with=a&".repeat(500));
    assert_eq!(open.get(&asked).status, 400, "an address that asks too much");
    assert_eq!(open.get("/").status, 200);
}

#[test]
fn a_form_that_is_too_long_is_refused_whole() {
    let open = Open::here();
    let token = open.get("/").token();
    let form = format!("token={token}&name=fell&more={}", "a".repeat(70_000));
    assert_eq!(open.post("/cars", &form).status, 413);
    // One that says it is longer, and one that never ends.
    let host = open.at;
    let head = format!(
        "POST /cars HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n\
         Content-Type: application/x-www-form-urlencoded\r\n"
    );
    assert_eq!(
        open.send(format!("{head}Content-Length: 8000000000\r\n\r\na=").as_bytes())
            .status,
        413
    );
    let chunk = format!("1000\r\n{}\r\n", "a".repeat(0x1000));
    let endless = format!("{head}Transfer-Encoding: chunked\r\n\r\n{}", chunk.repeat(40));
    assert_eq!(open.send(endless.as_bytes()).status, 413);
    // Two lengths, or a length and chunks, are how requests are smuggled.
    for lengths in [
        "Content-Length: 3\r\nContent-Length: 4\r\n",
        "Content-Length: x\r\n",
        "Content-Length: -1\r\n",
    ] {
        assert_eq!(
            open.send(format!("{head}{lengths}\r\na=b").as_bytes()).status,
            400,
            "{lengths}"
        );
    }
    assert!(!open.has_car("fell"));
    assert_eq!(open.get("/").status, 200);
}

#[test]
fn bytes_that_are_no_request_are_refused() {
    let open = Open::here();
    for bytes in [
        &b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03"[..],
        b"\0\0\0\0\0\0\0\0\r\n\r\n",
        b"GET\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost : x\r\n\r\n",
        b"GET / HTTP/1.1\r\nX: \x01\x02\r\n\r\n",
    ] {
        let mut stream = open.connect();
        stream.write_all(bytes).unwrap();
        stream.shutdown(std::net::Shutdown::Write).unwrap();
        let answer = rest(&mut stream);
        assert!(!String::from_utf8_lossy(&answer).contains(" 200 "), "{bytes:?}");
    }
    assert_eq!(open.get("/").status, 200);
}

#[test]
fn a_head_that_does_not_come_to_its_end_is_cut() {
    let open = strict(ServerLimits {
        head_within: SOON,
        ..ServerLimits::default()
    });
    for begun in ["", "GET / HT", "GET / HTTP/1.1\r\nHost: "] {
        let mut stream = open.connect();
        stream.write_all(begun.as_bytes()).unwrap();
        let answer = rest(&mut stream);
        assert!(!String::from_utf8_lossy(&answer).contains(" 200 "), "{begun:?}");
    }
    // A connection that was kept for another request, too.
    let mut kept = open.connect();
    let request = format!("GET /preferences HTTP/1.1\r\nHost: {}\r\n\r\n", open.at);
    kept.write_all(request.as_bytes()).unwrap();
    assert!(String::from_utf8_lossy(&rest(&mut kept)).contains(" 200 "));
}

#[test]
fn a_form_that_does_not_come_to_its_end_is_refused() {
    let open = strict(ServerLimits {
        answered_within: SOON,
        ..ServerLimits::default()
    });
    let host = open.at;
    let mut stream = open.connect();
    let head = format!(
        "POST /cars HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 100\r\n\r\nname="
    );
    stream.write_all(head.as_bytes()).unwrap();
    let answer = rest(&mut stream);
    assert!(
        String::from_utf8_lossy(&answer).contains(" 408 "),
        "{}",
        String::from_utf8_lossy(&answer)
    );
}

#[test]
fn who_does_not_read_is_cut() {
    let open = strict(ServerLimits {
        reads_within: SOON,
        ..ServerLimits::default()
    });
    let page = open.get("/").body;
    let style = page
        .split('"')
        .find(|word| word.ends_with(".css"))
        .unwrap()
        .to_owned();
    let request = format!("GET {style} HTTP/1.1\r\nHost: {}\r\n\r\n", open.at);
    let mut stream = open.connect();
    // Far more than the buffers of both ends hold: about 14 kB each.
    let asked = 3_000;
    stream.set_write_timeout(Some(SOON)).unwrap();
    let _ = stream.write_all(request.repeat(asked).as_bytes());
    std::thread::sleep(4 * SOON);
    let taken = rest(&mut stream);
    let answered = String::from_utf8_lossy(&taken).matches("HTTP/1.1 200").count();
    assert!(
        answered < asked,
        "the connection was cut before all was sent, not after {answered}"
    );
    assert_eq!(open.get("/").status, 200);
}

/// Whoever opens every place and says nothing shuts nobody out; the one that has been silent longest makes room.
#[test]
fn silent_connections_make_room() {
    let open = strict(ServerLimits {
        connections: 3,
        ..ServerLimits::default()
    });
    let mut held: Vec<_> = (0..3)
        .map(|_| {
            let mut stream = open.connect();
            stream.write_all(b"GET / HTTP/1.1\r\n").unwrap();
            stream
        })
        .collect();
    assert_eq!(open.get("/preferences").status, 200);
    assert_eq!(rest(&mut held[0]), b"", "closed without an answer");
    // Two hundred and fifty-six of them, with the limits that are served.
    let open = Open::here();
    let held: Vec<_> = (0..256).map(|_| open.connect()).collect();
    assert_eq!(open.get("/preferences").status, 200);
    drop(held);
}

#[test]
fn more_requests_than_there_are_places_are_turned_away() {
    let open = strict(ServerLimits {
        connections: 3,
        ..ServerLimits::default()
    });
    let host = open.at;
    let begun = format!(
        "POST /cars HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nExpect: 100-continue\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 100\r\n\r\n"
    );
    let held: Vec<_> = (0..3)
        .map(|_| {
            let mut stream = open.connect();
            stream.write_all(begun.as_bytes()).unwrap();
            // It says that it reads: the request is under way.
            let mut answer = [0; 12];
            stream.read_exact(&mut answer).unwrap();
            assert_eq!(&answer, b"HTTP/1.1 100");
            stream
        })
        .collect();
    let mut fourth = open.connect();
    let _ = fourth.write_all(format!("GET / HTTP/1.1\r\nHost: {host}\r\n\r\n").as_bytes());
    assert_eq!(rest(&mut fourth), b"", "closed without an answer");
    drop(held);
    // A place is free as soon as the server has seen that its connection is gone.
    let again = std::iter::repeat_with(|| {
        std::thread::sleep(Duration::from_millis(20));
        open.get("/preferences").status
    });
    assert!(again.take(200).any(|status| status == 200));
}
