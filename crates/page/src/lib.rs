//! The workshop page: the answers of the terminal in a browser on the bench, on this machine or, when asked for, in the
//! workshop's own network.
//!
//! [`Server::bind`] takes a port, [`Server::run`] serves until it is told to stop. Pages are made here, whole, from the
//! same outcomes and sentences that the terminal shows ([`questions`]); nothing is fetched from outside, and without its
//! script the page is plainer but complete.
//!
//! Three layers, of which each knows only those before it:
//!
//! - `web`: the socket, and the **guard** that looks at every request before anything else does: who asks, from where,
//!   and whether a change comes from a page that was given out here.
//! - `shell`: markup that knows no car: a page's frame, the stamp and the figures, tables, refusals, style and script.
//! - `car`: from an address to a page of a car. A **room** is one question: how it is asked, its short answer in the
//!   index, its handles, its answer. A new one is a line in the list of rooms; frame, links, live handles and print come
//!   with it. The whole state of a room stands in its address, under the names of the terminal's options, so that a link
//!   can be sent and the back key does what it should.
//!
//! The day and the instant come from whoever starts the server. Only time limits (of a connection, of a pairing code)
//! are taken from the machine's steady clock here.

mod car;
mod shell;
mod web;

pub use car::desk::{Press, Workshop};
pub use car::server::Server;
pub use web::guard::Reach;
pub use web::socket::{Ended, ListenAt, ServeFault, ServerLimits, Stopper};
