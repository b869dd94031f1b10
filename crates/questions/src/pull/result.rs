//! What `pull` answers, as other programs read it.

use engine::fit::Estimate;
use engine::pull::{Apart, PullPart};
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::{Outcome, PullRead};
use crate::result::{Num, OrWhy};

/// A measured pull, taken apart.
#[derive(Serialize, JsonSchema)]
pub(super) struct PullView {
    /// The day of the pull.
    pulled_on: OrWhy<String>,
    /// Pad to disc, a side; of drums the travel of each cylinder piston.
    clearance_m: OrWhy<Num>,
    clearance_se: OrWhy<Num>,
    /// 95 % interval.
    clearance_low_m: OrWhy<Num>,
    clearance_high_m: OrWhy<Num>,
    /// A wheel, hoses at their own growth.
    flex_m3_pa: OrWhy<Num>,
    flex_se: OrWhy<Num>,
    flex_low_m3_pa: OrWhy<Num>,
    flex_high_m3_pa: OrWhy<Num>,
    /// At rest, in the branch.
    air_m3: OrWhy<Num>,
    air_se: OrWhy<Num>,
    air_low_m3: OrWhy<Num>,
    air_high_m3: OrWhy<Num>,
    /// Whether the readings tell the three from one another.
    told_apart: OrWhy<bool>,
    /// Root mean square of what is left.
    residual_pa: OrWhy<Num>,
    /// Readings that count.
    counted: usize,
    /// What takes the travel at the highest pressure.
    travel: Vec<TakesView>,
    /// The reading that would tell most.
    read_next_pa: OrWhy<Num>,
    /// The bias valve as two gauges read it, a row a setting.
    valve: Vec<KneeView>,
    /// Slope that goes with it.
    valve_slope: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct TakesView {
    /// `clearance`, `flex` or `air`.
    part: &'static str,
    travel_m: Num,
    low_m: Num,
    high_m: Num,
}

#[derive(Serialize, JsonSchema)]
struct KneeView {
    /// Turns or position.
    setting: OrWhy<Num>,
    knee_pa: OrWhy<Num>,
    knee_low_pa: OrWhy<Num>,
    knee_high_pa: OrWhy<Num>,
    /// What the sheet has.
    sheet_pa: OrWhy<Num>,
}

impl PullView {
    pub(super) fn of(outcome: &Outcome) -> Self {
        let (apart, why) = match &outcome.pull {
            None => (None, "no pull is on the sheet".to_owned()),
            Some(PullRead {
                apart: Err(cannot), ..
            }) => (None, cannot.to_string()),
            Some(PullRead { apart: Ok(apart), .. }) => (Some(apart), String::new()),
        };
        let num = |of: &dyn Fn(&Apart) -> f64| OrWhy::or(apart.map(of), why.clone());
        let valve = outcome.valve.as_ref().and_then(|valve| valve.as_ref().ok());
        Self {
            pulled_on: OrWhy::or(
                outcome
                    .pull
                    .as_ref()
                    .and_then(|pull| pull.on)
                    .map(|on| on.to_string()),
                "no day is on the sheet",
            ),
            clearance_m: num(&|apart| apart.clearance.value.m()),
            clearance_se: num(&|apart| apart.clearance.se.m()),
            clearance_low_m: num(&|apart| apart.clearance.low.m()),
            clearance_high_m: num(&|apart| apart.clearance.high.m()),
            flex_m3_pa: num(&|apart| apart.flex.value.m3_pa()),
            flex_se: num(&|apart| apart.flex.se.m3_pa()),
            flex_low_m3_pa: num(&|apart| apart.flex.low.m3_pa()),
            flex_high_m3_pa: num(&|apart| apart.flex.high.m3_pa()),
            air_m3: num(&|apart| apart.air.value.m3()),
            air_se: num(&|apart| apart.air.se.m3()),
            air_low_m3: num(&|apart| apart.air.low.m3()),
            air_high_m3: num(&|apart| apart.air.high.m3()),
            told_apart: OrWhy::or(apart.map(|apart| apart.told_apart), why.clone()),
            residual_pa: num(&|apart| apart.residual.pa()),
            counted: apart.map_or(0, |apart| apart.counted),
            travel: apart.map_or_else(Vec::new, |apart| {
                PullPart::ALL
                    .iter()
                    .zip(&apart.travel)
                    .map(|(part, travel)| TakesView {
                        part: match part {
                            PullPart::Clearance => "clearance",
                            PullPart::Flex => "flex",
                            PullPart::Air => "air",
                        },
                        travel_m: travel.value.m().into(),
                        low_m: travel.low.m().into(),
                        high_m: travel.high.m().into(),
                    })
                    .collect()
            }),
            read_next_pa: OrWhy::or(
                apart.and_then(|apart| apart.next).map(|next| next.pressure.pa()),
                "no pull to add a reading to",
            ),
            valve: valve.map_or_else(Vec::new, |valve| {
                valve
                    .settings
                    .iter()
                    .map(|at| {
                        let knee = |of: &dyn Fn(&Estimate<quantity::si::Pressure>) -> f64| {
                            OrWhy::or(at.knee.as_ref().map(of), "every reading lies below the knee")
                        };
                        KneeView {
                            setting: OrWhy::or(at.setting, "no setting was noted"),
                            knee_pa: knee(&|knee| knee.value.pa()),
                            knee_low_pa: knee(&|knee| knee.low.pa()),
                            knee_high_pa: knee(&|knee| knee.high.pa()),
                            sheet_pa: OrWhy::or(at.sheet.map(|sheet| sheet.pa()), "the sheet does not say"),
                        }
                    })
                    .collect()
            }),
            valve_slope: OrWhy::or(
                valve.map(|valve| valve.slope_taken),
                "no gauges were read at a bias valve",
            ),
        }
    }
}
