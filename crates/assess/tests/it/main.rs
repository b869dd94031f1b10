//! Assessments of the demonstration cars and of cars one small edit away from them.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "helpers of tests fail loudly too"
)]

mod borders;
mod demonstration;
mod exact;
mod figures;
mod heat;
mod looked;
mod plain;
mod slugs;
mod sound;
mod written;
