//! A question's report as pieces of the book, with its pictures.

use charts::{Look, Picture};
use questions::report::{Block, Report, Section};
use questions::{Answer, Case, Question};

use super::CAUTION;
use super::answers::DRAWN_IN_ITS_OWN;
use crate::document::{Begins, Part, Piece};

/// A question that was asked.
pub(super) struct Reported {
    pub(super) report: Report,
    /// Its own picture, and what its report names further ones.
    pictures: Vec<(Option<&'static str>, Picture)>,
}

impl Reported {
    pub(super) fn of(question: &dyn Question, case: &Case<'_>) -> Self {
        match question.answer(case) {
            Ok(answer) => {
                let report = answer.report();
                let pictures = drawn(case, &report, answer.as_ref());
                Self { report, pictures }
            }
            Err(wrong) => Self {
                report: Report::refused(question, case, &wrong),
                pictures: Vec::new(),
            },
        }
    }

    /// Leaves out what was drawn before.
    pub(super) fn without_drawn(&mut self, drawn: &mut Vec<String>) {
        self.pictures.retain(|(_, picture)| !drawn.contains(&picture.svg));
        drawn.extend(self.pictures.iter().map(|(_, picture)| picture.svg.clone()));
    }

    /// What it says, without a drawing.
    pub(super) fn without_pictures(self) -> Vec<Piece> {
        let told = Self {
            pictures: Vec::new(),
            ..self
        };
        told.part(Begins::OnItsOwn).pieces
    }

    /// A part of the book, under the question as people ask it.
    pub(super) fn part(&self, begins: Begins) -> Part {
        let report = &self.report;
        let mut pieces = vec![Piece::Headline(report.headline.clone())];
        for (name, picture) in &self.pictures {
            if name.is_none() {
                pieces.push(shown(picture));
            }
        }
        pieces.extend(report.findings.iter().cloned().map(Piece::Finding));
        // What stops the car stands in the answer above already.
        let stops = &report.headline.stops_first;
        let again = |section: &&Section| match section.blocks.as_slice() {
            [Block::List(items)] => !stops.is_empty() && items == stops,
            _ => false,
        };
        for section in report.sections.iter().filter(|section| !again(section)) {
            self::section(section, &self.pictures, &mut pieces);
        }
        let own = report.cautions.iter().filter(|caution| *caution != CAUTION);
        pieces.extend(own.cloned().map(Piece::Caution));
        Part {
            title: report.asked_as.to_owned(),
            begins,
            pieces,
        }
    }
}

/// Those that the answer has: its own first.
fn drawn(case: &Case<'_>, report: &Report, answer: &dyn Answer) -> Vec<(Option<&'static str>, Picture)> {
    let look = Look {
        // One for all: the same picture then has the same bytes, and is printed once.
        prefix: "book",
        units: case.units,
        head: false,
        listed: false,
        ..Look::default()
    };
    let further = report.sections.iter().flat_map(|section| &section.blocks);
    let further = further.filter_map(|block| match block {
        Block::Picture(name) => (!DRAWN_IN_ITS_OWN.contains(name)).then_some(*name),
        _ => None,
    });
    let own = (None, answer.draw(&look));
    std::iter::once(own)
        .chain(further.map(|name| (Some(name), answer.draw_more(name, &look))))
        .collect()
}

fn shown(picture: &Picture) -> Piece {
    Piece::Picture {
        svg: picture.svg.clone(),
        said: picture.said.clone(),
    }
}

/// A section with its head.
pub(super) fn section(section: &Section, pictures: &[(Option<&str>, Picture)], pieces: &mut Vec<Piece>) {
    let blocks = blocks(section, pictures);
    // What is pressed on a page leaves nothing on paper.
    if blocks.is_empty() {
        return;
    }
    pieces.push(Piece::Heading {
        level: 2,
        title: section.title.clone(),
        stroke: section.stroke,
    });
    pieces.extend(blocks);
}

/// What is in a section.
pub(super) fn blocks(section: &Section, pictures: &[(Option<&str>, Picture)]) -> Vec<Piece> {
    let blocks = section.blocks.iter();
    blocks
        .filter_map(|block| match block {
            Block::Details(facts) => Some(Piece::Details(facts.clone())),
            Block::Text(said) => Some(Piece::Text(said.clone())),
            Block::List(items) => (!items.is_empty()).then(|| Piece::List(items.clone())),
            Block::Table(table) => Some(Piece::Table {
                table: table.clone(),
                blanks: Vec::new(),
            }),
            Block::Ticks(ticks) => Some(Piece::Ticks(ticks.clone())),
            Block::Caution(said) => Some(Piece::Caution(said.clone())),
            Block::Picture(name) => {
                let mut pictures = pictures.iter();
                let drawn = pictures.find(|(of, _)| *of == Some(*name));
                drawn.map(|(_, picture)| shown(picture))
            }
            Block::Steps(steps) => Some(Piece::Steps(steps.clone())),
            Block::Choose(_)
            | Block::Offers(_)
            | Block::Reading(_)
            | Block::UnderWay { .. }
            | Block::Changed { .. } => None,
        })
        .collect()
}
