//! How long it takes to say what settles what, and what readings have settled: all keys of a car against a range of the same
//! number of draws, in the same run.

use std::hint::black_box;
use std::path::Path;

use engine::Conditions;
use engine::headline::Headlines;
use engine::ranges::Sampling;
use engine::sensitivity::Design;
use engine::settles::{DrawnSheet, settles, settles_of_turn};
use engine::turn::{Manoeuvre, Technique};
use engine::updating::{Kit, Updated};

use crate::{read, shown, timed};

pub(crate) fn studies(top: &Path) {
    println!(
        "{:14} {:>5} {:>12} {:>12} {:>12} {:>12}   settles over range",
        "what settles", "keys", "range", "settles", "readings", "turn, 128"
    );
    for name in ["tarn", "half-known", "bin", "sedge"] {
        let Some((inputs, assembled)) = read(&top.join("demo").join(name).join("car.toml")) else {
            continue;
        };
        let (car, toleranced) = (&assembled.car, &assembled.toleranced);
        let conditions = Conditions::default();
        let sheet = DrawnSheet::of(&inputs, toleranced);
        let range = timed(20, || {
            drop(black_box(Headlines::of(
                car,
                &inputs,
                toleranced,
                &conditions,
                Sampling::default(),
            )));
        });
        let settled = timed(5, || {
            drop(black_box(settles(
                &sheet,
                &conditions,
                Design::default(),
                &|_| (),
            )));
        });
        let readings = timed(10, || {
            drop(black_box(Updated::of(&inputs, &assembled, Kit::default())))
        });
        let surface = conditions.surface_of(car);
        let turn = surface.filter(|_| car.lever.is_some()).map(|surface| {
            let laden = conditions.laden(car);
            let pull = conditions.pull_at(car, surface.peak);
            let manoeuvre = Manoeuvre {
                reading: engine::coupling::deciding(car, &laden, pull, conditions.warmth),
                technique: Technique::on(&surface, car),
                conditions: conditions.clone(),
            };
            let design = Design { base: 128, seed: 1 };
            timed(1, || {
                drop(black_box(settles_of_turn(&manoeuvre, &sheet, design, &|_| ())));
            })
        });
        println!(
            "{name:14} {:>5} {:>12} {:>12} {:>12} {:>12}   {:.0}",
            toleranced.len(),
            shown(range.median_s),
            shown(settled.median_s),
            shown(readings.median_s),
            turn.map_or_else(String::new, |turn| shown(turn.median_s)),
            settled.median_s / range.median_s
        );
    }
}
