//! From the words of the command line to an ending.

use std::ffi::OsString;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{ArgMatches, CommandFactory as _, FromArgMatches as _, Parser};
use questions::Question;
use questions::{Quotation, Trouble, Wrong};

use crate::build;
use crate::ending::{Ending, Stop};
use crate::options::{COMMAND_LINE, FolderOption, help};
use crate::print::{ink, marks};
use crate::verbs::{Verb, overview, question};
use crate::views::{self, errors::ErrorsView};
use crate::voice::Voice;

/// Columns that help is wrapped to.
const HELP_WIDTH: usize = 80;

/// The verbs in the order of the help.
const ORDER: [&str; 32] = [
    "assess",
    "sure",
    "pressures",
    "balance",
    "settings",
    "lever",
    "size",
    "conditions",
    "compare",
    "turn",
    "heat",
    "hold",
    "lines",
    "prove",
    "plan",
    "pull",
    "logger",
    "symptom",
    "leak",
    "working",
    "how",
    "proposal",
    "logbook",
    "build-book",
    "new",
    "copy",
    "rename",
    "put-away",
    "check-sheet",
    "schema",
    "completions",
    "manual",
];

/// What to do where nothing better can be said.
const HELP_TELLS: &str = "--help says what can be written";

/// Says what a handbrake does in a given car
///
/// For the person who prepares a rally car's brakes: what a hydraulic handbrake does in this car, computed from a sheet
/// that says what is on the car and what was measured.
#[derive(Parser, Debug)]
#[command(name = "rearline", version = build::short(), long_version = build::long(), max_term_width = HELP_WIDTH, after_long_help = help::WHOLE)]
#[command(args_conflicts_with_subcommands = true, disable_help_subcommand = true)]
#[command(subcommand_help_heading = "Verbs", subcommand_value_name = "VERB")]
pub(crate) struct CommandLine {
    #[command(flatten)]
    overview: overview::Overview,
    #[command(subcommand)]
    verb: Option<Verb>,
}

/// The whole command: the verbs that have options of their own, and one a question.
pub(crate) fn command() -> clap::Command {
    let mut command = CommandLine::command();
    for asked in questions::ALL.iter().copied() {
        command = command.subcommand(question::command(asked));
    }
    let place = |name: &str| ORDER.iter().position(|verb| *verb == name).unwrap_or(ORDER.len());
    let names: Vec<String> = command
        .get_subcommands()
        .map(|verb| verb.get_name().to_owned())
        .collect();
    for name in names {
        command = command.mut_subcommand(&name, |verb| verb.display_order(place(&name)));
    }
    command
}

/// Does what the command line says, and tells how it went.
pub(crate) fn run(words: Vec<OsString>, voice: &mut Voice<'_>) -> Ending {
    let words = verb_first(words);
    let json = wants_json(&words);
    let outcome = match parsed(&words) {
        Ok(Parsed::Question(question, matches)) => question::run(question, &matches, voice),
        Ok(Parsed::Line(line)) => match line.verb {
            Some(verb) => verb.run(voice, command),
            None => line.overview.run(voice),
        },
        Err(error) if error.exit_code() == 0 => voice
            .say(&ink::kept(&error.render().ansi().to_string()))
            .map(|()| Ending::Fine),
        Err(error) => Err(usage(&error, &words).into()),
    };
    match outcome {
        Ok(ending) => ending,
        Err(stop) => tell(&stop, json, voice),
    }
}

/// The folder of the cars may stand before the verb as well, or before a verb within a verb: it is put behind both.
fn verb_first(mut words: Vec<OsString>) -> Vec<OsString> {
    let is_verb = |word: &OsString| word.to_str().is_some_and(|word| ORDER.contains(&word));
    let ahead = folder_at(&words, 1);
    if ahead > 0 && words.get(1 + ahead).is_some_and(is_verb) {
        words[1..=1 + ahead].rotate_right(1);
    }
    let inner = words.get(1).map_or_else(Vec::new, inner_verbs);
    let ahead = folder_at(&words, 2);
    let is_inner = |word: &OsString| inner.iter().any(|verb| word == verb.as_str());
    if ahead > 0 && words.get(2 + ahead).is_some_and(is_inner) {
        words[2..=2 + ahead].rotate_right(1);
    }
    words
}

/// How many words from here on name the folder of the cars: none, one with `=`, or two.
fn folder_at(words: &[OsString], at: usize) -> usize {
    let word = words.get(at).and_then(|word| word.to_str());
    match word.and_then(|word| word.strip_prefix(FolderOption::DASHED)) {
        Some("") => 2,
        Some(rest) if rest.starts_with('=') => 1,
        _ => 0,
    }
}

