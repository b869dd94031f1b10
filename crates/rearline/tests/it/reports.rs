//! Terminal and page say the same of the same question: what stands in its one report.

use std::sync::LazyLock;

use ::questions::options::{ALL_OF_IT, BORES, CHANGE, FOOT, HAND, MAP, ON, Row, SEARCH, Said};
use ::questions::report::Report;
use ::questions::{ALL, Case, Question};
use engine::car::Date;
use engine::car::sold::{LEVER_BORES, MASTER_BORES};

use crate::bench::{Bench, CARS};
use crate::figures::{Written, between, in_tables, written};
use crate::serving::Serving;
use wording::Shown;

const DAY: &str = "2026-05-01";
const UNITS: [&str; 2] = ["bar,mm,N", "psi,in,lbf"];

/// What a question has to be told before it can answer.
fn needed(question: &dyn Question) -> Vec<(&'static Row, &'static str)> {
    match question.name() {
        "assess" => vec![(&ALL_OF_IT, "")],
        "lever" | "balance" => vec![(&BORES, "")],
        "pressures" => vec![(&FOOT, "300 N"), (&HAND, "150 N")],
        "size" => vec![(&CHANGE, "lever, pads")],
        _ => Vec::new(),
    }
}

/// A page without what only its paper has.
fn on_screen(page: &str) -> String {
    let mut parts = page.split("<span class=\"printed\">");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |said, part| {
        said + part.split_once("</span>").map_or(part, |(_, rest)| rest)
    })
}

/// A text without line breaks, marks of a page or blanks that hold together: words, one blank between.
fn words(text: &str) -> String {
    let mut plain = String::new();
    let mut inside = false;
    for character in text.chars() {
        match character {
            '<' => inside = true,
            '>' if inside => inside = false,
            // A finding's bar, and the quotes round a key.
            '█' | '▌' | '▏' | '`' => {}
            '\u{a0}' => plain.push(' '),
            other if !inside => plain.push(other),
            _ => {}
        }
    }
    let plain = plain
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Everything that no rendering may leave out.
fn said_everywhere(report: &Report) -> Vec<String> {
    let headline = &report.headline;
    let mut said = vec![headline.stamp.clone(), headline.because.clone()];
    for finding in &report.findings {
        said.extend([
            finding.title.clone(),
            finding.because.clone(),
            finding.remedy.clone(),
        ]);
    }
    said.extend(report.measured.iter().cloned());
    said.extend(headline.stops_first.iter().cloned());
    said.extend(headline.though.iter().cloned());
    said.extend(headline.first.iter().cloned());
    for figure in &headline.figures {
        said.push(figure.measured.value.text.clone());
        said.extend(figure.measured.range.iter().map(|range| range.text.clone()));
        said.extend(
            figure
                .limit
                .iter()
                .map(|limit| format!("{} {}", limit.name, limit.shown.text)),
        );
    }
    said.extend(report.cautions.iter().cloned());
    for finding in &report.findings {
        said.extend([
            finding.title.clone(),
            finding.because.clone(),
            finding.remedy.clone(),
        ]);
        said.extend(finding.caution.map(str::to_owned));
    }
    let of_options = report.warnings.iter().filter(|warning| warning.is_of_an_option());
    said.extend(of_options.map(|warning| warning.text.clone()));
    said
}

/// Sections are told in full by both: their facts, texts and items.
fn told_in_full(report: &Report) -> Vec<String> {
    use ::questions::report::Block;
    let blocks = report.sections.iter().flat_map(|section| &section.blocks);
    blocks
        .flat_map(|block| match block {
            Block::Details(facts) => facts.iter().map(|fact| fact.text.clone()).collect(),
            Block::Text(text) | Block::Caution(text) => vec![text.clone()],
            Block::List(items) => items.clone(),
            Block::Ticks(ticks) => {
                let lines = ticks.iter();
                lines
                    .flat_map(|tick| [tick.name.clone(), tick.text.clone()])
                    .collect()
            }
            // The terminal leaves out of a line what a row has nothing for.
            Block::Table(table) => {
                let cells = table.rows.iter().flat_map(|row| row.cells.clone());
                cells.filter(|cell| cell != "–").collect()
            }
            Block::Picture(_) => Vec::new(),
            Block::Steps(steps) => steps.iter().map(|step| step.value.clone()).collect(),
            Block::Choose(choices) => choices
                .iter()
                .flat_map(|choice| [choice.label.clone(), choice.text.clone()])
                .collect(),
            Block::Offers(offers) => offers
                .iter()
                .flat_map(|offer| {
                    let mut said = vec![offer.name.clone(), offer.value.clone(), offer.because.clone()];
                    said.extend(Some(offer.now.clone()).filter(|_| !offer.changes.is_empty()));
                    said
                })
                .collect(),
            Block::Reading(reading) => vec![reading.title().to_owned(), reading.how().to_owned()],
            Block::UnderWay { what, .. } => vec![(*what).to_owned()],
            Block::Changed { said, .. } => vec![said.clone()],
        })
        .collect()
}

/// A question of a car, and what it answers.
pub(crate) struct Asked {
    pub(crate) question: &'static dyn Question,
    car: &'static str,
    units: &'static str,
    pub(crate) report: Report,
}

/// Every question of every car, in one of the units: the next car, or the next question, in the others. Asked once, whoever
/// reads it.
pub(crate) fn every_report() -> impl Iterator<Item = &'static Asked> {
    static EVERY: LazyLock<[Vec<Asked>; 2]> = LazyLock::new(|| {
        let bench = Bench::with_cars();
        let in_these = |turn: usize| {
            let every = ALL.iter().copied().enumerate();
            let every =
                every.flat_map(|(at, question)| (at..).zip(CARS).map(move |(at, car)| (at, question, car)));
            let asked = every
                .filter(|(at, ..)| at % UNITS.len() == turn)
                .map(|(_, question, car)| Asked {
                    question,
                    car,
                    units: UNITS[turn],
                    report: report_of(&bench, question, car, UNITS[turn], needed(question)),
                });
            asked.collect()
        };
        // Who waits for them would wait beside an idle processor.
        std::thread::scope(|scope| {
            let other = scope.spawn(|| in_these(1));
            [in_these(0), other.join().unwrap()]
        })
    });
    EVERY.iter().flatten()
}

