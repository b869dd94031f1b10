//! Quantities as a workshop writes them: `"5/8 in"`, `"15,9 mm"`, `"0.42 ± 0.04"`, `"between 0.38 and 0.46"`.
//!
//! Two layers. [`si`] holds the types that the engine computes with: one type a dimension, SI inside, so that a
//! pressure cannot be added to a force. [`Amount`] is a number that came from a person: its SI value and its
//! [`Spread`] (how far it may be off).
//!
//! In: [`parse`] and [`parse_written`] turn text into an [`Amount`], or say in a [`Fault`] what is wrong, where, and
//! what to write instead. Out: [`print()`] writes an amount so that it reads back the same to the last bit; [`show`]
//! and [`show_range`] write a figure rounded, for the eye. [`units_of`] lists the units of a dimension.
//!
//! This crate knows nothing of cars, files or screens.
//!
//! ```
//! use quantity::{Dimension, Spread, parse, print, units_of};
//!
//! let bore = parse("5/8 in", Dimension::Length)?;
//! assert_eq!(bore.si, 0.015875);
//! let millimetre = units_of(Dimension::Length)[0];
//! assert_eq!(print(&bore, millimetre), "15.875 mm");
//!
//! let height = parse("0.52 m +/- 30 mm", Dimension::Length)?;
//! assert_eq!(height.spread, Spread::Normal { half_width_si: 0.03 });
//!
//! let fault = parse("70 bar", Dimension::Length).unwrap_err();
//! assert_eq!(fault.to_string(), "`70 bar` is a pressure, and here a length is wanted");
//! # Ok::<(), quantity::Fault>(())
//! ```

pub mod si;

mod amount;
mod dimension;
mod exact;
mod fault;
mod find;
mod parse;
mod piece;
mod print;
mod show;
mod unit;

pub use amount::{Amount, Spread};
pub use dimension::Dimension;
pub use fault::{Fault, FractionFlaw, ToleranceFlaw, UnitFlaw};
pub use find::{find_unit, unit_named};
pub use parse::{Written, parse, parse_written};
pub use print::print;
pub use show::{Digits, digits_for_range, show, show_bore, show_range};
pub use unit::{Unit, units_of};

/// The most characters that a quantity may have.
pub const LONGEST: usize = 200;