/// Verbs that stand behind another: `logbook add`.
fn inner_verbs(verb: &OsString) -> Vec<String> {
    let command = command();
    let verb = verb.to_str().and_then(|name| command.find_subcommand(name));
    let inner = verb.into_iter().flat_map(clap::Command::get_subcommands);
    inner.map(|inner| inner.get_name().to_owned()).collect()
}

/// What the words ask for.
enum Parsed {
    Question(&'static dyn Question, ArgMatches),
    Line(Box<CommandLine>),
}

fn parsed(words: &[OsString]) -> Result<Parsed, clap::Error> {
    let mut matches = command().try_get_matches_from(words).map_err(|error| {
        // What is wrong is said in ink: no word of the line may bring its own.
        let shown = words.iter().map(|word| match word.to_str() {
            Some(word) => marks::shown(word).into(),
            None => word.clone(),
        });
        let shown = command().try_get_matches_from(shown);
        shown.err().unwrap_or(error)
    })?;
    let question = matches.subcommand_name().and_then(questions::named);
    if let Some(question) = question
        && let Some((_, matches)) = matches.remove_subcommand()
    {
        return Ok(Parsed::Question(question, matches));
    }
    CommandLine::from_arg_matches(&matches).map(|line| Parsed::Line(Box::new(line)))
}

/// Says what kept a verb from going on, in the way that the command asked for.
fn tell(stop: &Stop, json: bool, voice: &mut Voice<'_>) -> Ending {
    let wrong = match stop {
        Stop::Wrong(wrong) | Stop::File(wrong) => wrong,
        Stop::Output(_) if stop.nobody_listens() => return stop.ending(),
        Stop::Output(source) => {
            voice.aside(&format!("what was found could not be written: {source}\n"));
            return stop.ending();
        }
    };
    if !json {
        voice.aside(&crate::print::trouble::all(wrong));
        return stop.ending();
    }
    match views::to_json(&ErrorsView::of(wrong)).and_then(|errors| voice.say_json(&errors)) {
        Err(other) if !other.nobody_listens() => tell(&other, false, voice),
        _ => stop.ending(),
    }
}

/// Whether the command asks for JSON; needed before it is understood, and when it is not.
fn wants_json(words: &[OsString]) -> bool {
    words
        .iter()
        .skip(1)
        .take_while(|word| *word != "--")
        .any(|word| word == "--json")
}

/// What is wrong with the words themselves.
fn usage(error: &clap::Error, words: &[OsString]) -> Wrong {
    let rendered = error.render();
    let plain = rendered.to_string();
    let said = |line: &&str| !line.trim().is_empty();
    let text: Vec<&str> = plain.lines().take_while(said).map(str::trim).collect();
    let text = text.join(" ");
    let tip = plain.lines().find_map(|line| line.trim().strip_prefix("tip: "));
    let at_fault = [ContextKind::InvalidArg, ContextKind::InvalidSubcommand]
        .into_iter()
        .find_map(|kind| match error.get(kind)? {
            ContextValue::String(word) => word.split(' ').next().map(str::to_owned),
            _ => None,
        });
    // Options of the whole command stand before a verb by mistake only.
    let misplaced =
        error.kind() == ErrorKind::ArgumentConflict && error.get(ContextKind::InvalidSubcommand).is_some();
    let remedy = if misplaced {
        "write the options behind the verb"
    } else {
        tip.unwrap_or(HELP_TELLS)
    };
    let mut shown = ink::kept(&rendered.ansi().to_string());
    if misplaced {
        shown.push_str(&format!("\n{}\n", ink::remedy(remedy)));
    }
    Trouble {
        file: COMMAND_LINE.to_owned(),
        place: at_fault.and_then(|word| place_of(&word, words)),
        key: None,
        slug: slug(error.kind()).to_owned(),
        text: text.strip_prefix("error: ").unwrap_or(&text).to_owned(),
        remedy: remedy.to_owned(),
        shown: Quotation::Said(shown),
    }
    .into()
}

/// Line and column of a word where the words are joined by blanks.
fn place_of(wanted: &str, words: &[OsString]) -> Option<(usize, usize)> {
    // However the program was called, its name is this long.
    let mut column = "rearline ".len() + 1;
    for word in words.iter().skip(1) {
        let word = word.to_string_lossy();
        if word.split('=').next() == Some(wanted) {
            return Some((1, column));
        }
        column += word.chars().count() + 1;
    }
    None
}

const fn slug(kind: ErrorKind) -> &'static str {
    match kind {
        ErrorKind::UnknownArgument => "unknown-option",
        ErrorKind::InvalidSubcommand => "unknown-verb",
        ErrorKind::MissingRequiredArgument => "missing-argument",
        ErrorKind::ArgumentConflict => "option-conflict",
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => "option-value",
        ErrorKind::InvalidUtf8 => "not-utf-8",
        _ => "command-line",
    }
}