fn report_of(
    bench: &Bench,
    question: &dyn Question,
    car: &str,
    units: &str,
    asked: Vec<(&'static Row, &'static str)>,
) -> Report {
    let mut said = Said::default();
    said.say(&ON, DAY);
    for (row, text) in asked {
        said.say(row, text);
    }
    let opened = ::questions::open(
        &bench.path("cars"),
        car,
        question,
        &said,
        Date::constant(2026, 5, 1),
    )
    .unwrap();
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: said.sampling(question.draws()).unwrap(),
        units: ::questions::units(Some(units)).unwrap(),
        brief: false,
    };
    question.answer(&case).unwrap().report()
}

/// Figures of an answer that its pictures, the tables beside them or the index give in another rounding. A column ends at
/// one place; but the answer's own figures keep their digits there too.
fn other_roundings(question: &dyn Question, report: &Report, page: &str) -> Vec<String> {
    let said: Vec<String> = said_everywhere(report)
        .into_iter()
        .chain(told_in_full(report))
        .chain([report.state.clone()])
        .collect();
    // A size as it is sold is a name: no figure of the answer is written like it.
    let sold = || LEVER_BORES.iter().chain(MASTER_BORES);
    let is_a_name = |said: &str| sold().any(|size| said.trim_start_matches("own: ") == size.text);
    let in_sentences: Vec<(Written, &String)> = said
        .iter()
        .filter(|said| !is_a_name(said))
        .flat_map(|said| written(said).into_iter().map(move |figure| (figure, said)))
        .collect();
    let own = report.headline.figures.iter().flat_map(|figure| {
        let limit = figure.limit.iter().map(|limit| &limit.shown);
        core::iter::once(&figure.measured.value).chain(limit)
    });
    let own: Vec<&Shown> = own.collect();
    let index = format!("/{}\"", question.room());
    let asked = format!("/{}?", question.room());
    let short: Vec<Written> = between(page, "<nav id=\"index\"", "</nav>")
        .into_iter()
        .flat_map(|index| between(index, "<li>", "</li>"))
        .filter(|item| item.contains(&index) || item.contains(&asked))
        .flat_map(|item| written(&words(item)))
        .collect();
    // Round forces along a curve are a scale.
    let drawn = between(page, "<text ", "</text>")
        .into_iter()
        .filter(|text| !text.contains("class=\"value\""));
    let of_pictures = between(page, "<desc", "</desc>").into_iter().chain(drawn);
    let drawn: Vec<Written> = of_pictures
        .flat_map(|text| written(&words(&format!("<{text}"))))
        .collect();
    let mut found = Vec::new();
    // The ends of a range stand at its bar, with the range's digits.
    let ranges = report.headline.figures.iter();
    let ends: Vec<String> = ranges
        .filter_map(|figure| figure.measured.range.as_ref())
        .map(|range| words(&range.text))
        .collect();
    // Rows of a search are other set-ups, each with figures of its own.
    let are_others = question.name() == "size";
    let shown = drawn.iter().chain(&in_tables(page)).cloned().collect::<Vec<_>>();
    for one in shown.iter().filter(|_| !are_others).chain(&short) {
        // What is the answer's own to the digit is no rounding of a figure beside it.
        let written = words(&one.text);
        let is_end = |range: &String| {
            let number = written.split(' ').next().unwrap_or_default();
            range.ends_with(&format!(" to {written}")) || range.starts_with(&format!("{number} to "))
        };
        let is_own = own.iter().any(|own| words(&own.text) == written) || ends.iter().any(is_end);
        let other = own.iter().filter(|own| !is_own && one.rounds(own));
        found.extend(other.map(|own| format!("{} where the answer says {}", one.text, own.text)));
    }
    // Whether it is said so somewhere: then what looks like it is another figure.
    let is_said = |one: &Written| in_sentences.iter().any(|(figure, _)| figure.text == one.text);
    // The picture beside a measured pull is the sheet's own: its shares of the travel are not those that were measured.
    let drawn = drawn.iter().filter(|_| question.name() != "pull");
    let of_index = short.iter().map(|one| (one, true));
    for (one, of_index) in of_index.chain(drawn.map(|one| (one, false))) {
        let other = in_sentences.iter().filter(|(figure, _)| {
            let unlike = one.is_the_same_otherwise(figure) || of_index && one.is_another_rounding_of(figure);
            unlike && !is_said(one)
        });
        found.extend(other.map(|(figure, said)| format!("{} beside {} in: {said}", one.text, figure.text)));
    }
    found.sort();
    found.dedup();
    found
}

