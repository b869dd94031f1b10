//! `completions`: what a shell completes.

use clap::{Args, Command};
use clap_complete::Shell;

use crate::ending::{Ending, Stop};
use crate::options::help;
use crate::voice;

/// A script by which a shell completes verbs and options
#[derive(Args, Debug)]
#[command(after_long_help = help::COMPLETIONS)]
pub(crate) struct Completions {
    /// Which shell
    #[arg(value_name = "SHELL")]
    shell: Shell,
}

impl Completions {
    /// Prints it.
    pub(crate) fn run(&self, mut command: Command) -> Result<Ending, Stop> {
        let name = command.get_name().to_owned();
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut command, name, &mut script);
        voice::straight_out(&script)?;
        Ok(Ending::Fine)
    }
}
