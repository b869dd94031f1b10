//! What `how` answers, as other programs read it.

use charts::{HowMeasured, Look};
use questions::measuring::{CARDS, Card, CardTold, Present};
use schemars::JsonSchema;
use serde::Serialize;

use super::CONTRACT;

/// The cards that there are.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ListView {
    contract: u32,
    rearline: &'static str,
    verb: &'static str,
    cards: Vec<CardView>,
}

/// One card.
#[derive(Serialize, JsonSchema)]
pub(crate) struct HowView {
    /// Rises when a key changes its meaning.
    contract: u32,
    /// Version of the program.
    rearline: &'static str,
    /// What was asked.
    verb: &'static str,
    #[serde(flatten)]
    card: CardView,
    /// The key of the sheet that was asked for.
    key: Option<&'static str>,
    /// How that key is found out, in a line.
    how: Option<&'static str>,
    /// What stands for it on the car that was named.
    present: Option<PresentView>,
    /// What the readings give.
    worked: Option<WorkedView>,
}

#[derive(Serialize, JsonSchema)]
struct CardView {
    /// Its name.
    card: &'static str,
    title: &'static str,
    tool: &'static str,
    steps: Vec<&'static str>,
    cautions: Vec<&'static str>,
    without_the_tool: &'static str,
    source: &'static str,
    /// Keys of the sheet that are measured so.
    keys: Vec<&'static str>,
    /// What its drawing marks.
    marks: Vec<MarkView>,
    /// What it works out.
    sums: Vec<SumView>,
}

#[derive(Serialize, JsonSchema)]
struct MarkView {
    mark: String,
    what: String,
}

#[derive(Serialize, JsonSchema)]
struct SumView {
    title: &'static str,
    formula: &'static str,
    /// Names of its readings, each with what it is.
    readings: Vec<MarkView>,
}

#[derive(Serialize, JsonSchema)]
struct PresentView {
    car: String,
    /// As a sheet writes it; null where there is nothing.
    value: Option<String>,
    /// Where it comes from, if not from the sheet.
    source: Option<String>,
    /// Whether the sheet says `guess`.
    guess: bool,
}

#[derive(Serialize, JsonSchema)]
struct WorkedView {
    sum: &'static str,
    /// As a sheet takes it, with its unit and its tolerance.
    value: String,
    /// What is unusual about it.
    mind: Option<String>,
}

impl ListView {
    /// All of them.
    pub(crate) fn all(verb: &'static str) -> Self {
        Self {
            contract: CONTRACT,
            rearline: env!("CARGO_PKG_VERSION"),
            verb,
            cards: CARDS.iter().map(|card| CardView::of(card)).collect(),
        }
    }
}

impl HowView {
    pub(crate) fn of(verb: &'static str, told: &CardTold) -> Self {
        let key = told.key.map(engine::car::KeyId::key);
        Self {
            contract: CONTRACT,
            rearline: env!("CARGO_PKG_VERSION"),
            verb,
            card: CardView::of(told.card),
            key: key.map(|key| key.path),
            how: key.map(|key| key.how),
            present: told
                .present
                .as_ref()
                .map(|(car, present)| PresentView::of(car, present)),
            worked: told.worked.as_ref().map(|(sum, worked)| WorkedView {
                sum: sum.title,
                value: worked.written.clone(),
                mind: worked.mind.clone(),
            }),
        }
    }
}

impl PresentView {
    fn of(car: &str, present: &Present) -> Self {
        let (value, source, guess) = match present {
            Present::Says(value) => (Some(value.clone()), None, false),
            Present::Taken {
                value, source, guess, ..
            } => (Some(value.clone()), Some(source.clone()), *guess),
            Present::Nothing => (None, None, false),
        };
        Self {
            car: car.to_owned(),
            value,
            source,
            guess,
        }
    }
}

impl CardView {
    fn of(card: &Card) -> Self {
        let marks = HowMeasured(card.drawing).draw(&Look::default()).table.rows;
        Self {
            card: card.name(),
            title: card.title(),
            tool: card.tool,
            steps: card.steps.to_vec(),
            cautions: card.cautions.to_vec(),
            without_the_tool: card.trick,
            source: card.source,
            keys: card.keys().map(|key| key.path).collect(),
            marks: marks
                .into_iter()
                .map(|mut row| MarkView {
                    what: row.pop().unwrap_or_default(),
                    mark: row.pop().unwrap_or_default(),
                })
                .collect(),
            sums: card
                .sums
                .iter()
                .map(|sum| SumView {
                    title: sum.title,
                    formula: sum.formula,
                    readings: sum
                        .asks
                        .iter()
                        .map(|ask| MarkView {
                            mark: ask.name.to_owned(),
                            what: ask.what.to_owned(),
                        })
                        .collect(),
                })
                .collect(),
        }
    }
}
