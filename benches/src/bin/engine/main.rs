//! Times the engine's questions and prints the figures; see README.md.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a program that prints its figures"
)]

mod compiled;
mod heat;
mod looked;
mod size;
mod sure;
mod turn;

use std::hint::black_box;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::Instant;

use engine::balance::Balance;
use engine::brake::Warmth;
use engine::car::{Assembled, Car, Inputs};
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverBench, Pull};
use engine::loads::{Aboard, Laden};
use engine::ranges::{Sampling, study};
use quantity::si::{Force, Speed};

/// The demonstration cars.
const CARS: [&str; 7] = [
    "tarn",
    "tarn-let-go",
    "sedge",
    "scree",
    "half-known",
    "bin",
    "gill",
];

/// Median and 99th percentile of repeated runs (s).
#[derive(Clone, Copy)]
struct Timing {
    median_s: f64,
    late_s: f64,
}

fn timed(repeats: usize, mut question: impl FnMut()) -> Timing {
    for _ in 0..repeats.div_ceil(10) {
        question();
    }
    let mut taken: Vec<f64> = (0..repeats)
        .map(|_| {
            let begun = Instant::now();
            question();
            begun.elapsed().as_secs_f64()
        })
        .collect();
    taken.sort_by(f64::total_cmp);
    Timing {
        median_s: taken[repeats / 2],
        late_s: taken[(repeats * 99 / 100).min(repeats - 1)],
    }
}

/// How long something takes once (s).
fn once(question: impl FnOnce()) -> f64 {
    let begun = Instant::now();
    question();
    begun.elapsed().as_secs_f64()
}

fn median(mut taken: Vec<f64>) -> f64 {
    taken.sort_by(f64::total_cmp);
    taken.get(taken.len() / 2).copied().unwrap_or(f64::NAN)
}

fn shown(seconds: f64) -> String {
    match seconds {
        s if s < 1e-3 => format!("{:9.2} µs", s * 1e6),
        s if s < 1.0 => format!("{:9.2} ms", s * 1e3),
        s => format!("{s:9.2} s "),
    }
}

/// What a lever and a balance at ten grips ask of one car.
fn lever_and_balance(car: &Car) -> (f64, f64) {
    let laden = Laden::of(car, Aboard::default());
    let speed = Speed::from_m_s(50.0 / 3.6);
    let hydraulics = Hydraulics::of(car, Warmth::Warm);
    let in_hand = LeverBench::of(car, Warmth::Warm).map_or(0.0, |bench| {
        let hand = car.lever.as_ref().map_or(Force::ZERO, |lever| lever.hand_pull);
        bench
            .answer(
                &laden,
                Pull {
                    hand,
                    grip: 0.65,
                    speed,
                },
            )
            .to_lock
            .in_hand
    });
    let balance = Balance::of(car, hydraulics, laden, speed);
    let leads = (1..=10_u8)
        .map(|tenth| {
            balance
                .lock(f64::from(tenth) / 10.0)
                .at
                .map_or(0.0, |point| point.front_first_by)
        })
        .sum();
    (in_hand, leads)
}

fn read(path: &Path) -> Option<(Inputs, Assembled)> {
    let text = std::fs::read(path).ok()?;
    let name = path.display().to_string();
    let read = sheet::read(&text, &name);
    let assembled = Car::assemble(&read.inputs).ok()?;
    Some((read.inputs, assembled))
}

