//! What the logger showed.

use ::logger::{Event, Mended, Pads, PadsFound, RestsOn, Suggestion, WorkedBy};
use engine::car::{Axle, Key, KeyId};
use engine::fit::Estimate as Figured;
use engine::gauges::KneeAgainst;
use engine::ranges::Range;
use quantity::Dimension;
use quantity::si::Pressure;
use wording::{Measured, Units, figure, ratio, seconds};

use super::Ask;
use super::outcome::{LogRead, Outcome};
use crate::opened::Opened;
use crate::question::Case;
use crate::readings::ReadingForm;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Offer, Report, Section, Stroke, Table, in_words, last_change,
};

/// Stops that a table shows at most.
const MOST_ROWS: usize = 24;

/// What an offer is.
const OFFERS: &str = "An offer counts once it is on the sheet. Take them over one by one, and look at each.";

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let units = &case.units;
    let Some(held) = &outcome.read else {
        let headline = plain(
            "No log here yet",
            "This car's folder holds no CSV file of a logger.",
            "Put the file into the car's logs folder, or name it by its path.",
        );
        return Report::of(&Ask, case, headline);
    };
    let mut report = Report::of(&Ask, case, headline(held, units));
    if let Some(truth) = &held.truth {
        let facts = vec![
            Detail::new(
                "front pads",
                format!("friction {} of the sheet's", ratio(truth.front_friction)),
            ),
            Detail::new(
                "rear pads",
                format!("friction {} of the sheet's", ratio(truth.rear_friction)),
            ),
            Detail::new(
                "valve",
                format!(
                    "knee {} and slope {} of the sheet's",
                    ratio(truth.knee),
                    ratio(truth.slope)
                ),
            ),
            Detail::new("lag", format!("{} behind", seconds(truth.lag))),
        ];
        report.section(
            Section::new(
                "What was hidden in it",
                "made by simulation, nothing measured",
                None,
            )
            .with(Block::Details(facts)),
        );
    }
    report.section(valve(held, units));
    report.section(stops(held, units));
    report.section(locks(held, units));
    report.section(pads(held));
    if !held.found.heat.is_empty() {
        report.section(heat(held));
    }
    report.section(offers(case.opened, held, units));
    report.section(file(held));
    report.caution(OFFERS);
    report
}

fn plain(stamp: &str, because: &str, first: &str) -> Headline {
    Headline {
        stamp: stamp.to_owned(),
        frame: Frame::Broken,
        because: because.to_owned(),
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: Some(first.to_owned()),
    }
}

fn measured(found: &Figured<Pressure>, units: &Units) -> Measured {
    let range = Range {
        low: found.low.pa(),
        high: found.high.pa(),
    };
    Measured::new(found.value.pa(), Some(range), units.pressure)
}

/// A ratio that may be off by so much.
fn off_by(value: f64, off: f64) -> Measured {
    let range = Range {
        low: value - off,
        high: value + off,
    };
    Measured::ratio(value, Some(range))
}

/// A friction with its standard error: nineteen times in twenty it lies between.
fn friction((value, se): (f64, f64)) -> Measured {
    off_by(value, 1.96 * se)
}

