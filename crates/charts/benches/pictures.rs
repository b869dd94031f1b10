//! Time a picture takes, asked of the engine and drawn: `cargo bench -p charts`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a bench prints what it measured"
)]
#![allow(dead_code, reason = "what it shares with the tests is used there")]

#[path = "../tests/it/cars.rs"]
mod cars;
#[path = "../tests/it/drawn.rs"]
mod drawn;

use std::hint::black_box;
use std::time::Instant;

use charts::{ForceScale, Look, SplitCurves, UtilisationCurves, ValveCurve};

const REPEATS: u32 = 300;

/// Middle and 99th percentile of the time that something takes [µs].
fn timed<T>(mut what: impl FnMut() -> T) -> (f64, f64) {
    let mut times: Vec<f64> = (0..REPEATS)
        .map(|_| {
            let start = Instant::now();
            black_box(what());
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    (times[times.len() / 2], times[times.len() * 99 / 100])
}

fn main() {
    println!(
        "{:<14} {:<13} {:>12} {:>12} {:>12}",
        "car", "picture", "asked, µs", "drawn, µs", "drawn 99 %"
    );
    for name in cars::DEMO {
        let car = cars::demo(name);
        let prepared = drawn::Prepared::of(&car);
        let look = Look {
            car: &car.name,
            state: "crew, half tank",
            ..Look::default()
        };
        let row = |picture: &str, asked: (f64, f64), drawn: (f64, f64)| {
            println!(
                "{name:<14} {picture:<13} {:>12.0} {:>12.0} {:>12.0}",
                asked.0, drawn.0, drawn.1
            );
        };
        let split = || SplitCurves(engine::curves::SplitLines::of(&prepared.balance, &drawn::GRIPS));
        let curves = split();
        row(
            "split",
            timed(split),
            timed(|| curves.draw(&look, ForceScale::Force)),
        );
        let order = prepared.lock_order();
        row(
            "lock order",
            timed(|| prepared.lock_order()),
            timed(|| order.draw(&look)),
        );
        let used = || UtilisationCurves(engine::curves::Used::of(&car, &prepared.balance));
        let curves = used();
        row("utilisation", timed(used), timed(|| curves.draw(&look)));
        let pull = prepared.pull();
        row("pull", timed(|| prepared.pull()), timed(|| pull.draw(&look)));
        let valve = || ValveCurve(engine::curves::Valve::of(&car, prepared.laden.axle_loads(0.0)));
        let curve = valve();
        row("valve", timed(valve), timed(|| curve.draw(&look)));
        let plan = prepared.plan(300.0, prepared.hand);
        row(
            "plan",
            timed(|| prepared.plan(300.0, prepared.hand)),
            timed(|| plan.draw(&look)),
        );
    }
}
