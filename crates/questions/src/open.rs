//! A car opened as was said, for a question: its options read, idle ones warned of, another car found beside it.

use std::path::Path;

use engine::car::Date;
use plumbing::prices::Prices;

use crate::opened::{Beside, Opened, PRICES, Sheet, find};
use crate::options::{AGAINST, EVERY, HAND, OTHER, OUT, Row, Said};
use crate::question::Question;
use crate::trouble::{Stop, Wrong};

impl Opened {
    /// A car that was found and read, opened as was said. What is wrong with any option joins what is wrong with the sheet.
    ///
    /// # Errors
    /// Everything that is wrong.
    pub fn as_said(sheet: Sheet, said: &Said, today: Date) -> Result<Self, Stop> {
        let mut wrong = said.wrong();
        match Self::of_sheet(sheet, &said.changes(), &said.state(today)) {
            Ok(opened) if wrong.is_empty() => Ok(opened),
            Ok(_) => Err(wrong.into()),
            // The state reads some of the options once more.
            Err(Stop::Wrong(more)) => {
                wrong.add_what_is_new(more);
                Err(wrong.into())
            }
            Err(stop) => Err(stop),
        }
    }

    /// Warns that a pull which was asked for does nothing in a car without a lever.
    pub fn warn_of_hand(&mut self, option: &str) {
        if self.car().lever.is_none() {
            self.warn(option, "has no effect: this car has no handbrake lever");
        }
    }
}

/// Opens the car that a question is asked of, as was said. Options that change nothing in this question are warned of.
///
/// # Errors
/// Everything that is wrong with what was said, the sheet and the state, or why the file cannot be read.
pub fn open(
    cars: &Path,
    car: &str,
    question: &dyn Question,
    said: &Said,
    today: Date,
) -> Result<Opened, Stop> {
    let mut wrong = Wrong::default();
    let prices = if question.reads_prices() {
        crate::prices::prices(cars, &mut wrong)?
    } else {
        Prices::default()
    };
    let opened = match Opened::as_said(Sheet::of(cars, car)?, said, today) {
        Err(Stop::Wrong(more)) => wrong.note(Err(more)),
        opened => Some(opened?),
    };
    let Some(mut opened) = opened.filter(|_| wrong.is_empty()) else {
        return Err(wrong.into());
    };
    for row in said.rows().filter(|row| is_idle(row, question)) {
        opened.warn(&row.dashed(), format!("has no effect on `{}`", question.name()));
    }
    if said.has(&HAND) && !is_idle(&HAND, question) {
        opened.warn_of_hand(&HAND.dashed());
    }
    if let Some(idle) = crate::prices::idle(&opened, &prices) {
        opened.warn(PRICES, idle);
    }
    opened.prices = prices;
    let named = |row: &'static Row| said.text(row).filter(|_| !is_idle(row, question));
    if let Some(other) = named(&OTHER).or_else(|| named(&AGAINST)) {
        let beside = Beside::of(&find(cars, other)?, &said.state(today))?;
        opened.beside = Some(Box::new(beside));
    }
    Ok(opened)
}

/// Whether an option that every question takes changes nothing in this one.
#[must_use]
pub fn is_idle(row: &Row, question: &dyn Question) -> bool {
    let same = |other: &&Row| core::ptr::eq(*other, row);
    !question.takes().iter().chain(EVERY).chain(OUT).any(same)
}
