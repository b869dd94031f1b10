//! What `size` answers, as other programs read it.

use std::collections::BTreeMap;

use engine::sizing::Breaks;
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;
use wording::Units;

use super::outcome::{Outcome, Sized};
use super::report::given_up;
use crate::result::{CsvTable, Num, OrWhy};

/// Which parts keep the limits.
#[derive(Serialize, JsonSchema)]
pub(super) struct SizeView {
    /// Cars that were computed, or left out by a bound.
    searched: usize,
    computed: usize,
    /// Left out by a bound: pull rises with the bore, travel falls with it, and a pedal that breaks a limit breaks it with
    /// every cylinder.
    excluded: usize,
    /// Cars that keep every limit, as far as they were not driven through the turn for it.
    met: usize,
    /// Cars that were driven through the turn, where it is a limit: those that no other is better than.
    driven: usize,
    /// Such cars that nobody came to drive, because there were too many.
    undriven: usize,
    limits: LimitsView,
    /// How many cars break each limit, as far as they were asked or a bound says it.
    broken: BTreeMap<&'static str, usize>,
    /// Those that no other is better than, as far as they are shown: the least change of the car first.
    best: Vec<RowView>,
    /// How many more of them there are.
    more: usize,
    /// Where none keeps the limits: the one that is least off.
    nearest: OrWhy<MissView>,
}

#[derive(Serialize, JsonSchema)]
struct LimitsView {
    hand_force_n: Num,
    travel_m: Num,
    foot_force_n: Num,
    pedal_travel_m: OrWhy<Num>,
    /// The least by which the front leads at first lock.
    front_first_by: Num,
    /// Grips at which the pedal was asked.
    grips: Vec<f64>,
    /// The least that the stage leaves to the fluid's wet boiling point.
    fluid_margin_dk: OrWhy<Num>,
    /// The least that the usual turn has to come to.
    turn: OrWhy<&'static str>,
}

#[derive(Serialize, JsonSchema)]
struct RowView {
    /// Keys of the sheet: `--with KEY=VALUE` each; bore and ratio of the lever, and every other that is not the car's own.
    #[serde(flatten)]
    keys: BTreeMap<String, Value>,
    /// How many parts are other than the car's own.
    changes: usize,
    hand_force_n: Num,
    /// At the grip.
    travel_m: Num,
    /// At the brakes.
    pressure_pa: Num,
    /// At first lock, on the ground where it takes most.
    foot_force_n: Num,
    pedal_travel_m: Num,
    /// On the ground where it is least.
    front_first_by: Num,
    /// Torque there is at the driver's pull over torque needed, with cold friction.
    in_hand_cold: OrWhy<Num>,
    /// What the usual turn comes to.
    turn: OrWhy<String>,
    /// What is left of the fluid to its wet boiling point over the stage.
    fluid_margin_dk: OrWhy<Num>,
    /// What its parts come to with the person's own prices.
    cost: OrWhy<CostView>,
    gives_up: String,
}

#[derive(Serialize, JsonSchema)]
struct CostView {
    sum: Num,
    /// What the money is called.
    currency: String,
    /// Parts without a price.
    without: usize,
}

#[derive(Serialize, JsonSchema)]
struct MissView {
    #[serde(flatten)]
    row: RowView,
    /// Limits that it overruns.
    breaks: Vec<&'static str>,
}

impl SizeView {
    pub(super) fn of(outcome: &Outcome, currency: &str) -> Self {
        let (limits, found) = (&outcome.limits, &outcome.found);
        Self {
            searched: found.computed + found.excluded,
            computed: found.computed,
            excluded: found.excluded,
            met: found.met,
            driven: found.driven,
            undriven: found.undriven,
            limits: LimitsView {
                hand_force_n: limits.hand.n().into(),
                travel_m: limits.travel.m().into(),
                foot_force_n: limits.foot.n().into(),
                pedal_travel_m: OrWhy::or(
                    limits.pedal_travel.map(|most| most.m()),
                    "no limit but the master's stroke",
                ),
                front_first_by: limits.lead.into(),
                grips: limits.grips.clone(),
                fluid_margin_dk: OrWhy::or(
                    limits.fluid.as_ref().map(|fluid| fluid.least.dk()),
                    "no limit was asked for: --fluid-margin",
                ),
                turn: OrWhy::or(
                    limits.turn.map(engine::turn::TurnVerdict::name),
                    "no limit was asked for: --turn-word",
                ),
            },
            broken: Breaks::ALL
                .into_iter()
                .map(|limit| (name(limit), found.breaking(limit)))
                .collect(),
            best: outcome
                .rows
                .iter()
                .map(|sized| row(sized, outcome, currency))
                .collect(),
            more: outcome.more,
            nearest: OrWhy::or(
                outcome.miss.as_ref().map(|(sized, miss)| MissView {
                    row: row(sized, outcome, currency),
                    breaks: miss.breaks.iter().map(|limit| name(*limit)).collect(),
                }),
                if !outcome.rows.is_empty() {
                    "some keep the limits"
                } else {
                    "none can be measured against the limits"
                },
            ),
        }
    }
}

