//! The socket: who is let in, how long anybody may take, and how it ends.

use core::fmt;
use core::future::Future;
use core::time::Duration;
use std::convert::Infallible;
use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::http::Request;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use tokio::net::{TcpListener, TcpStream};
use tokio::runtime::Runtime;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::Notify;
use tower::ServiceExt as _;

use super::guard::{Ends, Reach};
use super::patience::Patient;
use super::places::{Places, Room};

/// The port that is tried first where none is asked for.
const USUAL_PORT: u16 = 7410;
/// What is under way when the server stops gets so long.
const FAREWELL: Duration = Duration::from_secs(3);

/// Where to listen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ListenAt {
    /// The usual one, or any if that is taken.
    Usual,
    /// This one; 0 for any that is free.
    Given(u16),
}

/// Why no page can be served.
#[derive(Debug)]
pub enum ServeFault {
    /// The port is taken, or not ours to take.
    Port(io::Error),
    /// The system gives no random numbers, which keys and codes are made of.
    Random(io::Error),
    /// The system gives no threads or no signals.
    System(io::Error),
}

impl fmt::Display for ServeFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (what, source) = match self {
            Self::Port(source) => ("no port", source),
            Self::Random(source) => ("no random numbers", source),
            Self::System(source) => ("no threads or signals", source),
        };
        write!(f, "the system gives {what}: {source}")
    }
}

impl core::error::Error for ServeFault {
    fn source(&self) -> Option<&(dyn core::error::Error + 'static)> {
        let (Self::Port(source) | Self::Random(source) | Self::System(source)) = self;
        Some(source)
    }
}

/// How much, and how long, anybody may take. Whoever goes beyond is cut or refused; nobody else notices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ServerLimits {
    /// Within which the head of a request has to be there.
    pub head_within: Duration,
    /// Within which a request has to be whole and answered.
    pub answered_within: Duration,
    /// Within which something has to be read of what is sent.
    pub reads_within: Duration,
    /// Connections at a time.
    pub connections: usize,
    /// Of those, for one address of the network.
    pub of_one_address: usize,
    /// Of those, kept for paired devices.
    pub kept_for_paired: usize,
    /// Bytes of a head; at least 8,192.
    pub head_bytes: usize,
    /// Lines of a head.
    pub head_lines: usize,
}

impl Default for ServerLimits {
    fn default() -> Self {
        Self {
            head_within: Duration::from_secs(10),
            answered_within: Duration::from_secs(30),
            reads_within: Duration::from_secs(20),
            connections: 256,
            of_one_address: 64,
            kept_for_paired: 64,
            head_bytes: 16 * 1024,
            head_lines: 64,
        }
    }
}

/// How a server ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// By its [`Stopper`].
    Stopped,
    /// By the system.
    Terminated,
}

/// Ends a server, from any thread.
#[derive(Clone, Debug)]
pub struct Stopper(Arc<Notify>);

impl Stopper {
    /// Ends it; once is enough.
    pub fn stop(&self) {
        self.0.notify_one();
    }
}

/// A port that is held, and served once it is run.
pub(crate) struct Socket {
    runtime: Runtime,
    listener: TcpListener,
    local: SocketAddr,
    reach: Reach,
    limits: ServerLimits,
    stop: Arc<Notify>,
    terminated: Signal,
}

impl Socket {
    /// Takes the port, and the system's word to end (SIGTERM): whoever reads the address may end it from then on.
    ///
    /// # Errors
    /// The port is taken or not ours to take; the system gives no threads or no signals.
    pub(crate) fn bind(reach: Reach, limits: ServerLimits, port: ListenAt) -> Result<Self, ServeFault> {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
            .map_err(ServeFault::System)?;
        let host = IpAddr::V4(match reach {
            Reach::ThisMachine => Ipv4Addr::LOCALHOST,
            Reach::Network => Ipv4Addr::UNSPECIFIED,
        });
        let at = |port| runtime.block_on(TcpListener::bind(SocketAddr::new(host, port)));
        let listener = match port {
            ListenAt::Given(port) => at(port),
            ListenAt::Usual => match at(USUAL_PORT) {
                Err(source) if source.kind() == io::ErrorKind::AddrInUse => at(0),
                other => other,
            },
        };
        let listener = listener.map_err(ServeFault::Port)?;
        let local = listener.local_addr().map_err(ServeFault::Port)?;
        let terminated = {
            let _within = runtime.enter();
            signal(SignalKind::terminate()).map_err(ServeFault::System)?
        };
        Ok(Self {
            runtime,
            listener,
            local,
            reach,
            limits,
            stop: Arc::default(),
            terminated,
        })
    }

