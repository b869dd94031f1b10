//! Logs: the truth of a simulated one found again, odd files read, hostile ones refused.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod hostile;
mod odd;
mod truth;
pub(crate) mod well_behaved;