#[test]
fn every_question_says_the_same_on_terminal_and_page() {
    let bench = Bench::with_cars();
    let served = UNITS.map(|units| Serving::start(&bench, &["--port", "0", "--units", units]));
    for asked in every_report() {
        let Asked {
            question,
            car,
            units,
            report,
        } = asked;
        let (serving, _) = served.iter().zip(UNITS).find(|(_, of)| of == units).unwrap();
        let mut arguments = vec![question.name(), car, "--on", DAY, "--units", units];
        let mut address = format!("/car/{car}/{}?on={DAY}", question.room());
        let needed = needed(*question);
        let dashed: Vec<String> = needed.iter().map(|(row, _)| row.dashed()).collect();
        for ((row, text), dashed) in needed.iter().zip(&dashed) {
            arguments.push(dashed);
            arguments.extend(Some(*text).filter(|text| !text.is_empty()));
            if row.address.is_none() || text.is_empty() {
                continue;
            }
            address.push_str(&format!("&{}={}", row.name, text.replace(' ', "+")));
        }
        let run = bench.run(&arguments);
        assert_eq!(run.status, Some(0), "{arguments:?}: {}", run.aside);
        let raw = serving.get(&address);
        let (terminal, page) = (words(&run.out), words(&on_screen(&raw)));
        for said in said_everywhere(report).into_iter().chain(told_in_full(report)) {
            let said = words(&said);
            let place = format!("{} of {car} in {units}: {said}", question.name());
            assert!(
                terminal.contains(&said),
                "the terminal leaves out {place}\n{terminal}"
            );
            assert!(page.contains(&said), "the page leaves out {place}\n{page}");
        }
        let other = other_roundings(*question, report, &raw);
        assert!(
            other.is_empty(),
            "{} of {car} in {units}: {other:#?}",
            question.name()
        );
        let headline = &report.headline;
        // The verdict alone, behind what stops the car first.
        let first = match headline.stops_first.first() {
            Some(stop) => format!("stop: {stop}"),
            None => headline.stamp.clone(),
        };
        let line = words(run.out.lines().next().unwrap_or_default());
        assert!(line.starts_with(&words(&first)), "{line}");
    }
    for serving in served {
        serving.end("-TERM");
    }
}

