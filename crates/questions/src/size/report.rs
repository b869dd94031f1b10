//! The answer of the search as it is shown.

use engine::sizing::{Breaks, Figures};
use wording::{Column, Measured, Units};

use super::Ask;
use super::outcome::{GivesUp, Outcome, Sized, in_words};
use crate::question::Case;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, Table, TableRow,
};

/// What other parts cost.
const BORES: &str =
    "A larger lever bore needs more pull and less travel. A smaller one needs less pull and more travel.";
/// What goes with old parts.
const PARKING: &str =
    "Other rear brakes may take the parking brake away. Look what holds the parked car before you buy.";

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let units = &case.units;
    let mut report = Report::of(&Ask, case, headline(case, outcome));
    if outcome.found.met > 0 {
        report.section(kept(outcome, units));
    } else {
        report.sections.extend(missed(outcome, units));
    }
    report.section(limits(outcome, units));
    report.section(searched(outcome));
    report.caution(BORES);
    report.caution(PARKING);
    report.caution(assess::cautions::EVENT);
    report
}

fn headline(case: &Case<'_>, outcome: &Outcome) -> Headline {
    let own_keeps = matches!(&outcome.own, Ok((_, breaks)) if breaks.is_empty());
    let first = outcome.rows.first();
    let parts = first.map_or(0, |row| row.changed.len());
    let (stamp, frame, because, todo) = if own_keeps {
        (
            "Keep the parts".to_owned(),
            Frame::Solid,
            "As it is, the car keeps every limit.".to_owned(),
            "Look below what another part would make easier, and what it costs.".to_owned(),
        )
    } else if let Some(row) = first {
        let stamp = match parts {
            1 => "One part does it".to_owned(),
            parts => format!(
                "{} parts do it",
                wording::whole(f64::from(u32::try_from(parts).unwrap_or(0)))
            ),
        };
        let because = match &row.changed[..] {
            [(part, choice)] => format!("Another {part} keeps every limit: {choice}."),
            [.., _] => "Together they keep every limit; no single part does.".to_owned(),
            [] => "The car keeps every limit.".to_owned(),
        };
        (
            stamp,
            Frame::Heavy,
            because,
            "Try the first row on paper, then measure its limits at the car.".to_owned(),
        )
    } else {
        let worst = most_broken(outcome);
        (
            "Nothing keeps them".to_owned(),
            Frame::Heavy,
            worst.map_or_else(
                || "No car among these can be measured against the limits.".to_owned(),
                |(limit, _)| format!("What stops most of them: {}.", limit_name(limit)),
            ),
            match worst.map(|(limit, _)| limit) {
                Some(Breaks::Centre) => {
                    "Let the centre go when the lever moves, or fit one that does.".to_owned()
                }
                _ => "Ease that limit, or let more parts be others.".to_owned(),
            },
        )
    };
    let mut though = Vec::new();
    if let Some(row) = first
        && let Some(turn) = row.turn
    {
        though.push(format!("With the first row the usual turn {}.", turn.words()));
    }
    Headline {
        stamp,
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures: figures(case, outcome),
        first: Some(todo),
    }
}

/// Of the first row, or of the one that is least off.
fn figures(case: &Case<'_>, outcome: &Outcome) -> Vec<Figure> {
    let units = &case.units;
    let of_miss = outcome.miss.as_ref().map(|(sized, _)| sized);
    let Some(Sized { figures, .. }) = outcome.rows.first().or(of_miss) else {
        return Vec::new();
    };
    let limits = &outcome.limits;
    let at_most = |name: &'static str, si: f64, unit| {
        Some(Limit {
            name,
            shown: Measured::new(si, None, unit).value,
            side: Side::AtMost,
        })
    };
    vec![
        Figure {
            name: "pull",
            measured: Measured::new(figures.hand.n(), None, units.force),
            limit: at_most("driver's pull", limits.hand.n(), units.force),
            working: None,
        },
        Figure {
            name: "travel at the grip",
            measured: Measured::new(figures.travel.m(), None, units.length),
            limit: at_most("room", limits.travel.m(), units.length),
            working: None,
        },
        Figure {
            name: "foot at first lock",
            measured: Measured::new(figures.foot.n(), None, units.force),
            limit: at_most("most", limits.foot.n(), units.force),
            working: None,
        },
    ]
}

