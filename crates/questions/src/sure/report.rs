//! How sure it is, as it is shown.

use ::assess::is_open;
use charts::{Bar, BarGroup, Bars};
use engine::car::Slot;
use engine::figures::Headlined;
use engine::settles::{OfFigure, Settled};
use engine::updating::{Counts, Held, NextReading, ReadingWay};
use wording::{Measured, Units};

use super::Ask;
use super::outcome::Outcome;
use super::words;
use crate::options::OF_THE_TURN;
use crate::question::Case;
use crate::report::{
    Block, Choice, Detail, Figure, Frame, Headline, Report, Section, Table, TableRow, sentence,
};
use crate::turn_study::TurnStudy;

/// Keys that settle less of a figure are not named.
pub(super) const WORTH_IT: f64 = 0.05;
/// How many are named for one figure.
pub(super) const MOST: usize = 3;
/// A key of whose tolerance the readings leave less was settled by them.
const SETTLED_BELOW: f64 = 0.9;

/// Figures of the headline.
const SHOWN: [Headlined; 4] = [
    Headlined::InHand,
    Headlined::HandForce,
    Headlined::Travel,
    Headlined::FrontFirstBy,
];

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let units = &case.units;
    let mut report = Report::of(&Ask, case, headline(case, outcome));
    let mut told = Vec::new();
    for of in &outcome.settles {
        report
            .sections
            .extend(settling(of, wording::headlined(of.figure), &mut told));
    }
    match &outcome.of_turn {
        Some(TurnStudy::Made(made)) => match made.as_ref() {
            Ok(found) => {
                for of in found {
                    report
                        .sections
                        .extend(settling(of, words::name_of_turn(of.figure), &mut told));
                }
            }
            Err(fault) => report.section(
                Section::new(OF_TURN, "there is none", None).with(Block::Text(sentence(&fault.to_string()))),
            ),
        },
        Some(TurnStudy::UnderWay(share)) => report.section(
            Section::new(OF_TURN, "it is being computed", None).with(Block::UnderWay {
                what: "Every drawn car is driven",
                share: *share,
            }),
        ),
        None if case.opened.car().lever.is_some() && outcome.base > 0 => {
            let choice = Choice {
                label: "Drive every drawn car".to_owned(),
                text: "what settles the heading, and whether it comes round; it takes longer".to_owned(),
                says: vec![(&OF_THE_TURN, "on".to_owned())],
                ..Choice::default()
            };
            report.section(
                Section::new(OF_TURN, "where it is asked for", None).with(Block::Choose(vec![choice])),
            );
        }
        None => {}
    }
    report.section(next(outcome, case));
    if !outcome.held().is_empty() {
        report.section(held(outcome, units));
    }
    if outcome
        .updated
        .as_ref()
        .is_some_and(engine::updating::Updated::has_learned)
    {
        report.sections.extend(before_and_after(outcome, units));
        report.sections.extend(learned(outcome, units));
    }
    for caution in [
        ::assess::cautions::RAISED,
        ::assess::cautions::GAUGE,
        ::assess::cautions::PULLED,
        HARD_PRESS,
    ] {
        report.caution(caution);
    }
    report
}

/// Where what settles the turn is not there to be named figure by figure.
const OF_TURN: &str = "What settles the turn";

/// Beside a hard press with a wheel's brake open.
const HARD_PRESS: &str =
    "Press hard only with every pad and drum in its place: an open brake pushes its pistons out.";

fn headline(case: &Case<'_>, outcome: &Outcome) -> Headline {
    let open = outcome
        .settles
        .iter()
        .find(|of| of.figure == Headlined::RearStops)
        .is_some_and(|of| is_open(chance_of(of.variance_si)));
    let most = most_settling(outcome);
    let unexplained = outcome.not_explained().count();
    let mut though = Vec::new();
    if unexplained > 0 {
        though.push(match unexplained {
            1 => "One reading is not explained, and was left out.".to_owned(),
            many => format!("{many} readings are not explained, and were left out."),
        });
    }
    if let Some((of, settled)) = most {
        though.push(format!(
            "{} depends most on {}: {}.",
            wording::capital(wording::headlined(of.figure)),
            wording::key_name(settled.slot),
            share(settled.index.total)
        ));
    }
    let counted = outcome
        .held()
        .iter()
        .filter(|held| matches!(held.counts, Counts::Yes | Counts::Replaces))
        .count();
    let (stamp, frame) = match (outcome.base, open) {
        (0, _) => ("Nothing was drawn", Frame::Broken),
        (_, true) => ("Not yet sure", Frame::Broken),
        (_, false) => ("Sure enough", Frame::Solid),
    };
    let because = match counted {
        0 => "No reading narrows the sheet's tolerances yet.".to_owned(),
        1 => "One reading narrows the sheet's tolerances.".to_owned(),
        many => format!("{many} readings narrow the sheet's tolerances."),
    };
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures: figures(case, outcome),
        first: first(outcome),
    }
}

