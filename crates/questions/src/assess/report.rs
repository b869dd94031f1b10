//! The assessment, as it is shown.

use assess::cautions::FIRST_DRIVE;
use engine::figures::Headlined;
use engine::thresholds::LATE;
use engine::turn::TurnVerdict;
use wording::{Measured, Units};

use super::Ask;
use super::outcome::Outcome;
use crate::opened::Opened;
use crate::options::ALL_OF_IT;
use crate::question::{Case, Question as _};
use crate::report::{Block, Choice, Detail, Figure, Headline, Limit, Report, Section, Side};
use crate::sure::{readings, words};

/// Sentences beside the verdict that are read at once.
const AT_ONCE: usize = 3;

/// Where the rest of what to measure stands.
const MORE_OF_IT: &str =
    "The question \"How sure is it?\" has this for every figure, and the readings to take.";

/// Of a car with readings: what its ranges are of, in short and in full.
const OF_TOLERANCES: (&str, &str) = (
    "of the sheet's tolerances, without its readings",
    "Ranges here are of the sheet's tolerances. What the readings leave of them stands under \"How sure is it?\".",
);

/// Figures that explain themselves.
const EXPLAINED: [&str; 4] = ["front_first_by", "in_hand", "hand_force_n", "travel_m"];

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let assessment = &outcome.assessment;
    let mut report = Report::of(&Ask, case, headline(case.opened, outcome, &case.units));
    report.folded = !case.said.has(&ALL_OF_IT);
    report.findings = assessment.findings.clone();
    let more = assessment.answer.though.get(AT_ONCE..).unwrap_or_default();
    if !more.is_empty() {
        let summary = format!("{} more", more.len());
        report.section(Section::new("What else decides it", summary, None).with(Block::List(more.to_vec())));
    }
    if let Some(lead) = lead(outcome) {
        report.section(lead);
    }
    if let Some(turns) = would_turn(outcome) {
        report.section(turns);
    }
    if !assessment.measure_next.is_empty() {
        let items = assessment
            .measure_next
            .iter()
            .map(|next| {
                format!(
                    "`{}`: settles {} of {}. {}",
                    next.key,
                    wording::per_cent(next.settles),
                    words::name(next.figure),
                    next.how
                )
            })
            .collect();
        let summary = wording::readings(assessment.measure_next.len());
        report.section(
            Section::new("Measure next", summary, None)
                .with(Block::List(items))
                .with(Block::Text(MORE_OF_IT.to_owned())),
        );
    }
    if readings(case.opened) > 0 {
        report.section(
            Section::new("Ranges", OF_TOLERANCES.0, None).with(Block::Text(OF_TOLERANCES.1.to_owned())),
        );
    }
    if !assessment.comes_out.is_empty() {
        let facts = assessment
            .comes_out
            .iter()
            .map(|part| {
                let text = format!("{}; in its place: {}", part.did, part.replaced_by);
                Detail::new(part.part.clone(), text)
            })
            .collect();
        let parts: Vec<String> = assessment
            .comes_out
            .iter()
            .map(|part| part.part.clone())
            .collect();
        report
            .section(Section::new("What comes out", wording::list(&parts), None).with(Block::Details(facts)));
    }
    // The first drive stands at the foot of every answer already.
    let others = assessment
        .cautions
        .iter()
        .filter(|caution| **caution != FIRST_DRIVE);
    for caution in others {
        report.caution(*caution);
    }
    report.explain(&EXPLAINED);
    report
}

fn headline(opened: &Opened, outcome: &Outcome, units: &Units) -> Headline {
    let answer = &outcome.assessment.answer;
    Headline {
        stamp: answer.said.to_owned(),
        frame: outcome.frame(),
        because: answer.because.clone(),
        though: answer.though.iter().take(AT_ONCE).cloned().collect(),
        stops_first: answer
            .stops_first
            .iter()
            .map(|(_, title)| title.clone())
            .collect(),
        figures: figures(opened, outcome, units),
        first: answer.first.clone(),
    }
}

/// The hand's three figures; those of the foot where there is no lever.
fn figures(opened: &Opened, outcome: &Outcome, units: &Units) -> Vec<Figure> {
    let headlines = &outcome.figures.headlines;
    let middle = &headlines.middle;
    let range = |figure: Headlined| headlines.range(|headline| figure.of(headline));
    let lever = opened.car().lever.as_ref();
    let limit = |name: &'static str, shown: Measured, side: Side| {
        Some(Limit {
            name,
            shown: shown.value,
            side,
        })
    };
    let mut figures = Vec::new();
    if let Some(in_hand) = middle.in_hand {
        figures.push(Figure {
            name: "torque there is over torque needed",
            measured: Measured::per_cent(in_hand, range(Headlined::InHand)),
            limit: limit("prompt from", Measured::per_cent(LATE, None), Side::AtLeast),
            working: Some("in_hand"),
        });
    }
    if let (Some(hand), Some(lever)) = (middle.hand, lever) {
        figures.push(Figure {
            name: "pull needed",
            measured: Measured::known(
                hand.n(),
                range(Headlined::HandForce),
                outcome.precision.hand,
                units.force,
            ),
            limit: limit(
                "driver's pull",
                Measured::new(lever.hand_pull.n(), None, units.force),
                Side::AtMost,
            ),
            working: Some("hand_force_n"),
        });
    }
    if let (Some(travel), Some(lever)) = (middle.travel, lever) {
        figures.push(Figure {
            name: "travel at the grip",
            measured: Measured::known(
                travel.m(),
                range(Headlined::Travel),
                outcome.precision.travel,
                units.length,
            ),
            limit: limit(
                "room",
                Measured::new(lever.room.m(), None, units.length),
                Side::AtMost,
            ),
            working: Some("travel_m"),
        });
    }
    if let Some(lead) = middle
        .front_first_by
        .filter(|lead| lead.is_finite() && figures.is_empty())
    {
        figures.push(Figure {
            name: "front leads by",
            measured: Measured::per_cent(lead, range(Headlined::FrontFirstBy)),
            limit: limit("rear first below", Measured::per_cent(0.0, None), Side::AtLeast),
            working: Some("front_first_by"),
        });
    }
    figures
}

/// The way to what would turn it, where a lever does not: the turn's own answer drives every change, which takes longer.
fn would_turn(outcome: &Outcome) -> Option<Section> {
    let turned = outcome.figures.turned.as_ref().ok()?;
    if turned.turn.verdict == TurnVerdict::ComesRound {
        return None;
    }
    let choice = Choice {
        label: "What would turn it".to_owned(),
        text: "the three changes that gain most, each driven, with what it asks of the hand".to_owned(),
        asks: Some(crate::turn::Ask.name()),
        ..Choice::default()
    };
    let said = format!(
        "now it {}; the turn says what gains most",
        turned.turn.verdict.words()
    );
    Some(Section::new("What would turn it", said, None).with(Block::Choose(vec![choice])))
}

/// What the foot does, in a line: the question of the balance has the whole of it.
fn lead(outcome: &Outcome) -> Option<Section> {
    let headlines = &outcome.figures.headlines;
    let lead = headlines.middle.front_first_by.filter(|lead| lead.is_finite())?;
    let range = headlines.range(|headline| Headlined::FrontFirstBy.of(headline));
    let said = format!("at first lock {}", wording::lead(lead, range));
    let text = crate::report::sentence(&said);
    Some(Section::new("Under the foot", said, None).with(Block::Text(text)))
}