fn kept(outcome: &Outcome, units: &Units) -> Section {
    let shown = outcome.rows.len();
    let summary = match outcome.more {
        0 => format!("{shown} that no other is better than"),
        more => format!("{shown} of {} that no other is better than", shown + more),
    };
    Section::new("What keeps the limits", summary, Some(Stroke::Hand))
        .with(Block::Table(table(outcome, units)))
        .with(Block::Text(
            "The least change stands first. Each row gives something up against another one.".to_owned(),
        ))
        .with(Block::List(
            outcome
                .rows
                .iter()
                .take(3)
                .filter(|row| !row.sets.is_empty())
                .map(|row| format!("{}: {}", row_name(row), as_options(row)))
                .collect(),
        ))
}

/// The options that try a row on a terminal.
fn as_options(row: &Sized) -> String {
    let option = |set: &String| {
        let (key, value) = set.split_once('=').unwrap_or((set, ""));
        format!("`--with {key}=\"{value}\"`")
    };
    row.sets.iter().map(option).collect::<Vec<_>>().join(" ")
}

fn row_name(row: &Sized) -> String {
    if row.changed.is_empty() {
        return "as it is".to_owned();
    }
    row.changed
        .iter()
        .map(|(part, choice)| format!("{part} {choice}"))
        .collect::<Vec<_>>()
        .join("; ")
}

fn table(outcome: &Outcome, units: &Units) -> Table {
    let rows = &outcome.rows;
    let column = |unit, of: fn(&Figures) -> f64| Column::of(unit, rows.iter().map(|row| of(&row.figures)));
    let (hand, travel) = (
        column(units.force, |figures| figures.hand.n()),
        column(units.length, |figures| figures.travel.m()),
    );
    let (foot, pedal) = (
        column(units.force, |figures| figures.foot.n()),
        column(units.length, |figures| figures.pedal_travel.m()),
    );
    let row = |sized: &Sized| {
        let figures = &sized.figures;
        TableRow {
            cells: vec![
                row_name(sized),
                hand.show(figures.hand.n()),
                travel.show(figures.travel.m()),
                foot.show(figures.foot.n()),
                pedal.show(figures.pedal_travel.m()),
                wording::margin(figures.lead),
                sized
                    .turn
                    .map_or_else(|| wording::NONE.to_owned(), |turn| turn.words().to_owned()),
                sized
                    .to_boiling
                    .map_or_else(|| wording::NONE.to_owned(), wording::apart),
                given_up(sized, units),
            ],
            own: sized.changed.is_empty(),
            tries: sized.sets.clone(),
            ..TableRow::default()
        }
    };
    Table {
        caption: "Parts that keep the limits, and what they ask of hand and foot".to_owned(),
        heads: vec![
            "other parts".to_owned(),
            wording::named("pull", units.force),
            wording::named("travel", units.length),
            wording::named("foot", units.force),
            wording::named("pedal", units.length),
            "front first".to_owned(),
            "turn".to_owned(),
            "fluid to wet boiling".to_owned(),
            "gives up".to_owned(),
        ],
        names_row: 0,
        rows: rows.iter().map(row).collect(),
        of_words: true,
    }
}

/// What a row gives up against the others.
pub(super) fn given_up(row: &Sized, units: &Units) -> String {
    let said: Vec<String> = row
        .gives_up
        .iter()
        .map(|what| match *what {
            GivesUp::Pull(n) => format!("{} more pull", wording::figure(n, units.force)),
            GivesUp::Travel(m) => format!("{} more travel", wording::figure(m, units.length)),
            GivesUp::Foot(n) => format!("{} more foot", wording::figure(n, units.force)),
            GivesUp::Pedal(m) => format!("{} more pedal", wording::figure(m, units.length)),
            GivesUp::Parts(1) => "a part more".to_owned(),
            GivesUp::Parts(parts) => format!("{parts} parts more"),
        })
        .collect();
    if said.is_empty() {
        "nothing".to_owned()
    } else {
        said.join(", ")
    }
}

