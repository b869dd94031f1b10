//! A logger's file sent from a device: kept whole, once, under a name of ours; or not at all.

use std::fs;
use std::io::Write as _;
use std::time::Duration;

use page::{Reach, ServerLimits};

use crate::workshop::{Answer, Open, demonstration_cars, rest};

const LOG: &str = "time [s],speed [km/h],rear pressure [bar]\n0.0,30,0\n0.1,30,1\n";

/// A form in parts: each a name, a file's name where it is a file, and what it holds.
fn parts(fields: &[(&str, Option<&str>, &str)]) -> String {
    let mut body = String::new();
    for (name, file, holds) in fields {
        let file = file.map_or_else(String::new, |file| format!("; filename=\"{file}\""));
        body += &format!("--cut\r\nContent-Disposition: form-data; name=\"{name}\"{file}\r\n\r\n{holds}\r\n");
    }
    body + "--cut--\r\n"
}

fn head(open: &Open, more: &str, length: usize) -> String {
    let host = open.at;
    format!(
        "POST /car/tarn/logs HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}\
         Content-Type: multipart/form-data; boundary=cut\r\nContent-Length: {length}\r\n\r\n"
    )
}

fn origin(open: &Open) -> String {
    format!("Origin: http://{}\r\n", open.at)
}

fn sent(open: &Open, body: &str) -> Answer {
    open.send(format!("{}{body}", head(open, &origin(open), body.len())).as_bytes())
}

/// What is on the shelf; locks are hidden.
fn shelf(open: &Open) -> Vec<String> {
    let Ok(entries) = fs::read_dir(open.folder.path().join("tarn/logs")) else {
        return Vec::new();
    };
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| !name.starts_with('.'))
        .collect();
    names.sort();
    names
}

#[test]
fn a_log_is_kept_once_under_a_name_of_ours() {
    let open = Open::here();
    let token = open.get("/car/tarn/logger").token();
    for (called, holds, place) in [
        ("run.csv", LOG, "run%2Ecsv"),
        ("run.csv", LOG, "run%2Ecsv"),
        ("run.csv", "other", "run%2D2%2Ecsv"),
        ("../../car.toml", "x", "car%2Ecsv"),
        ("C:\\logs\\LOG 1.TXT", "y", "LOG%201%2Ecsv"),
    ] {
        let called = called.replace('\\', "\\\\");
        let answer = sent(
            &open,
            &parts(&[("token", None, &token), ("file", Some(&called), holds)]),
        );
        assert_eq!(answer.status, 303, "{}", answer.body);
        assert_eq!(
            answer.header("location"),
            Some(&*format!("/car/tarn/logger?file={place}"))
        );
    }
    assert_eq!(shelf(&open), ["LOG 1.csv", "car.csv", "run-2.csv", "run.csv"]);
    let kept = open.folder.path().join("tarn/logs/run.csv");
    assert_eq!(fs::read_to_string(kept).unwrap(), LOG);
    let shown = open.get("/car/tarn/logger?file=run.csv");
    assert_eq!(shown.status, 200);
    assert!(shown.body.contains("No stop in it"), "{}", shown.body);
    // The script is told where it is shown, and nothing else.
    let body = parts(&[("token", None, &token), ("file", Some("run.csv"), LOG)]);
    let headers = format!("{}x-in-place: 1\r\n", origin(&open));
    let answer = open.send(format!("{}{body}", head(&open, &headers, body.len())).as_bytes());
    assert_eq!(
        (answer.status, &*answer.body),
        (200, "/car/tarn/logger?file=run%2Ecsv")
    );
}

#[test]
fn a_log_that_is_not_from_a_page_of_ours_is_not_kept() {
    let open = Open::here();
    let token = open.get("/car/tarn/logger").token();
    let file = ("file", Some("run.csv"), LOG);
    let long = "t".repeat(4000);
    for (headers, fields) in [
        (String::new(), vec![("token", None, &*token), file]),
        (
            "Origin: http://bent.example\r\n".to_owned(),
            vec![("token", None, &token), file],
        ),
        (
            format!("{}Sec-Fetch-Site: cross-site\r\n", origin(&open)),
            vec![("token", None, &token), file],
        ),
        // The token comes first, or nothing is read.
        (origin(&open), vec![file, ("token", None, &token)]),
        (origin(&open), vec![("token", None, "0"), file]),
        (origin(&open), vec![("token", None, &long), file]),
        (origin(&open), vec![file]),
        (origin(&open), vec![]),
    ] {
        let body = parts(&fields);
        let answer = open.send(format!("{}{body}", head(&open, &headers, body.len())).as_bytes());
        assert_eq!(answer.status, 403, "{headers}{body}");
    }
    assert_eq!(shelf(&open), [""; 0]);
    // The other forms take no files, and this one takes no other form.
    let form = format!("token={token}&file=a");
    assert_eq!(open.post("/car/tarn/logs", &form).status, 415);
    let none = sent(&open, &parts(&[("token", None, &token)]));
    assert_eq!(none.status, 400, "{}", none.body);
    assert!(none.body.contains("hoose a CSV file first"), "{}", none.body);
    let nowhere = sent(&open, &parts(&[("token", None, &token), ("file", Some(""), "")]));
    assert_eq!(nowhere.status, 400);
}

/// Half a log is none: cut off by the other end, or by patience.
#[test]
fn a_log_that_does_not_arrive_whole_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    demonstration_cars(folder.path());
    let limits = ServerLimits {
        reads_within: Duration::from_millis(300),
        ..ServerLimits::default()
    };
    let open = Open::over(folder, Reach::ThisMachine, limits);
    let token = open.get("/car/tarn/logger").token();
    let body = parts(&[("token", None, &token), ("file", Some("run.csv"), LOG)]);
    let half = &body[..body.len() - 40];
    let whole_head = head(&open, &origin(&open), body.len());
    // It stalls.
    let mut stream = open.connect();
    stream
        .write_all(format!("{whole_head}{half}").as_bytes())
        .unwrap();
    let answer = String::from_utf8_lossy(&rest(&mut stream)).into_owned();
    assert!(answer.contains(" 400 "), "{answer}");
    assert!(answer.contains("did not arrive whole"), "{answer}");
    assert_eq!(shelf(&open), [""; 0]);
    // It is shorter than it says it is, and the connection goes.
    let mut stream = open.connect();
    stream
        .write_all(format!("{whole_head}{half}").as_bytes())
        .unwrap();
    stream.shutdown(std::net::Shutdown::Write).unwrap();
    rest(&mut stream);
    // One that never says what it is, and a form that ends too early.
    let mut stream = open.connect();
    stream.write_all(format!("{whole_head}--cut").as_bytes()).unwrap();
    let answer = String::from_utf8_lossy(&rest(&mut stream)).into_owned();
    assert!(answer.contains(" 403 "), "{answer}");
    assert_ne!(sent(&open, half).status, 303);
    assert_eq!(shelf(&open), [""; 0]);
    assert_eq!(sent(&open, &body).status, 303);
    assert_eq!(shelf(&open), ["run.csv"]);
}
