//! What is opened first: the cover, and the two pages for the scrutineer.

use assess::cautions;
use questions::report::{Detail, Report};
use questions::{Question as _, scrutineer};

use super::logbook::Extract;
use super::{Asked, CAUTION, reports};
use crate::document::{Begins, Part, Piece};

pub(super) fn cover(book: &Asked<'_>, assessed: &Report, logbook: &Extract) -> Part {
    let (opened, edition) = (book.opened, book.edition);
    let car = opened.car();
    let mut facts = vec![Detail::new("car", car.name.to_string())];
    facts.extend(
        car.build
            .as_ref()
            .map(|build| Detail::new("built as", build.to_string())),
    );
    facts.extend([
        Detail::new("printed on", edition.day.to_string()),
        Detail::new("asked in", assessed.state.clone()),
        Detail::new("sheet", format!("`{}`", opened.sheet.digest)),
        Detail::new("logbook", logbook.said()),
        Detail::new("made by", edition.maker.to_owned()),
    ]);
    let mut headline = assessed.headline.clone();
    headline.though.clear();
    let mut pieces = vec![Piece::Headline(headline), Piece::Details(facts)];
    pieces.extend(assessed.measured.iter().cloned().map(Piece::Aside));
    pieces.extend([
        Piece::section("What is in it"),
        Piece::Contents,
        Piece::Caution(CAUTION.to_owned()),
    ]);
    Part {
        title: format!("Build book: {}", car.name),
        begins: Begins::OnItsOwn,
        pieces,
    }
}

/// What he asks for first: a page of how the car is made, and one of what was proved of it.
pub(super) fn for_the_scrutineer(book: &Asked<'_>, assessed: &Report) -> [Part; 2] {
    let case = questions::Case {
        opened: book.opened,
        said: book.said,
        sampling: engine::ranges::Sampling {
            draws: questions::assess::Ask.draws(),
            ..engine::ranges::Sampling::default()
        },
        units: book.edition.units,
        brief: false,
    };
    let report = scrutineer::report(&case, &assessed.findings);
    let mut made = vec![Piece::Headline(report.headline.clone())];
    let mut proved: Vec<Piece> = Vec::new();
    for section in &report.sections {
        let mut own = Vec::new();
        reports::section(section, &[], &mut own);
        if section.title == scrutineer::NOT_DONE {
            for piece in &mut own {
                if let Piece::Caution(said) = piece {
                    *piece = Piece::Large(core::mem::take(said));
                }
            }
        }
        // From what is not done on.
        let page = if section.title == scrutineer::NOT_DONE || !proved.is_empty() {
            &mut proved
        } else {
            &mut made
        };
        page.extend(own);
    }
    proved.extend([cautions::EVENT, cautions::ROAD].map(|said| Piece::Caution(said.to_owned())));
    [
        ("For the scrutineer", made),
        ("For the scrutineer: what was proved", proved),
    ]
    .map(|(title, pieces)| Part {
        title: title.to_owned(),
        begins: Begins::OnItsOwn,
        pieces,
    })
}
