//! Questions asked as a program would, without a terminal or a page.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod bores;
mod conditions;
mod figure;
mod help;
mod measuring;
mod on_paper;
mod on_the_car;
mod onto_sheet;
mod proposals;
mod readings;
mod sizing;
mod turns;
mod typed;
