//! Every bore that is sold, tried in the lever with the ratios at hand: the first question in the workshop.

use engine::car::sold::{LEVER_BORES, LEVER_RATIOS};
use engine::car::{Car, Lever as CarLever};
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverAnswer, LeverBench, Pull, WhatStops};
use quantity::si::{Force, Length, Pressure};
use schemars::JsonSchema;
use serde::Serialize;
use wording::{Column, Precision, Units};

use crate::opened::{Opened, SAME_SIZE};
use crate::report::{Block, Section, Table, TableRow};
use crate::result::{CsvTable, Num, OrWhy};
use crate::trouble::Wrong;

/// Ratios closer than this are one.
const SAME_RATIO: f64 = 5e-3;

/// A bore with a ratio, and what it does.
#[derive(Debug)]
pub struct BoreTried {
    /// As it is written on a sheet.
    pub text: String,
    /// How large.
    pub bore: Length,
    /// Of the lever.
    pub ratio: f64,
    /// Whether the car has both.
    pub own: bool,
    /// Warm and cold.
    pub answer: LeverAnswer,
    /// What the driver's pull makes of pressure in the cylinder.
    pub pulled: Option<Pressure>,
    /// What ends it, in a word each; empty: it does it.
    pub ends: Vec<&'static str>,
    /// What is to be minded of one that does it.
    pub mind: Option<&'static str>,
}

/// The car's own ratio, and the usual ones on either side of it.
fn at_hand(own: f64) -> Vec<f64> {
    let mut usual = LEVER_RATIOS.iter().copied();
    let below = usual.clone().rfind(|ratio| *ratio < own - SAME_RATIO);
    let above = usual.find(|ratio| *ratio > own + SAME_RATIO);
    [Some(own), below, above].into_iter().flatten().collect()
}

/// Every bore with every ratio; the car's own answer stands where it has both.
///
/// # Errors
/// A cable has no bore.
pub(super) fn tried(
    opened: &Opened,
    pull: Pull,
    own: &LeverAnswer,
    asked: Option<&[f64]>,
) -> Result<Vec<BoreTried>, Wrong> {
    let Some(lever) = opened.car().lever.as_ref() else {
        return Ok(Vec::new());
    };
    let Some(cylinder) = lever.cylinder() else {
        let what = "a cable works this lever: there is no bore to try".to_owned();
        let remedy = "leave --bores out, or try a cylinder: --with lever.kind=inline --with lever.bore=\"5/8 in\" --with lever.ratio=7".to_owned();
        return Err(Wrong::plain("--bores", "no-bore", what, remedy));
    };
    let (own_bore, own_ratio) = (cylinder.bore, cylinder.ratio);
    let mut bores: Vec<(String, Length)> = LEVER_BORES
        .iter()
        .map(|size| (size.text.to_owned(), size.length()))
        .filter(|(_, bore)| (bore.m() - own_bore.m()).abs() > SAME_SIZE.m())
        .collect();
    bores.push((opened.size_as_written("lever.bore", own_bore), own_bore));
    bores.sort_by(|one, other| one.1.m().total_cmp(&other.1.m()));
    let mut ratios = asked.map_or_else(|| at_hand(own_ratio), <[f64]>::to_vec);
    if let Some(own) = ratios
        .iter_mut()
        .find(|ratio| (**ratio - own_ratio).abs() <= SAME_RATIO)
    {
        *own = own_ratio;
    }
    ratios.dedup_by(|one, other| (*one - *other).abs() <= SAME_RATIO);
    let mut all = Vec::new();
    for &ratio in &ratios {
        for (text, bore) in &bores {
            let own_here =
                (bore.m() - own_bore.m()).abs() <= SAME_SIZE.m() && (ratio - own_ratio).abs() <= SAME_RATIO;
            let answer = if own_here {
                Some((own.clone(), pressure_at(opened.car(), opened, pull)))
            } else {
                let mut with = Vec::new();
                if (bore.m() - own_bore.m()).abs() > SAME_SIZE.m() {
                    with.push(format!("lever.bore={text}"));
                }
                if (ratio - own_ratio).abs() > SAME_RATIO {
                    with.push(format!("lever.ratio={ratio}"));
                }
                answer(opened, pull, &with)?
            };
            if let Some((answer, pulled)) = answer {
                let (ends, mind) = ends(lever, ratio, &answer);
                all.push(BoreTried {
                    text: text.clone(),
                    bore: *bore,
                    ratio,
                    own: own_here,
                    answer,
                    pulled,
                    ends,
                    mind,
                });
            }
        }
    }
    Ok(all)
}

fn answer(
    opened: &Opened,
    pull: Pull,
    with: &[String],
) -> Result<Option<(LeverAnswer, Option<Pressure>)>, Wrong> {
    let (car, state) = (opened.fitted(with)?.car, &opened.state);
    let bench = LeverBench::of(&car, state.conditions.warmth);
    let answer = bench.map(|bench| bench.answer(&state.laden, pull));
    Ok(answer.map(|answer| (answer, pressure_at(&car, opened, pull))))
}