const fn name(limit: Breaks) -> &'static str {
    match limit {
        Breaks::NoCar => "no-car",
        Breaks::Centre => "centre",
        Breaks::Valve => "valve",
        Breaks::Hand => "hand",
        Breaks::Travel => "travel",
        Breaks::Foot => "foot",
        Breaks::PedalTravel => "pedal-travel",
        Breaks::LockOrder => "lock-order",
        Breaks::Fluid => "fluid",
        Breaks::Turn => "turn",
    }
}

fn row(sized: &Sized, outcome: &Outcome, currency: &str) -> RowView {
    let mut keys = BTreeMap::new();
    for (key, value) in ["lever.bore", "lever.ratio"].into_iter().zip(&sized.lever) {
        if let Some(value) = value {
            keys.insert(key.to_owned(), json(value));
        }
    }
    for set in &sized.sets {
        if let Some((key, value)) = set.split_once('=') {
            keys.insert(key.to_owned(), json(value));
        }
    }
    let figures = &sized.figures;
    RowView {
        keys,
        changes: sized.changed.len(),
        hand_force_n: figures.hand.n().into(),
        travel_m: figures.travel.m().into(),
        pressure_pa: figures.pressure.pa().into(),
        foot_force_n: figures.foot.n().into(),
        pedal_travel_m: figures.pedal_travel.m().into(),
        front_first_by: figures.lead.into(),
        in_hand_cold: OrWhy::or(sized.in_hand_cold, "it was not looked at"),
        turn: OrWhy::or(
            sized.turn.map(|verdict| verdict.words().replace(' ', "-")),
            "the turn was not driven",
        ),
        fluid_margin_dk: OrWhy::or(sized.to_boiling.map(|left| left.dk()), "the stage was not driven"),
        cost: OrWhy::or(
            sized.cost.map(|cost| CostView {
                sum: cost.sum.into(),
                currency: currency.to_owned(),
                without: cost.without,
            }),
            "no price under [prices] in preferences.toml",
        ),
        gives_up: given_up(sized, &outcome.precision, &Units::default()).replace('\u{a0}', " "),
    }
}

/// A bare number stays one.
fn json(value: &str) -> Value {
    value
        .parse::<f64>()
        .ok()
        .and_then(serde_json::Number::from_f64)
        .map_or_else(|| Value::String(value.to_owned()), Value::Number)
}

/// The same for a spreadsheet, in SI.
pub(super) fn csv(outcome: &Outcome) -> Vec<CsvTable> {
    let row = |sized: &Sized| {
        let figures = &sized.figures;
        vec![
            sized.sets.join("; "),
            format!("{:.4}", figures.hand.n()),
            format!("{:.6}", figures.travel.m()),
            format!("{:.0}", figures.pressure.pa()),
            format!("{:.4}", figures.foot.n()),
            format!("{:.6}", figures.pedal_travel.m()),
            format!("{:.6}", figures.lead),
            sized
                .cost
                .map_or_else(String::new, |cost| format!("{:.2}", cost.sum)),
            given_up(sized, &outcome.precision, &Units::default()).replace('\u{a0}', " "),
        ]
    };
    vec![CsvTable {
        name: "size.csv",
        head: vec![
            "other keys",
            "pull [N]",
            "travel [m]",
            "pressure [Pa]",
            "foot [N]",
            "pedal travel [m]",
            "front first by",
            "cost",
            "gives up",
        ],
        rows: outcome.rows.iter().map(row).collect(),
    }]
}
