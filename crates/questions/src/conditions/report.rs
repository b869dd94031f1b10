//! The set-up card, as it is shown.

use ::assess::Verdict;
use charts::{CellFrame, StateCell, StatesGrid};
use engine::balance::First;
use engine::brake::Warmth;
use engine::loads::Fuel;
use engine::thresholds::LATE;
use wording::{Measured, Units};

use super::Ask;
use super::outcome::{Outcome, StateAnswer};
use crate::options::{COLD, FUEL, SURFACE};
use crate::question::{Case, Question as _};
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Lead, Limit, Report, Section, Side, Table, TableRow,
};

/// What a cell says without a figure.
const NONE: &str = "–";

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let mut report = Report::of(&Ask, case, headline(case, outcome));
    report.state = crate::aboard_in_words(case.opened, &case.units);
    let stops = &report.headline.stops_first;
    if let [_, _, ..] = stops.as_slice() {
        let summary = format!("{} of them, in one state or another", stops.len());
        let stops = Block::List(stops.clone());
        report.section(Section::new("What stops the car first", summary, None).with(stops));
    }
    if !case.brief {
        let states = outcome.states.len();
        let summary = format!("{states} states, worst first");
        report.section(
            Section::new("State by state", summary, None).with(Block::Table(table(outcome, &case.units))),
        );
    }
    report.section(varies(case, outcome));
    report
}

fn headline(case: &Case<'_>, outcome: &Outcome) -> Headline {
    let Some(worst) = outcome.worst() else {
        return Headline {
            stamp: "Nothing to ask".to_owned(),
            frame: Frame::Broken,
            because: "No ground is known to this car.".to_owned(),
            though: Vec::new(),
            stops_first: Vec::new(),
            figures: Vec::new(),
            first: None,
        };
    };
    let (stamp, frame) = stamp(outcome, worst);
    let mut though = Vec::new();
    if worst.verdict != Verdict::NoLever {
        though.push(worst.because.clone());
        though.push(counted(outcome));
    }
    let all = outcome.states.len();
    let leads = outcome.count(StateAnswer::rear_leads);
    though.push(match leads {
        0 => "The rear locks first under the foot in none of them.".to_owned(),
        some if some == all => "The rear locks first under the foot in all of them.".to_owned(),
        some => format!("The rear locks first under the foot in {some} of {all} states."),
    });
    if !outcome.drawn {
        though.push("Tolerances were not looked at.".to_owned());
    }
    let mut stops_first: Vec<String> = Vec::new();
    for stop in outcome.states.iter().flat_map(|state| &state.stops) {
        if !stops_first.contains(stop) {
            stops_first.push(stop.clone());
        }
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because: because(worst),
        though,
        stops_first,
        figures: figures(case, outcome),
        first: worst.first.clone(),
    }
}

/// The worst decides.
fn stamp(outcome: &Outcome, worst: &StateAnswer) -> (&'static str, Frame) {
    let all = |verdict: Verdict| outcome.count(|state| state.verdict == verdict) == outcome.states.len();
    match worst.verdict {
        Verdict::Yes => ("Yes, in every state", Frame::Solid),
        Verdict::Half if all(Verdict::Half) => ("Half, in every state", Frame::Heavy),
        Verdict::Half => ("Half at worst", Frame::Heavy),
        Verdict::Open if all(Verdict::Open) => ("Not yet known", Frame::Broken),
        Verdict::Open => ("Not known in some", Frame::Broken),
        Verdict::No | Verdict::NotWithThisCentre => {
            let some = outcome.count(|state| matches!(state.verdict, Verdict::Yes | Verdict::Half));
            let stamp = if some > 0 { "Not everywhere" } else { "No, in none" };
            (stamp, Frame::Heavy)
        }
        Verdict::NoLever => match outcome.count(StateAnswer::rear_leads) {
            0 => ("No handbrake; front first", Frame::Broken),
            _ => ("Rear first at worst", Frame::Broken),
        },
    }
}

fn because(worst: &StateAnswer) -> String {
    // What is not known is not the least that is known.
    let place = format!(
        "{} on {}, {}, {}",
        if worst.verdict == Verdict::Open {
            "Not known"
        } else {
            "Worst"
        },
        worst.surface.name,
        tank(worst.fuel),
        warmth(worst.warmth)
    );
    match (worst.in_hand, worst.front_first_by) {
        (Some(in_hand), _) => format!("{place}: {} of the torque.", wording::per_cent(in_hand)),
        (None, Some(lead)) => format!("{place}: {}.", wording::lead(lead, None)),
        (None, None) => format!("{place}."),
    }
}

