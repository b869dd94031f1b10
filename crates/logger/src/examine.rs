//! A log held against a car.

use engine::car::{Axle, Brake, Car, Knee, Master};
use engine::fit::Estimate;
use engine::gauges::GaugesFault;
use engine::loads::Laden;
use engine::network::behind_valve;
use quantity::si::{Duration, Pressure, Temperature};

use crate::channel::Channel;
use crate::events::{Event, Lockup, Looked, WorkedBy, middle};
use crate::friction::{Pads, PadsFound};
use crate::log::Log;
use crate::valve::SplitRead;

/// A figure is offered where it is known to this share (standard error over the figure; judgement).
const WORTH_OFFERING: f64 = 0.08;

/// What an offer rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RestsOn {
    /// So many pairs of steady pressures.
    Pairs(usize),
    /// Where the valve's knee was found.
    KneeFound(Estimate<Pressure>),
    /// Both pressures of every stop.
    EveryStop,
    /// Pressure against deceleration.
    Deceleration,
}

/// Something that the sheet might take over.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// Key of the sheet; one that ends in `[]` is a new entry of its table.
    pub key: String,
    /// Value, as a sheet writes it.
    pub value: String,
    /// What the sheet is computed with now.
    pub now: String,
    /// What it rests on.
    pub because: RestsOn,
    /// Keys of a new entry, each with its value as a file writes it; none where the key has one value.
    pub entry: Vec<(&'static str, String)>,
}

/// The hottest that a temperature came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hottest {
    /// Which axle.
    pub axle: Axle,
    /// Fluid, or else disc.
    pub of_fluid: bool,
    /// How hot.
    pub peak: Temperature,
    /// When.
    pub at: Duration,
}

/// What a log says.
#[derive(Clone, Debug)]
pub struct Examined {
    /// Stops and pulls.
    pub events: Vec<Event>,
    /// The valve, or why it cannot be told.
    pub split: Result<SplitRead, GaugesFault>,
    /// Twin cylinders without a valve: the front cylinder's share of the push rod's force, and its scatter.
    pub bar: Option<(f64, f64)>,
    /// Wheels that locked.
    pub locks: Vec<Lockup>,
    /// Pads.
    pub pads: Option<PadsFound>,
    /// Peaks of fluid and discs.
    pub heat: Vec<Hottest>,
    /// Zeros that the sensors show: front and rear pressure.
    pub zeros: [Pressure; 2],
    /// What the sheet might take over.
    pub offers: Vec<Suggestion>,
}

/// Holds a log against a car, loaded as it was on the day.
#[must_use]
pub fn examine(log: &Log, car: &Car, laden: &Laden) -> Examined {
    let looked = Looked::at(log);
    let events = looked.events();
    let split = if log.has(Channel::FrontPressure) && log.has(Channel::RearPressure) {
        looked.split(&events, car)
    } else {
        Err(GaugesFault::NoReading)
    };
    let pads = looked.friction(&events, car, laden);
    let mut found = Examined {
        locks: looked.locks(&events),
        bar: bar(&looked, &events, car),
        heat: heat(log),
        zeros: [looked.zeros.front_pa, looked.zeros.rear_pa].map(Pressure::from_pa),
        offers: Vec::new(),
        events,
        split,
        pads,
    };
    found.offers = offers(&found, car);
    found
}

fn heat(log: &Log) -> Vec<Hottest> {
    [
        (Channel::FrontFluid, Axle::Front, true),
        (Channel::RearFluid, Axle::Rear, true),
        (Channel::FrontDisc, Axle::Front, false),
        (Channel::RearDisc, Axle::Rear, false),
    ]
    .into_iter()
    .filter_map(|(channel, axle, of_fluid)| {
        let (row, peak) = (0..log.rows())
            .filter_map(|row| Some((row, log.at(channel, row)?)))
            .max_by(|one, other| one.1.total_cmp(&other.1))?;
        Some(Hottest {
            axle,
            of_fluid,
            peak: Temperature::from_k(peak),
            at: Duration::from_s(log.time_s[row]),
        })
    })
    .collect()
}

