//! What the book ends with: what it rests on, and the letter that a driver signs.

use std::collections::BTreeSet;

use assess::cautions;
use manuscript::FAMILIES;
use questions::report::{Detail, Report};
use questions::working::each_step_once;
use questions::working_bench;

use super::Asked;
use crate::document::{Begins, Part, Piece};

/// Every default that was leaned on, everything unusual on the sheet, and where equations come from.
pub(super) fn rests_on(book: &Asked<'_>, assessed: &Report) -> Part {
    let mut pieces = Vec::new();
    if !assessed.warnings.is_empty() {
        pieces.push(Piece::section("Look at this again"));
        let facts = assessed.warnings.iter();
        pieces.push(Piece::Keys(
            facts
                .map(|warning| (warning.key.clone(), warning.text.clone()))
                .collect(),
        ));
    }
    for (guess, title) in [(true, "Guessed"), (false, "Left out: a default stands in")] {
        let defaults: Vec<(String, String)> = assessed
            .defaults
            .iter()
            .filter(|default| default.guess == guess)
            .map(|default| {
                (
                    default.key.to_string(),
                    format!("{} ({})", default.value, default.source),
                )
            })
            .collect();
        if !defaults.is_empty() {
            pieces.push(Piece::section(title));
            pieces.push(Piece::Keys(defaults));
        }
    }
    pieces.push(Piece::section("What it is set in"));
    let mut set_in = FAMILIES
        .map(|(family, terms)| Detail::new(family, terms))
        .to_vec();
    set_in.push(Detail::new(
        "all of them",
        "anybody may use; the whole terms come with the program",
    ));
    pieces.push(Piece::Details(set_in));
    // Last: a list in two columns takes what is left of a page.
    let sources = sources(book);
    if !sources.is_empty() {
        pieces.push(Piece::section("Where the equations come from"));
        pieces.push(Piece::List(sources));
    }
    Part {
        title: "What it rests on".to_owned(),
        begins: Begins::WhereThereIsRoom,
        pieces,
    }
}

/// The sources of all workings, each once.
fn sources(book: &Asked<'_>) -> Vec<String> {
    let Ok(case) = book.case(&questions::assess::Ask) else {
        return Vec::new();
    };
    let Ok(wish) = questions::wish(questions::settings::USUAL_WISH) else {
        return Vec::new();
    };
    let stage = questions::heat::stage(&case).ok();
    let bench = working_bench(book.opened, &case.conditions(), stage, wish);
    let workings = each_step_once(&bench, |_| true);
    let steps = workings.iter().flat_map(|working| &working.steps);
    let sources: BTreeSet<&str> = steps.map(|step| step.source).collect();
    sources
        .into_iter()
        .filter(|source| !source.is_empty())
        .map(str::to_owned)
        .collect()
}

/// What the driver reads before he drives, and signs.
pub(super) fn letter(book: &Asked<'_>) -> Part {
    let car = &book.opened.car().name;
    let said = [
        cautions::FIRST_DRIVE,
        cautions::LATCH,
        cautions::ROAD,
        questions::turn::WHERE,
        cautions::FLUID,
        cautions::EVENT,
        "If pedal or lever comes up further than it did: stop, and find out why before driving on.",
        "If one circuit fails, the pedal falls further and the car stops worse. Use the whole foot.",
    ];
    let mut pieces = vec![
        Piece::Text(format!(
            "To whoever drives {car}. Read it before the car is driven, and sign it."
        )),
        Piece::List(said.map(str::to_owned).to_vec()),
    ];
    pieces.push(Piece::Text(
        "What stands against this car on the day of printing is on the pages for the scrutineer.".to_owned(),
    ));
    pieces.extend(
        [
            "I have read this. Name",
            "Signed",
            "Date and place",
            "Handed over by",
        ]
        .map(|said| Piece::Line(said.to_owned())),
    );
    Part {
        title: "To the driver".to_owned(),
        begins: Begins::OnItsOwn,
        pieces,
    }
}
