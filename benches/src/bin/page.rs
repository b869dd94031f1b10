//! Times what the workshop page sends while a handle moves: one client on the loopback, one connection kept, 1,000
//! repeats a room, each with another figure. The rival in the same run is the same server's preferences page, which
//! computes nothing: what is above it is the answer's own.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a program that prints its figures"
)]

use std::io;
use std::path::Path;
use std::process::ExitCode;

use benches::{Served, median_and_late};

const REPEATS: usize = 1_000;

fn run() -> io::Result<()> {
    let cars = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo");
    let served = Served::over(&cars)?;
    let mut client = served.client()?;
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
            let answered = client.ask(&asked)?;
            times.push(answered.whole_s);
            bytes = bytes.max(answered.body.len());
        }
        let (median, late) = median_and_late(&mut times);
        let least = *nothing.get_or_insert(median);
        println!(
            "{name:34} {:>7.2} ms {:>7.2} ms {bytes:>9}   {:.1}",
            median * 1e3,
            late * 1e3,
            median / least
        );
    }
    served.end();
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
