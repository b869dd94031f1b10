//! All that an assessment asks of a car: while a handle moves, and whole.

use std::hint::black_box;
use std::path::Path;

use engine::Conditions;
use engine::figures::{Depth, Figures};
use engine::ranges::Sampling;

use crate::{CARS, read, shown, timed};

/// The figures of every demonstration car.
pub(crate) fn at(top: &Path, repeats: usize) {
    println!(
        "\n{:34} {:>12} {:>12}",
        "all figures of an assessment", "median", "99 %"
    );
    for name in CARS {
        let Some((inputs, assembled)) = read(&top.join(format!("demo/{name}/car.toml"))) else {
            continue;
        };
        let conditions = Conditions::default();
        for (what, draws, briefly) in [
            ("while a handle moves", 0, true),
            ("whole", 0, false),
            ("with 1,024 draws", 1024, false),
        ] {
            let depth = Depth {
                sampling: Sampling { draws, seed: 1 },
                briefly,
            };
            let timing = timed(repeats, || {
                drop(black_box(Figures::of(&inputs, &assembled, &conditions, depth)))
            });
            println!(
                "{:34} {:>12} {:>12}",
                format!("{name}, {what}"),
                shown(timing.median_s),
                shown(timing.late_s)
            );
        }
    }
}
