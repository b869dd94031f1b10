//! Times what the workshop page sends while a handle moves: one client on the loopback, one connection kept, 1,000
//! repeats a room, each with another figure. The rival in the same run is the same server's preferences page, which
//! computes nothing: what is above it is the answer's own.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a program that prints its figures"
)]

use std::io::{self, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use page::{Limits, ListenAt, Reach, Server, Workshop};

const REPEATS: usize = 1_000;

/// Asks on a connection that is kept; how long it took, and how much came.
fn ask(stream: &mut TcpStream, host: &str, path: &str) -> io::Result<(f64, usize)> {
    let request = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n\r\n");
    let begun = Instant::now();
    stream.write_all(request.as_bytes())?;
    let mut taken = Vec::new();
    let mut buffer = [0; 64 * 1024];
    loop {
        let more = stream.read(&mut buffer)?;
        if more == 0 {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        taken.extend_from_slice(&buffer[..more]);
        let text = String::from_utf8_lossy(&taken);
        if let Some((head, body)) = text.split_once("\r\n\r\n") {
            let length = head.lines().find_map(|line| {
                line.to_lowercase()
                    .strip_prefix("content-length: ")?
                    .parse::<usize>()
                    .ok()
            });
            if length.is_some_and(|length| body.len() >= length) {
                if !head.starts_with("HTTP/1.1 200") {
                    return Err(io::Error::other(format!("{path}: {head}")));
                }
                return Ok((begun.elapsed().as_secs_f64(), body.len()));
            }
        }
    }
}

fn run() -> io::Result<()> {
    let cars = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo");
    let workshop = Workshop {
        cars,
        units: None,
        reach: Reach::ThisMachine,
        limits: Limits::default(),
        today: || engine::car::Date::constant(2026, 5, 1),
        stamp: |_, _| Err(records::Fault::NoReason),
        press: None,
        tell: Box::new(|text| eprintln!("{text}")),
    };
    let server = Server::bind(workshop, ListenAt::Given(0))?;
    let address = server.addresses().swap_remove(0);
    let host = address
        .trim_start_matches("http://")
        .trim_end_matches('/')
        .to_owned();
    let stopper = server.stopper();
    let serving = std::thread::spawn(|| server.run());
    let mut stream = TcpStream::connect(&host)?;
    stream.set_nodelay(true)?;
    println!(
        "{:34} {:>10} {:>10} {:>9}   over nothing",
        "one client, loopback", "median", "99 %", "bytes"
    );
    let mut nothing = None;
    for (name, path, handle) in [
        ("computes nothing", "/preferences?", ""),
        (
            "Will it work?",
            "/car/tarn/assessment?part=1&pictures=wide&",
            "grip",
        ),
        (
            "Will it come round?",
            "/car/tarn/turn?part=1&pictures=wide&",
            "hand",
        ),
        (
            "the same beside another set-up",
            "/car/tarn/turn?part=1&pictures=wide&against=tarn-let-go&",
            "hand",
        ),
        (
            "Which end locks first?",
            "/car/tarn/balance?part=1&pictures=wide&",
            "foot",
        ),
        (
            "Where do I set the valve?",
            "/car/tarn/settings?part=1&pictures=wide&",
            "valve",
        ),
        (
            "How hard, how far?",
            "/car/tarn/lever?part=1&pictures=wide&",
            "hand",
        ),
        (
            "How hard, how far? (half-known)",
            "/car/half-known/lever?part=1&pictures=wide&",
            "hand",
        ),
        ("a whole page with draws: balance", "/car/tarn/balance?", "foot"),
    ] {
        let mut times = Vec::with_capacity(REPEATS);
        let mut bytes = 0;
        for repeat in 0..REPEATS {
            let step = u32::try_from(repeat % 400).unwrap_or(0);
            let asked = match handle {
                "" => path.to_owned(),
                "grip" => format!("{path}grip={:.4}", 0.2 + f64::from(step) / 500.0),
                "valve" => format!("{path}valve={:.3}", f64::from(step) / 100.0),
                handle => format!("{path}{handle}={}", 50 + step),
            };
            let (time, length) = ask(&mut stream, &host, &asked)?;
            times.push(time);
            bytes = bytes.max(length);
        }
        times.sort_by(f64::total_cmp);
        let (median, late) = (times[REPEATS / 2], times[REPEATS * 99 / 100]);
        let least = *nothing.get_or_insert(median);
        println!(
            "{name:34} {:>7.2} ms {:>7.2} ms {bytes:>9}   {:.1}",
            median * 1e3,
            late * 1e3,
            median / least
        );
    }
    stopper.stop();
    let _ = serving.join();
    Ok(())
}

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("benches: {fault}");
            ExitCode::FAILURE
        }
    }
}