    pub(crate) const fn local(&self) -> SocketAddr {
        self.local
    }

    /// Addresses under which the page can be opened, the likeliest first.
    pub(crate) fn addresses(&self) -> Vec<String> {
        let port = self.local.port();
        match self.reach {
            Reach::ThisMachine => vec![format!("http://127.0.0.1:{port}/")],
            Reach::Network => {
                let mut found: Vec<String> = if_addrs::get_if_addrs()
                    .unwrap_or_default()
                    .iter()
                    .filter(|interface| !interface.is_loopback())
                    .filter_map(|interface| match interface.ip() {
                        IpAddr::V4(ip) => Some(format!("http://{ip}:{port}/")),
                        IpAddr::V6(_) => None,
                    })
                    .collect();
                found.push(format!("http://127.0.0.1:{port}/"));
                found
            }
        }
    }

    /// What ends it from elsewhere.
    pub(crate) fn stopper(&self) -> Stopper {
        Stopper(Arc::clone(&self.stop))
    }

    /// Serves until a [`Stopper`] or the system (SIGTERM) ends it. What is under way then is finished, if it does not
    /// take long.
    /// `beside`: what goes on meanwhile, and ends with it.
    pub(crate) fn run(self, router: Router, beside: impl Future<Output = ()> + Send + 'static) -> Ended {
        let Self {
            runtime,
            listener,
            limits,
            reach,
            stop,
            mut terminated,
            ..
        } = self;
        // On this machine everybody has one address, and nobody is paired.
        let room = match reach {
            Reach::ThisMachine => Room {
                all: limits.connections,
                an_address: limits.connections,
                kept: 0,
            },
            Reach::Network => Room {
                all: limits.connections,
                an_address: limits.of_one_address,
                kept: limits.kept_for_paired,
            },
        };
        let beside = runtime.spawn(beside);
        let served = runtime.block_on(async {
            let ended = async {
                tokio::select! {
                    () = stop.notified() => Ended::Stopped,
                    _ = terminated.recv() => Ended::Terminated,
                }
            };
            serve(&listener, router, limits, room, ended).await
        });
        beside.abort();
        // What computes still, computes for nobody.
        runtime.shutdown_background();
        served
    }
}

async fn serve(
    listener: &TcpListener,
    router: Router,
    limits: ServerLimits,
    room: Room,
    ended: impl Future<Output = Ended>,
) -> Ended {
    let places = Places::new(room);
    let graceful = GracefulShutdown::new();
    let mut ended = core::pin::pin!(ended);
    let ended = loop {
        let (stream, from) = tokio::select! {
            ended = &mut ended => break ended,
            accepted = listener.accept() => match accepted {
                Ok(accepted) => accepted,
                // One connection that failed is no reason to end; too many open files pass with time.
                Err(_) => {
                    tokio::time::sleep(Duration::from_millis(50)).await;
                    continue;
                }
            },
        };
        let Some(place) = places.take(from.ip()) else {
            continue;
        };
        let seat = place.seat();
        let Ok(ends) = ends(&stream) else { continue };
        let router = router.clone();
        let service = service_fn(move |request: Request<hyper::body::Incoming>| {
            let mut request = request.map(Body::new);
            request.extensions_mut().insert(ends);
            request.extensions_mut().insert(seat.clone());
            let router = router.clone();
            let asking = seat.asks();
            async move {
                let _asking = asking;
                Ok::<_, Infallible>(
                    router
                        .oneshot(request)
                        .await
                        .unwrap_or_else(|never| match never {}),
                )
            }
        });
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(limits.head_within)
            .max_buf_size(limits.head_bytes)
            .max_headers(limits.head_lines)
            .serve_connection(TokioIo::new(Patient::new(stream, limits.reads_within)), service);
        let watched = graceful.watch(connection);
        tokio::spawn(async move {
            tokio::select! {
                // A connection that breaks concerns its other end alone.
                _ = watched => {}
                () = place.wanted() => {}
            }
        });
    };
    tokio::select! {
        () = graceful.shutdown() => {},
        () = tokio::time::sleep(FAREWELL) => {},
    }
    ended
}

fn ends(stream: &TcpStream) -> io::Result<Ends> {
    stream.set_nodelay(true)?;
    Ok(Ends {
        here: stream.local_addr()?,
    })
}