/// Front cylinder's share of the rod's force, from both pressures: `p_f A_f/(p_f A_f + p_r A_r)`.
fn bar(looked: &Looked<'_>, events: &[Event], car: &Car) -> Option<(f64, f64)> {
    let Master::Twin {
        front_bore,
        rear_bore,
        ..
    } = car.master
    else {
        return None;
    };
    if car.bias_valve.is_some() {
        return None;
    }
    let shares: Vec<f64> = events
        .iter()
        .filter(|event| event.by == WorkedBy::Foot)
        .flat_map(|event| event.rows.0..=event.rows.1)
        .filter_map(|row| {
            let (front, rear) = (looked.front(row)?, looked.rear(row)?);
            let (front_n, rear_n) = (front * front_bore.m().powi(2), rear * rear_bore.m().powi(2));
            (front > 10e5 && rear > 5e5).then(|| front_n / (front_n + rear_n))
        })
        .collect();
    let middle_share = middle(shares.iter().copied())?;
    let scatter = middle(shares.iter().map(|share| (share - middle_share).abs()))? * 1.48;
    (shares.len() > 50).then_some((middle_share, scatter))
}

fn offers(found: &Examined, car: &Car) -> Vec<Suggestion> {
    let mut offers = Vec::new();
    if let (Ok(split), Some(valve)) = (&found.split, &car.bias_valve) {
        let bar = |pressure: Pressure| pressure.pa() / 1e5;
        if let Some(slope) = split
            .read
            .slope
            .filter(|slope| slope.se < WORTH_OFFERING * slope.value)
        {
            offers.push(Suggestion {
                key: "bias_valve.slope".to_owned(),
                value: format!("{:.3} ± {:.3}", slope.value, 1.96 * slope.se),
                now: format!("{:.3}", valve.slope),
                because: RestsOn::Pairs(split.readings.len()),
                entry: Vec::new(),
            });
        }
        if let Some(knee) = split.read.settings.first().and_then(|at| at.knee) {
            let now = format!("{:.1} bar", bar(valve.knee_at(quantity::si::Force::ZERO)));
            let because = RestsOn::KneeFound(knee);
            match &valve.knee {
                Knee::Fixed(_) => offers.push(Suggestion {
                    key: "bias_valve.knee".to_owned(),
                    value: format!("{:.1} bar ± {:.1} bar", bar(knee.value), 1.96 * bar(knee.se)),
                    now,
                    because,
                    entry: Vec::new(),
                }),
                Knee::Knob { setting, scale, .. } => {
                    // A knob's knee comes onto the sheet as a reading at its setting.
                    let front = split
                        .readings
                        .last()
                        .map_or(knee.value * 2.0, |reading| reading.0);
                    let rear = behind_valve(front, knee.value, split.read.slope_taken);
                    let setting = match scale {
                        engine::car::KnobScale::Turns(_) => format!("\"{setting} turns\""),
                        engine::car::KnobScale::Positions(_) => format!("{setting}"),
                    };
                    let entry = vec![
                        ("setting", setting),
                        ("front", format!("\"{:.1} bar\"", bar(front))),
                        ("rear", format!("\"{:.1} bar\"", bar(rear))),
                    ];
                    let keys: Vec<String> = entry
                        .iter()
                        .map(|(key, value)| format!("{key} = {value}"))
                        .collect();
                    offers.push(Suggestion {
                        key: "measured.valve[]".to_owned(),
                        value: format!("{{ {} }}", keys.join(", ")),
                        now,
                        because,
                        entry,
                    });
                }
                Knee::OverRearLoad { .. } => {}
            }
        }
    }
    if let Some((share, scatter)) = found.bar {
        let now = match car.master {
            Master::Twin { bar, .. } => format!("{:.3}", bar.front_share),
            Master::Tandem { .. } => String::new(),
        };
        offers.push(Suggestion {
            key: "master.bar.front_share".to_owned(),
            value: format!("{share:.3} ± {:.3}", scatter.max(0.002)),
            now,
            because: RestsOn::EveryStop,
            entry: Vec::new(),
        });
    }
    // One figure for both axles is no measurement of either: it is shown, and not offered.
    if let Some(PadsFound::Both(front, rear)) = &found.pads {
        offers.extend([front, rear].into_iter().filter_map(|pads| pad_offer(pads, car)));
    }
    offers
}

fn pad_offer(pads: &Pads, car: &Car) -> Option<Suggestion> {
    let (friction, se) = pads.friction;
    if se > WORTH_OFFERING * friction {
        return None;
    }
    let table = match pads.axle {
        Axle::Front => "front_brake",
        Axle::Rear => "rear_brake",
    };
    let part = match car.brake(pads.axle) {
        Brake::Disc(_) => "pad",
        Brake::Drum(_) => "lining",
    };
    Some(Suggestion {
        key: format!("{table}.{part}.friction"),
        value: format!("{friction:.3} ± {:.3}", 1.96 * se),
        now: format!("{:.3}", pads.sheet),
        because: RestsOn::Deceleration,
        entry: Vec::new(),
    })
}
