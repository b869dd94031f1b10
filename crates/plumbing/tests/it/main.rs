//! What holds for the plumbing of every car.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod cars;
mod graph;
mod lists;
mod sides;
