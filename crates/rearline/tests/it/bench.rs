//! What every test here stands on: a folder of cars of its own, and the program run in it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;

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

/// A folder with `cars` in it.
pub(crate) struct Bench {
    folder: tempfile::TempDir,
}

/// What a run left.
pub(crate) struct Run {
    pub(crate) status: Option<i32>,
    pub(crate) out: String,
    pub(crate) aside: String,
}

impl Bench {
    /// Without cars.
    pub(crate) fn empty() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    /// With the demonstration cars.
    pub(crate) fn with_cars() -> Self {
        let bench = Self::empty();
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
        for car in CARS {
            let folder = bench.path(&format!("cars/{car}"));
            fs::create_dir_all(&folder).unwrap();
            fs::copy(demo.join(car).join("car.toml"), folder.join("car.toml")).unwrap();
            fs::create_dir_all(folder.join("stages")).unwrap();
            for stage in fs::read_dir(demo.join(car).join("stages")).unwrap() {
                let stage = stage.unwrap().path();
                let name = stage.file_name().unwrap();
                fs::copy(&stage, folder.join("stages").join(name)).unwrap();
            }
        }
        bench
    }

    pub(crate) fn path(&self, below: &str) -> PathBuf {
        self.folder.path().join(below)
    }

    /// A command in the folder, with nothing of this machine's that would change what is printed.
    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_rearline"));
        command
            .current_dir(self.folder.path())
            .args(arguments)
            .stdin(Stdio::null());
        for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS"] {
            command.env_remove(name);
        }
        command
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        finished(&mut self.command(arguments))
    }

    /// A run that has to go well, and its JSON.
    pub(crate) fn json(&self, arguments: &[&str]) -> Value {
        let run = self.run(arguments);
        assert_eq!(run.status, Some(0), "{arguments:?}: {}{}", run.out, run.aside);
        one_object(&run.out)
    }

    /// A run that has to end with a status, and the first of its errors.
    pub(crate) fn first_error(&self, status: i32, arguments: &[&str]) -> Value {
        let run = self.run(arguments);
        assert_eq!(
            run.status,
            Some(status),
            "{arguments:?}: {}{}",
            run.out,
            run.aside
        );
        one_object(&run.out)["errors"][0].clone()
    }
}

pub(crate) fn finished(command: &mut Command) -> Run {
    let output = command.output().unwrap();
    Run {
        status: output.status.code(),
        out: String::from_utf8(output.stdout).unwrap(),
        aside: String::from_utf8(output.stderr).unwrap(),
    }
}

/// The one JSON object of an output.
pub(crate) fn one_object(out: &str) -> Value {
    assert_eq!(out.lines().count(), 1, "one object on one line: {out}");
    let value: Value = serde_json::from_str(out).unwrap();
    assert!(value.is_object());
    value
}

pub(crate) fn number(value: &Value, path: &str) -> f64 {
    let found = value
        .pointer(path)
        .unwrap_or_else(|| panic!("{path} is missing in {value}"));
    found.as_f64().unwrap_or_else(|| panic!("{path} is {found}"))
}

/// Equal but for the rounding to ten digits.
pub(crate) fn assert_near(found: f64, wanted: f64) {
    assert!(
        (found - wanted).abs() <= 1e-9 * wanted.abs().max(1e-12),
        "{found} is not {wanted}"
    );
}
