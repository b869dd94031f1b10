//! The program as it is started: the real binary, a folder of cars of its own, a port that is free.

use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, OnceLock};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

/// Every demonstration car.
pub(crate) const CARS: [&str; 7] = [
    "bin",
    "gill",
    "half-known",
    "scree",
    "sedge",
    "tarn",
    "tarn-let-go",
];
/// Every room of a car, as its address names it.
pub(crate) const ROOMS: [&str; 21] = [
    "assessment",
    "conditions",
    "size",
    "sure",
    "turn",
    "balance",
    "settings",
    "lever",
    "compare",
    "pressures",
    "heat",
    "hold",
    "lines",
    "prove",
    "pull",
    "logger",
    "plan",
    "symptom",
    "leak",
    "logbook",
    "sheet",
];
/// Rooms whose sentence the terminal says too, and by which verb.
pub(crate) const SAID_TOO: [(&str, &str); 5] = [
    ("assessment", "assess"),
    ("turn", "turn"),
    ("balance", "balance"),
    ("settings", "settings"),
    ("lever", "lever"),
];

/// What a program keeps beside the cars of its list.
const ANSWERS: &str = ".answers";

/// Names a program that was built already.
const BUILT: &str = "REARLINE_BUILT";

/// The program: the one that was named, else built where it has changed.
fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| {
        if let Some(built) = std::env::var_os(BUILT).map(PathBuf::from) {
            assert!(built.is_file(), "{BUILT}: {} is no program", built.display());
            return built;
        }
        escargot::CargoBuild::new()
            .manifest_path(Path::new(env!("CARGO_MANIFEST_DIR")).join("../Cargo.toml"))
            .package("rearline")
            .bin("rearline")
            .run()
            .unwrap_or_else(|fault| panic!("the program cannot be built: {fault}"))
            .path()
            .to_owned()
    })
}

/// A folder with cars that the program is started in.
pub(crate) struct Workshop {
    folder: tempfile::TempDir,
    arguments: Vec<String>,
    port: String,
    served: Option<Served>,
}

struct Served {
    process: Mutex<Child>,
    address: String,
    /// What was printed up to the address.
    said: String,
}

