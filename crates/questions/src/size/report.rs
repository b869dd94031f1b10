//! The answer of the search as it is shown.

use charts::{Bar, BarGroup, Bars};
use engine::sizing::{Breaks, Figures};
use wording::{Column, Measured, Precision, Units};

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
    if !outcome.rows.is_empty() {
        report.section(kept(case, outcome));
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
        // Where some keep all else, it is the turn.
        let worst = match outcome.found.met {
            0 => most_broken(outcome),
            _ => Some(Breaks::Turn),
        };
        (
            "Nothing keeps them".to_owned(),
            Frame::Heavy,
            worst.map_or_else(
                || "No car among these can be measured against the limits.".to_owned(),
                |limit| format!("What stops most of them: {}.", limit_name(limit)),
            ),
            match worst {
                Some(Breaks::Centre) => {
                    "Fit a centre that lets go while the lever is pulled, or a softer one.".to_owned()
                }
                _ => "Ease that limit, or let more parts be others.".to_owned(),
            },
        )
    };
    let mut though = Vec::new();
    if first.is_some_and(|row| row.in_hand_cold.is_some_and(|cold| cold < 1.0)) {
        though.push("With cold brakes the first row does not stop the rear.".to_owned());
    }
    if let Some(turn) = first.and_then(|row| row.turn) {
        though.push(format!(
            "With the first row the car {} in the usual turn.",
            turn.words()
        ));
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
    let precision = &outcome.precision;
    vec![
        Figure {
            name: "pull",
            measured: Measured::known(figures.hand.n(), None, precision.hand, units.force),
            limit: at_most("driver's pull", limits.hand.n(), units.force),
            working: None,
        },
        Figure {
            name: "travel at the grip",
            measured: Measured::known(figures.travel.m(), None, precision.travel, units.length),
            limit: at_most("room", limits.travel.m(), units.length),
            working: None,
        },
        Figure {
            name: "foot at first lock",
            measured: Measured::known(figures.foot.n(), None, precision.foot, units.force),
            limit: at_most("most", limits.foot.n(), units.force),
            working: None,
        },
    ]
}