fn missed(outcome: &Outcome, units: &Units) -> Option<Section> {
    let (sized, miss) = outcome.miss.as_ref()?;
    let figures = &sized.figures;
    let over: Vec<String> = miss
        .breaks
        .iter()
        .map(|limit| limit_name(*limit).to_owned())
        .collect();
    let mut facts = vec![
        Detail::new("parts", row_name(sized)),
        Detail::new("too much", over.join(", ")),
        Detail::new(
            "hand",
            format!(
                "{}, {} at the grip",
                wording::pull(figures.hand, units),
                wording::figure(figures.travel.m(), units.length)
            ),
        ),
        Detail::new(
            "foot",
            format!(
                "{}, {} at the pad",
                wording::figure(figures.foot.n(), units.force),
                wording::figure(figures.pedal_travel.m(), units.length)
            ),
        ),
        Detail::new("first lock", wording::front_first(figures.lead)),
    ];
    if !sized.sets.is_empty() {
        facts.push(Detail::new("try it", as_options(sized)));
    }
    Some(Section::new("The nearest miss", row_name(sized), Some(Stroke::Hand)).with(Block::Details(facts)))
}

const fn limit_name(limit: Breaks) -> &'static str {
    match limit {
        Breaks::NoCar => "sizes that make no car together",
        Breaks::Centre => "the centre, which drags the front wheels along",
        Breaks::Valve => "the valve behind the lever",
        Breaks::Hand => "the driver's pull",
        Breaks::Travel => "the room, or the cylinder's stroke",
        Breaks::Foot => "the foot's force",
        Breaks::PedalTravel => "the pedal's travel",
        Breaks::LockOrder => "the end that locks first",
    }
}

/// The limit that most cars break.
fn most_broken(outcome: &Outcome) -> Option<(Breaks, usize)> {
    Breaks::ALL
        .into_iter()
        .filter(|limit| *limit != Breaks::NoCar)
        .map(|limit| (limit, outcome.found.breaking(limit)))
        .filter(|(_, cars)| *cars > 0)
        .max_by_key(|(_, cars)| *cars)
}

fn limits(outcome: &Outcome, units: &Units) -> Section {
    let limits = &outcome.limits;
    let mut facts = vec![
        Detail::new("pull", format!("at most {}", wording::pull(limits.hand, units))),
        Detail::new(
            "grip",
            format!(
                "at most {} of travel, and the cylinder's own stroke",
                wording::figure(limits.travel.m(), units.length)
            ),
        ),
        Detail::new(
            "foot",
            format!(
                "at most {} at first lock",
                wording::figure(limits.foot.n(), units.force)
            ),
        ),
        Detail::new(
            "pedal",
            limits.pedal_travel.map_or_else(
                || "until the master runs out".to_owned(),
                |most| format!("at most {} of travel", wording::figure(most.m(), units.length)),
            ),
        ),
        Detail::new("lock", format!("{}, or more", wording::front_first(limits.lead))),
        Detail::new(
            "grips",
            limits
                .grips
                .iter()
                .map(|grip| wording::ratio(*grip))
                .collect::<Vec<_>>()
                .join(", "),
        ),
    ];
    let broken: Vec<String> = Breaks::ALL
        .into_iter()
        .map(|limit| (limit, outcome.found.breaking(limit)))
        .filter(|(_, cars)| *cars > 0)
        .map(|(limit, cars)| format!("{} {cars}", in_words(limit)))
        .collect();
    if !broken.is_empty() {
        facts.push(Detail::new("too much of", broken.join(", ")));
    }
    Section::new("The limits", "and how many cars break each", None).with(Block::Details(facts))
}

fn searched(outcome: &Outcome) -> Section {
    let found = &outcome.found;
    let parts: Vec<String> = outcome
        .axes
        .iter()
        .map(|(part, choices)| format!("{part} {choices}"))
        .collect();
    let all = found.computed + found.excluded;
    Section::new(
        "What was searched",
        format!("{all} cars, {} keep the limits", found.met),
        None,
    )
    .with(Block::Details(vec![
        Detail::new("cars", format!("{all}: {} computed, {} left out by a bound", found.computed, found.excluded)),
        Detail::new("choices", if parts.is_empty() { "none".to_owned() } else { parts.join(", ") }),
    ]))
    .with(Block::List(vec![
        "Pull rises with the bore: behind one that asks too much, every larger one does.".to_owned(),
        "Travel falls with the bore: before one that runs out, every smaller one does.".to_owned(),
        "A pedal or a lock order that breaks a limit breaks it with every lever.".to_owned(),
    ]))
    .with(Block::Text(
        "Sizes are common practice; other ones are sold too. Tolerances are not drawn here: ask of a row by itself.".to_owned(),
    ))
}
