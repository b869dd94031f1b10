//! The workshop page as people meet it: a real browser on real pages of the real program, and a crowd.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod bench;
mod book;
mod browser;
mod crowd;
mod driver;
mod hostile;
mod how;
mod job;
mod kept;
mod live;
mod look;
mod measured;
mod opens;
mod pages;
mod paired;
mod paper;
mod pictures;
mod plain;
mod played;
mod reach;
mod round;
mod rules;
mod screen;
mod stale;
mod thumb;
mod units;
mod what_if;
mod workshop;

use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use libtest_mimic::{Arguments, Trial};

use bench::Bench;

/// Where builds, and what tests leave, are kept.
pub(crate) fn target() -> &'static Path {
    Path::new(env!("CARGO_TARGET_TMPDIR")).parent().unwrap()
}

fn main() -> ExitCode {
    let mut arguments = Arguments::from_args();
    // One browser, one test at a time.
    arguments.test_threads = Some(1);
    let bench = Arc::new(Bench::new());
    let tests = [
        opens::ALL,
        job::ALL,
        how::ALL,
        live::ALL,
        look::ALL,
        plain::ALL,
        played::ALL,
        reach::ALL,
        rules::ALL,
        round::ALL,
        kept::ALL,
        measured::ALL,
        what_if::ALL,
        stale::ALL,
        thumb::ALL,
        units::ALL,
        paired::ALL,
        hostile::ALL,
        crowd::ALL,
        pictures::ALL,
        book::ALL,
        &[("everything_lives_still", Bench::all_live)],
    ]
    .concat()
    .into_iter()
    .map(|(name, test)| {
        let bench = Arc::clone(&bench);
        Trial::test(name, move || {
            test(&bench);
            Ok(())
        })
    })
    .collect();
    let done = libtest_mimic::run(&arguments, tests);
    bench.browser.end();
    drop(bench);
    done.exit_code()
}
