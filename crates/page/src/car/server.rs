//! The server: the socket with the desk behind it.

use std::net::SocketAddr;
use std::sync::Arc;

use super::desk::{Desk, Workshop};
use super::{filling, routes, studying};
use crate::shell::{assets, trouble};
use crate::web::guard::{Gate, Reach};
use crate::web::pairing::{Pairing, from_outside};
use crate::web::socket::{Ended, ListenAt, ServeFault, ServerLimits, Socket, Stopper};

/// A server that holds its port and serves once it is run.
pub struct Server {
    socket: Socket,
    desk: Arc<Desk>,
    limits: ServerLimits,
}

impl core::fmt::Debug for Server {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Server")
            .field("local", &self.local())
            .finish_non_exhaustive()
    }
}

impl Server {
    /// Takes the port, and the system's word to end (SIGTERM): whoever reads the address may end it from then on.
    ///
    /// # Errors
    /// The port is taken or not ours to take; the system gives no threads, no signals or no random numbers.
    pub fn bind(workshop: Workshop, port: ListenAt) -> Result<Self, ServeFault> {
        let limits = workshop.limits;
        let socket = Socket::bind(workshop.reach, limits, port)?;
        let gate = Gate {
            reach: workshop.reach,
            pairing: Pairing::new(&workshop.cars).map_err(ServeFault::Random)?,
            addresses: socket.addresses(),
            open: assets::is_open,
            refused: trouble::refusal,
        };
        Ok(Self {
            socket,
            desk: Arc::new(Desk::new(workshop, gate)),
            limits,
        })
    }

    fn local(&self) -> SocketAddr {
        self.socket.local()
    }

    /// Addresses under which the page can be opened, the likeliest first.
    #[must_use]
    pub fn addresses(&self) -> Vec<String> {
        self.socket.addresses()
    }

    /// A new pairing code with the way to use it, to be shown where the server was started; `None` where no device
    /// needs one.
    #[must_use]
    pub fn invitation(&self) -> Option<String> {
        (self.desk.gate.reach == Reach::Network).then(|| {
            let all = self.addresses();
            let address = all.first().and_then(|first| from_outside(first, &all));
            self.desk.gate.pairing.invite(std::time::Instant::now(), address)
        })
    }

    /// What ends the server from elsewhere.
    #[must_use]
    pub fn stopper(&self) -> Stopper {
        self.socket.stopper()
    }

    /// Serves until a [`Stopper`] or the system (SIGTERM) ends it. What is under way then is finished, if it does not
    /// take long.
    pub fn run(self) -> Ended {
        let (filling, studies) = (Arc::clone(&self.desk), Arc::clone(&self.desk));
        let behind = async move {
            tokio::join!(filling::fill(filling), studying::make(studies));
        };
        let router = routes::router(self.desk, self.limits);
        self.socket.run(router, behind)
    }
}
