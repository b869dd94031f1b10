//! From a sentence to causes, tests, changes and leaks, on the written cars.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod changes;
mod leaks;
mod sentences;

use std::path::Path;

use engine::car::Car;
use engine::loads::{Aboard, Laden};

pub(crate) const CARS: [&str; 6] = ["bin", "half-known", "scree", "sedge", "tarn", "tarn-let-go"];

pub(crate) fn car(name: &str) -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo")
        .join(name)
        .join("car.toml");
    let read = sheet::read(&std::fs::read(path).unwrap(), name);
    assert!(read.problems().is_empty(), "{:?}", read.problems());
    Car::assemble(&read.inputs).unwrap().car
}

pub(crate) fn laden(car: &Car) -> Laden {
    Laden::of(car, Aboard::default())
}
