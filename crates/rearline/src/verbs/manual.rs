//! `manual`: manual pages for `man`.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use clap::{Args, Command};
use clap_mangen::Man;

use crate::ending::{Ending, Stop};
use crate::options::help;
use crate::trouble::Wrong;
use crate::voice::Voice;
use crate::{command_line, nearest};

/// Manual pages for man
///
/// Prints the page of the whole, or of one verb; or writes a page for the whole and for each verb into a folder.
#[derive(Args, Debug)]
#[command(after_long_help = help::MANUAL)]
pub(crate) struct Manual {
    /// The page of one verb
    #[arg(long, value_name = "VERB")]
    verb: Option<String>,
    /// Write all pages into this folder
    #[arg(long, value_name = "DIR", conflicts_with = "verb")]
    folder: Option<PathBuf>,
}

impl Manual {
    /// Prints one page, or writes all.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut command = command_line::command();
        command.build();
        match (&self.folder, &self.verb) {
            (Some(folder), _) => {
                fs::create_dir_all(folder).map_err(|source| trouble(folder, &source))?;
                for page in pages(&command) {
                    let path = folder.join(page.get_filename());
                    let written = rendered(&page).and_then(|text| fs::write(&path, text));
                    written.map_err(|source| trouble(&path, &source))?;
                    voice.say(&format!("{}\n", path.display()))?;
                }
            }
            (None, Some(verb)) => {
                voice.say_bytes(&rendered(&of_verb(&command, verb)?).map_err(Stop::Output)?)?
            }
            (None, None) => voice.say_bytes(&rendered(&Man::new(command)).map_err(Stop::Output)?)?,
        }
        Ok(Ending::Fine)
    }
}

/// The page of the whole, then one a verb.
fn pages(command: &Command) -> Vec<Man> {
    core::iter::once(command)
        .chain(command.get_subcommands())
        .map(|command| Man::new(command.clone()))
        .collect()
}

fn of_verb(command: &Command, verb: &str) -> Result<Man, Stop> {
    let verbs: Vec<&str> = command.get_subcommands().map(Command::get_name).collect();
    match command.find_subcommand(verb) {
        Some(found) => Ok(Man::new(found.clone())),
        None => {
            let remedy = match nearest::of(verb, verbs.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there are: {}", verbs.join(", ")),
            };
            let what = format!("there is no verb `{verb}`");
            Err(Wrong::option("--verb", verb, 0..verb.len(), "unknown-verb", what, remedy).into())
        }
    }
}

fn rendered(page: &Man) -> io::Result<Vec<u8>> {
    let mut text = Vec::new();
    page.render(&mut text)?;
    Ok(text)
}

fn trouble(path: &Path, source: &io::Error) -> Stop {
    Stop::file(path, "written", source)
}
