//! A logger's file: read whatever its columns are called, cleaned, cut into stops and pulls, and asked what it says of
//! bias valve, lock-up, pads and fluid against the sheet.
//!
//! [`read()`] takes any reader of bytes and gives a [`Log`], or says in a [`Fault`] what keeps it from being one; no file
//! makes it panic. [`examine`] holds the log against a car and gives what was found ([`Examined`]) with an error beside each
//! figure, and what the sheet might take over ([`Suggestion`]). [`demonstration`] drives a car of the sheet through stops and
//! a pull and writes down what its sensors would say, so that the way from a log to figures can be checked by anyone.
//!
//! This crate opens no file and knows no clock.

mod channel;
mod clean;
pub mod demonstration;
mod events;
mod examine;
mod fault;
mod friction;
mod head;
mod log;
mod read;
mod trace;
mod valve;

pub use channel::Channel;
pub use events::{Event, Lockup, WorkedBy};
pub use examine::{Examined, Hottest, RestsOn, Suggestion, examine};
pub use fault::{Fault, MAX_BYTES, MAX_ROWS};
pub use friction::{AtTemperature, Pads, PadsFound};
pub use head::{Is, NamedColumn};
pub use log::{Log, Mended};
pub use read::{Progress, named_columns, read};
pub use trace::{StopPoint, StopTrace, hardest_stop};
pub use valve::{Lag, SplitRead};
