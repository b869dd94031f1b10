//! Headline figures with their ranges, and chances of verdicts.

use engine::headline::Headlines;
use engine::ranges::Range;
use schemars::JsonSchema;
use serde::Serialize;

use super::{Num, OrWhy};

/// What the headline figures come to over the tolerances of the sheet.
#[derive(Serialize, JsonSchema)]
pub struct HeadlineView {
    /// Headline figures, each with the range that holds 90 % of the draws.
    ranges: RangesView,
    /// Chances of verdicts, between 0 and 1.
    chances: ChancesView,
}

#[derive(Serialize, JsonSchema)]
struct RangesView {
    front_first_by: OrWhy<RangeView>,
    in_hand: OrWhy<RangeView>,
    hand_force_n: OrWhy<RangeView>,
    travel_m: OrWhy<RangeView>,
    pressure_pa: OrWhy<RangeView>,
}

/// Chances of verdicts over the draws, between 0 and 1.
#[derive(Serialize, JsonSchema)]
pub struct ChancesView {
    /// The rear leads at first lock.
    rear_locks_first: OrWhy<Num>,
    /// The driver's pull stops the rear wheels and the front wheels roll.
    lever_stops_rear: OrWhy<Num>,
    /// The coupling drags all four to a stop.
    lever_stops_all_four: OrWhy<Num>,
}

/// A figure with its 5–95 % range.
#[derive(Serialize, JsonSchema)]
pub struct RangeView {
    /// Every toleranced figure at its middle.
    value: Num,
    /// 5 % of the draws lie below.
    low: OrWhy<Num>,
    /// 95 % of the draws lie below.
    high: OrWhy<Num>,
}

const NOT_DRAWN: &str = "nothing was drawn";

impl RangeView {
    /// Of a figure.
    pub fn of(value: f64, range: Option<Range>) -> Self {
        Self {
            value: value.into(),
            low: OrWhy::or(range.map(|range| range.low), NOT_DRAWN),
            high: OrWhy::or(range.map(|range| range.high), NOT_DRAWN),
        }
    }
}

impl HeadlineView {
    /// Of what came out.
    pub fn of(headline: &Option<Headlines>) -> Self {
        let found = headline.as_ref();
        let lever = found.is_some_and(|found| found.middle.outcome.is_some());
        let ranged = |figure: fn(&engine::headline::HeadlineFigures) -> Option<f64>, why: &'static str| {
            let value = found.and_then(|found| figure(&found.middle));
            OrWhy::or(
                value.map(|value| RangeView::of(value, found.and_then(|found| found.range(figure)))),
                why,
            )
        };
        let not_had = if lever {
            "a cable, or a valve that caps the pressure"
        } else {
            NO_LEVER
        };
        Self {
            ranges: RangesView {
                front_first_by: ranged(|middle| middle.front_first_by, "nothing locks"),
                in_hand: ranged(|middle| middle.in_hand, NO_LEVER),
                hand_force_n: ranged(|middle| middle.hand.map(|hand| hand.n()), not_had),
                travel_m: ranged(|middle| middle.travel.map(|travel| travel.m()), not_had),
                pressure_pa: ranged(|middle| middle.pressure.map(|pressure| pressure.pa()), not_had),
            },
            chances: chances(found),
        }
    }
}

const NO_LEVER: &str = "this car has no handbrake lever";

/// Chances of verdicts over the draws.
pub fn chances(found: Option<&Headlines>) -> ChancesView {
    let lever = found.is_some_and(|found| found.middle.outcome.is_some());
    let chance =
        |chance: fn(&Headlines) -> Option<f64>, why: &'static str| OrWhy::or(found.and_then(chance), why);
    let of_lever = if lever { NOT_DRAWN } else { NO_LEVER };
    ChancesView {
        rear_locks_first: chance(Headlines::chance_rear_first, NOT_DRAWN),
        lever_stops_rear: chance(Headlines::chance_rear_stops, of_lever),
        lever_stops_all_four: chance(Headlines::chance_all_four_stop, of_lever),
    }
}
