//! The answer of every question: its outcome, with how that is told.

use charts::{Look, Picture};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use crate::question::{Answer, Case, Question};
use crate::report::Report;
use crate::result::{CsvTable, Headed, to_json};

/// How the outcome of a question is told. Each is a function of the question's own folder.
pub(crate) struct Tells<Outcome, View> {
    /// To people.
    pub(crate) report: fn(&Case<'_>, &Outcome) -> Report,
    /// To other programs, behind the head that all have.
    pub(crate) result: fn(&Case<'_>, &Outcome) -> View,
    /// As a picture.
    pub(crate) picture: fn(&Case<'_>, &Outcome, &Look<'_>) -> Picture,
}

/// An outcome of a question that was asked of a car.
pub(crate) struct Answered<'a, Outcome, View> {
    question: &'static dyn Question,
    case: Case<'a>,
    outcome: Outcome,
    tells: Tells<Outcome, View>,
    more: Option<More<Outcome>>,
    above: Option<Above<Outcome>>,
    tables: fn(&Outcome) -> Vec<CsvTable>,
}

/// The car from above.
type Above<Outcome> = fn(&Case<'_>, &Outcome, &Look<'_>) -> Picture;

/// A further picture, by the name that the report gives it.
type More<Outcome> = fn(&Case<'_>, &Outcome, &str, &Look<'_>) -> Picture;

impl<'a, Outcome, View> Answered<'a, Outcome, View> {
    /// Of a question, what came out, and how that is told.
    pub(crate) fn new(
        question: &'static dyn Question,
        case: &Case<'a>,
        outcome: Outcome,
        tells: Tells<Outcome, View>,
    ) -> Box<Self> {
        Box::new(Self {
            question,
            case: *case,
            outcome,
            tells,
            more: None,
            above: None,
            tables: |_| Vec::new(),
        })
    }

    /// With what stands at the wheels of the car from above.
    pub(crate) fn with_above(mut self: Box<Self>, above: Above<Outcome>) -> Box<Self> {
        self.above = Some(above);
        self
    }

    /// With further pictures.
    pub(crate) fn with_more(mut self: Box<Self>, more: More<Outcome>) -> Box<Self> {
        self.more = Some(more);
        self
    }

    /// With tables for a spreadsheet.
    pub(crate) fn with_tables(mut self: Box<Self>, tables: fn(&Outcome) -> Vec<CsvTable>) -> Box<Self> {
        self.tables = tables;
        self
    }
}

impl<Outcome, View: Serialize + JsonSchema> Answer for Answered<'_, Outcome, View> {
    fn report(&self) -> Report {
        (self.tells.report)(&self.case, &self.outcome)
    }

    fn result(&self) -> Result<Value, serde_json::Error> {
        to_json(&Headed {
            head: self.question.head(&self.case),
            answer: (self.tells.result)(&self.case, &self.outcome),
        })
    }

    fn tables(&self) -> Vec<CsvTable> {
        (self.tables)(&self.outcome)
    }

    fn draw(&self, look: &Look<'_>) -> Picture {
        (self.tells.picture)(&self.case, &self.outcome, &self.case.look(look))
    }

    fn above(&self, look: &Look<'_>) -> Option<Picture> {
        let above = self.above?;
        Some(above(&self.case, &self.outcome, look))
    }

    fn draw_more(&self, name: &str, look: &Look<'_>) -> Picture {
        match self.more {
            Some(more) => more(&self.case, &self.outcome, name, &self.case.look(look)),
            None => self.draw(look),
        }
    }
}