fn headline(held: &LogRead, units: &Units) -> Headline {
    let found = &held.found;
    let count = |by: WorkedBy| found.events.iter().filter(|event| event.by == by).count();
    let (feet, hands) = (count(WorkedBy::Foot), count(WorkedBy::Hand));
    let several = |count: usize, one: &str| {
        if count == 1 {
            format!("1 {one}")
        } else {
            format!("{count} {one}s")
        }
    };
    let at = found
        .split
        .as_ref()
        .ok()
        .and_then(|split| split.read.settings.first());
    let (stamp, frame) = match at.map(|at| (at.against, at.knee)) {
        Some((KneeAgainst::Earlier, _)) => ("Valve cuts earlier", Frame::Heavy),
        Some((KneeAgainst::Later, _)) => ("Valve cuts later", Frame::Heavy),
        Some((KneeAgainst::Agrees, Some(_))) => ("As on the sheet", Frame::Solid),
        _ if found.events.is_empty() => ("No stop in it", Frame::Broken),
        _ => ("Log read", Frame::Broken),
    };
    let because = format!(
        "{} and {} in {} minutes.",
        several(feet, "stop"),
        several(hands, "pull"),
        wording::whole((held.log.lasts().s() / 60.0).ceil())
    );
    let mut figures = Vec::new();
    if let Some(knee) = at.and_then(|at| at.knee) {
        figures.push(Figure {
            name: "knee of the bias valve",
            measured: measured(&knee, units),
            limit: None,
            working: None,
        });
    }
    if let Ok(split) = &found.split
        && let Some(slope) = split.read.slope
    {
        let range = Range {
            low: slope.low,
            high: slope.high,
        };
        figures.push(Figure {
            name: "slope above it",
            measured: Measured::ratio(slope.value, Some(range)),
            limit: None,
            working: None,
        });
    }
    if let Some(PadsFound::Both(front, _)) = &found.pads {
        figures.push(Figure {
            name: "front pad friction",
            measured: friction(front.friction),
            limit: None,
            working: None,
        });
    }
    let mut though = Vec::new();
    if let Some(first) = found.locks.first() {
        though.push(format!(
            "The {} wheels locked first, at {}.",
            axle(first.axle),
            seconds(first.from)
        ));
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures,
        first: Some(if found.offers.is_empty() {
            "Brake a few times at different pressures, held still for a second each.".to_owned()
        } else {
            "Look at what it offers to the sheet, and take over what you believe.".to_owned()
        }),
    }
}

const fn axle(axle: Axle) -> &'static str {
    match axle {
        Axle::Front => "front",
        Axle::Rear => "rear",
    }
}

fn valve(held: &LogRead, units: &Units) -> Section {
    let section = Section::new(
        "Front to rear, as it really is",
        "knee, slope, lag",
        Some(Stroke::Rear),
    );
    let mut facts = Vec::new();
    match &held.found.split {
        Err(cannot) => facts.push(Detail::new("valve", cannot.to_string())),
        Ok(split) => {
            if let Some(at) = split.read.settings.first() {
                let knee = at.knee.as_ref().map_or_else(
                    || format!("no lower than {}", figure(at.at_least.pa(), units.pressure)),
                    |knee| measured(knee, units).with_range(),
                );
                let sheet = at.sheet.map_or_else(String::new, |sheet| {
                    format!("; {} on the sheet", figure(sheet.pa(), units.pressure))
                });
                facts.push(Detail::new("knee", format!("{knee}{sheet}")));
            }
            facts.push(Detail::new(
                "slope",
                split.read.slope.as_ref().map_or_else(
                    || "not settled by these stops".to_owned(),
                    |slope| {
                        let range = Range {
                            low: slope.low,
                            high: slope.high,
                        };
                        Measured::ratio(slope.value, Some(range)).with_range()
                    },
                ),
            ));
            facts.push(Detail::new(
                "rests on",
                format!(
                    "{} pairs of steady pressures",
                    split.readings.iter().map(|reading| reading.2).sum::<usize>()
                ),
            ));
            if let Some(lag) = split.lag {
                facts.push(Detail::new(
                    "lag",
                    format!(
                        "the rear follows {} behind, give or take {}",
                        seconds(lag.lag),
                        seconds(lag.unsure)
                    ),
                ));
            }
        }
    }
    if let Some((share, off)) = held.found.bar {
        facts.push(Detail::new(
            "balance bar",
            format!("{} of the force in front", off_by(share, off).with_range()),
        ));
    }
    // A sensor's rest is no finer than this.
    let zero = |zero: Pressure| quantity::show(zero.pa(), units.pressure, quantity::Digits::Significant(1));
    facts.push(Detail::new(
        "sensors",
        format!(
            "at rest {} in front, {} behind: taken off everywhere",
            zero(held.found.zeros[0]),
            zero(held.found.zeros[1])
        ),
    ));
    section.with(Block::Details(facts))
}

