//! The engine by its laws: identities on written cars, properties on random ones, the table of keys, refusals, circuits.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]
#![allow(
    clippy::disallowed_methods,
    reason = "the written cars are files, and proptest takes a number from outside"
)]
#![allow(
    clippy::float_cmp,
    reason = "where figures are compared to the last bit, they are meant to agree to it"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "shares of a count and positions of a knob"
)]

mod balance_terms;
mod bench;
mod circuits;
mod coverage;
mod draws;
mod gains;
mod gauges;
mod heat;
mod hold;
mod identities;
mod keys;
mod laws;
mod lever;
mod lever_read;
mod measuring;
mod once_wrong;
mod parts;
mod pedal;
mod prepared;
mod pull;
mod random;
mod refusals;
mod sensitivity;
mod settings;
mod sizing;
mod slope;
mod surfaces;
mod terms;
mod turn;
mod turn_by_hand;
mod turn_exact;
mod turn_many;
mod turn_terms;
mod updating;
mod valve;
mod working;
