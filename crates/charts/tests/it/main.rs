//! Pictures of cars: the demonstration cars, arrangements that none of them has, cars at the ends of what can be, and
//! random ones.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot go on says so by panicking"
)]

mod cars;
mod drawn;
mod figures_beside;
mod lines;
mod looked_at;
mod measuring;
mod rules;
mod seen;
