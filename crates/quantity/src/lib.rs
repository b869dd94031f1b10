//! Quantities as a workshop writes them: `"5/8 in"`, `"15,9 mm"`, `"0.42 ± 0.04"`, `"between 0.38 and 0.46"`.
//!
//! Two layers. [`si`] holds the types that the engine computes with: one type a dimension, SI inside, so that a
//! pressure cannot be added to a force. [`Amount`] is a number that came from a person: its SI value and its
//! [`Spread`] (how far it may be off).
//!
//! This crate knows nothing of cars, files or screens.

pub mod si;

mod amount;
mod dimension;

pub use amount::{Amount, Spread};
pub use dimension::Dimension;
