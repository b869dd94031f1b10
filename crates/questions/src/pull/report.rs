//! What was measured, as it is shown.

use engine::fit::Estimate;
use engine::gauges::{KneeAgainst, ValveRead};
use engine::pull::{Advice, Apart, PullFault, PullPart};
use engine::ranges::Range;
use quantity::si::{Length, Pressure, Volume};
use symptoms::Changed;
use wording::{Measured, Units, figure};

use super::Ask;
use super::outcome::{Outcome, PullRead, Since};
use crate::opened::Opened;
use crate::question::Case;
use crate::readings::ReadingForm;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Offer, Report, Section, Stroke, Table, last_change, sentence,
};

/// What stands beside every bleed.
const ON_FLUID: &str = "Fluid strips paint and harms eyes and skin: gloves, glasses, wash down with water.";

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let units = &case.units;
    let mut report = Report::of(&Ask, case, headline(outcome, units));
    report.section(taken(case.opened));
    if let Some(PullRead { apart: Ok(apart), .. }) = &outcome.pull {
        report.section(takes(apart, units));
        report.section(fitted(apart, units));
        report.caution(ON_FLUID);
    }
    if let Some(Since { on, changed, done }) = &outcome.since {
        let mut section = since(*on, changed, units);
        if !done.is_empty() {
            section = section
                .with(Block::Text("By the logbook, between the two:".to_owned()))
                .with(Block::List(done.clone()));
        }
        report.section(section);
    }
    if let Some(valve) = &outcome.valve {
        report.section(gauges(valve, units).with_some(offered(case.opened, valve, units)));
    }
    report
}

/// What two gauges offer to the sheet: the knee counts as it was read; the slope once it is taken over.
fn offered(
    opened: &Opened,
    valve: &Result<ValveRead, engine::gauges::GaugesFault>,
    units: &Units,
) -> Option<Block> {
    let slope = valve.as_ref().ok()?.slope.as_ref()?;
    let half = (slope.high - slope.low).max(0.0) / 2.0;
    let now = opened.car().bias_valve.as_ref()?.slope;
    Some(Block::Offers(vec![Offer::new(
        opened,
        (
            "bias_valve.slope",
            &format!("{:.3} \u{b1} {half:.3}", slope.value),
        ),
        &format!("{now:.3}"),
        "two gauges, 95 % of it".to_owned(),
        units,
    )]))
}

/// Readings that can be taken here.
fn taken(opened: &Opened) -> Section {
    let section = Section::new("Take a reading", "put onto the sheet as it is typed", None);
    let section =
        ReadingForm::of(opened.car()).fold(section, |section, reading| section.with(Block::Reading(reading)));
    section.with_some(last_change(opened))
}

pub(super) fn in_short(outcome: &Outcome, units: &Units) -> String {
    match &outcome.pull {
        None => "nothing yet".to_owned(),
        Some(PullRead { apart: Err(_), .. }) => "not told apart".to_owned(),
        Some(PullRead { apart: Ok(apart), .. }) => {
            let air = measured(&apart.air, |air| air.m3(), units.fluid);
            match (apart.air.from_nothing, air.range) {
                (true, Some(_)) => format!("air below {}", at_most(&apart.air, units)),
                (_, _) => format!("air {}", air.value.text),
            }
        }
    }
}

fn measured<T: Copy>(found: &Estimate<T>, si: impl Fn(T) -> f64, unit: quantity::Unit) -> Measured {
    let range = Range {
        low: si(found.low),
        high: si(found.high),
    };
    Measured::new(
        si(found.value),
        Some(range).filter(|range| range.high.is_finite()),
        unit,
    )
}

/// The most that there can be, to the digit that its range has.
fn at_most(air: &Estimate<Volume>, units: &Units) -> String {
    let air = measured(air, |air| air.m3(), units.fluid);
    air.range.map_or(air.value.text, |range| range.high.text)
}