fn main() -> ExitCode {
    let top = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..");
    let sheet = top.join("demo/tarn/car.toml");
    let Some((inputs, assembled)) = read(&sheet) else {
        eprintln!("benches: {} does not read", sheet.display());
        return ExitCode::FAILURE;
    };
    if std::env::args().nth(1).as_deref() == Some("heat") {
        heat::questions(&top);
        heat::against_scipy(&top);
        return ExitCode::SUCCESS;
    }
    if std::env::args().nth(1).as_deref() == Some("looked") {
        let repeats = std::env::args().nth(2).and_then(|text| text.parse().ok());
        looked::at(&top, repeats.unwrap_or(1000));
        return ExitCode::SUCCESS;
    }
    if std::env::args().nth(1).as_deref() == Some("methods") {
        turn::methods(&top);
        turn::against_general_methods(&top);
        return ExitCode::SUCCESS;
    }
    if std::env::args().nth(1).as_deref() == Some("sure") {
        sure::studies(&top);
        return ExitCode::SUCCESS;
    }
    if std::env::args().nth(1).as_deref() == Some("size") {
        draws(&inputs, &assembled);
        size::search(&top);
        return ExitCode::SUCCESS;
    }
    if std::env::args().nth(1).as_deref() == Some("turn") {
        turn::over_real_time(&top);
        turn::many_against_one(&top);
        return ExitCode::SUCCESS;
    }
    let car = &assembled.car;
    let laden = Laden::of(car, Aboard::default());
    let hydraulics = Hydraulics::of(car, Warmth::Warm);
    let asked = Forces {
        foot: Force::from_n(300.0),
        hand: Force::from_n(150.0),
    };
    let sampling = Sampling { draws: 4096, seed: 1 };
    let text = std::fs::read(&sheet).unwrap_or_default();
    let rows = [
        (
            "sheet to car",
            timed(1000, || drop(black_box(sheet::assemble(&text, "car.toml")))),
        ),
        (
            "prepare the circuit",
            timed(1000, || drop(black_box(Hydraulics::of(car, Warmth::Warm)))),
        ),
        (
            "pressures",
            timed(1000, || {
                black_box(hydraulics.answer(&laden, asked));
            }),
        ),
        (
            "lever-and-balance",
            timed(1000, || {
                black_box(lever_and_balance(car));
            }),
        ),
        (
            "4096-draws",
            timed(40, || {
                drop(black_box(study(
                    &inputs,
                    &assembled.toleranced,
                    sampling,
                    lever_and_balance,
                )))
            }),
        ),
    ];
    println!(
        "{:22} {:>12} {:>12}   numpy/scipy over this",
        "question", "median", "99 %"
    );
    let rivals = rivals(&top, &sheet);
    for (name, timing) in rows {
        let ratio = rivals
            .iter()
            .find(|(rival, _)| rival == name)
            .map_or_else(String::new, |(_, rival)| {
                format!("{:.0}", rival.median_s / timing.median_s)
            });
        println!(
            "{name:22} {:>12} {:>12}   {ratio}",
            shown(timing.median_s),
            shown(timing.late_s)
        );
    }
    sure::studies(&top);
    draws(&inputs, &assembled);
    size::search(&top);
    turn::over_real_time(&top);
    turn::many_against_one(&top);
    turn::methods(&top);
    turn::against_general_methods(&top);
    heat::questions(&top);
    heat::against_scipy(&top);
    ExitCode::SUCCESS
}

/// A drawn car of a prepared sheet beside one that is put together whole, in turns.
fn draws(inputs: &Inputs, assembled: &Assembled) {
    let sampling = Sampling { draws: 1024, seed: 1 };
    let draws: Vec<_> = (0..sampling.draws)
        .map(|number| engine::ranges::draw(&assembled.toleranced, sampling, number))
        .collect();
    let prepared = engine::car::Prepared::of(inputs, &assembled.toleranced);
    let mut next = 0;
    let mut one = || {
        next = (next + 1) % draws.len();
        &draws[next]
    };
    let kept = timed(1000, || drop(black_box(prepared.drawn(one()))));
    let whole = timed(1000, || drop(black_box(Car::drawn(inputs, one()))));
    println!(
        "drawn car: prepared {} median, {} 99 %; whole {}, over the prepared {:.1}",
        shown(kept.median_s),
        shown(kept.late_s),
        shown(whole.median_s),
        whole.median_s / kept.median_s
    );
}

/// The same questions in Python, where it is at hand.
fn rivals(top: &Path, sheet: &Path) -> Vec<(String, Timing)> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".into());
    let run = Command::new(&python)
        .arg(top.join("benches/rival.py"))
        .arg(sheet)
        .output();
    match run {
        Ok(output) if output.status.success() => String::from_utf8_lossy(&output.stdout)
            .lines()
            .filter_map(|line| {
                let mut words = line.split_whitespace();
                let name = words.next()?.to_owned();
                let median_s = words.next()?.parse().ok()?;
                let late_s = words.next()?.parse().ok()?;
                Some((name, Timing { median_s, late_s }))
            })
            .collect(),
        _ => {
            eprintln!("benches: {python} with numpy and scipy is not at hand; no ratio");
            Vec::new()
        }
    }
}

/// A row of a rival's time, its error, and its time over ours.
fn beside(name: &str, timing: Timing, off: f64, ours: Timing) {
    println!(
        "{name:22} {:>12} {:>12}   {off:.1e}   {:.1} times this engine",
        shown(timing.median_s),
        shown(timing.late_s),
        timing.median_s / ours.median_s
    );
}

/// Rivals in Python that are told their task in lines: name, time, error of each. None where Python is not at hand.
fn rivals_at(top: &Path, script: &str, text: &str) -> Vec<(String, Timing, f64)> {
    let said = || {
        let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".into());
        let mut run = Command::new(python)
            .arg(top.join("benches").join(script))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .ok()?;
        run.stdin.take()?.write_all(text.as_bytes()).ok()?;
        let output = run.wait_with_output().ok()?;
        output
            .status
            .success()
            .then(|| String::from_utf8_lossy(&output.stdout).into_owned())
    };
    let row = |line: &str| {
        let mut words = line.split_whitespace();
        let name = format!("{} rtol {}", words.next()?, words.next()?);
        let median_s = words.next()?.parse().ok()?;
        let late_s = words.next()?.parse().ok()?;
        let error = words.next()?.parse().ok()?;
        Some((name, Timing { median_s, late_s }, error))
    };
    said().unwrap_or_default().lines().filter_map(row).collect()
}
