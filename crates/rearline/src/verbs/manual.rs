//! `manual`: manual pages for `man`.

use std::fs;
use std::io;
use std::path::PathBuf;

use clap::{Args, Command};
use clap_mangen::Man;
use questions::{Wrong, nearest};
use records::{Mark, Output};

use crate::ending::{Ending, Stop};
use crate::options::help;
use crate::picture::write_files;
use crate::voice::{self, Voice};

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
    pub(crate) fn run(&self, voice: &mut Voice<'_>, mut command: Command) -> Result<Ending, Stop> {
        command.build();
        match (&self.folder, &self.verb) {
            (Some(folder), _) => {
                let pages = pages(&command)
                    .iter()
                    .map(|page| {
                        Ok(Output {
                            path: folder.join(page.get_filename()),
                            bytes: rendered(page)?,
                            mark: Mark::Comment(".TH rearline"),
                        })
                    })
                    .collect::<io::Result<Vec<_>>>()
                    .map_err(Stop::Output)?;
                fs::create_dir_all(folder)
                    .map_err(|source| questions::Stop::file(folder, "made", &source))?;
                write_files(&pages)?;
                for page in pages {
                    voice.say(&format!("{}\n", page.path.display()))?;
                }
            }
            (None, Some(verb)) => {
                voice::straight_out(&rendered(&of_verb(&command, verb)?).map_err(Stop::Output)?)?
            }
            (None, None) => voice::straight_out(&rendered(&page(&command)).map_err(Stop::Output)?)?,
        }
        Ok(Ending::Fine)
    }
}

/// The page of the whole, then one a verb.
fn pages(command: &Command) -> Vec<Man> {
    core::iter::once(command)
        .chain(command.get_subcommands())
        .map(page)
        .collect()
}

fn page(command: &Command) -> Man {
    Man::new(command.clone()).source(concat!("rearline ", env!("CARGO_PKG_VERSION")))
}

fn of_verb(command: &Command, verb: &str) -> Result<Man, Stop> {
    let verbs: Vec<&str> = command.get_subcommands().map(Command::get_name).collect();
    match command.find_subcommand(verb) {
        Some(found) => Ok(page(found)),
        None => {
            let remedy = match nearest(verb, verbs.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there are: {}", verbs.join(", ")),
            };
            let what = format!("there is no verb `{verb}`");
            Err(Wrong::option("--verb", verb, 0..verb.len(), "unknown-verb", what, remedy).into())
        }
    }
}

/// The page's text. What stands behind the help is set line by line, as it was written.
fn rendered(page: &Man) -> io::Result<Vec<u8>> {
    let mut text = Vec::new();
    page.render(&mut text)?;
    let text = String::from_utf8_lossy(&text);
    Ok(match text.split_once(".SH EXTRA\n") {
        Some((help, behind)) => {
            let (behind, rest) = behind
                .split_once("\n.SH ")
                .map_or((behind, None), |(own, rest)| (own, Some(rest)));
            let rest = rest.map(|rest| format!("\n.SH {rest}")).unwrap_or_default();
            format!("{help}.SH NOTES\n.nf\n{}\n.fi{rest}\n", behind.trim_end())
        }
        None => text.into_owned(),
    }
    .into_bytes())
}
