//! What several of these tests need.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use jiff::Timestamp;
use jiff::tz::Offset;
use records::logbook::{Data, Draft, EntryKind, Stamp};

/// The most bytes that the tests read of a sheet.
pub(crate) const CAP: u64 = records::LARGEST_SHEET;

/// Says something that has to be seen even if the test passes: the harness hides only what the macros print.
pub(crate) fn say(line: &str) {
    let _ = std::io::stderr().write_all(format!("{line}\n").as_bytes());
}

/// 09:30 in a zone two hours ahead of UTC, and then a minute later for each `minute`.
pub(crate) fn stamp(minute: i64, device: &str, id: &str) -> Stamp {
    Stamp::new(instant(minute), Offset::constant(2), device, id).unwrap()
}

pub(crate) fn instant(minute: i64) -> Timestamp {
    Timestamp::from_second(1_777_620_600 + 60 * minute).unwrap()
}

pub(crate) fn note(minute: i64, text: &str) -> Draft {
    Draft {
        stamp: stamp(minute, "bench", &format!("n{minute}")),
        kind: EntryKind::Note,
        data: Data::with_text(text, None).unwrap(),
    }
}

/// Writes a file of which all that may be there is ours.
pub(crate) fn replace(path: &Path, bytes: &[u8]) -> Result<(), records::Fault> {
    records::write(&[records::Output {
        path: path.to_owned(),
        bytes: bytes.to_owned(),
        mark: records::Mark::Says(|_| true),
    }])
}

/// The names in a folder, sorted.
pub(crate) fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into())
        .collect();
    names.sort();
    names
}

/// This test program once more, to do one `job` of [`crate::child`] with `arguments`, perhaps started by `before`.
pub(crate) fn child(before: &[&str], job: &str, arguments: &[&str]) -> Command {
    let itself = std::env::current_exe().unwrap();
    let mut words = before.iter();
    let mut command = match words.next() {
        Some(first) => {
            let mut command = Command::new(first);
            command.args(words).arg(&itself);
            command
        }
        None => Command::new(&itself),
    };
    command.args([
        "--exact",
        "child::child",
        "--ignored",
        "--nocapture",
        "--test-threads=1",
    ]);
    command
        .env("RECORDS_CHILD", job)
        .env("RECORDS_ARGUMENTS", arguments.join("\n"));
    command
}

/// Lets a child do a job with mounts of its own, which nobody else sees and which go when it does. `false` if the
/// system does not allow that: said loudly, because the test then has shown nothing.
pub(crate) fn with_own_mounts(job: &str, folder: &Path) -> bool {
    let root = is_root();
    let before: &[&str] = if root {
        &["unshare", "-m", "--"]
    } else {
        &["unshare", "-r", "-m", "--"]
    };
    shown(job, child(before, job, &[folder.to_str().unwrap()]))
}

/// Runs a child that ends with `done`, or with `skipped: WHY`.
pub(crate) fn shown(job: &str, mut command: Command) -> bool {
    let output = match command.output() {
        Ok(output) => output,
        Err(why) => {
            say(&format!("SKIPPED, nothing shown: {job}: {why}"));
            return false;
        }
    };
    let (out, err) = (
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr),
    );
    if let Some((_, why)) = out.split_once("skipped: ") {
        say(&format!(
            "SKIPPED, nothing shown: {job}: {}",
            why.lines().next().unwrap_or_default()
        ));
        return false;
    }
    if !output.status.success() && (err.starts_with("unshare:") || err.starts_with("setpriv:")) {
        say(&format!(
            "SKIPPED, nothing shown: {job}: {}",
            err.lines().next().unwrap_or_default()
        ));
        return false;
    }
    assert!(
        output.status.success() && out.contains("done"),
        "{job}\n{out}\n{err}"
    );
    true
}

pub(crate) fn is_root() -> bool {
    use std::os::unix::fs::MetadataExt as _;
    std::fs::metadata("/proc/self").is_ok_and(|own| own.uid() == 0)
}

/// A folder that others than its maker may enter.
pub(crate) fn open_folder() -> (tempfile::TempDir, PathBuf) {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().unwrap();
    std::fs::set_permissions(folder.path(), std::fs::Permissions::from_mode(0o755)).unwrap();
    let path = folder.path().to_path_buf();
    (folder, path)
}

/// 64 cases a property, or as many as `PROPTEST_CASES` says.
pub(crate) fn cases() -> proptest::test_runner::Config {
    let asked = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok());
    proptest::test_runner::Config {
        cases: asked.unwrap_or(64),
        failure_persistence: None,
        ..Default::default()
    }
}

/// Numbers that look random and are the same in every run.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// 0 to `sides` - 1 (xorshift64*, Marsaglia and Vigna; from memory).
    pub(crate) fn roll(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) % sides
    }
}
