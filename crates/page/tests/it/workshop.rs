//! A server over a folder of its own, and a client that sends what it likes.

use std::io::{self, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::sync::{Arc, LazyLock, Mutex};
use std::thread::JoinHandle;
use std::time::Duration;

use jiff::tz::Offset;
use page::{Ended, ListenAt, Reach, Server, ServerLimits, Stopper, Workshop};
use records::logbook::Stamp;
use records::{Answers, Cars};
use tempfile::TempDir;

/// Longer than anything here takes: a test that waits for it has failed.
const PATIENCE: Duration = Duration::from_secs(30);

pub(crate) struct Open {
    pub(crate) folder: TempDir,
    pub(crate) at: SocketAddr,
    pub(crate) told: Arc<Mutex<Vec<String>>>,
    stopper: Stopper,
    server: Option<JoinHandle<Ended>>,
}

/// An answer, taken apart.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: String,
}

impl Answer {
    fn parse(bytes: &[u8]) -> Self {
        let text = String::from_utf8_lossy(bytes);
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let status = head
            .split(' ')
            .nth(1)
            .and_then(|status| status.parse().ok())
            .unwrap_or(0);
        Self {
            status,
            head: head.to_owned(),
            body: body.to_owned(),
        }
    }

    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().skip(1).find_map(|line| {
            let (found, value) = line.split_once(':')?;
            found.eq_ignore_ascii_case(name).then(|| value.trim())
        })
    }

    /// The token of the page's forms.
    pub(crate) fn token(&self) -> String {
        let from = self.body.find("name=\"token\" ").expect("a token");
        let rest = &self.body[from..];
        let quoted = rest.split('"').collect::<Vec<_>>();
        // name="token" value="…" in a form, name="token" content="…" in the head.
        quoted[3].to_owned()
    }
}

/// The demonstration cars, of which nobody knows an answer yet.
fn unanswered_cars(folder: &Path) {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    for car in ["bin", "half-known", "scree", "sedge", "tarn", "tarn-let-go"] {
        std::fs::create_dir(folder.join(car)).unwrap();
        std::fs::copy(demo.join(car).join("car.toml"), folder.join(car).join("car.toml")).unwrap();
    }
}

/// The demonstration cars, and what a server kept beside them of its list: made once. Else every server works at the
/// answers of six cars behind whatever it is asked for.
pub(crate) fn demonstration_cars(folder: &Path) {
    static KEPT: LazyLock<Vec<u8>> = LazyLock::new(|| {
        let open = Open::at_first();
        open.list();
        let cars = Cars::open(open.folder.path()).unwrap();
        let mut looks = 0..3000;
        while Answers::open(&cars).1.len() < cars.list().unwrap().found.len() {
            assert!(looks.next().is_some(), "the list's answers are never kept");
            std::thread::sleep(Duration::from_millis(20));
        }
        let folder = open.close();
        std::fs::read(folder.path().join(".answers")).unwrap()
    });
    unanswered_cars(folder);
    std::fs::write(folder.join(".answers"), &*KEPT).unwrap();
}

impl Open {
    /// Over the demonstration cars.
    pub(crate) fn here() -> Self {
        let folder = tempfile::tempdir().unwrap();
        demonstration_cars(folder.path());
        Self::over(folder, Reach::ThisMachine, ServerLimits::default())
    }

    /// Over the demonstration cars, of which nobody knows an answer yet.
    pub(crate) fn at_first() -> Self {
        let folder = tempfile::tempdir().unwrap();
        unanswered_cars(folder.path());
        Self::over(folder, Reach::ThisMachine, ServerLimits::default())
    }

