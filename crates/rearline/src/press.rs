//! The press, a program of its own that lies beside this one: handed a book, it gives back a PDF.

use std::io::{self, Read as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

use book::Edition;
use manuscript::{Manuscript, PROGRAM, Printed, Refused};
use questions::{Stop, Wrong};

/// Prints the book of a car.
///
/// # Errors
/// The car does not read; there is no press; or, which is a fault of this program, the press refused.
pub(crate) fn print(edition: &Edition<'_>) -> Result<Printed, Stop> {
    let stopped = |of: &Path, class, what, remedy: &str| {
        Stop::File(Wrong::plain(
            &of.display().to_string(),
            class,
            what,
            remedy.to_owned(),
        ))
    };
    let press = beside_this().map_err(|fault| {
        let what = format!("where this program lies cannot be told: {fault}");
        stopped(Path::new(PROGRAM), "no-press", what, "start it by its path")
    })?;
    // Before the car is asked everything, which takes longest.
    if !press.is_file() {
        return Err(stopped(
            &press,
            "no-press",
            "the press that prints books is not there".to_owned(),
            "`./start build-book CAR` makes it once; where the page has just been started, it is being made: try again in some minutes",
        ));
    }
    let manuscript = book::manuscript(edition)?;
    run(&press, &manuscript).map_err(|why| {
        let (class, what, remedy) = match why {
            Why::Refused(Refused::OtherVersion { .. }) => (
                "other-press",
                why.to_string(),
                "install both from one release, or run `./start build-book CAR`",
            ),
            Why::Refused(_) | Why::Ended(_) => (
                "not-set",
                why.to_string(),
                "this is a fault of the program; the terminal's answers are not touched by it",
            ),
            Why::NotRun(_) => ("no-press", why.to_string(), "look whether that file may be run"),
        };
        stopped(&press, class, what, remedy)
    })
}

/// Whether there is one beside this program.
pub(crate) fn is_there() -> bool {
    beside_this().is_ok_and(|press| press.is_file())
}

/// Where the press has to be.
fn beside_this() -> io::Result<PathBuf> {
    Ok(std::env::current_exe()?.with_file_name(PROGRAM))
}

/// Why no book came.
#[derive(Debug, thiserror::Error)]
enum Why {
    #[error("the press could not be run: {0}")]
    NotRun(io::Error),
    #[error(transparent)]
    Refused(Refused),
    #[error("the press ended without a book: {0}")]
    Ended(String),
}

fn run(press: &Path, manuscript: &Manuscript) -> Result<Printed, Why> {
    let mut child = Command::new(press)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(Why::NotRun)?;
    let (hands, back, tells) = (child.stdin.take(), child.stdout.take(), child.stderr.take());
    // A press that tells much while it is handed something would wait for a reader.
    let told = thread::spawn(move || {
        let mut told = String::new();
        if let Some(mut tells) = tells {
            let _ = tells.read_to_string(&mut told);
        }
        told
    });
    // One that has ended says itself why it took no more.
    let _ = hands.map(|hands| manuscript.hand_over(io::BufWriter::new(hands)));
    let printed = back.map(Printed::taken);
    let status = child.wait().map_err(Why::NotRun)?;
    let told = told.join().unwrap_or_default();
    match printed {
        Some(Ok(printed)) if status.success() => Ok(printed),
        _ => Err(match Refused::told(&told) {
            Some(refused) => Why::Refused(refused),
            None => Why::Ended(format!("{status}. {}", told.trim())),
        }),
    }
}
