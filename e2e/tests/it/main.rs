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

use std::panic::{AssertUnwindSafe, catch_unwind};
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
    // Each has a browser of its own, which waits half of its time.
    arguments.test_threads.get_or_insert(2);
    let bench = Arc::new(Bench::new());
    let tests = [
        opens::ALL,
        // The press takes its time: it is not to stand beside the crowd.
        book::ALL,
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
    bench.browsers.end();
    let lives = catch_unwind(AssertUnwindSafe(|| bench.all_live())).is_ok();
    drop(bench);
    if lives {
        done.exit_code()
    } else {
        ExitCode::FAILURE
    }
}