    pub(crate) fn over(folder: TempDir, reach: Reach, limits: ServerLimits) -> Self {
        let told: Arc<Mutex<Vec<String>>> = Arc::default();
        let telling = Arc::clone(&told);
        let workshop = Workshop {
            cars: folder.path().to_path_buf(),
            units: None,
            reach,
            limits,
            today: || engine::car::Date::constant(2026, 5, 1),
            stamp: |device, entry| {
                Stamp::new(
                    "2026-05-01T10:00:00Z".parse().unwrap(),
                    Offset::UTC,
                    device,
                    entry,
                )
            },
            build: "test".to_owned(),
            press: Some(crate::books::PRESS),
            tell: Box::new(move |text| telling.lock().unwrap().push(text.to_owned())),
        };
        let server = Server::bind(workshop, ListenAt::Given(0)).unwrap();
        let addresses = server.addresses();
        let port = addresses
            .last()
            .unwrap()
            .trim_end_matches('/')
            .rsplit(':')
            .next()
            .unwrap();
        let stopper = server.stopper();
        Self {
            at: SocketAddr::from(([127, 0, 0, 1], port.parse().unwrap())),
            folder,
            told,
            stopper,
            server: Some(std::thread::spawn(|| server.run())),
        }
    }

    /// Ends the server and gives its folder back.
    pub(crate) fn close(mut self) -> TempDir {
        self.end();
        std::mem::replace(&mut self.folder, tempfile::tempdir().unwrap())
    }

    fn end(&mut self) {
        self.stopper.stop();
        if let Some(server) = self.server.take() {
            assert_eq!(server.join().unwrap(), Ended::Stopped);
        }
    }

    pub(crate) fn connect(&self) -> TcpStream {
        connect(self.at)
    }

    /// Sends bytes on a connection of their own and takes what comes until it is closed.
    pub(crate) fn send(&self, bytes: &[u8]) -> Answer {
        send(self.at, bytes)
    }

    pub(crate) fn get(&self, path: &str) -> Answer {
        self.get_with(path, "")
    }

    /// The list of cars, once every row of it is answered.
    pub(crate) fn list(&self) -> String {
        for _ in 0..3000 {
            let list = self.get("/").body;
            if !list.contains("data-waits") {
                return list;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        panic!("rows are never answered: {}", self.get("/").body)
    }

    /// `headers`: lines, each with its end.
    pub(crate) fn get_with(&self, path: &str, headers: &str) -> Answer {
        let host = self.at;
        self.send(
            format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{headers}\r\n").as_bytes(),
        )
    }

    /// Sends a form as a page of ours does.
    pub(crate) fn post(&self, path: &str, form: &str) -> Answer {
        let origin = format!("Origin: http://{}\r\n", self.at);
        self.post_with(path, &origin, form)
    }

    pub(crate) fn post_with(&self, path: &str, headers: &str, form: &str) -> Answer {
        let (host, length) = (self.at, form.len());
        self.send(
            format!(
                "POST {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\nContent-Type: application/x-www-form-urlencoded\r\n\
                 Content-Length: {length}\r\n{headers}\r\n{form}"
            )
            .as_bytes(),
        )
    }

    pub(crate) fn has_car(&self, name: &str) -> bool {
        self.folder.path().join(name).join("car.toml").exists()
    }
}

impl Drop for Open {
    fn drop(&mut self) {
        if !std::thread::panicking() {
            self.end();
        }
    }
}

pub(crate) fn connect(at: SocketAddr) -> TcpStream {
    let stream = TcpStream::connect(at).unwrap();
    stream.set_read_timeout(Some(PATIENCE)).unwrap();
    stream.set_write_timeout(Some(PATIENCE)).unwrap();
    stream
}

pub(crate) fn send(at: SocketAddr, bytes: &[u8]) -> Answer {
    let mut stream = connect(at);
    // What the other end refuses it need not read to its end.
    let _ = stream.write_all(bytes);
    Answer::parse(&rest(&mut stream))
}

/// Everything until the other end closes; a connection that it resets is closed too.
pub(crate) fn rest(stream: &mut TcpStream) -> Vec<u8> {
    let mut taken = Vec::new();
    let mut buffer = [0; 16 * 1024];
    loop {
        match stream.read(&mut buffer) {
            Ok(0) => return taken,
            Ok(more) => taken.extend_from_slice(&buffer[..more]),
            Err(fault) if fault.kind() == io::ErrorKind::WouldBlock => {
                panic!("nothing came, and it was not closed")
            }
            Err(_) => return taken,
        }
    }
}