fn stops(held: &LogRead, units: &Units) -> Section {
    let events = &held.found.events;
    let section = Section::new("Stops and pulls", format!("{} of them", events.len()), None);
    if events.is_empty() {
        return section.with(Block::Text(
            "No brake came on for long enough in a moving car.".to_owned(),
        ));
    }
    let peak = |peak: Option<Pressure>| {
        peak.map_or_else(|| "\u{2013}".to_owned(), |peak| figure(peak.pa(), units.pressure))
    };
    let row = |event: &Event| {
        vec![
            seconds(event.from),
            match event.by {
                WorkedBy::Foot => "foot".to_owned(),
                WorkedBy::Hand => "hand".to_owned(),
            },
            format!(
                "{} to {}",
                wording::kilometres_an_hour(event.speed_from),
                wording::speed(event.speed_to)
            ),
            peak(event.front_peak),
            peak(event.rear_peak),
            wording::rate(event.mean_rate),
        ]
    };
    let section = section.with(Block::Table(Table {
        caption: "Stops and pulls".to_owned(),
        heads: ["at", "by", "speed", "front at most", "rear at most", "mean rate"]
            .map(str::to_owned)
            .to_vec(),
        names_row: 0,
        rows: events
            .iter()
            .take(MOST_ROWS)
            .map(|event| row(event).into())
            .collect(),
        of_words: true,
    }));
    if events.len() > MOST_ROWS {
        return section.with(Block::Text(format!(
            "And {} more, which count as well.",
            events.len() - MOST_ROWS
        )));
    }
    section
}

fn locks(held: &LogRead, units: &Units) -> Section {
    let locks = &held.found.locks;
    let section = Section::new("Wheels that locked", format!("{} times", locks.len()), None);
    if locks.is_empty() {
        return section.with(Block::Text(
            "No axle locked while the car moved, as far as the sensors tell.".to_owned(),
        ));
    }
    let bar = |pressure: Option<Pressure>| {
        pressure.map_or_else(
            || "\u{2013}".to_owned(),
            |pressure| figure(pressure.pa(), units.pressure),
        )
    };
    let facts = locks
        .iter()
        .take(MOST_ROWS)
        .map(|lock| {
            Detail::new(
                format!("{} at {}", axle(lock.axle), seconds(lock.from)),
                format!(
                    "for {} from {}, at {} in front and {} behind",
                    seconds(lock.to - lock.from),
                    wording::speed(lock.speed),
                    bar(lock.front),
                    bar(lock.rear)
                ),
            )
        })
        .collect();
    section.with(Block::Details(facts))
}

fn pads(held: &LogRead) -> Section {
    let section = Section::new(
        "Pads, from pressure against deceleration",
        "friction, and over temperature",
        None,
    );
    let said = |pads: &Pads| {
        let mut facts = vec![Detail::new(
            axle(pads.axle),
            format!(
                "{}; {} on the sheet",
                friction(pads.friction).with_range(),
                ratio(pads.sheet)
            ),
        )];
        facts.extend(pads.by_temperature.iter().map(|at| {
            Detail::new(
                format!("{} near {}", axle(pads.axle), wording::celsius(at.disc)),
                friction(at.friction).with_range(),
            )
        }));
        facts
    };
    match &held.found.pads {
        None => section.with(Block::Text(
            "Too few moments with steady pressures and no wheel slipping.".to_owned(),
        )),
        Some(PadsFound::Both(front, rear)) => {
            section.with(Block::Details([said(front), said(rear)].concat()))
        }
        Some(PadsFound::Together(front, rear)) => section
            .with(Block::Text(
                "Front and rear cannot be told apart: both are scaled together.".to_owned(),
            ))
            .with(Block::Details(vec![
                said(front)[0].clone(),
                said(rear)[0].clone(),
            ])),
    }
}

