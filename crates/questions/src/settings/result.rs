//! What `settings` answers, as other programs read it.

use engine::balance::{KneeAnswer, Purpose, SettingRow};
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::{Outcome, RowRange, counts_positions};
use crate::result::{Num, OrWhy, RangeView};

/// Where valve and bar go.
#[derive(Serialize, JsonSchema)]
pub(super) struct SettingsView {
    /// A row a surface and fuel load; on a road-registered car the road's row follows the stage's.
    settings: Vec<SettingView>,
    /// Whether a centre coupling ties the axles: the answers are then those of free axles.
    tied: bool,
}

/// What a row is for.
#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum PurposeView {
    /// Competing, at this grip and load.
    Stage,
    /// Between stages: front first at every grip and load.
    Road,
}

#[derive(Serialize, JsonSchema)]
struct SettingView {
    surface: String,
    grip: Num,
    fuel_l: Num,
    #[serde(rename = "for")]
    purpose: PurposeView,
    /// In words.
    wanted: String,
    /// As f₁/f₂ − 1.
    wanted_by: Num,
    /// Knee of the valve, the bar (if any) as it is.
    knee_pa: OrWhy<Num>,
    /// Turns of the knob from fully out for that knee.
    turns: OrWhy<Num>,
    /// Position of a stepped valve for that knee; between two positions it is not whole.
    position: OrWhy<Num>,
    /// The bar's front share, the valve (if any) as it is.
    bar_front_share: OrWhy<Num>,
    /// Turns of the bar from where it stands, towards the front.
    bar_turns: OrWhy<Num>,
    /// Whether valve or bar can be set so.
    reachable: bool,
    /// The highest lower grip at which some load locks the rear first, so set.
    rear_first_below_grip: OrWhy<Num>,
    /// How sure it is.
    ranges: SettingRangesView,
}

#[derive(Serialize, JsonSchema)]
struct SettingRangesView {
    knee_pa: OrWhy<RangeView>,
    turns: OrWhy<RangeView>,
    bar_turns: OrWhy<RangeView>,
}

impl SettingsView {
    /// Of what came out.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let stepped = counts_positions(outcome.settings.scale);
        Self {
            settings: outcome
                .settings
                .rows
                .iter()
                .zip(&outcome.ranges)
                .map(|(row, range)| setting(outcome, row, range, stepped))
                .collect(),
            tied: outcome.settings.tied,
        }
    }
}

fn setting(outcome: &Outcome, row: &SettingRow, range: &RowRange, stepped: bool) -> SettingView {
    let knee = match row.knee {
        KneeAnswer::At(knee) => Some(knee.pa()),
        _ => None,
    };
    let no_knee = match row.knee {
        KneeAnswer::NoneNeeded => "no valve is needed for it".to_owned(),
        _ => row
            .why_not
            .map_or_else(|| "no knee gives it".to_owned(), |why| why.to_string()),
    };
    let no_knob = row.why_not.map_or_else(|| no_knee.clone(), |why| why.to_string());
    let no_bar = "the car has no balance bar, or the bar cannot do it";
    let knob = |wanted: bool, why: &'static str| {
        if wanted {
            OrWhy::or(row.knob, no_knob.clone())
        } else {
            OrWhy::Why(why.into())
        }
    };
    let ranged = |value: Option<f64>, range: Option<engine::ranges::Range>| {
        OrWhy::or(
            value
                .zip(range)
                .map(|(value, range)| RangeView::of(value, Some(range))),
            "not drawn, or not to be had",
        )
    };
    let road = row.purpose == Purpose::Road;
    SettingView {
        surface: row.surface.to_string(),
        grip: row.grip.into(),
        fuel_l: (row.laden.fuel.m3() * 1000.0).into(),
        purpose: if road {
            PurposeView::Road
        } else {
            PurposeView::Stage
        },
        wanted: if road && row.wish.margin() <= 0.0 {
            "front first at every grip and load".to_owned()
        } else {
            outcome.wanted.clone()
        },
        wanted_by: row.wish.margin().into(),
        knee_pa: OrWhy::or(knee, no_knee.clone()),
        turns: knob(!stepped, "a stepped valve: position"),
        position: knob(stepped, "a knob: turns"),
        bar_front_share: OrWhy::or(row.bar.map(|bar| bar.front_share), no_bar),
        bar_turns: OrWhy::or(row.bar.map(|bar| bar.turns), no_bar),
        reachable: row.reachable,
        rear_first_below_grip: OrWhy::or(
            row.rear_first_below,
            if row.reachable {
                "none down to nothing"
            } else {
                "these parts do not reach the setting"
            },
        ),
        ranges: SettingRangesView {
            knee_pa: ranged(knee, range.knee_pa),
            turns: ranged(row.knob.filter(|_| !stepped), range.knob),
            bar_turns: ranged(row.bar.map(|bar| bar.turns), range.bar_turns),
        },
    }
}
