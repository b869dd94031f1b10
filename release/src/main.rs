//! Prints the notices of everything that is linked into `rearline` and its press: `notices MANIFEST TARGET`.

use std::io::{self, Write as _};
use std::process::ExitCode;

use release::Notices;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [manifest, target] = words.as_slice() else {
        let _ = writeln!(io::stderr(), "usage: notices MANIFEST TARGET");
        return ExitCode::from(2);
    };
    let told = Notices::of(manifest.as_ref(), target)
        .map_err(|fault| fault.to_string())
        .and_then(|notices| write!(io::stdout().lock(), "{notices}").map_err(|fault| fault.to_string()));
    match told {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            let _ = writeln!(io::stderr(), "notices: {fault}");
            ExitCode::FAILURE
        }
    }
}
