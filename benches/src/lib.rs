//! What the benches of the page share: a server over a folder, a client that keeps its connection, figures in rows.

use std::io::{self, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::thread::JoinHandle;
use std::time::Instant;

use page::{Ended, ListenAt, Reach, Server, ServerLimits, Stopper, Workshop};

/// A page that is served.
#[derive(Debug)]
pub struct Served {
    /// Address and port.
    pub host: String,
    stopper: Stopper,
    serving: JoinHandle<Ended>,
}

impl Served {
    /// Serves a folder of cars on a free port of the loopback.
    ///
    /// # Errors
    /// No port is to be had.
    pub fn over(cars: &Path) -> io::Result<Self> {
        let workshop = Workshop {
            cars: cars.to_path_buf(),
            units: None,
            reach: Reach::ThisMachine,
            limits: ServerLimits::default(),
            today: || engine::car::Date::constant(2026, 5, 1),
            stamp: |_, _| Err(records::Fault::NoReason),
            build: "bench".to_owned(),
            press: None,
            tell: Box::new(|text| {
                let _ = writeln!(io::stderr(), "{text}");
            }),
        };
        let server = Server::bind(workshop, ListenAt::Given(0)).map_err(io::Error::other)?;
        let address = server.addresses().swap_remove(0);
        Ok(Self {
            host: address
                .trim_start_matches("http://")
                .trim_end_matches('/')
                .to_owned(),
            stopper: server.stopper(),
            serving: std::thread::spawn(|| server.run()),
        })
    }

    /// Ends it.
    pub fn end(self) {
        self.stopper.stop();
        let _ = self.serving.join();
    }

    /// A connection that is kept.
    ///
    /// # Errors
    /// There is none.
    pub fn client(&self) -> io::Result<Client> {
        let stream = TcpStream::connect(&self.host)?;
        stream.set_nodelay(true)?;
        Ok(Client {
            stream,
            host: self.host.clone(),
        })
    }
}

/// Asks on a connection that is kept.
#[derive(Debug)]
pub struct Client {
    stream: TcpStream,
    host: String,
}

/// An answer.
#[derive(Clone, Debug)]
pub struct Answered {
    /// Seconds to its first bytes.
    pub first_s: f64,
    /// Seconds to its last.
    pub whole_s: f64,
    /// What came.
    pub body: Vec<u8>,
}

impl Client {
    /// Asks, and waits for all of it.
    ///
    /// # Errors
    /// The connection breaks; the answer is not 200.
    pub fn ask(&mut self, path: &str) -> io::Result<Answered> {
        let request = format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.host);
        let begun = Instant::now();
        self.stream.write_all(request.as_bytes())?;
        let (mut taken, mut buffer) = (Vec::new(), vec![0; 64 * 1024]);
        let mut first_s = None;
        let mut wanted = None;
        loop {
            let more = self.stream.read(&mut buffer)?;
            if more == 0 {
                return Err(io::ErrorKind::UnexpectedEof.into());
            }
            first_s = first_s.or(Some(begun.elapsed().as_secs_f64()));
            taken.extend_from_slice(&buffer[..more]);
            if wanted.is_none()
                && let Some(end) = taken.windows(4).position(|four| four == b"\r\n\r\n")
            {
                let head = String::from_utf8_lossy(&taken[..end]).to_lowercase();
                if !head.starts_with("http/1.1 200") {
                    return Err(io::Error::other(format!("{path}: {head}")));
                }
                let length = head
                    .lines()
                    .find_map(|line| line.strip_prefix("content-length: ")?.parse::<usize>().ok())
                    .ok_or_else(|| io::Error::other("no length"))?;
                wanted = Some((end + 4, length));
            }
            if let Some((from, length)) = wanted
                && taken.len() >= from + length
            {
                return Ok(Answered {
                    first_s: first_s.unwrap_or_default(),
                    whole_s: begun.elapsed().as_secs_f64(),
                    body: taken.split_off(from),
                });
            }
        }
    }
}

/// The median and the 99th percentile; not a number where nothing was measured.
#[must_use]
pub fn median_and_late(times: &mut [f64]) -> (f64, f64) {
    times.sort_by(f64::total_cmp);
    let at = |share: usize| {
        let place = (times.len() * share / 100).min(times.len().saturating_sub(1));
        times.get(place).copied().unwrap_or(f64::NAN)
    };
    (at(50), at(99))
}

/// A figure of the kernel's about this process, in MB: `VmHWM`, the most memory that it has had.
#[must_use]
pub fn megabytes(name: &str) -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with(name))?;
    Some(line.split_whitespace().nth(1)?.parse::<f64>().ok()? / 1024.0)
}