fn heat(held: &LogRead) -> Section {
    let facts = held
        .found
        .heat
        .iter()
        .map(|heat| {
            let what = if heat.of_fluid { "fluid" } else { "disc" };
            Detail::new(
                format!("{} {what}", axle(heat.axle)),
                format!("{} at {}", wording::celsius(heat.peak), seconds(heat.at)),
            )
        })
        .collect();
    Section::new("Hottest", "fluid and discs", None).with(Block::Details(facts))
}

/// What an offer rests on, in words.
pub(super) fn rests_on(because: RestsOn, units: &Units) -> String {
    match because {
        RestsOn::Pairs(count) => format!(
            "{count} {} of steady pressures",
            wording::counted(count, "pair", "pairs")
        ),
        RestsOn::KneeFound(knee) => format!("the knee found, {}", measured(&knee, units).with_range()),
        RestsOn::EveryStop => "both pressures of every stop".to_owned(),
        RestsOn::Deceleration => "pressure against deceleration".to_owned(),
    }
}

/// A new entry of a table, figure by figure: `setting 2 turns, before the valve 60 bar, behind the valve 41 bar`.
fn entry_in_words(offer: &Suggestion, units: &Units) -> String {
    let said = offer.entry.iter().map(|(name, value)| {
        let key = KeyId::of(&format!("{}.{name}", offer.key)).map(KeyId::key);
        let value = in_words(key.and_then(Key::dimension), value, units);
        format!("{} {value}", key.map_or(*name, |key| key.label))
    });
    said.collect::<Vec<_>>().join(", ")
}

fn offers(opened: &Opened, held: &LogRead, units: &Units) -> Section {
    let offers = &held.found.offers;
    let section = Section::new(
        "What the sheet might take over",
        format!("{} offers", offers.len()),
        None,
    );
    if offers.is_empty() {
        return section.with(Block::Text(
            "Nothing is known well enough from this log.".to_owned(),
        ));
    }
    let offers = offers.iter().map(|offer| {
        let because = rests_on(offer.because, units);
        if offer.entry.is_empty() {
            return Offer::new(opened, (&offer.key, &offer.value), &offer.now, because, units);
        }
        let entry = offer.entry.iter().map(|(key, value)| (*key, value.clone()));
        Offer {
            key: offer.key.clone(),
            name: ReadingForm::Valve.title().to_owned(),
            value: entry_in_words(offer, units),
            now: in_words(Some(Dimension::Pressure), &offer.now, units),
            because,
            changes: ReadingForm::Valve.entry_more(opened.sheet.read.text(), entry),
        }
    });
    section
        .with(Block::Offers(offers.collect()))
        .with_some(last_change(opened))
}

fn file(held: &LogRead) -> Section {
    let log = &held.log;
    let per_second = quantity::units_of(Dimension::Ratio)[0];
    let mut facts = vec![
        Detail::new("file", held.name.clone()),
        Detail::new(
            "rows",
            format!(
                "{} at {} a second",
                log.rows(),
                figure(log.rows_a_second(), per_second)
            ),
        ),
    ];
    let Mended {
        rows_without_time,
        times_twice,
        times_backward,
        clock_set_anew,
        gaps,
        spikes,
        out_of_reach,
        missing,
    } = log.mended;
    for (count, what) in [
        (rows_without_time, "rows without a time"),
        (times_twice, "times twice"),
        (times_backward, "times that go back"),
        (clock_set_anew, "clocks set anew"),
        (gaps, "gaps"),
        (spikes, "spikes"),
        (out_of_reach, "figures that no car shows"),
        (missing, "figures missing"),
    ] {
        if count > 0 {
            facts.push(Detail::new(what, format!("{count}, left out")));
        }
    }
    for (head, why) in log.passed_over.iter().take(12) {
        facts.push(Detail::new("passed over", format!("`{head}`: {why}")));
    }
    Section::new("The file", "rows, and what was left out", None).with(Block::Details(facts))
}