/// `Yes in 4 of 18 states, half in 6, no in 8.`
fn counted(outcome: &Outcome) -> String {
    let all = outcome.states.len();
    let words = [
        ("yes", &[Verdict::Yes][..]),
        ("half", &[Verdict::Half]),
        ("not known", &[Verdict::Open]),
        ("no", &[Verdict::No, Verdict::NotWithThisCentre]),
    ];
    let mut said: Vec<String> = Vec::new();
    for (word, verdicts) in words {
        let count = outcome.count(|state| verdicts.contains(&state.verdict));
        match (count, said.is_empty()) {
            (0, _) => {}
            (count, true) => said.push(format!("{word} in {count} of {all} states")),
            (count, false) => said.push(format!("{word} in {count}")),
        }
    }
    crate::report::sentence(&said.join(", "))
}

fn figures(case: &Case<'_>, outcome: &Outcome) -> Vec<Figure> {
    let least = |figure: fn(&StateAnswer) -> Option<f64>| {
        let all = outcome.states.iter().filter_map(figure);
        all.min_by(f64::total_cmp)
    };
    let limit = |name: &'static str, shown: Measured, side: Side| {
        Some(Limit {
            name,
            shown: shown.value,
            side,
        })
    };
    let units = &case.units;
    let mut figures = Vec::new();
    if let Some(in_hand) = least(|state| state.in_hand) {
        figures.push(Figure {
            name: "least torque there is over torque needed",
            measured: Measured::per_cent(in_hand, None),
            limit: limit("prompt from", Measured::per_cent(LATE, None), Side::AtLeast),
            working: None,
        });
    }
    let most = outcome.states.iter().filter_map(|state| Some(state.hand?.n()));
    if let (Some(hand), Some(pull)) = (most.max_by(f64::total_cmp), outcome.pull) {
        figures.push(Figure {
            name: "most pull needed",
            measured: Measured::known(hand, None, case.precision().hand, units.force),
            limit: limit(
                "driver's pull",
                Measured::new(pull.n(), None, units.force),
                Side::AtMost,
            ),
            working: None,
        });
    }
    if let Some(lead) = least(|state| state.front_first_by) {
        figures.push(Figure {
            name: "front leads at least by",
            measured: Measured::per_cent(lead, None),
            limit: limit("rear first below", Measured::per_cent(0.0, None), Side::AtLeast),
            working: None,
        });
    }
    figures
}

/// A row a ground and load, the worst first; each state leads to its assessment.
fn table(outcome: &Outcome, units: &Units) -> Table {
    let mut rows: Vec<Vec<&StateAnswer>> = Vec::new();
    for state in &outcome.states {
        let same = |row: &&mut Vec<&StateAnswer>| {
            row.iter()
                .all(|other| other.surface.name == state.surface.name && other.fuel == state.fuel)
        };
        match rows.iter_mut().find(same) {
            Some(row) => row.push(state),
            None => rows.push(vec![state]),
        }
    }
    rows.sort_by(|one, other| match (worst_of(one), worst_of(other)) {
        (Some(one), Some(other)) => one.against(other),
        _ => core::cmp::Ordering::Equal,
    });
    let warmths: Vec<Warmth> = rows
        .first()
        .map_or_else(Vec::new, |row| row.iter().map(|state| state.warmth).collect());
    let mut heads = vec!["ground".to_owned(), "fuel".to_owned()];
    for warm in warmths {
        let name = if warm == Warmth::Cold { "cold" } else { "warm" };
        heads.push(name.to_owned());
        heads.push("in hand".to_owned());
        heads.push("leads".to_owned());
    }
    let rows = rows
        .iter()
        .filter_map(|row| row.first().map(|first| (row, first)))
        .map(|(row, first)| {
            let mut cells = vec![first.surface.name.to_string(), wording::fuel(first.litres, units)];
            let mut leads = Vec::new();
            for state in row {
                leads.push(assessment(state, cells.len()));
                cells.push(word(state).to_owned());
                cells.push(state.in_hand.map_or_else(|| NONE.to_owned(), wording::per_cent));
                cells.push(
                    state
                        .front_first_by
                        .map_or_else(|| NONE.to_owned(), wording::per_cent),
                );
            }
            TableRow {
                cells,
                leads,
                ..TableRow::default()
            }
        });
    Table {
        caption: "Word, torque in hand, and how far the front leads under the foot".to_owned(),
        rows: rows.collect(),
        heads,
        names_row: 0,
        of_words: false,
    }
}

