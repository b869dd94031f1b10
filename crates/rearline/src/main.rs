//! `rearline`: what a hydraulic handbrake does in a given car, on the command line.

mod build;
mod command_line;
mod demonstration;
mod ending;
mod options;
mod picture;
mod press;
mod print;
mod progress;
mod serving;
mod tables;
mod verbs;
mod views;
mod voice;

use std::io::{self, Write as _};
use std::process::ExitCode;

use anstream::AutoStream;

use voice::Voice;

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|fault| {
        let _ = writeln!(
            io::stderr(),
            "A fault of rearline's own. Please report this:\n{fault}"
        );
    }));
    // Where ^C cannot be caught it ends the process all the same.
    let _ = ctrlc::set_handler(serving::interrupt);
    questions::progress::tell_to(progress::show);
    let mut out = AutoStream::auto(io::stdout().lock());
    // Not locked: a fault in another thread has to be told while this one waits.
    let mut aside = AutoStream::auto(io::stderr());
    command_line::run(
        std::env::args_os().collect(),
        &mut Voice::new(&mut out, &mut aside),
    )
    .into()
}