/// What the driver's pull makes in the lever's cylinder.
fn pressure_at(car: &Car, opened: &Opened, pull: Pull) -> Option<Pressure> {
    let state = &opened.state;
    let forces = Forces {
        foot: Force::ZERO,
        hand: pull.hand,
    };
    let response = Hydraulics::of(car, state.conditions.warmth).answer(&state.laden, forces);
    response.lever?.own
}

/// What ends a bore, warm; and what is to be minded where nothing does.
fn ends(lever: &CarLever, ratio: f64, answer: &LeverAnswer) -> (Vec<&'static str>, Option<&'static str>) {
    let (warm, cold) = (&answer.to_lock, &answer.cold);
    let mut ends = Vec::new();
    if warm.outcome == WhatStops::AllFour {
        ends.push("centre");
    }
    if warm.hand.is_none() {
        ends.push("valve");
    } else if !warm.enough_force {
        ends.push("pull");
    }
    if warm.enough_travel == Some(false) {
        let room_m = (lever.room.m() - lever.free_play.m()) / ratio;
        let of_stroke = lever
            .cylinder()
            .is_some_and(|cylinder| cylinder.stroke.m() <= room_m);
        ends.push(if of_stroke { "stroke" } else { "room" });
    }
    let mind = if !ends.is_empty() {
        None
    } else if cold.outcome == WhatStops::None {
        Some("not cold")
    } else if warm.is_late() || cold.is_late() {
        Some("late")
    } else {
        None
    };
    (ends, mind)
}

/// A section a ratio.
pub(super) fn sections(bores: &[BoreTried], precision: &Precision, units: &Units) -> Vec<Section> {
    let mut sections = Vec::new();
    let mut rest = bores;
    while let Some(first) = rest.first() {
        let here = rest
            .iter()
            .take_while(|tried| tried.ratio.total_cmp(&first.ratio).is_eq())
            .count();
        let (of_ratio, others) = rest.split_at(here);
        sections.push(section(of_ratio, sections.is_empty(), precision, units));
        rest = others;
    }
    sections
}

fn section(tried: &[BoreTried], first: bool, precision: &Precision, units: &Units) -> Section {
    let ratio = tried.first().map_or(0.0, |tried| tried.ratio);
    let said = wording::entered(ratio);
    let own = tried.iter().any(|tried| tried.own);
    let title = if own {
        format!("Bores at the car's lever ratio, {said}")
    } else {
        format!("Bores at a lever ratio of {said}")
    };
    let able: Vec<&BoreTried> = tried.iter().filter(|tried| tried.ends.is_empty()).collect();
    let summary = match able[..] {
        [] => "none does it".to_owned(),
        [one] => format!("{} does it", one.text),
        [least, .., most] => format!("{} to {} do it", least.text, most.text),
    };
    let section = Section::new(title, summary, None).with(Block::Table(table(tried, precision, units)));
    if !first {
        return section;
    }
    section
        .with(Block::List(vec![
            "Pull: more than the driver has. Stroke and room: cylinder or grip ends before.".to_owned(),
            "Late: the rear stops late, warm or cold. Not cold: with cold brakes it rolls on.".to_owned(),
            "Centre: it drags the front wheels along. Valve: it lets too little through.".to_owned(),
        ]))
        .with(Block::Text(
            "Stroke, free stroke and efficiency are taken as the car's own. Sizes are common practice; other ones are sold too."
                .to_owned(),
        ))
}

