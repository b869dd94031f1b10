//! What a question answers of both.

use serde_json::Value;

use crate::opened::{Beside, Changes, Opened, Sheet};
use crate::options::compared::{COMPARED, asked};
use crate::options::{
    AGAINST, ASKED, BORES, CSV, MAP, OTHER, PROPOSAL, RATIOS, SEARCH, SVG, Said, VALVE, WITH,
};
use crate::parts::parts;
use crate::proposals::{self, ProposedKey};
use crate::question::{Case, Question};
use crate::report::{Headline, Report};
use crate::trouble::{Stop, Wrong};

/// One of both.
#[derive(Debug)]
pub struct OneOfBoth {
    /// What it is called here: `as it is`.
    pub label: String,
    /// What is read of it in one look.
    pub headline: Headline,
    /// The whole result, for other programs.
    pub result: Value,
}

/// What came out.
pub struct Outcome {
    /// What was asked of both.
    pub question: &'static dyn Question,
    /// As it is, or the car that was named first.
    pub first: OneOfBoth,
    /// As proposed, or the other car; `None` where nothing is proposed.
    pub second: Option<OneOfBoth>,
    /// What is other than on the sheet, of one car.
    pub changed: Vec<ProposedKey>,
    /// Parts of two cars that are not the same: name, and what each has.
    pub unlike: Vec<(&'static str, String, String)>,
    /// What is not the same for both.
    pub mind: Option<&'static str>,
    /// Names of the proposals that are kept beside the car.
    pub kept: Vec<String>,
}

/// What is proposed of a car is called so.
const PROPOSED: &str = "as proposed";

/// What is said of a question that is asked of both: what is usual where nothing is, and nothing of the comparison itself.
pub(super) fn said_of(question: &dyn Question, case: &Case<'_>) -> Said {
    let mut said = case.said.without(&[
        &OTHER, &AGAINST, &ASKED, &BORES, &RATIOS, &CSV, &SVG, &MAP, &SEARCH,
    ]);
    for (row, stands) in question.usual(case) {
        if !said.has(row) && *row != BORES {
            said.say(row, row.in_full(&format!("{stands}"), false));
        }
    }
    said
}

/// The car as its sheet has it, in the state that this one is asked in.
///
/// # Errors
/// Its sheet makes no car; it knows no such ground.
pub fn as_it_is(case: &Case<'_>) -> Result<Opened, Stop> {
    let sheet = &case.opened.sheet;
    let as_read = Sheet {
        folder: sheet.folder.clone(),
        digest: sheet.digest,
        read: sheet::read(sheet.read.text().as_bytes(), &sheet.path()),
    };
    let state = case.said.state(case.opened.state.day);
    Opened::of_sheet(as_read, &Changes::default(), &state)
}

/// One side: the question asked of a car.
pub(super) fn side(
    label: &str,
    question: &'static dyn Question,
    opened: &Opened,
    case: &Case<'_>,
) -> OneOfBoth {
    let case = Case { opened, ..*case };
    let said = said_of(question, &case);
    let mut sampling = case.sampling;
    sampling.draws = sampling.draws.min(question.draws());
    let case = Case {
        said: &said,
        sampling,
        ..case
    };
    let (headline, result) = match question.answer(&case) {
        Ok(answer) => (answer.report().headline, answer.result().unwrap_or(Value::Null)),
        Err(wrong) => (Report::refused(question, &case, &wrong).headline, Value::Null),
    };
    OneOfBoth {
        label: label.to_owned(),
        headline,
        result,
    }
}

impl Outcome {
    /// Whether both are one car, as it is and as proposed.
    #[must_use]
    pub fn is_of_one_car(&self) -> bool {
        self.second.as_ref().is_none_or(|second| second.label == PROPOSED)
    }

    /// Of a car and what is proposed of it, or of two cars.
    ///
    /// # Errors
    /// A question that is not compared; a sheet that makes no car.
    pub fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        let name = asked(case.said.text(&ASKED).unwrap_or(COMPARED[0]))?;
        let question = crate::named(name).unwrap_or(&crate::assess::Ask);
        let opened = case.opened;
        let kept = proposals::names(&opened.sheet.folder).unwrap_or_default();
        if let Some(beside) = &opened.beside {
            let other = Case {
                said: &case.said.without(&[&WITH, &VALVE, &PROPOSAL]),
                ..*case
            };
            let Beside { opened: second, mind } = &**beside;
            return Ok(Self {
                question,
                first: side(opened.sheet.name(), question, opened, case),
                second: Some(side(second.sheet.name(), question, second, &other)),
                changed: proposals::changed(opened),
                unlike: unlike(opened, second),
                mind: *mind,
                kept,
            });
        }
        let mut outcome = Self {
            question,
            first: side("as it is", question, opened, case),
            second: None,
            changed: Vec::new(),
            unlike: Vec::new(),
            mind: None,
            kept,
        };
        if opened.overrides.is_empty() {
            return Ok(outcome);
        }
        let (first, second) = both(question, case)?;
        outcome.first = first;
        outcome.second = Some(second);
        outcome.changed = proposals::changed(opened);
        Ok(outcome)
    }
}

/// Both sides of a car of which something is proposed.
pub(super) fn both(
    question: &'static dyn Question,
    case: &Case<'_>,
) -> Result<(OneOfBoth, OneOfBoth), Wrong> {
    let plain = as_it_is(case).map_err(|stop| match stop {
        Stop::Wrong(wrong) | Stop::File(wrong) => wrong,
    })?;
    let without = Case {
        said: &case.said.without(&[&WITH, &VALVE, &PROPOSAL]),
        ..*case
    };
    Ok((
        side("as it is", question, &plain, &without),
        side(PROPOSED, question, case.opened, case),
    ))
}

fn unlike(first: &Opened, second: &Opened) -> Vec<(&'static str, String, String)> {
    const NONE: &str = "none";
    let (first, second) = (parts(first), parts(second));
    let now = |parts: &[crate::parts::Exchangeable], name: &str| {
        let part = parts.iter().find(|part| part.name == name);
        part.map_or_else(|| NONE.to_owned(), |part| part.now.clone())
    };
    let mut names: Vec<&'static str> = first.iter().map(|part| part.name).collect();
    names.extend(second.iter().map(|part| part.name));
    let mut seen = std::collections::BTreeSet::new();
    names
        .into_iter()
        .filter(|name| seen.insert(*name))
        .map(|name| (name, now(&first, name), now(&second, name)))
        .filter(|(_, first, second)| first != second)
        .collect()
}