fn kept(case: &Case<'_>, outcome: &Outcome) -> Section {
    let shown = outcome.rows.len();
    let summary = match outcome.more {
        0 => format!("{shown} that no other is better than"),
        more => format!("{shown} of {} that no other is better than", shown + more),
    };
    Section::new("What keeps the limits", summary, Some(Stroke::Hand))
        .with(Block::Table(table(case, outcome)))
        .with(Block::Text(
            "The least change stands first. Each row gives something up against another one. Torque cold: there is over needed, \
             with cold brakes; below 100 % the rear rolls on. Turn and fluid: the usual turn, and the stage."
                .to_owned(),
        ))
        .with_some(of_the_turn(outcome).map(Block::Text))
        .with(Block::Text(prices(case, outcome)))
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

/// What was driven for the turn's sake, and what was not.
fn of_the_turn(outcome: &Outcome) -> Option<String> {
    let (found, wanted) = (&outcome.found, outcome.limits.turn?);
    let cars = |count: usize| format!("{count} {}", wording::counted(count, "car", "cars"));
    let away = found.breaking(Breaks::Turn);
    let driven = format!("Through the turn {} were driven", cars(found.driven));
    let driven = match away {
        0 => format!("{driven}; each {}, or better.", wanted.words()),
        away => format!("{driven}; {away} did less than is wanted, and are left out."),
    };
    Some(match found.undriven {
        0 => format!("{driven} Cars that another row beats in everything were not driven."),
        some => format!(
            "{driven} Another {} were not driven: let fewer parts be others.",
            cars(some)
        ),
    })
}

/// Whose the prices are, or how to have some.
fn prices(case: &Case<'_>, outcome: &Outcome) -> String {
    if has_prices(outcome) {
        let parts = outcome.rows.iter().filter_map(|row| row.cost);
        return match parts.map(|cost| cost.without).max() {
            Some(1..) => {
                "Costs are sums of your own prices; a part without a price is not in them.".to_owned()
            }
            _ => "Costs are sums of your own prices.".to_owned(),
        };
    }
    let example = outcome.rows.iter().find_map(|row| row.changed.first());
    let example = example.map_or_else(String::new, |(part, choice)| {
        let [of_choice, of_part] = crate::prices::codes(part, choice);
        format!(" Write `{of_choice}`, or `{of_part}` for any of them.")
    });
    let none = if case.opened.prices.each.is_empty() {
        "No prices: write your own under `[prices]` in preferences.toml, each by the part's code."
    } else {
        "None of your prices is for these parts."
    };
    format!("{none}{example}")
}

fn has_prices(outcome: &Outcome) -> bool {
    let mut others = outcome.rows.iter().filter(|row| !row.changed.is_empty());
    others.any(|row| row.cost.is_some())
}

/// What the parts of a row come to.
fn costs(row: &Sized, currency: &str) -> String {
    match row.cost {
        None => wording::NONE.to_owned(),
        Some(cost) if cost.without == 0 => wording::money(cost.sum, currency),
        Some(cost) => format!(
            "{} and {} without",
            wording::money(cost.sum, currency),
            cost.without
        ),
    }
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

fn table(case: &Case<'_>, outcome: &Outcome) -> Table {
    let (rows, units, precision) = (&outcome.rows, &case.units, &outcome.precision);
    let (priced, currency) = (has_prices(outcome), &case.opened.prices.currency);
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
        let mut row = TableRow {
            cells: vec![
                row_name(sized),
                hand.known(figures.hand.n(), precision.hand),
                travel.known(figures.travel.m(), precision.travel),
                foot.known(figures.foot.n(), precision.foot),
                pedal.show(figures.pedal_travel.m()),
                wording::margin(figures.lead),
                sized
                    .in_hand_cold
                    .map_or_else(|| wording::NONE.to_owned(), wording::per_cent),
                sized
                    .turn
                    .map_or_else(|| wording::NONE.to_owned(), |turn| turn.words().to_owned()),
                to_boiling(sized),
                given_up(sized, precision, units),
            ],
            own: sized.changed.is_empty(),
            tries: sized.sets.clone(),
            ..TableRow::default()
        };
        if priced {
            row.cells.insert(1, costs(sized, currency));
        }
        row
    };
    let mut heads = vec![
        "other parts".to_owned(),
        wording::named("pull", units.force),
        wording::named("travel", units.length),
        wording::named("foot", units.force),
        wording::named("pedal", units.length),
        "front first".to_owned(),
        "torque cold".to_owned(),
        "turn".to_owned(),
        "fluid".to_owned(),
        "gives up".to_owned(),
    ];
    if priced {
        heads.insert(1, "cost".to_owned());
    }
    Table {
        caption: "Parts that keep the limits, and what they ask of hand and foot".to_owned(),
        heads,
        names_row: 0,
        rows: rows.iter().map(row).collect(),
        of_words: true,
    }
}

/// The picture: how much of each limit the rows use; of the nearest miss, where there is no row.
pub(super) fn bars(case: &Case<'_>, outcome: &Outcome) -> Bars {
    let (units, limits, precision) = (&case.units, &outcome.limits, &outcome.precision);
    let group = |sized: &Sized| {
        let figures = &sized.figures;
        let bar = |name: &str, si: f64, most: f64, range, unit| Bar {
            name: name.to_owned(),
            share: si / most,
            figure: Measured::known(si, None, range, unit).value.text,
        };
        let mut bars = vec![
            bar(
                "pull",
                figures.hand.n(),
                limits.hand.n(),
                precision.hand,
                units.force,
            ),
            bar(
                "travel",
                figures.travel.m(),
                limits.travel.m(),
                precision.travel,
                units.length,
            ),
            bar(
                "foot",
                figures.foot.n(),
                limits.foot.n(),
                precision.foot,
                units.force,
            ),
        ];
        if let Some(most) = limits.pedal_travel {
            let travel = figures.pedal_travel.m();
            bars.push(bar("pedal", travel, most.m(), precision.travel, units.length));
        }
        BarGroup {
            head: wording::capital(&row_name(sized)),
            bars,
        }
    };
    let miss = outcome.miss.as_ref().map(|(sized, _)| sized);
    Bars {
        title: "How much of each limit is used",
        heads: ["other parts", "limit", "figure", "of the limit"],
        groups: outcome.rows.iter().chain(miss).map(group).collect(),
        whole: "A full bar is the whole limit: the driver's pull, the room at the grip, the foot.",
        none: "No car among these can be measured against the limits.",
    }
}

/// What is left of the fluid over the stage.
fn to_boiling(row: &Sized) -> String {
    row.to_boiling.map_or_else(
        || wording::NONE.to_owned(),
        |left| {
            let apart = wording::apart(left);
            if left.dk() < 0.0 {
                format!("boils wet, {apart} over")
            } else {
                format!("{apart} to wet boiling")
            }
        },
    )
}

/// What a row gives up against the others: no finer than the figures are known.
pub(super) fn given_up(row: &Sized, precision: &Precision, units: &Units) -> String {
    let known = |si: f64, range, unit| Measured::known(si, None, range, unit).value.text;
    let said: Vec<String> = row
        .gives_up
        .iter()
        .map(|what| match *what {
            GivesUp::Pull(n) => format!("{} more pull", known(n, precision.hand, units.force)),
            GivesUp::Travel(m) => format!("{} more travel", known(m, precision.travel, units.length)),
            GivesUp::Foot(n) => format!("{} more foot", known(n, precision.foot, units.force)),
            // A grip's travel and a pedal's are made of the same fluid.
            GivesUp::Pedal(m) => format!("{} more pedal", known(m, precision.travel, units.length)),
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
        Detail::new("first lock", wording::lead(figures.lead, None)),
    ];
    if !sized.sets.is_empty() {
        facts.push(Detail::new("try it", as_options(sized)));
    }
    let section = Section::new("The nearest miss", row_name(sized), Some(Stroke::Hand));
    Some(
        section
            .with(Block::Details(facts))
            .with_some(of_the_turn(outcome).map(Block::Text)),
    )
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
        Breaks::Fluid => "the fluid, too near to boiling",
        Breaks::Turn => "the turn, which does less than is wanted",
    }
}

/// The limit that most cars break.
fn most_broken(outcome: &Outcome) -> Option<Breaks> {
    Breaks::ALL
        .into_iter()
        .filter(|limit| *limit != Breaks::NoCar)
        .map(|limit| (limit, outcome.found.breaking(limit)))
        .filter(|(_, cars)| *cars > 0)
        .max_by_key(|(_, cars)| *cars)
        .map(|(limit, _)| limit)
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
        Detail::new(
            "first lock",
            format!("{}, or more", wording::lead(limits.lead, None)),
        ),
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
    if let Some(fluid) = &limits.fluid {
        let least = wording::apart(fluid.least);
        facts.push(Detail::new(
            "fluid",
            format!("at least {least} to wet boiling, over {}", fluid.stage.name),
        ));
    }
    if let Some(wanted) = limits.turn {
        facts.push(Detail::new("turn", format!("{}, or better", wanted.words())));
    }
    let broken: Vec<String> = Breaks::ALL
        .into_iter()
        .map(|limit| (limit, outcome.found.breaking(limit)))
        .filter(|(_, cars)| *cars > 0)
        .map(|(limit, cars)| format!("{}: {}", in_words(limit), wording::grouped(cars)))
        .collect();
    if !broken.is_empty() {
        facts.push(Detail::new("left out for", broken.join("; ")));
    }
    Section::new("The limits", "and how many cars each leaves out", None).with(Block::Details(facts))
}

fn searched(outcome: &Outcome) -> Section {
    let found = &outcome.found;
    let parts: Vec<String> = outcome
        .axes
        .iter()
        .map(|(part, choices)| format!("{part} {choices}"))
        .collect();
    let all = wording::grouped(found.computed + found.excluded);
    Section::new(
        "What was searched",
        format!("{all} cars, {} keep the limits", wording::grouped(found.met)),
        None,
    )
    .with(Block::Details(vec![
        Detail::new("cars", format!(
                "{all}: {} computed, {} left out by a bound",
                wording::grouped(found.computed),
                wording::grouped(found.excluded)
            )),
        Detail::new("choices", if parts.is_empty() { "none".to_owned() } else { parts.join(", ") }),
    ]))
    .with(Block::List(vec![
        "Pull rises with the bore: behind one that asks too much, every larger one does.".to_owned(),
        "Travel falls with the bore: before one that runs out, every smaller one does.".to_owned(),
        "A pedal, a lock order or a fluid that breaks a limit breaks it with every lever.".to_owned(),
    ]))
    .with(Block::Text(
        "Sizes are common practice; other ones are sold too. No tolerance is drawn here; try a row by itself for its ranges.".to_owned(),
    ))
}