/// The worst of a row.
fn worst_of<'o>(row: &[&'o StateAnswer]) -> Option<&'o StateAnswer> {
    row.iter().copied().min_by(|one, other| one.against(other))
}

/// The way from a cell to the assessment in its state.
fn assessment(state: &StateAnswer, cell: usize) -> Lead {
    // Never more than the tank holds.
    let litres = (state.litres.m3() * 1e4).floor() / 10.0;
    let mut says = vec![
        (&SURFACE, state.surface.name.to_string()),
        (&FUEL, format!("{litres} L")),
    ];
    if state.warmth == Warmth::Cold {
        says.push((&COLD, "1".to_owned()));
    }
    Lead {
        cell,
        question: crate::assess::Ask.name(),
        says,
        unsays: Vec::new(),
    }
}

/// What may be otherwise from one stage to the next, and what is set.
fn varies(case: &Case<'_>, outcome: &Outcome) -> Section {
    let mut grounds: Vec<String> = Vec::new();
    let mut tanks: Vec<String> = Vec::new();
    let mut warmths: Vec<String> = Vec::new();
    let note = |list: &mut Vec<String>, said: String| {
        if !list.contains(&said) {
            list.push(said);
        }
    };
    for state in &outcome.states {
        let name = &state.surface.name;
        note(
            &mut grounds,
            format!("{name} ({})", wording::ratio(state.surface.peak)),
        );
        note(&mut tanks, wording::fuel(state.litres, &case.units));
        note(&mut warmths, warmth(state.warmth).replace("brakes ", ""));
    }
    let summary = format!("{} grounds, {} loads of fuel", grounds.len(), tanks.len());
    let mut details = vec![
        Detail::new("ground", wording::list(&grounds)),
        Detail::new("fuel", wording::list(&tanks)),
        Detail::new("brakes", wording::list(&warmths)),
        Detail::new("aboard", crate::aboard_in_words(case.opened, &case.units)),
    ];
    if let Some(setting) = case.opened.says("bias_valve.setting") {
        details.push(Detail::new("valve", format!("stays at {setting}")));
    }
    Section::new("What may vary, and what stays", summary, None).with(Block::Details(details))
}

/// The picture: a cell a state.
pub(super) fn grid(outcome: &Outcome) -> StatesGrid {
    StatesGrid {
        cells: outcome
            .states
            .iter()
            .map(|state| StateCell {
                ground: state.surface.name.to_string(),
                load: tank(state.fuel).to_owned(),
                warmth: warmth(state.warmth).to_owned(),
                word: word(state).to_owned(),
                frame: match state.verdict {
                    Verdict::Yes => CellFrame::Solid,
                    Verdict::Half | Verdict::No | Verdict::NotWithThisCentre => CellFrame::Heavy,
                    Verdict::Open | Verdict::NoLever => CellFrame::Broken,
                },
                in_hand: state.in_hand,
                front_first_by: state.front_first_by,
            })
            .collect(),
        worst: outcome.worst().map(because),
        tied: outcome.count(|state| state.verdict == Verdict::NotWithThisCentre) > 0,
    }
}

/// In a word or two, for a cell.
const fn word(state: &StateAnswer) -> &'static str {
    match state.verdict {
        Verdict::Yes => "yes",
        Verdict::Half => "half",
        Verdict::NotWithThisCentre => "no: tied",
        Verdict::No => "no",
        Verdict::Open => "not known",
        Verdict::NoLever => match state.locks {
            First::Front => "front first",
            First::Rear => "rear first",
            First::Together => "together",
            First::Neither => "no lock",
        },
    }
}

/// What locks first, as a result says it.
pub(super) const fn locks_in_words(first: First) -> &'static str {
    match first {
        First::Front => "front",
        First::Rear => "rear",
        First::Together => "together",
        First::Neither => "neither",
    }
}

const fn tank(fuel: Fuel) -> &'static str {
    match fuel {
        Fuel::Dry => "tank dry",
        Fuel::Half => "tank half",
        Fuel::Full => "tank full",
        _ => "fuel as asked",
    }
}

const fn warmth(warmth: Warmth) -> &'static str {
    match warmth {
        Warmth::Warm => "brakes warm",
        Warmth::Cold => "brakes cold",
    }
}
