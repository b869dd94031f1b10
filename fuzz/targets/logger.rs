//! Any bytes, read as a logger's file: a log that is held against a car, or a fault in words; never a panic.

#![no_main]

use std::sync::LazyLock;

use engine::car::Car;
use engine::loads::{Aboard, Laden};
use libfuzzer_sys::fuzz_target;

#[path = "../../crates/logger/tests/it/well_behaved.rs"]
mod well_behaved;

static CAR: LazyLock<(Car, Laden)> = LazyLock::new(|| {
    let read = sheet::read(include_bytes!("../../demo/tarn/car.toml"), "tarn");
    let car = Car::assemble(&read.inputs).expect("the demonstration car is one").car;
    let laden = Laden::of(&car, Aboard::default());
    (car, laden)
});

fuzz_target!(|data: &[u8]| {
    well_behaved::well_behaved(data, &CAR.0, &CAR.1);
});
