//! Two hours of a logger at 100 rows a second: 720,000 rows of 12 columns, read and held against a car. Prints seconds
//! for each and the most memory that the program ever held.

#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a bench prints, and stops where it cannot go on"
)]

use std::io::Write as _;
use std::time::Instant;

use engine::car::Car;
use engine::loads::{Aboard, Laden};
use logger::demonstration::{Truth, write_log};

const ROWS: usize = 720_000;

fn main() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo/tarn/car.toml");
    let read = sheet::read(&std::fs::read(path).unwrap(), "tarn");
    let car = Car::assemble(&read.inputs).unwrap().car;
    let laden = Laden::of(&car, Aboard::default());
    let file = std::env::temp_dir().join("rearline-bench-two-hours.csv");
    let size = write_two_hours(&car, &file);
    let before = most_memory_mb();
    let begun = Instant::now();
    let mut told = 0_u32;
    let from = std::fs::File::open(&file).unwrap();
    let log = logger::read(from, &sheet::ColumnMap::default(), None, &mut |_| told += 1).unwrap();
    let read_s = begun.elapsed().as_secs_f64();
    let found = logger::examine(&log, &car, &laden);
    let all_s = begun.elapsed().as_secs_f64();
    println!(
        "{} rows, {:.1} MB: read in {read_s:.2} s, held against the car by {all_s:.2} s",
        log.rows(),
        size / 1e6
    );
    println!(
        "progress told {told} times; {} stops and pulls, {} offers",
        found.events.len(),
        found.offers.len()
    );
    println!(
        "most memory held: {} MB, of it {} MB before reading",
        most_memory_mb(),
        before
    );
    let _ = std::fs::remove_file(&file);
}

/// The demonstration's log over and over, with times that go on and a twelfth column.
fn write_two_hours(car: &Car, file: &std::path::Path) -> f64 {
    let mut once = Vec::new();
    write_log(car, Truth::default(), 1, &mut once).unwrap();
    let once = String::from_utf8(once).unwrap();
    let (heads, rows) = once.split_once('\n').unwrap();
    let mut into = std::io::BufWriter::new(std::fs::File::create(file).unwrap());
    writeln!(into, "{heads},front fluid [C]").unwrap();
    let mut written = 0;
    'all: loop {
        for row in rows.lines() {
            if written == ROWS {
                break 'all;
            }
            written += 1;
            let (_, figures) = row.split_once(',').unwrap();
            let hundredths = written % 100;
            writeln!(into, "{}.{hundredths:02},{figures},80", written / 100).unwrap();
        }
    }
    into.flush().unwrap();
    #[allow(clippy::cast_precision_loss, reason = "a size to be printed")]
    let size = std::fs::metadata(file).unwrap().len() as f64;
    size
}

/// Peak of the resident memory, as Linux tells it; 0 elsewhere.
fn most_memory_mb() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .and_then(|text| text.trim().trim_end_matches("kB").trim().parse::<u64>().ok())
        .map_or(0, |kb| kb / 1024)
}
