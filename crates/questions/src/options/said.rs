//! What was said, as text.

use core::ptr;

use engine::Conditions;
use engine::car::Date;
use engine::ranges::{self, DRAWS as USUAL_DRAWS, MOST_DRAWS, Sampling};
use quantity::si::{Force, Speed, Temperature};

use super::{
    AMBIENT, COLD, DRAWS, FACING, FUEL, GRIP, NO_CREW, ON, PROPOSAL, Row, SEED, SLOPE, SPEED, SURFACE, Shape,
    UNITS, VALVE, WITH,
};
use crate::opened::Changes;
use crate::state::{StateText, figure};
use crate::trouble::Wrong;

/// Options with what was said of each, in the order in which it was said.
#[derive(Clone, Debug, Default)]
pub struct Said {
    all: Vec<(&'static Row, String)>,
}

impl Said {
    /// Says something more.
    pub fn say(&mut self, row: &'static Row, text: impl Into<String>) {
        self.all.push((row, text.into()));
    }

    /// What was said of an option.
    #[must_use]
    pub fn text(&self, row: &Row) -> Option<&str> {
        self.every(row).next()
    }

    /// Whether anything was.
    #[must_use]
    pub fn has(&self, row: &Row) -> bool {
        self.text(row).is_some()
    }

    /// What was said of an option that may be said again and again.
    pub fn every<'s>(&'s self, row: &Row) -> impl Iterator<Item = &'s str> {
        self.all
            .iter()
            .filter(move |(said, _)| ptr::eq(*said, row))
            .map(|(_, text)| text.as_str())
    }

    /// The options of which something was said.
    pub fn rows(&self) -> impl Iterator<Item = &'static Row> {
        self.all.iter().map(|(row, _)| *row)
    }

    /// The same without what was said of some options.
    #[must_use]
    pub fn without(&self, rows: &[&Row]) -> Self {
        let stays = |said: &&(&'static Row, String)| !rows.iter().any(|row| ptr::eq(said.0, *row));
        Self {
            all: self.all.iter().filter(stays).cloned().collect(),
        }
    }

    /// Everything that is wrong with what was said, as far as it can be told without a car.
    #[must_use]
    pub fn wrong(&self) -> Wrong {
        let mut wrong = Wrong::default();
        for (row, text) in &self.all {
            let checked = match &row.value {
                Shape::Flag | Shape::Text(_) | Shape::Behind(_) | Shape::Many(_) => Ok(()),
                Shape::Count => count(row, text).map(|_| ()),
                Shape::Figure { dimension, range, .. } => {
                    figure(&row.dashed(), text, *dimension, *range).map(|_| ())
                }
                Shape::Read { check, .. } => check(text),
            };
            wrong.note(checked);
        }
        wrong.note(self.sampling(ranges::DRAWS));
        wrong
    }

    /// A figure, in SI; `None` where it was not said, or is wrong ([`Said::wrong`] tells).
    #[must_use]
    pub fn figure_si(&self, row: &Row) -> Option<f64> {
        let Shape::Figure { dimension, range, .. } = &row.value else {
            return None;
        };
        figure(&row.dashed(), self.text(row)?, *dimension, *range).ok()
    }

    /// A force.
    #[must_use]
    pub fn force(&self, row: &Row) -> Option<Force> {
        self.figure_si(row).map(Force::from_n)
    }

    /// Speed of the car; 50 km/h when nothing is said.
    #[must_use]
    pub fn speed(&self) -> Speed {
        Speed::from_m_s(self.figure_si(&SPEED).unwrap_or(Conditions::USUAL_SPEED.m_s()))
    }

    /// Temperature of the air; 15 °C when nothing is said.
    #[must_use]
    pub fn ambient(&self) -> Temperature {
        self.figure_si(&AMBIENT)
            .map_or(Conditions::USUAL_AIR, Temperature::from_k)
    }

    /// How often tolerances are drawn, as often as is `usual` where nothing is said, and from which seed.
    ///
    /// # Errors
    /// What is no whole number, or more draws than the sequence has.
    pub fn sampling(&self, usual: u32) -> Result<Sampling, Wrong> {
        let said = |row: &Row| self.text(row).and_then(|text| count(row, text).ok());
        sampling(Some(said(&DRAWS).unwrap_or(usual)), said(&SEED))
    }

    /// The state that the car is to be in.
    #[must_use]
    pub fn state(&self, today: Date) -> StateText {
        let text = |row: &Row| self.text(row).map(str::to_owned);
        StateText {
            surface: text(&SURFACE),
            grip: text(&GRIP),
            fuel: text(&FUEL),
            no_crew: self.has(&NO_CREW),
            cold: self.has(&COLD),
            slope: text(&SLOPE),
            facing: text(&FACING),
            on: text(&ON),
            today,
        }
    }

    /// What is to be other than on the sheet.
    #[must_use]
    pub fn changes(&self) -> Changes {
        Changes {
            proposal: self.text(&PROPOSAL).map(str::to_owned),
            with: self.every(&WITH).map(str::to_owned).collect(),
            valve: self.text(&VALVE).map(str::to_owned),
        }
    }

    /// The units to show, as they were asked for.
    #[must_use]
    pub fn units(&self) -> Option<&str> {
        self.text(&UNITS)
    }
}

fn count(row: &Row, text: &str) -> Result<u32, Wrong> {
    text.trim().parse().map_err(|_| {
        let what = format!("`{}` is no whole number", text.trim());
        let remedy = "write a count without a unit, such as 256".to_owned();
        Wrong::option(&row.dashed(), text, 0..text.len(), "not-a-count", what, remedy)
    })
}

/// How many draws, and from which seed; `None`: the usual.
///
/// # Errors
/// More draws than the sequence has.
pub fn sampling(draws: Option<u32>, seed: Option<u32>) -> Result<Sampling, Wrong> {
    let draws = draws.unwrap_or(USUAL_DRAWS);
    if draws > MOST_DRAWS {
        let what = format!("{draws} draws are more than the sequence has");
        let remedy = format!("ask for {MOST_DRAWS} at most; {USUAL_DRAWS} are usual, 0 for none");
        return Err(Wrong::plain("--draws", "too-many-draws", what, remedy));
    }
    Ok(Sampling {
        draws,
        seed: seed.unwrap_or(Sampling::default().seed),
    })
}
