//! What `logger` answers, as other programs read it.

use ::logger::{Pads, PadsFound, WorkedBy};
use engine::car::Axle;
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::Outcome;
use crate::result::{Num, OrWhy};

/// A logger's file, held against the sheet.
#[derive(Serialize, JsonSchema)]
pub(super) struct LoggerView {
    file: OrWhy<String>,
    rows: usize,
    /// Knee and slope of the bias valve as it works.
    split: OrWhy<SplitView>,
    stops: Vec<StopView>,
    locks: Vec<LockView>,
    /// Friction of pads or linings.
    pads: Vec<PadsView>,
    offers: Vec<OfferView>,
}

#[derive(Serialize, JsonSchema)]
struct SplitView {
    knee_pa: OrWhy<Num>,
    knee_low_pa: OrWhy<Num>,
    knee_high_pa: OrWhy<Num>,
    slope: Num,
    slope_se: OrWhy<Num>,
    lag_s: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct StopView {
    /// `foot` or `hand`.
    by: &'static str,
    from_s: Num,
    to_s: Num,
    speed_from_m_s: Num,
    speed_to_m_s: Num,
    front_pa: OrWhy<Num>,
    rear_pa: OrWhy<Num>,
    mean_rate: Num,
}

#[derive(Serialize, JsonSchema)]
struct LockView {
    axle: &'static str,
    from_s: Num,
    to_s: Num,
    front_pa: OrWhy<Num>,
    rear_pa: OrWhy<Num>,
    speed_m_s: Num,
}

#[derive(Serialize, JsonSchema)]
struct PadsView {
    axle: &'static str,
    friction: Num,
    friction_se: Num,
    sheet: Num,
    /// Whether front and rear were told apart.
    told_apart: bool,
    by_temperature: Vec<AtView>,
}

#[derive(Serialize, JsonSchema)]
struct AtView {
    disc_k: Num,
    friction: Num,
    friction_se: Num,
}

#[derive(Serialize, JsonSchema)]
struct OfferView {
    key: String,
    value: String,
    now: String,
    because: String,
}

const fn axle(axle: Axle) -> &'static str {
    match axle {
        Axle::Front => "front",
        Axle::Rear => "rear",
    }
}

impl LoggerView {
    pub(super) fn of(outcome: &Outcome) -> Self {
        const NONE: &str = "this car has no log";
        const NO_SENSOR: &str = "no sensor showed it";
        let Some(held) = &outcome.read else {
            return Self {
                file: OrWhy::or(None::<String>, NONE),
                rows: 0,
                split: OrWhy::or(None::<SplitView>, NONE),
                stops: Vec::new(),
                locks: Vec::new(),
                pads: Vec::new(),
                offers: Vec::new(),
            };
        };
        let found = &held.found;
        let pressure = |pressure: Option<quantity::si::Pressure>| {
            OrWhy::or(pressure.map(|pressure| pressure.pa()), NO_SENSOR)
        };
        let split = match &found.split {
            Err(cannot) => OrWhy::or(None::<SplitView>, cannot.to_string()),
            Ok(split) => {
                let knee = split.read.settings.first().and_then(|at| at.knee);
                let why = "every pair of pressures lies below the knee";
                OrWhy::Is(SplitView {
                    knee_pa: OrWhy::or(knee.map(|knee| knee.value.pa()), why),
                    knee_low_pa: OrWhy::or(knee.map(|knee| knee.low.pa()), why),
                    knee_high_pa: OrWhy::or(knee.map(|knee| knee.high.pa()), why),
                    slope: split.read.slope_taken.into(),
                    slope_se: OrWhy::or(
                        split.read.slope.map(|slope| slope.se),
                        "these stops do not settle it: the sheet's",
                    ),
                    lag_s: OrWhy::or(split.lag.map(|lag| lag.lag.s()), "too few stops to tell"),
                })
            }
        };
        let pads = |pads: &Pads, told_apart: bool| PadsView {
            axle: axle(pads.axle),
            friction: pads.friction.0.into(),
            friction_se: pads.friction.1.into(),
            sheet: pads.sheet.into(),
            told_apart,
            by_temperature: pads
                .by_temperature
                .iter()
                .map(|at| AtView {
                    disc_k: at.disc.k().into(),
                    friction: at.friction.0.into(),
                    friction_se: at.friction.1.into(),
                })
                .collect(),
        };
        Self {
            file: OrWhy::Is(held.name.clone()),
            rows: held.log.rows(),
            split,
            stops: found
                .events
                .iter()
                .map(|event| StopView {
                    by: match event.by {
                        WorkedBy::Foot => "foot",
                        WorkedBy::Hand => "hand",
                    },
                    from_s: event.from.s().into(),
                    to_s: event.to.s().into(),
                    speed_from_m_s: event.speed_from.m_s().into(),
                    speed_to_m_s: event.speed_to.m_s().into(),
                    front_pa: pressure(event.front_peak),
                    rear_pa: pressure(event.rear_peak),
                    mean_rate: event.mean_rate.into(),
                })
                .collect(),
            locks: found
                .locks
                .iter()
                .map(|lock| LockView {
                    axle: axle(lock.axle),
                    from_s: lock.from.s().into(),
                    to_s: lock.to.s().into(),
                    front_pa: pressure(lock.front),
                    rear_pa: pressure(lock.rear),
                    speed_m_s: lock.speed.m_s().into(),
                })
                .collect(),
            pads: match &found.pads {
                None => Vec::new(),
                Some(PadsFound::Both(front, rear)) => vec![pads(front, true), pads(rear, true)],
                Some(PadsFound::Together(front, rear)) => vec![pads(front, false), pads(rear, false)],
            },
            offers: found
                .offers
                .iter()
                .map(|offer| OfferView {
                    key: offer.key.clone(),
                    value: offer.value.clone(),
                    now: offer.now.clone(),
                    because: super::report::rests_on(offer.because, &wording::Units::default()),
                })
                .collect(),
        }
    }
}