/// The smaller of both chances, of the variance p(1 − p) of a figure that is 1 or 0.
fn chance_of(variance: f64) -> Option<f64> {
    Some(0.5 - (0.25 - variance.min(0.25)).max(0.0).sqrt())
}

fn figures(case: &Case<'_>, outcome: &Outcome) -> Vec<Figure> {
    let (units, precision) = (&case.units, case.precision());
    SHOWN
        .into_iter()
        .filter_map(|figure| {
            let (value, range) = outcome.of_figure(figure)?.after;
            let value = value.filter(|value| value.is_finite())?;
            let measured = match figure {
                Headlined::HandForce => Measured::known(value, range, precision.hand, units.force),
                Headlined::Travel => Measured::known(value, range, precision.travel, units.length),
                _ => words::measured(figure, value, range, units),
            };
            Some(Figure {
                name: wording::headline_label(figure),
                measured,
                limit: None,
                working: None,
            })
        })
        .take(3)
        .collect()
}

/// The key that settles most of the first figure that varies: what is in hand, else the front's lead.
fn most_settling(outcome: &Outcome) -> Option<(&OfFigure<Headlined>, &Settled)> {
    [Headlined::InHand, Headlined::FrontFirstBy]
        .into_iter()
        .find_map(|figure| {
            let of = outcome.settles.iter().find(|of| of.figure == figure)?;
            Some((of, of.keys.first().filter(|first| first.index.total >= WORTH_IT)?))
        })
}

/// What to do first: the first sentence of how that key is measured.
fn first(outcome: &Outcome) -> Option<String> {
    let (_, settled) = most_settling(outcome)?;
    let how = settled.slot.key.key().how;
    let end = how.find(". ").map_or(how.len(), |at| at + 1);
    (!how.is_empty()).then(|| how[..end].trim_end().to_owned())
}

fn share(of: f64) -> String {
    wording::per_cent(of.clamp(0.0, 1.0))
}

/// The keys that settle most of a figure; nothing where none is worth naming. How a key is measured is told once.
fn settling<Of>(of: &OfFigure<Of>, name: &str, told: &mut Vec<Slot>) -> Option<Section> {
    let named: Vec<&Settled> = named(of).collect();
    let first = named.first()?;
    let items = named.iter().map(|settled| {
        let key = settled.slot.key.key();
        let together = settled.index.total - settled.index.alone > 0.05;
        let alone = if together {
            format!(", {} by itself", share(settled.index.alone))
        } else {
            String::new()
        };
        let how = if told.contains(&settled.slot) {
            ""
        } else {
            told.push(settled.slot);
            if key.how.is_empty() { key.help } else { key.how }
        };
        let said = format!(
            "{} settles {}{alone}. {how}",
            wording::name_and_key(settled.slot),
            share(settled.index.total)
        );
        said.trim_end().to_owned()
    });
    let summary = format!("{}: {}", wording::key_name(first.slot), share(first.index.total));
    let items: Vec<String> = items.collect();
    Some(Section::new(format!("What settles {name}"), summary, None).with(Block::List(items)))
}

/// The picture: for each figure the keys that are named, a bar each.
pub(super) fn bars(outcome: &Outcome) -> Bars {
    let of_figures = outcome
        .settles
        .iter()
        .filter_map(|of| group(of, wording::headlined(of.figure)));
    let of_turn = match &outcome.of_turn {
        Some(TurnStudy::Made(made)) => made.as_ref().as_deref().unwrap_or_default(),
        _ => &[],
    };
    let of_turn = of_turn
        .iter()
        .filter_map(|of| group(of, words::name_of_turn(of.figure)));
    Bars {
        title: "What settles each figure",
        heads: ["figure", "what is known better", "settles", "of its spread"],
        groups: of_figures.chain(of_turn).collect(),
        whole: "A full bar is all of the figure's spread. Figures that act together are counted in each.",
        none: "No single figure settles a twentieth of any other.",
    }
}

fn group<Of>(of: &OfFigure<Of>, name: &str) -> Option<BarGroup> {
    let bars: Vec<Bar> = named(of)
        .map(|settled| Bar {
            name: wording::key_name(settled.slot),
            share: settled.index.total,
            figure: share(settled.index.total),
        })
        .collect();
    (!bars.is_empty()).then(|| BarGroup {
        head: wording::capital(name),
        bars,
    })
}

/// The keys that are named of a figure.
fn named<Of>(of: &OfFigure<Of>) -> impl Iterator<Item = &Settled> {
    of.keys
        .iter()
        .filter(|settled| settled.index.total >= WORTH_IT)
        .take(MOST)
}