const fn part(part: PullPart) -> &'static str {
    match part {
        PullPart::Clearance => "clearance",
        PullPart::Flex => "flex",
        PullPart::Air => "air",
    }
}

fn headline(outcome: &Outcome, units: &Units) -> Headline {
    let plain = |stamp: &str, because: String, first: &str| Headline {
        stamp: stamp.to_owned(),
        frame: Frame::Broken,
        because,
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: Some(first.to_owned()),
    };
    let read = match &outcome.pull {
        None => {
            return plain(
                "Nothing measured yet",
                "No pull of the handbrake against a gauge is on the sheet.".to_owned(),
                "Pull slowly against a gauge at the rear: five readings of grip travel and pressure.",
            );
        }
        Some(read) => read,
    };
    let apart = match &read.apart {
        Ok(apart) => apart,
        Err(cannot) => {
            return plain(
                "Not told apart",
                because_not(cannot),
                "Pull again, slowly, and read five points or more.",
            );
        }
    };
    let advice = apart.advice.first().copied().unwrap_or(Advice::Nothing);
    let (stamp, frame) = match advice {
        Advice::BleedAgain => ("Air in the line", Frame::Heavy),
        Advice::TakeUpClearance => ("Too much clearance", Frame::Heavy),
        Advice::LookForFlex => ("Something gives", Frame::Heavy),
        Advice::ReadMore => ("Not told apart", Frame::Broken),
        Advice::PullAgain => ("The readings scatter", Frame::Broken),
        Advice::Nothing => ("Nothing stands out", Frame::Solid),
    };
    let most = (0..3).max_by(|&one, &other| {
        apart.travel[one]
            .value
            .m()
            .total_cmp(&apart.travel[other].value.m())
    });
    let most = most.map_or(PullPart::Clearance, |place| PullPart::ALL[place]);
    let of = |place: PullPart| &apart.travel[PullPart::ALL.iter().position(|one| *one == place).unwrap_or(0)];
    let because = format!(
        "Most travel goes into {}: {} at {}.",
        part(most),
        measured(of(most), Length::m, units.length).value.text,
        figure(apart.top.pa(), units.pressure)
    );
    let mut though = Vec::new();
    if apart.air.from_nothing {
        though.push(format!(
            "There may be no air at all; at most it is {}.",
            at_most(&apart.air, units)
        ));
    }
    if !apart.told_apart {
        let (one, other) = apart.confused;
        though.push(format!(
            "These readings hardly tell {} from {}.",
            part(one),
            part(other)
        ));
    }
    if apart.widened_by.is_some() {
        though
            .push("The readings scatter more than gauge and tape should; all errors are widened.".to_owned());
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures: vec![
            Figure {
                name: "air",
                measured: measured(&apart.air, |air| air.m3(), units.fluid),
                limit: None,
                working: None,
            },
            Figure {
                name: "clearance, a side",
                measured: measured(&apart.clearance, Length::m, units.length),
                limit: None,
                working: None,
            },
            Figure {
                name: "flex, as grip travel",
                measured: measured(&apart.travel[1], Length::m, units.length),
                limit: None,
                working: None,
            },
        ],
        first: Some(todo(advice, apart, units)),
    }
}

fn because_not(cannot: &PullFault) -> String {
    match cannot {
        PullFault::NoLever => "This car has no handbrake lever to pull.".to_owned(),
        PullFault::Cable => "A cable works the rear: it makes no pressure to read.".to_owned(),
        PullFault::TooFew { usable } => {
            format!("Only {usable} of the readings show a pressure that the gauge can tell.")
        }
        PullFault::NoFit => "No clearance, flex and air of this car fit these readings.".to_owned(),
    }
}

