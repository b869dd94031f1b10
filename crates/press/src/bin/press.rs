//! The press: a manuscript comes in, a PDF goes out. `rearline build-book` and the page's key run it.

use std::io::{self, Write as _};
use std::process::ExitCode;

use manuscript::{Manuscript, Refused};

fn main() -> ExitCode {
    let set = Manuscript::taken(io::stdin().lock()).and_then(|manuscript| press::print(&manuscript));
    match set {
        Ok(printed) => match printed.hand_back(io::stdout().lock()) {
            Ok(()) => ExitCode::SUCCESS,
            // Whoever asked has gone.
            Err(_) => ExitCode::FAILURE,
        },
        Err(refused) => refuse(&refused),
    }
}

fn refuse(refused: &Refused) -> ExitCode {
    // Where even that cannot be told, the status still says so.
    let _ = writeln!(io::stderr().lock(), "{}", refused.line());
    ExitCode::FAILURE
}