/// The reading to take next, for each figure, with the forms that take it down.
fn next(outcome: &Outcome, case: &Case<'_>) -> Section {
    let mut ways: Vec<(ReadingWay, Vec<String>)> = Vec::new();
    let mut forms = Vec::new();
    for figure in SHOWN {
        let best = outcome
            .next
            .iter()
            .find(|next| next.figure == figure && next.settles >= WORTH_IT);
        let Some(NextReading { way, settles, .. }) = best else {
            continue;
        };
        let said = format!("{} {}", wording::headlined(figure), share(*settles));
        match ways.iter_mut().find(|(known, _)| known == way) {
            Some((_, of)) => of.push(said),
            None => ways.push((*way, vec![said])),
        }
        let form = words::form(*way);
        if !forms.contains(&form) {
            forms.push(form);
        }
    }
    let Some((first, _)) = ways.first() else {
        return Section::new("Take this reading next", "none would tell more", None).with(Block::Text(
            "No reading of pedal, hand or hub would settle a twentieth of a figure.".to_owned(),
        ));
    };
    let summary = words::way(*first);
    let items = ways.iter().map(|(way, of)| {
        // Of what the readings on the sheet leave open.
        format!("{}. It settles: {}.", words::way(*way), of.join(", "))
    });
    let section = Section::new("Take this reading next", summary, None).with(Block::List(items.collect()));
    let section = forms
        .into_iter()
        .fold(section, |section, form| section.with(Block::Reading(form)));
    section.with_some(crate::report::last_change(case.opened))
}

/// Every reading against the sheet.
fn held(outcome: &Outcome, units: &Units) -> Section {
    let facts = outcome
        .held()
        .iter()
        .map(|held| Detail::new(words::taken(&held.reading), said(held, units)));
    let facts: Vec<Detail> = facts.collect();
    let unexplained = outcome.not_explained().count();
    let summary = match unexplained {
        0 => format!("{} held against it", wording::readings(facts.len())),
        many => format!("{many} of {} not explained", facts.len()),
    };
    let section =
        Section::new("What the readings say of the sheet", summary, None).with(Block::Details(facts));
    if unexplained == 0 {
        return section;
    }
    section.with(Block::Caution(
        "What is not explained was left out of what follows. Read it again: zero of the gauge, unit, wheel, cold or warm. \
         If it stays, a figure of the sheet is wrong, or surer than it should be."
            .to_owned(),
    ))
}

fn said(held: &Held, units: &Units) -> String {
    let value = |si: f64| words::value(&held.reading, si, units);
    let read = words::reading(&held.reading, units);
    match held.counts {
        Counts::TellsNothing => format!("{read}: too little for a gauge to tell, left out"),
        Counts::Yes | Counts::NotExplained | Counts::Replaces => {
            let made = value(held.by_sheet_si);
            // Two standard deviations hold 95 %.
            let off = value(1.96 * held.by_sheet_sd_si);
            let tail = match held.counts {
                Counts::NotExplained => "; not explained, left out".to_owned(),
                Counts::Replaces => "; not explained, taken in the place of the sheet's".to_owned(),
                _ => format!("; with all readings {}", value(held.found_si)),
            };
            format!("{read}; the sheet makes {made} \u{b1} {off}{tail}")
        }
    }
}

/// Headline figures before and after.
fn before_and_after(outcome: &Outcome, units: &Units) -> Option<Section> {
    let rows: Vec<TableRow> = outcome
        .collapsed
        .iter()
        .filter(|collapsed| collapsed.figure != Headlined::RearStops)
        .filter_map(|collapsed| {
            let said = |of: (Option<f64>, Option<engine::ranges::Range>)| {
                let value = of.0.filter(|value| value.is_finite())?;
                Some(words::measured(collapsed.figure, value, of.1, units).with_range())
            };
            Some(TableRow::from(vec![
                wording::headlined(collapsed.figure).to_owned(),
                said(collapsed.before)?,
                said(collapsed.after)?,
            ]))
        })
        .collect();
    table(
        "Before the readings and after",
        "each with the range that holds nine in ten",
        ["figure", "before", "after"],
        rows,
    )
}

/// Keys of which the readings leave less than there was.
fn learned(outcome: &Outcome, units: &Units) -> Option<Section> {
    let rows: Vec<TableRow> = outcome
        .learned
        .iter()
        .filter(|learned| learned.left < SETTLED_BELOW)
        .filter_map(|learned| {
            let unit = words::unit(learned.slot.key.key().dimension()?, units);
            let said = |(value, range): (f64, engine::ranges::Range)| {
                Measured::new(value, Some(range), unit).with_range()
            };
            Some(TableRow::from(vec![
                wording::capital(&wording::key_name(learned.slot)),
                said(learned.before),
                said(learned.after),
            ]))
        })
        .collect();
    table(
        "What the readings made of the sheet's figures",
        "as far as each alone is known",
        ["key", "before", "after"],
        rows,
    )
}

fn table(title: &str, caption: &str, heads: [&str; 3], rows: Vec<TableRow>) -> Option<Section> {
    if rows.is_empty() {
        return None;
    }
    Some(Section::new(title, caption, None).with(Block::Table(Table {
        caption: caption.to_owned(),
        heads: heads.map(str::to_owned).to_vec(),
        names_row: 0,
        rows,
        of_words: true,
    })))
}
