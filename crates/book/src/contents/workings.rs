//! How the figures came about: every working, as mathematics, a step that several lean on once.

use questions::working::{self, each_step_once};
use questions::{Wrong, assess, heat, working_bench};

use super::{Asked, reports};
use crate::document::{Begins, Part, Piece};

pub(super) fn part(book: &Asked<'_>) -> Result<Part, Wrong> {
    let case = book.case(&assess::Ask)?;
    let wish = questions::wish(questions::settings::USUAL_WISH)?;
    let bench = working_bench(book.opened, &case.conditions(), heat::stage(&case).ok(), wish);
    let workings = each_step_once(&bench, |_| true);
    let mut pieces = vec![Piece::Aside(
        "Line by line, from the sheet's figures on. A step that is told above already is left out."
            .to_owned(),
    )];
    for working in &workings {
        let report = working::report(&case, working);
        pieces.push(Piece::section(wording::capital(working::meaning(working.figure))));
        let steps = report.sections.first();
        let blocks = steps
            .map(|section| reports::blocks(section, &[]))
            .unwrap_or_default();
        pieces.extend(
            blocks
                .into_iter()
                .filter(|piece| matches!(piece, Piece::Steps(_))),
        );
    }
    Ok(Part {
        title: "How did it come about?".to_owned(),
        begins: Begins::WhereThereIsRoom,
        pieces,
    })
}
