//! The workshop page as whoever is on the other end of a wire sees it: over sockets, byte by byte.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "helpers of tests stand outside test functions"
)]

mod books;
mod by_thumb;
mod changes;
mod how;
mod limits;
mod logs;
mod markup;
mod network;
mod reach;
mod readings;
mod rooms;
mod stands;
mod workshop;
mod written;