/// Many runs, and a way through a bend: the same on a terminal and on the page.
#[test]
fn many_runs_and_a_way_through_a_bend_are_told_in_full() {
    let bench = Bench::with_cars();
    let turn = ALL.iter().copied().find(|question| question.name() == "turn");
    let turn = turn.unwrap();
    let asked = [(&MAP, "3x4"), (&SEARCH, "180 deg, 7 m, 5 m")];
    for (units, (row, text)) in UNITS.into_iter().zip(asked) {
        let serving = Serving::start(&bench, &["--port", "0", "--units", units]);
        let report = report_of(&bench, turn, "tarn", units, vec![(row, text)]);
        let dashed = row.dashed();
        let asked = ["turn", "tarn", "--on", DAY, "--units", units, &dashed, text];
        let run = bench.run(&asked);
        assert_eq!(run.status, Some(0), "{asked:?}: {}", run.aside);
        let address = format!("/car/tarn/turn?on={DAY}&{}={}", row.name, text.replace(' ', "+"));
        let (terminal, page) = (words(&run.out), words(&serving.get(&address)));
        let told: Vec<String> = said_everywhere(&report)
            .into_iter()
            .chain(told_in_full(&report))
            .collect();
        // Of many runs each is a cell, and of a way its moments are facts.
        assert!(told.len() > 12, "{told:?}");
        for said in told {
            let said = words(&said);
            assert!(
                terminal.contains(&said),
                "the terminal leaves out {said}\n{terminal}"
            );
            assert!(page.contains(&said), "the page leaves out {said}\n{page}");
        }
        let line = words(run.out.lines().next().unwrap_or_default());
        assert!(line.starts_with(&words(&report.headline.stamp)), "{line}");
        serving.end("-TERM");
    }
}

/// What is read in one look is short, has no key of the sheet and no bracket in a bracket.
#[test]
fn a_headline_is_read_in_one_look() {
    for Asked {
        question,
        car,
        report,
        ..
    } in every_report()
    {
        let headline = &report.headline;
        // A figure and its unit are one word.
        let count = |text: &str| text.split(' ').count();
        let place = format!("{} of {car}: {headline:?}", question.name());
        assert!((1..=4).contains(&count(&headline.stamp)), "{place}");
        assert!((1..=14).contains(&count(&headline.because)), "{place}");
        assert!(headline.figures.len() <= 3, "{place}");
        let sentences = headline.though.iter().chain(&headline.first);
        for sentence in sentences.chain([&headline.because]) {
            assert!(count(sentence) <= 20, "{sentence} in {place}");
            assert!(
                !sentence.contains('`') && !sentence.contains('_') && sentence.ends_with('.'),
                "{sentence} in {place}"
            );
        }
    }
}

/// Findings, warnings, what was measured, what stops a setting: all in the units that a person reads in. Sizes of threads
/// and sheet, and what a sheet writes itself, stay as they are.
#[test]
fn a_persons_units_reach_every_sentence() {
    let bench = Bench::with_cars();
    let foreign = |run: &str| -> Vec<String> {
        let text = words(run);
        let all: Vec<&str> = text.split(' ').collect();
        all.windows(3)
            .filter(|three| {
                let is_figure = three[0].parse::<f64>().is_ok();
                is_figure && matches!(three[1].trim_end_matches(['.', ',', ';', ':', ')']), "bar" | "N")
            })
            .map(|three| three.join(" "))
            .filter(|said| !said.contains('±'))
            .collect()
    };
    for car in CARS {
        for question in ["assess", "settings", "balance", "lever", "hold"] {
            let mut asked = vec![question, car, "--units", "psi,in,lbf", "--draws", "0"];
            if question == "assess" {
                asked.push("--all");
            }
            let run = bench.run(&asked);
            let found = foreign(&run.out);
            assert!(found.is_empty(), "{asked:?}: {found:?}");
        }
    }
    let tarn = bench
        .run(&["assess", "tarn", "--units", "psi,in,lbf", "--draws", "0"])
        .out;
    assert!(
        words(&tarn).contains("the knob's line goes through 411 psi"),
        "{tarn}"
    );
}
