//! The printed book, read back with poppler's tools: what it says against the answers, its fonts, its bytes, its edges.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod printed;
mod reader;
