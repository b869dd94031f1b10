//! What would help most: parts and settings of the car changed one by one, each driven at its own best moment and judged
//! as the car itself, with what it asks of the hand.

use engine::Conditions;
use engine::car::{Assembled, Car};
use engine::gains::{TurnStanding, stand};
use engine::thresholds::WORTH_GAINING;
use engine::turn::{Technique, TurnVerdict};
use quantity::si::Angle;
use wording::{NONE, Units};

use crate::parts::parts;
use crate::question::Case;
use crate::report::{Block, Section, Table, TableRow};

/// Keys of what is tried, in the trade's order of doing: the coupling let go, what bites, what pushes, what turns.
const TRIED: [&str; 8] = [
    "drivetrain.centre.kind",
    "rear_brake.pad.friction",
    "rear_brake.lining.friction",
    "lever.bore",
    "lever.ratio",
    "drivetrain.rear_diff.kind",
    "bias_valve.place",
    ROLL_SHARE,
];
const ROLL_SHARE: &str = "geometry.roll_share_front";
/// How far the front's share of the roll is moved by another bar or its setting (judgement).
const ROLL_BY: f64 = 0.10;
/// How many are told.
const MOST: usize = 3;

/// What was tried, and what of it gains most.
#[derive(Debug)]
pub struct Helps {
    /// The car as it is, at its own best moment.
    pub as_it_is: TurnStanding,
    /// The best of each part that gains, the most first.
    pub gains: Vec<Change>,
    /// Whether a change would turn it further only because the driver's pull then stops the rear wheels no more.
    pub weakens: bool,
    /// Parts of which no change gains.
    pub idle: Vec<&'static str>,
}

/// One change.
#[derive(Clone, Debug)]
pub struct Change {
    /// What is changed: `lever bore`.
    pub part: &'static str,
    /// To what.
    pub to: String,
    /// Keys of the sheet that make it so, `KEY=VALUE`.
    pub sets: Vec<String>,
    /// What the car then comes to.
    pub stands: TurnStanding,
}

