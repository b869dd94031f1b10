//! A figure in words: the units in which a person reads, one rounding, one way to say a range, the trade's nouns.
//!
//! Findings, questions, terminal, page and pictures all say a figure through this crate, so that one car's figure reads
//! the same everywhere. It knows quantities and what the engine calls things; no file, no option, no screen.

mod measured;
mod remark;
mod rounding;
pub mod turned;
mod units;
mod words;

pub use measured::{Between, Measured, Shown, digits, lead};
pub use remark::{or_written, remark};
pub use rounding::column;
pub use units::{Units, UnitsFault};
pub use words::*;
