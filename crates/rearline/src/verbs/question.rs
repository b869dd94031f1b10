//! A verb a question: its options from the one table, its answer through its report.

use std::path::{Path, PathBuf};

use clap::{Arg, ArgAction, ArgMatches, Command, value_parser};
use questions::options::{CSV, JSON, Row, STRICT, SVG, Said, Shape, TakenBy};
use questions::{Case, Opened, Question, Wrong, is_idle};

use crate::ending::{Ending, Stop};
use crate::options::{CAR, today};
use crate::print;
use crate::tables;
use crate::verbs::{lines, plan, prove, symptom};
use crate::voice::Voice;

const CARS: &str = "cars";

/// The verb as the command line knows it.
pub(crate) fn command(question: &'static dyn Question) -> Command {
    let help = question.help();
    let more = format!("{}\n\n{}", help.about, help.more);
    let taken = question.takes().iter().copied();
    let idle = questions::options::ALL
        .iter()
        .copied()
        .filter(|row| row.taken_by == TakenBy::Everywhere && is_idle(row, question));
    let command = Command::new(question.name())
        .about(help.about)
        .long_about(more)
        .after_long_help(help.teaches.trim_end())
        .arg(
            Arg::new(CAR)
                .value_name("CAR")
                .required(true)
                .help("Name in the cars folder, or path to a sheet")
                .long_help(
                    "Name in the cars folder, or path to a sheet\n\nWhatever holds a path separator or ends in `.toml` \
                     is taken as a path.",
                ),
        )
        .arg(
            Arg::new(CARS)
                .long(CARS)
                .value_name("DIR")
                .default_value(CARS)
                .value_parser(value_parser!(PathBuf))
                .help("The cars folder"),
        )
        .args(taken.map(argument))
        .args(questions::options::EVERY.iter().copied().map(argument))
        .args(questions::options::OUT.iter().copied().map(argument))
        .args(idle.map(|row| argument(row).hide(true)));
    match own(question) {
        Some(own) => (own.with_options)(command),
        None => command,
    }
}

/// What a question has on the command line alone.
struct Own {
    question: &'static str,
    /// Its options that are not in the table.
    with_options: fn(Command) -> Command,
    /// What is asked of no car.
    instead: fn(&ArgMatches, &mut Voice<'_>) -> Result<Option<Ending>, Stop>,
    /// It is told, too, what was done, and writes that down first.
    write_down: fn(&ArgMatches, &Opened) -> Result<(), Stop>,
}

const OWN: [Own; 4] = [
    Own {
        question: "lines",
        with_options: lines::with_options,
        instead: lines::instead,
        write_down: |_, _| Ok(()),
    },
    Own {
        question: "prove",
        with_options: prove::with_options,
        instead: |_, _| Ok(None),
        write_down: prove::write_down,
    },
    Own {
        question: "plan",
        with_options: plan::with_options,
        instead: |_, _| Ok(None),
        write_down: plan::write_down,
    },
    Own {
        question: "symptom",
        with_options: symptom::with_options,
        instead: |_, _| Ok(None),
        write_down: symptom::write_down,
    },
];

fn own(question: &dyn Question) -> Option<&'static Own> {
    OWN.iter().find(|own| own.question == question.name())
}

/// An option of the table.
fn argument(row: &'static Row) -> Arg {
    let arg = Arg::new(row.name).help(row.help);
    let arg = match row.value {
        Shape::Behind(of) => return arg.value_name(of),
        _ => arg.long(row.name).help_heading(row.group.head()),
    };
    let arg = if row.more.is_empty() {
        arg
    } else {
        arg.long_help(format!("{}\n\n{}", row.help, row.more))
    };
    let of = match row.value {
        Shape::Flag => return arg.action(ArgAction::SetTrue),
        Shape::Count => "N",
        Shape::Text(of)
        | Shape::Behind(of)
        | Shape::Many(of)
        | Shape::Figure { of, .. }
        | Shape::Read { of, .. } => of,
    };
    let arg = arg.value_name(of);
    match row.value {
        Shape::Many(_) => arg.action(ArgAction::Append),
        // What begins with a dash may still be a figure.
        _ => arg.allow_hyphen_values(of != "FILE" && of != "LIST" && of != "NAME" && of != "YYYY-MM-DD"),
    }
}

/// What was said, in the order of the table.
fn said(matches: &ArgMatches) -> Said {
    let mut said = Said::default();
    for row in questions::options::ALL.iter().copied() {
        match row.value {
            Shape::Flag => {
                if matches.try_get_one::<bool>(row.name).ok().flatten() == Some(&true) {
                    said.say(row, "1");
                }
            }
            _ => {
                let texts = matches.try_get_many::<String>(row.name).ok().flatten();
                for text in texts.into_iter().flatten() {
                    said.say(row, text);
                }
            }
        }
    }
    said
}

/// Opens the car and answers.
pub(crate) fn run(
    question: &'static dyn Question,
    matches: &ArgMatches,
    voice: &mut Voice<'_>,
) -> Result<Ending, Stop> {
    let own = own(question);
    if let Some(own) = own
        && let Some(ending) = (own.instead)(matches, voice)?
    {
        return Ok(ending);
    }
    let said = said(matches);
    let car = matches.get_one::<String>(CAR).map_or("", String::as_str);
    let cars = matches
        .get_one::<PathBuf>(CARS)
        .map_or(Path::new(CARS), PathBuf::as_path);
    let mut opened = questions::open(cars, car, question, &said, today())?;
    let mut wrong = Wrong::default();
    let (units, sampling) = (
        wrong.note(questions::units(said.units())),
        wrong.note(said.sampling(question.draws())),
    );
    let (Some(units), Some(sampling)) = (units, sampling) else {
        return Err(wrong.into());
    };
    if let Some(own) = own {
        (own.write_down)(matches, &opened)?;
    }
    let reads = question.reads_logbook();
    if reads {
        opened.warn_of_the_logbook();
    }
    let ending = || {
        if reads {
            Ending::with_logbook(opened.history())
        } else {
            Ending::Fine
        }
    };
    let case = Case {
        opened: &opened,
        said: &said,
        sampling,
        units,
        brief: false,
    };
    let answer = question.answer(&case)?;
    if let Some(path) = said.text(&SVG) {
        crate::picture::write(Path::new(path), &opened, &units, |look| answer.draw(look))?;
    }
    if let Some(folder) = said.text(&CSV) {
        tables::write(Path::new(folder), &answer.tables())?;
    }
    let report = answer.report();
    if said.has(&JSON) {
        let result = answer.result().map_err(|error| Stop::Output(error.into()))?;
        voice.say_json(&result)?;
    } else {
        voice.say(&print::report::text(&report))?;
    }
    let stops = !report.headline.stops_first.is_empty();
    Ok(match ending() {
        Ending::Fine if stops && said.has(&STRICT) => Ending::Stopped,
        ending => ending,
    })
}
