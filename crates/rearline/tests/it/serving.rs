//! `rearline` alone: the page it serves, and how it ends.

use std::io::{BufRead as _, BufReader, Lines, Read as _, Write as _};
use std::net::TcpStream;
use std::process::{Child, ChildStdout, Command, Stdio};

use crate::bench::Bench;

/// A program that serves, and what it has said.
pub(crate) struct Serving {
    pub(crate) child: Child,
    said: String,
    lines: Lines<BufReader<ChildStdout>>,
    pub(crate) address: String,
}

impl Serving {
    pub(crate) fn start(bench: &Bench, arguments: &[&str]) -> Self {
        Self::of(&mut bench.command(arguments))
    }

    fn of(command: &mut Command) -> Self {
        let mut child = command
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut said = String::new();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        for line in lines.by_ref() {
            let line = line.unwrap();
            said.push_str(&line);
            said.push('\n');
            if line.contains("^C ends it.") {
                break;
            }
        }
        let at = said
            .find("http://")
            .unwrap_or_else(|| panic!("no address: {said}"));
        let address = said[at + 7..].split('/').next().unwrap().to_owned();
        Self {
            child,
            said,
            lines,
            address,
        }
    }

    /// What it says further, up to a line with these words.
    fn more(&mut self, until: &str) -> String {
        let mut said = String::new();
        for line in self.lines.by_ref() {
            let line = line.unwrap();
            said.push_str(&line);
            said.push('\n');
            if line.contains(until) {
                break;
            }
        }
        said
    }

    pub(crate) fn get(&self, path: &str) -> String {
        let port = self.address.rsplit(':').next().unwrap();
        let mut stream = TcpStream::connect(format!("127.0.0.1:{port}")).unwrap();
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n"
        )
        .unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        answer
    }

    /// Sends a signal; what the program left.
    pub(crate) fn end(mut self, signal: &str) -> (Option<i32>, String) {
        let sent = Command::new("kill")
            .args([signal, &self.child.id().to_string()])
            .status()
            .unwrap();
        assert!(sent.success());
        let mut aside = String::new();
        self.child
            .stderr
            .take()
            .unwrap()
            .read_to_string(&mut aside)
            .unwrap();
        (self.child.wait().unwrap().code(), aside)
    }
}

#[test]
fn alone_it_makes_the_cars_says_how_they_are_and_serves_them() {
    let bench = Bench::empty();
    let mut serving = Serving::start(&bench, &["--port", "0"]);
    assert!(serving.said.contains("invented"), "{}", serving.said);
    // The page serves by now; the cars follow, and where it is.
    let more = serving.more("The workshop page: ");
    assert!(
        more.contains("stop: Nothing mechanical holds the parked car") && more.contains(&serving.address),
        "{more}"
    );
    assert!(serving.address.starts_with("127.0.0.1:"), "this machine alone");
    let page = serving.get("/");
    assert!(
        page.starts_with("HTTP/1.1 200") && page.contains("Tarn 4"),
        "{page}"
    );
    assert!(
        serving
            .get("/car/tarn/balance")
            .contains("Which end locks first?")
    );
    assert_eq!(serving.end("-INT"), (Some(130), String::new()));
}

#[cfg(unix)]
#[test]
fn the_page_is_opened_in_a_browser_where_that_is_asked_for() {
    use std::os::unix::fs::PermissionsExt as _;

    let bench = Bench::with_cars();
    let opener = bench.path("xdg-open");
    let script = "#!/bin/sh\necho \"$*\" >\"$0.part\" && /bin/mv \"$0.part\" \"$0.asked\"\n";
    std::fs::write(&opener, script).unwrap();
    std::fs::set_permissions(&opener, std::fs::Permissions::from_mode(0o755)).unwrap();
    let folder = bench.path("");
    let with = |path: &std::path::Path| {
        let mut command = bench.command(&["--open", "--port", "0"]);
        Serving::of(command.env("PATH", path))
    };
    let serving = with(&folder);
    let asked = bench.path("xdg-open.asked");
    while !asked.exists() {
        std::thread::yield_now();
    }
    let said = std::fs::read_to_string(asked).unwrap();
    assert_eq!(said.trim(), format!("http://{}/", serving.address));
    assert_eq!(serving.end("-TERM").0, Some(0));
    // Where there is no such program it is told, and served all the same.
    let serving = with(&bench.path("cars"));
    assert!(serving.get("/preferences").starts_with("HTTP/1.1 200"));
    let (status, aside) = serving.end("-TERM");
    assert!(
        status == Some(0) && aside.contains("open the address yourself"),
        "{aside}"
    );
}

#[test]
fn the_system_ends_it_in_order_while_somebody_holds_a_connection() {
    let bench = Bench::with_cars();
    let serving = Serving::start(&bench, &["--port", "0"]);
    let mut idle = TcpStream::connect(&serving.address).unwrap();
    idle.write_all(b"GET / HTTP/1.1\r\n").unwrap();
    assert_eq!(serving.end("-TERM"), (Some(0), String::new()));
}

#[test]
fn a_port_that_is_taken_is_told_and_another_serves_where_none_was_asked_for() {
    let bench = Bench::with_cars();
    let first = Serving::start(&bench, &["--port", "0"]);
    let port = first.address.rsplit(':').next().unwrap().to_owned();
    let refused = bench.run(&["--port", &port]);
    assert_eq!(refused.status, Some(3));
    assert!(
        refused.aside.contains(&port) && refused.aside.contains("--port"),
        "{}",
        refused.aside
    );
    let (one, other) = (Serving::start(&bench, &[]), Serving::start(&bench, &[]));
    assert_ne!(one.address, other.address);
    for serving in [first, one, other] {
        assert!(serving.get("/preferences").starts_with("HTTP/1.1 200"));
        serving.end("-TERM");
    }
}

#[test]
fn in_the_network_it_says_what_that_means_and_how_to_pair() {
    let bench = Bench::with_cars();
    let serving = Serving::start(&bench, &["--lan", "--port", "0"]);
    for said in ["not encrypted", "To pair a device", "once, for five minutes", "█"] {
        assert!(serving.said.contains(said), "{said}: {}", serving.said);
    }
    assert!(serving.get("/").starts_with("HTTP/1.1 403"));
    assert_eq!(serving.end("-INT").0, Some(130));
}

#[test]
fn units_of_the_command_line_go_before_those_remembered() {
    let bench = Bench::with_cars();
    std::fs::write(bench.path("cars/preferences.toml"), "units = \"MPa\"\n").unwrap();
    let serving = Serving::start(&bench, &["--port", "0", "--units", "psi"]);
    let page = serving.get("/car/sedge/lever");
    assert!(page.contains("psi") && !page.contains("MPa"));
    serving.end("-TERM");
    let serving = Serving::start(&bench, &["--port", "0"]);
    assert!(serving.get("/car/sedge/lever").contains("MPa"));
    serving.end("-TERM");
}
