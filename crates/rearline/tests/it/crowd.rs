//! One logbook, two pages that are served, the terminal and readers at once; some are killed.

use std::collections::HashMap;
use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use crate::bench::{Bench, CARS, one_object};
use crate::serving::Serving;

/// How long they go on: a few seconds, or as `REARLINE_CROWD_SECONDS` says.
fn seconds() -> Duration {
    let asked = std::env::var("REARLINE_CROWD_SECONDS")
        .ok()
        .and_then(|seconds| seconds.parse().ok());
    Duration::from_secs(asked.unwrap_or(4))
}

/// One request; nothing where the server has gone.
fn ask(address: &str, request: &str) -> Option<String> {
    let mut stream = TcpStream::connect(address).ok()?;
    stream.write_all(request.as_bytes()).ok()?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer).ok()?;
    Some(answer)
}

fn get(address: &str, path: &str) -> Option<String> {
    ask(
        address,
        &format!("GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n"),
    )
}

fn token(address: &str) -> String {
    let page = get(address, "/car/tarn/logbook").unwrap();
    let rest = page.split_once("name=\"token\" value=\"").unwrap().1;
    rest.split('"').next().unwrap().to_owned()
}

/// Sends a note as the page does; whether it was acknowledged as written.
fn send(address: &str, token: &str, id: &str) -> bool {
    let form = format!("token={token}&entry={id}&what=add&kind=note&text=note+{id}");
    let answer = ask(
        address,
        &format!(
            "POST /car/tarn/logbook HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{form}",
            form.len()
        ),
    );
    // Anything else is no acknowledgement: the page keeps the entry and sends it again.
    answer.is_some_and(|answer| answer.starts_with("HTTP/1.1 303") || answer.starts_with("HTTP/1.1 200"))
}

#[test]
fn pages_terminal_and_readers_together_lose_nothing() {
    let bench = Bench::with_cars();
    // One car, so that a page is soon there.
    for car in CARS.iter().filter(|car| **car != "tarn") {
        std::fs::remove_dir_all(bench.path(&format!("cars/{car}"))).unwrap();
    }
    let done = AtomicBool::new(false);
    let written: Mutex<Vec<String>> = Mutex::default();
    let (mut kills, mut runs) = (0, 0);
    thread::scope(|scope| {
        let going = || !done.load(Ordering::Relaxed);
        let (bench, written) = (&bench, &written);
        // Two pages of one folder stay; each has two devices that write, and one that reads.
        let pages = [(); 2].map(|()| Serving::start(bench, &["--port", "0"]));
        for (page, serving) in pages.iter().enumerate() {
            let token = token(&serving.address);
            for device in 0..2 {
                let (address, token) = (serving.address.clone(), token.clone());
                scope.spawn(move || {
                    for n in (0..).take_while(|_| going()) {
                        let id = format!("d{page}-{device}-{n}");
                        if send(&address, &token, &id) {
                            written.lock().unwrap().push(id);
                        }
                    }
                });
            }
            let address = serving.address.clone();
            scope.spawn(move || {
                while going() {
                    let page = get(&address, "/car/tarn/logbook").unwrap();
                    assert!(!page.contains("does not read"), "{page}");
                    thread::sleep(Duration::from_millis(20));
                }
            });
        }
        // The terminal writes, one program an entry.
        let terminal = scope.spawn(move || {
            let mut runs = 0;
            for n in (0..).take_while(|_| going()) {
                let id = format!("t-{n}");
                let run = bench.run(&[
                    "logbook", "add", "tarn", "--kind", "note", "--text", "hand", "--id", &id,
                ]);
                assert_eq!(run.status, Some(0), "{}{}", run.out, run.aside);
                written.lock().unwrap().push(id);
                runs += 1;
            }
            runs
        });
        // A third page is killed, and started again.
        let mut dice = 11_u64;
        let until = std::time::Instant::now() + seconds();
        while std::time::Instant::now() < until {
            let mut serving = Serving::start(bench, &["--port", "0"]);
            let token = token(&serving.address);
            let address = serving.address.clone();
            let sender = scope.spawn(move || {
                let mut n = 0;
                while send(&address, &token, &format!("k{kills}-{n}")) {
                    written.lock().unwrap().push(format!("k{kills}-{n}"));
                    n += 1;
                }
            });
            dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            thread::sleep(Duration::from_millis(50 + (dice >> 40) % 150));
            serving.child.kill().unwrap();
            serving.child.wait().unwrap();
            sender.join().unwrap();
            kills += 1;
        }
        done.store(true, Ordering::Relaxed);
        runs = terminal.join().unwrap();
        for serving in pages {
            assert_eq!(serving.end("-TERM").0, Some(0));
        }
    });
    let whole = bench.run(&["logbook", "verify", "tarn", "--json"]);
    assert_eq!(whole.status, Some(0), "{}", whole.out);
    let listed = bench.run(&["logbook", "list", "tarn", "--json"]);
    let listed = one_object(&listed.out);
    let mut there: HashMap<&str, usize> = HashMap::new();
    for entry in listed["entries"].as_array().unwrap() {
        *there.entry(entry["device_entry"].as_str().unwrap()).or_default() += 1;
    }
    let written = written.into_inner().unwrap();
    for id in &written {
        assert_eq!(there.get(id.as_str()), Some(&1), "{id} was acknowledged");
    }
    assert!(there.values().all(|&times| times == 1), "written twice");
    let line = format!(
        "two pages, the terminal ({runs} runs), {kills} pages killed: {} entries acknowledged, {} there\n",
        written.len(),
        there.len()
    );
    let _ = std::io::stderr().write_all(line.as_bytes());
    assert!(written.len() > 10 && kills > 0 && runs > 0, "{line}");
}
