//! The program as it is used: real processes, real files.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod aloud;
mod bench;
mod books;
mod crowd;
mod endings;
mod figures;
mod files;
mod heat;
mod help;
mod how;
mod logbook;
mod machine;
mod options;
mod pages;
mod plumbing;
mod questions;
mod reports;
mod results;
mod serving;
mod sheets;
mod size;
mod turns;
mod wrong;
