//! What counts, what reopens, what may be signed, what falls due; on every car.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

#[path = "../../../plumbing/tests/it/cars.rs"]
#[allow(
    dead_code,
    unused_imports,
    reason = "the cars of the plumbing's tests; not every helper is wanted here"
)]
mod cars;
mod entries;
mod falling_due;
mod proved;
