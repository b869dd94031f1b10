//! Sheets for the clipboard: bleeding, proving, the first drive, with columns that a pen fills in.

use proving::Check;
use questions::prove::{self, Outcome};
use questions::report::{Block, Detail, Table};

use super::{Asked, reports};
use crate::document::{Begins, Part, Piece};

/// What is driven, slowly, before the car is.
const DRIVEN: [Check; 4] = [Check::Walking, Check::ByPassHot, Check::Even, Check::Slope];

/// Lines for what is written down at the end.
const SIGNED: [&str; 3] = ["Not done, because", "Signed, with the date", "Checked by"];

pub(super) fn sheets(book: &Asked<'_>) -> Vec<Part> {
    let Ok(case) = book.case(&prove::Ask) else {
        return Vec::new();
    };
    let outcome = Outcome::of(book.opened, book.opened.history());
    let blank = prove::blank(&case, &outcome);
    let mut bleeding = vec![
        Piece::Line("Date, by".to_owned()),
        Piece::Line("Fluid, from a sealed bottle of".to_owned()),
    ];
    let mut proving = vec![Piece::Line("Date, by, air in °C".to_owned())];
    for section in &blank.sections {
        match section.blocks.first() {
            Some(Block::Table(table)) if section.title == prove::BLEEDING => {
                bleeding.push(Piece::section(section.title.clone()));
                bleeding.push(Piece::Table {
                    table: table.clone(),
                    blanks: ["clear", "screw shut", "by"].map(str::to_owned).to_vec(),
                });
                bleeding.extend(reports::blocks(section, &[]).into_iter().skip(1));
            }
            // Lines of the clipboard's own stand below.
            Some(Block::Text(_)) | None => {}
            Some(_) => reports::section(section, &[], &mut proving),
        }
    }
    bleeding.push(Piece::List(outcome.mind.clone()));
    proving.extend(SIGNED.map(|said| Piece::Line(said.to_owned())));
    proving.extend(blank.cautions.iter().cloned().map(Piece::Caution));
    vec![
        Part {
            title: "By hand: bleeding".to_owned(),
            begins: Begins::OnItsOwn,
            pieces: bleeding,
        },
        Part {
            title: "By hand: joints and checks".to_owned(),
            begins: Begins::OnItsOwn,
            pieces: proving,
        },
        first_drive(book),
    ]
}

fn first_drive(book: &Asked<'_>) -> Part {
    let car = book.opened.car();
    let checks: Vec<Check> = Check::of(car)
        .into_iter()
        .filter(|check| DRIVEN.contains(check))
        .collect();
    let rows = checks.iter().map(|check| vec![check.words().to_owned()].into());
    let how = checks
        .iter()
        .map(|check| Detail::new(check.words(), check.how(car)))
        .collect();
    let mut pieces = vec![
        Piece::Line("Date, place, driver".to_owned()),
        Piece::Caution(super::CAUTION.to_owned()),
        Piece::section("In this order"),
        Piece::Details(how),
        Piece::section("What came of it"),
        Piece::Table {
            table: Table {
                caption: "Stop at the first that does not hold, and find out why".to_owned(),
                heads: vec!["check".to_owned()],
                names_row: 0,
                rows: rows.collect(),
                of_words: true,
            },
            blanks: ["held", "what was seen", "by"].map(str::to_owned).to_vec(),
        },
    ];
    pieces.extend(SIGNED.map(|said| Piece::Line(said.to_owned())));
    Part {
        title: "By hand: the first drive".to_owned(),
        begins: Begins::OnItsOwn,
        pieces,
    }
}
