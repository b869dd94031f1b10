//! The workshop page: the answers of the terminal in a browser on the bench, on this machine or, when asked for, in the
//! workshop's own network.
//!
//! [`Server::bind`] takes a port, [`Server::run`] serves until it is told to stop. Pages are made here, whole, from the
//! same outcomes and sentences that the terminal shows ([`questions`]); nothing is fetched from outside, and without its
//! script the page is plainer but complete.
//!
//! - A **room** (`rooms`) is one question: how it is asked, its short answer in the index, its handles, its answer.
//!   A new one is a module and a line in the list of rooms; frame, links, live handles and print come with it.
//! - The whole state of a room stands in its address, under the names of the terminal's options, so that a link can be
//!   sent and the back key does what it should.
//! - The **guard** (`guard`) looks at every request before any room does: who asks, from where, and whether a change
//!   comes from a page that was given out here.
//!
//! The day and the instant come from whoever starts the server. Only time limits (of a connection, of a pairing code)
//! are taken from the machine's steady clock here.

mod asking;
mod assets;
mod desk;
mod forms;
mod frame;
mod guard;
mod handed_on;
mod handles;
mod look;
mod pairing;
mod parts;
mod patience;
mod preferences;
mod report;
mod rooms;
mod routes;
mod server;
mod stands;
mod trouble;
mod visit;
mod writing;

pub use server::{Ended, Limits, Port, Reach, Server, Stopper, Workshop};
