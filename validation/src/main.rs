//! Prints every outside check; exit status 1 where one does not hold. A file of results of the second reading may be
//! given: it is then looked at instead.

use std::io::{self, Write as _};
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut out = io::stdout().lock();
    let cases = std::env::args_os().nth(1).map(PathBuf::from);
    let blocks = match cases {
        Some(file) => validation::second_reading(&file).map(|block| vec![block]),
        None => validation::run(),
    };
    let blocks = match blocks {
        Ok(blocks) => blocks,
        Err(error) => {
            let _ = writeln!(io::stderr(), "{error}");
            return ExitCode::from(2);
        }
    };
    let held = blocks
        .iter()
        .flat_map(|block| &block.rows)
        .all(validation::Row::holds);
    match validation::print(&mut out, &blocks) {
        Ok(()) if held => ExitCode::SUCCESS,
        _ => ExitCode::FAILURE,
    }
}