fn todo(advice: Advice, apart: &Apart, units: &Units) -> String {
    match advice {
        Advice::BleedAgain => "Bleed again, the lever cylinder's outlet uppermost.".to_owned(),
        Advice::TakeUpClearance => "Look for play that knocks the pads back, or adjust the shoes.".to_owned(),
        Advice::LookForFlex => "Watch hoses, brackets and pads while a helper pulls.".to_owned(),
        Advice::PullAgain => {
            "Pull again, slowly and one way, and look at the reading that stands out.".to_owned()
        }
        Advice::ReadMore => apart.next.map_or_else(
            || "Read more points.".to_owned(),
            |next| {
                format!(
                    "Take one more reading at {}.",
                    figure(next.pressure.pa(), units.pressure)
                )
            },
        ),
        Advice::Nothing => "Keep it on the sheet: the next pull is held against it.".to_owned(),
    }
}

fn takes(apart: &Apart, units: &Units) -> Section {
    let row = |name: &str, travel: &Estimate<Length>| {
        let travel = measured(travel, Length::m, units.length);
        let range = travel
            .range
            .map_or_else(|| "not known".to_owned(), |range| range.text);
        vec![name.to_owned(), travel.value.text, range]
    };
    let known = vec![
        "free play, free stroke, hoses, fluid".to_owned(),
        figure(apart.known_travel.m(), units.length),
        "as on the sheet".to_owned(),
    ];
    let mut rows: Vec<Vec<String>> = (0..3)
        .map(|place| row(part(PullPart::ALL[place]), &apart.travel[place]))
        .collect();
    rows.push(known);
    Section::new(
        format!(
            "What takes the travel, at {}",
            figure(apart.top.pa(), units.pressure)
        ),
        "clearance, flex, air, and what is known",
        Some(Stroke::Hand),
    )
    .with(Block::Table(Table {
        caption: "Travel of the grip".to_owned(),
        heads: vec!["part".to_owned(), "travel".to_owned(), "range".to_owned()],
        names_row: 0,
        rows: rows.into_iter().map(Into::into).collect(),
        of_words: true,
    }))
    .with(Block::Text(
        "Nineteen times in twenty the figure lies within its range.".to_owned(),
    ))
}

fn fitted(apart: &Apart, units: &Units) -> Section {
    let mut facts = vec![
        Detail::new(
            "told apart",
            if apart.told_apart {
                "yes: these readings tell the three from one another".to_owned()
            } else {
                format!(
                    "no: {} and {} can change places",
                    part(apart.confused.0),
                    part(apart.confused.1)
                )
            },
        ),
        Detail::new(
            "left over",
            format!(
                "{} between readings and curve, over {} readings",
                figure(apart.residual.pa(), units.pressure),
                apart.counted
            ),
        ),
    ];
    if !apart.left_out.is_empty() {
        facts.push(Detail::new(
            "left out",
            format!(
                "{} below what the gauge can tell, or at a limiting valve's cap",
                apart.left_out.len()
            ),
        ));
    }
    if let Some(next) = apart.next {
        facts.push(Detail::new(
            "read next",
            format!(
                "at {}, the grip near {}: the least certain of the three is then good to {} instead of {}",
                figure(next.pressure.pa(), units.pressure),
                figure(next.travel.m(), units.length),
                figure(next.worst_then.m(), units.length),
                if next.worst_now.m().is_finite() {
                    figure(next.worst_now.m(), units.length)
                } else {
                    "nothing known".to_owned()
                }
            ),
        ));
    }
    Section::new(
        "How sure",
        "told apart, what is left over, what to read next",
        None,
    )
    .with(Block::Details(facts))
}

