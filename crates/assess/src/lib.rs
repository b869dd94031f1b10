//! What a car's figures mean: the answer in parts, findings with what to do, what to measure next, what comes out.
//!
//! In: a car and its [`Figures`](engine::figures::Figures), as plain data. Nothing is computed here that the engine did
//! not compute; a family of findings compares figures with the limits that stand beside it and puts them into words.
//! Out: an [`Assessment`]. Nothing in it says that a car is safe: it says what was computed, how sure, and what is still
//! to be looked at by hand.
//!
//! This crate knows no file, clock, terminal or page.

mod answer;
mod assessment;
pub mod cautions;
mod comes_out;
mod families;
mod finding;
mod measure;
mod say;
mod written;

pub use answer::{Verdict, VerdictInParts, on_the_border};
pub use assessment::{Assessment, assess, assess_in};
pub use comes_out::{ComesOut, comes_out};
pub use families::guesses::is_open;
pub use families::heat::{heat, hold};
pub use finding::{Finding, Weight};
pub use measure::MeasureNext;
pub use say::rear_stops_in;
pub use written::{logbook_lost, written};