impl Workshop {
    /// A folder without cars, not served yet.
    pub(crate) fn empty() -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("cars")).unwrap();
        Self {
            folder,
            arguments: Vec::new(),
            port: "0".to_owned(),
            served: None,
        }
    }

    /// A folder with the demonstration cars, not served yet, of which nobody knows an answer.
    pub(crate) fn unanswered() -> Self {
        let workshop = Self::empty();
        for car in CARS {
            workshop.add(car, &demonstration(car));
        }
        workshop
    }

    /// A folder with the demonstration cars, not served yet, and what was kept beside them of the list: made once. Else
    /// every program works at the answers of all cars behind what a browser looks at.
    pub(crate) fn with_cars() -> Self {
        static KEPT: OnceLock<Vec<u8>> = OnceLock::new();
        let kept = KEPT.get_or_init(|| {
            let mut first = Self::unanswered().serve(&[]);
            let file = first.cars().join(ANSWERS);
            let mut looks = 0..3000;
            while answers(&file) < CARS.len() {
                assert!(looks.next().is_some(), "the list's answers are never kept");
                std::thread::sleep(Duration::from_millis(20));
            }
            first.end();
            fs::read(file).unwrap()
        });
        let workshop = Self::unanswered();
        fs::write(workshop.cars().join(ANSWERS), kept).unwrap();
        workshop
    }

    pub(crate) fn cars(&self) -> PathBuf {
        self.folder.path().join("cars")
    }

    /// Writes a sheet.
    pub(crate) fn add(&self, car: &str, sheet: &str) {
        let folder = self.cars().join(car);
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("car.toml"), sheet).unwrap();
    }

    /// Serves it.
    pub(crate) fn serve(mut self, arguments: &[&str]) -> Self {
        self.arguments = arguments.iter().map(|&argument| argument.to_owned()).collect();
        self.start();
        self
    }

    fn start(&mut self) {
        let mut process = Command::new(program())
            .current_dir(self.folder.path())
            .args(["--cars", "cars", "--port", &self.port])
            .args(&self.arguments)
            .env("NO_COLOR", "1")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(fs::File::create(self.folder.path().join("told")).unwrap())
            .spawn()
            .unwrap();
        let mut said = String::new();
        let mut address = None;
        let mut lines = BufReader::new(process.stdout.take().unwrap()).lines();
        for line in lines.by_ref().map_while(Result::ok) {
            said.push_str(&line);
            said.push('\n');
            if let Some((_, found)) = line.split_once("http://127.0.0.1:") {
                let port: String = found.chars().take_while(char::is_ascii_digit).collect();
                address = Some(format!("http://127.0.0.1:{port}"));
            }
            if line.contains("ends it") {
                break;
            }
        }
        let address = address.unwrap_or_else(|| panic!("no address was printed:\n{said}"));
        self.served = Some(Served {
            process: Mutex::new(process),
            address,
            said,
        });
    }

    /// Ends it and serves it again.
    pub(crate) fn restart(&mut self) {
        self.served = None;
        self.start();
    }

    /// Ends it; what comes back is the port that it had.
    pub(crate) fn stop(&mut self) -> String {
        let port = self.address("").rsplit(':').next().unwrap().to_owned();
        self.served = None;
        port
    }

    /// Serves it again on a port of its own.
    pub(crate) fn start_on(&mut self, port: &str) {
        self.port = port.to_owned();
        self.start();
    }

    /// The same with other arguments.
    pub(crate) fn start_on_with(&mut self, port: &str, arguments: &[&str]) {
        self.arguments = arguments.iter().map(|&argument| argument.to_owned()).collect();
        self.start_on(port);
    }

    /// Ends it.
    pub(crate) fn end(&mut self) {
        self.served = None;
    }

    /// What was told aside since.
    pub(crate) fn told(&self) -> String {
        fs::read_to_string(self.folder.path().join("told")).unwrap()
    }

    /// What was printed when it was started.
    pub(crate) fn said(&self) -> &str {
        &self.served.as_ref().unwrap().said
    }

    /// A whole address.
    pub(crate) fn address(&self, path: &str) -> String {
        format!("{}{path}", self.served.as_ref().unwrap().address)
    }

    /// Whether the process is there still.
    pub(crate) fn lives(&self) -> bool {
        let mut process = self.served.as_ref().unwrap().process.lock().unwrap();
        matches!(process.try_wait(), Ok(None))
    }

    /// What the terminal answers, blanks made one.
    pub(crate) fn terminal(&self, arguments: &[&str]) -> String {
        let output = Command::new(program())
            .current_dir(self.folder.path())
            .args(arguments)
            .env("NO_COLOR", "1")
            .output()
            .unwrap();
        assert!(
            output.status.success(),
            "{arguments:?}: {}",
            String::from_utf8_lossy(&output.stderr)
        );
        one_blank(&String::from_utf8(output.stdout).unwrap())
    }
}

/// How many answers a file keeps.
fn answers(file: &Path) -> usize {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY;
    let counted = Connection::open_with_flags(file, flags)
        .and_then(|kept| kept.query_row("SELECT count(*) FROM answer", [], |row| row.get::<_, u32>(0)));
    // Not there yet, or just being written.
    counted.map_or(0, |count| count as usize)
}

/// The same text with one blank wherever there were some.
pub(crate) fn one_blank(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl Drop for Served {
    fn drop(&mut self) {
        let process = self
            .process
            .get_mut()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        let _ = process.kill();
        let _ = process.wait();
    }
}

/// The sheet of a demonstration car.
pub(crate) fn demonstration(car: &str) -> String {
    fs::read_to_string(demonstrations().join(car).join("car.toml")).unwrap()
}

/// Where the demonstration cars stand.
pub(crate) fn demonstrations() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo")
}

/// A log of a demonstration car.
pub(crate) fn demonstration_log(car: &str, log: &str) -> String {
    fs::read_to_string(demonstrations().join(car).join("logs").join(log)).unwrap()
}