fn since(on: Option<engine::car::Date>, changed: &Changed, units: &Units) -> Section {
    let then = on.map_or_else(|| "the pull before".to_owned(), |on| format!("the pull of {on}"));
    let mut facts = vec![Detail::new(
        "travel",
        format!(
            "{} now, {} then, at {}",
            figure(changed.travel.1.m(), units.length),
            figure(changed.travel.0.m(), units.length),
            figure(changed.at.pa(), units.pressure)
        ),
    )];
    for change in &changed.parts {
        let range = Range {
            low: change.between.0.m(),
            high: change.between.1.m(),
        };
        let range = Some(range).filter(|range| range.high.is_finite() && range.low.is_finite());
        let by = Measured::new(change.by.m(), range, units.length);
        let between = by
            .range
            .map_or_else(String::new, |range| format!(" ({})", range.text));
        let more = if change.by.m() < 0.0 {
            let less = Measured::known(-change.by.m(), None, range, units.length);
            format!("{} less", less.value.text)
        } else {
            format!("{} more", by.value.text)
        };
        let share = match change.share {
            Some(share) => format!("; explains {} of what surely changed", wording::per_cent(share)),
            None => "; may not have changed at all".to_owned(),
        };
        let with = change
            .goes_with
            .map_or_else(String::new, |with| format!("; {with}"));
        facts.push(Detail::new(
            part(change.part),
            format!("{more}{between}{share}{with}"),
        ));
    }
    if !changed.anything && (changed.travel.1 - changed.travel.0).m().abs() > 5e-3 {
        facts.push(Detail::new(
            "so",
            "the travel did change, and these readings do not tell which part it is: read more points low down",
        ));
    }
    Section::new(
        format!("Since {then}"),
        "what changed, and what explains it",
        None,
    )
    .with(Block::Details(facts))
}

fn gauges(valve: &Result<ValveRead, engine::gauges::GaugesFault>, units: &Units) -> Section {
    let section = Section::new(
        "The bias valve, as two gauges read it",
        "knee, slope, against the sheet",
        Some(Stroke::Rear),
    );
    let read = match valve {
        Ok(read) => read,
        Err(cannot) => return section.with(Block::Text(sentence(&cannot.to_string()))),
    };
    let pressure = |found: &Estimate<Pressure>| {
        let shown = measured(found, Pressure::pa, units.pressure);
        shown.range.map_or(shown.value.text.clone(), |range| {
            format!("{} ({})", shown.value.text, range.text)
        })
    };
    let mut facts: Vec<Detail> = read
        .settings
        .iter()
        .map(|at| {
            let name = at
                .setting
                .map_or_else(|| "knee".to_owned(), |setting| format!("at {setting}"));
            let knee = at.knee.as_ref().map_or_else(
                || format!("no lower than {}", figure(at.at_least.pa(), units.pressure)),
                pressure,
            );
            let sheet = at.sheet.map_or_else(String::new, |sheet| {
                format!("; {} on the sheet", figure(sheet.pa(), units.pressure))
            });
            let against = match at.against {
                KneeAgainst::Agrees => "it agrees",
                KneeAgainst::Later => "it cuts later: more rear",
                KneeAgainst::Earlier => "it cuts earlier: less rear",
                KneeAgainst::NotOnSheet => "the sheet does not say",
            };
            Detail::new(name, format!("knee at {knee}{sheet}: {against}"))
        })
        .collect();
    facts.push(Detail::new(
        "slope",
        read.slope.as_ref().map_or_else(
            || {
                format!(
                    "{}, the sheet's: these readings do not settle it",
                    wording::ratio(read.slope_taken)
                )
            },
            |slope| {
                format!(
                    "{} ({} to {})",
                    wording::ratio(slope.value),
                    wording::ratio(slope.low),
                    wording::ratio(slope.high)
                )
            },
        ),
    ));
    if let Some(law) = &read.law {
        facts.push(Detail::new(
            "a turn",
            format!(
                "moves the knee by {}, give or take {}",
                figure(law.per_step.0.pa(), units.pressure),
                figure(1.96 * law.per_step.1.pa(), units.pressure)
            ),
        ));
    }
    if let Some(next) = &read.next {
        facts.push(Detail::new(
            "read next",
            format!(
                "{}{} in front: the knee is then good to {}",
                next.setting
                    .map_or_else(String::new, |setting| format!("at {setting}, ")),
                figure(next.front.pa(), units.pressure),
                figure(1.96 * next.then.pa(), units.pressure)
            ),
        ));
    }
    section.with(Block::Details(facts))
}