fn table(tried: &[BoreTried], precision: &Precision, units: &Units) -> Table {
    let own_ratio = tried.iter().any(|tried| tried.own);
    let warm = || tried.iter().map(|tried| &tried.answer.to_lock);
    let pulls = Column::of(
        units.force,
        warm().filter_map(|lock| lock.hand).map(|hand| hand.n()),
    );
    let travels = Column::of(
        units.length,
        warm().filter_map(|lock| lock.travel).map(|travel| travel.m()),
    );
    let pressures = Column::of(
        units.pressure,
        tried
            .iter()
            .filter_map(|tried| tried.pulled)
            .map(|pulled| pulled.pa()),
    );
    let row = |tried: &BoreTried| {
        let (warm, cold) = (&tried.answer.to_lock, &tried.answer.cold);
        // The car's own is rounded as its answer is.
        let own = |range: Option<engine::ranges::Range>| range.filter(|_| tried.own);
        TableRow {
            cells: vec![
                if tried.own {
                    format!("own: {}", tried.text)
                } else {
                    tried.text.clone()
                },
                warm.hand.map_or_else(
                    || wording::NONE.to_owned(),
                    |hand| pulls.known(hand.n(), own(precision.hand)),
                ),
                warm.travel.map_or_else(
                    || wording::NONE.to_owned(),
                    |travel| travels.known(travel.m(), own(precision.travel)),
                ),
                pressures.maybe(tried.pulled.map(|pulled| pulled.pa())),
                wording::per_cent(warm.in_hand),
                wording::per_cent(cold.in_hand),
                if tried.ends.is_empty() {
                    tried.mind.unwrap_or_default().to_owned()
                } else {
                    tried.ends.join(", ")
                },
            ],
            struck: !tried.ends.is_empty(),
            own: tried.own,
            tries: if tried.own {
                Vec::new()
            } else {
                // At the car's own ratio the bore alone is another.
                let bore = Some(format!("lever.bore={}", tried.text));
                let ratio = (!own_ratio).then(|| format!("lever.ratio={}", wording::entered(tried.ratio)));
                bore.into_iter().chain(ratio).collect()
            },
            ..TableRow::default()
        }
    };
    Table {
        caption: "What each bore takes to stop the rear, and what it has in hand".to_owned(),
        heads: vec![
            "bore".to_owned(),
            wording::named("pull", units.force),
            wording::named("travel", units.length),
            wording::named("at the pull", units.pressure),
            "warm".to_owned(),
            "cold".to_owned(),
            "limit".to_owned(),
        ],
        names_row: 0,
        rows: tried.iter().map(row).collect(),
        of_words: false,
    }
}

/// A row of the machine-read result.
#[derive(Serialize, JsonSchema)]
pub(super) struct BoreView {
    /// As a sheet writes it.
    bore: String,
    bore_m: Num,
    /// Of the lever.
    ratio: Num,
    /// Whether the car has both.
    own: bool,
    /// Whether the rear stops, warm, with the pull, the stroke and the room there are.
    does_it: bool,
    /// What ends it: `pull`, `stroke`, `room`, `valve`, `centre`.
    ends: Vec<&'static str>,
    hand_force_n: OrWhy<Num>,
    /// At the grip.
    travel_m: OrWhy<Num>,
    /// At the brakes.
    pressure_pa: OrWhy<Num>,
    /// In the lever's cylinder, at the driver's pull.
    pulled_pa: OrWhy<Num>,
    /// Torque there is over torque needed.
    in_hand: Num,
    /// The same with cold friction.
    in_hand_cold: Num,
}

pub(super) fn views(bores: &[BoreTried]) -> Option<Vec<BoreView>> {
    const CAPPED: &str = "a limiting valve behind the lever caps the pressure below it";
    let view = |tried: &BoreTried| {
        let warm = &tried.answer.to_lock;
        BoreView {
            bore: tried.text.clone(),
            bore_m: tried.bore.m().into(),
            ratio: tried.ratio.into(),
            own: tried.own,
            does_it: tried.ends.is_empty(),
            ends: tried.ends.clone(),
            hand_force_n: OrWhy::or(warm.hand.map(|hand| hand.n()), CAPPED),
            travel_m: OrWhy::or(warm.travel.map(|travel| travel.m()), CAPPED),
            pressure_pa: OrWhy::or(warm.pressure.map(|pressure| pressure.pa()), CAPPED),
            pulled_pa: OrWhy::or(
                tried.pulled.map(|pulled| pulled.pa()),
                "a cable makes no pressure",
            ),
            in_hand: warm.in_hand.into(),
            in_hand_cold: tried.answer.cold.in_hand.into(),
        }
    };
    (!bores.is_empty()).then(|| bores.iter().map(view).collect())
}

/// The same for a spreadsheet, in SI.
pub(super) fn csv(bores: &[BoreTried]) -> Vec<CsvTable> {
    if bores.is_empty() {
        return Vec::new();
    }
    let or_empty = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.6}"));
    let row = |tried: &BoreTried| {
        let (warm, cold) = (&tried.answer.to_lock, &tried.answer.cold);
        vec![
            tried.text.clone(),
            format!("{:.7}", tried.bore.m()),
            wording::entered(tried.ratio),
            if tried.own { "yes" } else { "" }.to_owned(),
            or_empty(warm.hand.map(|hand| hand.n())),
            or_empty(warm.travel.map(|travel| travel.m())),
            tried
                .pulled
                .map_or_else(String::new, |pulled| format!("{:.0}", pulled.pa())),
            format!("{:.6}", warm.in_hand),
            format!("{:.6}", cold.in_hand),
            tried.ends.join(", "),
        ]
    };
    vec![CsvTable {
        name: "bores.csv",
        head: vec![
            "bore",
            "bore [m]",
            "lever ratio",
            "the car's own",
            "pull [N]",
            "travel [m]",
            "pressure at the pull [Pa]",
            "in hand",
            "in hand, cold",
            "what ends it",
        ],
        rows: bores.iter().map(row).collect(),
    }]
}