impl Helps {
    /// Of a car and a technique; `None` where the car itself cannot be run.
    pub(super) fn of(case: &Case<'_>, technique: &Technique) -> Option<Self> {
        let opened = case.opened;
        let conditions = Conditions {
            speed: case.said.speed(),
            ..opened.state.conditions.clone()
        };
        let tried: Vec<(&'static str, String, Vec<String>, Assembled)> = changes(case)
            .into_iter()
            .filter_map(|(part, to, sets)| {
                let assembled = opened.fitted(&sets).ok()?;
                Some((part, to, sets, assembled))
            })
            .collect();
        let cars: Vec<&Car> = core::iter::once(opened.car())
            .chain(tried.iter().map(|(.., assembled)| &assembled.car))
            .collect();
        let mut found = stand(&cars, &conditions, technique).into_iter();
        let as_it_is = found.next()?.ok()?;
        let mut best: Vec<Change> = Vec::new();
        let mut parts: Vec<&'static str> = Vec::new();
        let mut weaker: Vec<&'static str> = Vec::new();
        for ((part, to, sets, _), stands) in tried.into_iter().zip(found) {
            if !parts.contains(&part) {
                parts.push(part);
            }
            let Ok(stands) = stands else { continue };
            if !gains(&stands, &as_it_is) {
                continue;
            }
            // What turns it by doing less is a weaker pull, and costs what the lever is there for.
            if stands.falls_short_of(&as_it_is, technique.hand) {
                weaker.push(part);
                continue;
            }
            let help = Change {
                part,
                to,
                sets,
                stands,
            };
            match best.iter_mut().find(|known| known.part == part) {
                Some(known) if known.stands.order(&help.stands).is_lt() => *known = help,
                Some(_) => {}
                None => best.push(help),
            }
        }
        // Those that gain alike stay in the order in which they are tried.
        best.sort_by(|one, other| other.stands.order(&one.stands));
        parts.retain(|part| !best.iter().any(|help| help.part == *part));
        Some(Self {
            as_it_is,
            gains: best,
            weakens: !weaker.is_empty(),
            idle: parts,
        })
    }

    /// Those that are told.
    #[must_use]
    pub fn most(&self) -> &[Change] {
        self.gains.get(..MOST).unwrap_or(&self.gains)
    }
}

/// Whether it is worth more than what nobody feels.
fn gains(stands: &TurnStanding, as_it_is: &TurnStanding) -> bool {
    let word = |stands: &TurnStanding| stands.brief.verdict;
    let further = stands
        .gains_on(as_it_is)
        .is_some_and(|gain| gain >= WORTH_GAINING);
    stands.order(as_it_is).is_gt() && (word(stands) != word(as_it_is) || further)
}

/// Every change that is tried: part, to what, keys.
fn changes(case: &Case<'_>) -> Vec<(&'static str, String, Vec<String>)> {
    let mut all: Vec<(&'static str, &'static str, String, Vec<String>)> = Vec::new();
    for part in parts(case.opened) {
        let others = part.choices.into_iter().filter(|choice| !choice.is_now);
        all.extend(others.map(|choice| (part.key, part.name, choice.label, choice.sets)));
    }
    let share = case.opened.car().geometry.roll_share_front;
    for to in [share - ROLL_BY, share + ROLL_BY] {
        if (0.0..=1.0).contains(&to) {
            let to = wording::entered(to);
            all.push((
                ROLL_SHARE,
                "front share of roll",
                to.clone(),
                vec![format!("{ROLL_SHARE}={to}")],
            ));
        }
    }
    let mut kept = Vec::new();
    for key in TRIED {
        let of_key = all.iter().filter(|(of, ..)| *of == key);
        kept.extend(of_key.map(|(_, part, to, sets)| (*part, to.clone(), sets.clone())));
    }
    kept
}

/// The answer's part of it.
pub(super) fn section(helps: &Helps, units: &Units) -> Section {
    let comes_round = helps.as_it_is.brief.verdict == TurnVerdict::ComesRound;
    let title = if comes_round {
        "What would help most"
    } else {
        "What would turn it"
    };
    let most = helps.most();
    let summary = match most.first() {
        Some(help) => format!("{}: {}", help.part, help.to),
        None => "nothing that was tried".to_owned(),
    };
    let mut section = Section::new(title, summary, None);
    if !most.is_empty() {
        section = section.with(Block::Table(table(helps, units)));
        let more = helps.gains.len().saturating_sub(most.len());
        if more > 0 {
            let names: Vec<String> = helps.gains[MOST..]
                .iter()
                .map(|help| help.part.to_owned())
                .collect();
            section = section.with(Block::Text(format!(
                "Less is gained by: {}.",
                wording::list(&names)
            )));
        }
    }
    if !helps.idle.is_empty() {
        let names: Vec<String> = helps.idle.iter().map(|part| (*part).to_owned()).collect();
        section = section.with(Block::Text(format!(
            "These gain nothing alone: {}.",
            wording::list(&names)
        )));
    }
    if helps.weakens {
        section = section.with(Block::Text(
            "Left out: what turns it further only because this pull no longer stops the rear. Pulling less does the same."
                .to_owned(),
        ));
    }
    section.with(Block::Text(
        "Each was driven by itself, let go at its own best moment, and judged as this car is.".to_owned(),
    ))
}

fn table(helps: &Helps, units: &Units) -> Table {
    let row = |name: String, stands: &TurnStanding, gain: Option<Angle>| {
        let gave = stands.brief.judged.lever_gave;
        TableRow::from(vec![
            name,
            stands.brief.verdict.words().to_owned(),
            gave.map_or_else(|| NONE.to_owned(), wording::degrees),
            gain.map_or_else(|| NONE.to_owned(), wording::degrees),
            stands
                .hand
                .map_or_else(|| NONE.to_owned(), |hand| units.say_force(hand)),
            stands.travel.map_or_else(
                || NONE.to_owned(),
                |travel| {
                    let travel = wording::figure(travel.m(), units.length);
                    if stands.runs_out {
                        format!("{travel}, more than there is")
                    } else {
                        travel
                    }
                },
            ),
        ])
    };
    let mut rows = vec![TableRow {
        own: true,
        ..row("as it is".to_owned(), &helps.as_it_is, None)
    }];
    rows.extend(helps.most().iter().map(|help| TableRow {
        tries: help.sets.clone(),
        ..row(
            format!("{}: {}", help.part, help.to),
            &help.stands,
            help.stands.gains_on(&helps.as_it_is),
        )
    }));
    Table {
        caption: "The changes that gain most, and what each asks of the hand".to_owned(),
        heads: [
            "change",
            "the car",
            "lever gives",
            "more by",
            "pull to lock",
            "travel to lock",
        ]
        .map(str::to_owned)
        .to_vec(),
        names_row: 0,
        rows,
        of_words: false,
    }
}
