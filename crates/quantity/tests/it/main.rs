//! Quantities from the outside: what is read, what is refused and in which words, what is printed.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]
#![allow(clippy::float_cmp, reason = "conversions are held to the last bit")]

mod corpus;
mod faults;
mod outside;
mod prints;
mod properties;
mod reads;
mod shows;
mod well_behaved;
