//! Times the list of a large cars folder: cold, from the answers on the disk, and warm, on a connection that is kept. The
//! rival in the same run is the old way: every one of the cars of a page is opened and assessed for a visit.
//!
//! `list 10000` makes so many copies of a demonstration car in a folder of its own, and takes them away; a second number
//! behind it asks so often instead of 1,000 times.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a program that prints its figures"
)]

use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

use benches::{Served, median_and_late, megabytes};
use engine::ranges::Sampling;
use questions::{Opened, Sheet, assess};
use records::{Answers, Cars, KeptAnswer};
use wording::Units;

const REPEATS: usize = 1_000;
/// A server is started for each of these, of the repeats.
const COLD: usize = 25;
/// Cars of a page.
const A_PAGE: usize = 50;

fn run(many: usize, repeats: usize) -> io::Result<()> {
    let folder = std::env::temp_dir().join(format!("rearline-list-{}", std::process::id()));
    let done = over(&folder, many, repeats);
    std::fs::remove_dir_all(&folder)?;
    done
}

/// Copies of `tarn`, with answers that a server has made of the first.
fn cars(folder: &Path, many: usize) -> io::Result<()> {
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo/tarn/car.toml");
    let add = |number: usize| -> io::Result<PathBuf> {
        let car = folder.join(format!("car-{number:05}"));
        std::fs::create_dir_all(&car)?;
        std::fs::copy(&sheet, car.join("car.toml"))?;
        Ok(car)
    };
    add(0)?;
    let served = Served::over(folder)?;
    let mut client = served.client()?;
    while String::from_utf8_lossy(&client.ask("/")?.body).contains("data-waits") {
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    // Kept a moment later.
    let there = Cars::open(folder).map_err(io::Error::other)?;
    let first = loop {
        if let [first, ..] = Answers::open(&there).1.as_slice() {
            break first.clone();
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    };
    served.end();
    let mut all = Vec::with_capacity(many);
    for number in 1..many {
        add(number)?;
        all.push(KeptAnswer {
            car: format!("car-{number:05}"),
            ..first.clone()
        });
    }
    Answers::open(&there).0.keep(&all);
    Ok(())
}

fn over(folder: &Path, many: usize, repeats: usize) -> io::Result<()> {
    cars(folder, many)?;
    println!(
        "{many} cars; {:>18} {:>10} {:>10} {:>9}",
        "", "median", "99 %", "bytes"
    );
    let said = |name: &str, mut times: Vec<f64>, bytes: usize| {
        let (median, late) = median_and_late(&mut times);
        println!(
            "{name:30} {:>7.2} ms {:>7.2} ms {bytes:>9}",
            median * 1e3,
            late * 1e3
        );
        median
    };
    let (mut first, mut bytes) = (Vec::new(), 0);
    for _ in 0..repeats.div_ceil(COLD) {
        let begun = Instant::now();
        let served = Served::over(folder)?;
        let mut client = served.client()?;
        let before_s = begun.elapsed().as_secs_f64();
        let answered = client.ask("/")?;
        first.push(before_s + answered.first_s);
        bytes = answered.body.len();
        served.end();
    }
    said("started, to the first bytes", first, bytes);
    let served = Served::over(folder)?;
    let mut client = served.client()?;
    let mut warm = f64::NAN;
    for (name, path) in [
        ("a page of 50, by name", "/"),
        ("the last, the worst first", "/?sort=verdict&page=200"),
        ("searched, what is due first", "/?search=99&sort=due"),
        ("whether it is still so", "/stands?cars=000000000000"),
    ] {
        let (mut times, mut bytes) = (Vec::with_capacity(repeats), 0);
        for _ in 0..repeats {
            let answered = client.ask(path)?;
            times.push(answered.whole_s);
            bytes = answered.body.len();
        }
        let median = said(name, times, bytes);
        if path == "/" {
            warm = median;
        }
    }
    println!(
        "at most {:.0} MB of memory",
        megabytes("VmHWM").unwrap_or(f64::NAN)
    );
    served.end();
    // The old way: each of fifty opened and assessed.
    let there = Cars::open(folder).map_err(io::Error::other)?;
    let mut times = Vec::new();
    for _ in 0..repeats.div_ceil(100) {
        let begun = Instant::now();
        for car in there
            .list()
            .map_err(io::Error::other)?
            .found
            .into_iter()
            .take(A_PAGE)
        {
            let sheet = Sheet::read(car).map_err(|_| io::Error::other("no sheet"))?;
            let opened = Opened::as_it_is(sheet, engine::car::Date::constant(2026, 5, 1))
                .map_err(|_| io::Error::other("no car"))?;
            let speed = questions::speed(None).map_err(|_| io::Error::other("no speed"))?;
            let outcome = assess::Outcome::of(&opened, speed, Sampling::default(), &Units::default());
            std::hint::black_box(outcome.map_err(|_| io::Error::other("no answer"))?);
        }
        times.push(begun.elapsed().as_secs_f64());
    }
    let old = said("fifty opened and assessed", times, 0);
    println!("that over a page of 50 by name: {:.0}", old / warm);
    Ok(())
}

fn main() -> ExitCode {
    let asked = |place: usize| std::env::args().nth(place).and_then(|number| number.parse().ok());
    match run(asked(1).unwrap_or(10_000), asked(2).unwrap_or(REPEATS)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("benches: {fault}");
            ExitCode::FAILURE
        }
    }
}
