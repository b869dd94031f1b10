//! What stands in the book, in its order.

mod answers;
mod by_hand;
mod dash_card;
mod ends;
mod logbook;
mod opening;
mod reports;
mod workings;

use questions::options::{ON, Said};
use questions::{Case, Opened, Question, Stop, Wrong};

use crate::Edition;
use crate::document::{Begins, Document};

/// What nobody may leave behind: it ends every part on paper too.
pub(crate) use questions::report::CAUTION;

/// The book of a car.
pub(crate) fn of(edition: &Edition<'_>) -> Result<Document, Stop> {
    let mut said = Said::default();
    said.say(&ON, edition.day.to_string());
    // The question that reads most: prices and the logbook.
    let mut opened = questions::open(
        edition.cars,
        edition.car,
        &questions::lines::Ask,
        &said,
        edition.day,
    )?;
    opened.warn_of_the_logbook();
    let book = Asked {
        edition,
        opened: &opened,
        said: &said,
    };
    let mut drawn = Vec::new();
    let mut answers = Vec::new();
    for question in answers::IN_ORDER {
        let mut answer = book.asked(*question)?;
        answer.without_drawn(&mut drawn);
        answers.push(answer.part(Begins::WhereThereIsRoom));
    }
    // Last: its picture is that of the answer that it is about.
    let mut assessed = book.asked(&questions::assess::Ask)?;
    assessed.without_drawn(&mut drawn);
    let logbook = logbook::Extract::of(&opened);
    let mut parts = vec![opening::cover(&book, &assessed.report, &logbook)];
    parts.extend(opening::for_the_scrutineer(&book, &assessed.report));
    parts.push(assessed.part(Begins::OnItsOwn));
    parts.append(&mut answers);
    parts.push(logbook.part(&book)?);
    parts.push(workings::part(&book)?);
    parts.push(ends::rests_on(&book, &assessed.report));
    // What is taken out of it stands last.
    parts.extend(by_hand::sheets(&book));
    parts.push(ends::letter(&book));
    parts.push(dash_card::part(&book)?);
    let digest = opened.sheet.digest.to_string();
    let car = opened.car().name.to_string();
    Ok(Document {
        title: format!("Build book: {car}"),
        description: format!(
            "What was computed, plumbed and proved of {car}, on {}.",
            edition.day
        ),
        keywords: vec![
            format!("{}{digest}", crate::OF_SHEET),
            format!("logbook:{}", logbook.head()),
        ],
        running: format!("{car} · {} · sheet {}", edition.day, short(&digest)),
        day: edition.day,
        paper: edition.paper,
        parts,
    })
}

/// A digest, as far as a person compares it.
fn short(digest: &str) -> &str {
    digest.get(..12).unwrap_or(digest)
}

/// A car that is asked everything in the state that is taken when nothing is said.
pub(crate) struct Asked<'e> {
    pub(crate) edition: &'e Edition<'e>,
    pub(crate) opened: &'e Opened,
    pub(crate) said: &'e Said,
}

impl Asked<'_> {
    /// As a question is asked it.
    pub(crate) fn case(&self, question: &dyn Question) -> Result<Case<'_>, Wrong> {
        Ok(Case {
            opened: self.opened,
            said: self.said,
            sampling: self.said.sampling(question.draws())?,
            units: self.edition.units,
            brief: false,
        })
    }

    /// Asks it. A car that cannot be asked it says why in the place of an answer.
    fn asked(&self, question: &'static dyn Question) -> Result<reports::Reported, Wrong> {
        let case = self.case(question)?;
        Ok(reports::Reported::of(question, &case))
    }
}
