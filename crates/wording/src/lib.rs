//! A figure in words: the units in which a person reads, one rounding, one way to say a range, the trade's nouns.
//!
//! Findings, questions, terminal, page and pictures all say a figure through this crate, so that one car's figure reads
//! the same everywhere. It knows quantities and what the engine calls things; no file, no option, no screen.

mod column;
mod fixed;
mod in_formula;
mod measured;
mod precision;
mod remark;
mod rounding;
pub mod turned;
mod units;
mod words;

pub use column::{Column, NONE, entered, named, number};
pub use fixed::*;
pub use in_formula::{InFormula, IndexedSign, sign};
pub use measured::{Between, Measured, Shown, digits, lead};
pub use precision::Precision;
pub use remark::{or_written, remark};
pub use rounding::{column, figure};
pub use units::{Units, UnitsFault};
pub use words::*;
