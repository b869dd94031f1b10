//! What comes out, what to buy and cut, what is screwed into what, as it is shown.

use assess::{Finding, Weight};
use engine::thresholds::FOOT_LIMIT_ROAD;
use plumbing::layouts::Layout;
use plumbing::rules::Caught;
use plumbing::{Joint, Meeting, pipe_name, run_words};
use quantity::si::Length;
use wording::{Precision, Units, counted};

use super::Ask;
use super::outcome::{Outcome, runs_in_words};
use super::words::{
    band_words, column, count_of, cut_words, hand_after_leak, layout_rows, meets_words, spec_words,
    wheels_words,
};
use crate::opened::PRICES;
use crate::question::Case;
use crate::report::{Block, Detail, Frame, Headline, Report, Section, Table, Tick, stops};

/// Title of the section beside which a page has the drawing.
pub const JOINTS: &str = "Every joint";

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let units = &case.units;
    let mut report = Report::of(&Ask, case, headline(outcome));
    // It stands beside the prices.
    report.warnings.retain(|warning| warning.key != PRICES);
    report.findings = broken(outcome);
    report.section(comes_out(outcome));
    report.section(to_buy(outcome));
    report.section(to_cut(outcome, units));
    report.section(joints(outcome, units));
    report.section(fluid(outcome, units));
    report.section(layouts(outcome, &case.precision(), units));
    report.section(leaks(outcome, units));
    report.sections.extend(to_mind(outcome));
    report.caution("Torque bands, allowances and what is sold are common practice; the maker's figure wins.");
    report.caution("Fluid strips paint and hurts eyes: gloves, glasses, water at hand.");
    report
}

/// Whether nothing joins two ends as they are.
const fn parted(meeting: &Meeting) -> bool {
    matches!(meeting, Meeting::None { .. } | Meeting::Joins)
}

/// Whether nobody has looked at the port.
const fn unknown(meeting: &Meeting) -> bool {
    matches!(meeting, Meeting::NotKnown)
}

fn headline(outcome: &Outcome) -> Headline {
    let (pieces, line, to_tape) = outcome.own().map_or((0.0, Length::ZERO, 0), |own| {
        (own.layout.pieces, own.layout.line, own.layout.to_tape)
    });
    let metres = wording::metres(line);
    let (parted, to_look) = (outcome.joints_that(parted), outcome.joints_that(unknown));
    let adapters = outcome.joints_that(|meeting| meeting.adapter().is_some());
    let joints = outcome.plumbing.joints.len();
    let kinds = [
        (adapters, "with an adapter"),
        (parted, "that nothing joins"),
        (to_look, "to look at"),
    ];
    let kinds: Vec<String> = kinds
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, which)| format!("{count} {which}"))
        .collect();
    let because = match (joints, kinds.is_empty()) {
        (0, _) => "Nothing is joined: the sheet has no lines.".to_owned(),
        (_, true) => format!("{joints} joints, and all of them mate."),
        (_, false) => format!("{joints} joints: {}.", kinds.join(", ")),
    };
    let stamp = match (pieces > 0.0, to_tape) {
        (true, 0) => format!("{} parts, {metres}", wording::whole(pieces)),
        (true, _) => format!("{} parts, tape first", wording::whole(pieces)),
        (false, 0) if to_look == 0 => "Nothing to buy".to_owned(),
        (false, _) => "Look and tape first".to_owned(),
    };
    let frame = match (parted, to_tape + to_look) {
        (0, 0) => Frame::Solid,
        (0, _) => Frame::Broken,
        _ => Frame::Heavy,
    };
    let mut though = Vec::new();
    if to_tape > 0 && line > Length::ZERO {
        though.push(format!(
            "{metres} of pipe and hose are listed; {} to tape.",
            runs_in_words(to_tape)
        ));
    }
    Headline {
        stamp,
        frame,
        because,
        though,
        stops_first: stop(outcome).into_iter().collect(),
        figures: Vec::new(),
        first: Some(first(outcome)),
    }
}

/// What stops the car before anything is bought for it, in one line.
fn stop(outcome: &Outcome) -> Option<String> {
    let stops = stops(&outcome.assessment.findings, &[]);
    let (worst, others) = stops.split_first()?;
    Some(match others.len() {
        0 => worst.clone(),
        more => format!("{worst}, and {more} more"),
    })
}

/// What nobody knows yet comes before what is ordered.
fn first(outcome: &Outcome) -> String {
    let joint = |wanted: fn(&Meeting) -> bool| {
        let joints = outcome.plumbing.joints.iter();
        joints.into_iter().find(|joint| wanted(&joint.meeting))
    };
    let mut to_tape = outcome.plumbing.cuts.iter().filter(|cut| cut.wants_tape());
    if let Some(joint) = joint(parted) {
        return format!("See how to change {}.", joint.words());
    }
    if let Some(cut) = to_tape.next() {
        let more = match to_tape.count() {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        return format!("Tape {}{more}, port to port.", run_words(&cut.run));
    }
    if let Some(joint) = joint(unknown) {
        return format!("Look at thread and seat of {}.", joint.words());
    }
    "Buy by the list, and tick off what is there.".to_owned()
}

/// Rules of the trade that the sheet breaks.
fn broken(outcome: &Outcome) -> Vec<Finding> {
    let caught = outcome.caught.iter().filter(|caught| !caught.mind);
    caught
        .map(|caught| Finding {
            slug: caught.rule.slug,
            weight: Weight::Fix,
            title: caught.rule.title.to_owned(),
            because: caught.rule.because.to_owned(),
            remedy: format!("{} {}", caught.rule.remedy, places(outcome, caught)),
            caution: None,
            figures: Vec::new(),
        })
        .collect()
}

/// What the sheet does not break, and a hand may.
fn to_mind(outcome: &Outcome) -> Option<Section> {
    let items: Vec<String> = outcome
        .caught
        .iter()
        .filter(|caught| caught.mind)
        .map(|caught| {
            let rule = caught.rule;
            let at = places(outcome, caught);
            format!("{}. {} {} {at}", rule.title, rule.because, rule.remedy)
        })
        .collect();
    let summary = format!(
        "{} {} of the trade",
        items.len(),
        counted(items.len(), "trap", "traps")
    );
    (!items.is_empty()).then(|| Section::new("Mind", summary, None).with(Block::List(items)))
}

/// Where: joints as they are called everywhere, runs by name, a sentence each.
fn places(outcome: &Outcome, caught: &Caught) -> String {
    let joint = |place: &String| {
        let joints = outcome.plumbing.joints.iter();
        joints
            .into_iter()
            .find(|joint| format!("{} ({})", joint.number, joint.place) == *place)
    };
    let named: Vec<String> = caught
        .places
        .iter()
        .map(|place| format!("At {}.", joint(place).map_or_else(|| place.clone(), Joint::words)))
        .collect();
    named.join(" ")
}

fn comes_out(outcome: &Outcome) -> Section {
    let out = &outcome.comes_out;
    let summary = match out.len() {
        0 => "nothing that the sheet knows of".to_owned(),
        1 => "one thing".to_owned(),
        many => format!("{many} things"),
    };
    let section = Section::new("What comes out", summary, None);
    if out.is_empty() {
        return section.with(Block::Text(
            "Nothing that the sheet knows of: say under `[before]` what the car had.".to_owned(),
        ));
    }
    let items = out.iter().map(|part| {
        format!(
            "{}: {}. In its place: {}.",
            crate::report::sentence(&part.part).trim_end_matches('.'),
            part.did,
            part.replaced_by
        )
    });
    section.with(Block::List(items.collect()))
}

fn to_buy(outcome: &Outcome) -> Section {
    let (prices, parts) = (&outcome.prices, &outcome.plumbing.parts);
    let ticks: Vec<Tick> = parts
        .iter()
        .map(|part| {
            let price = prices.each(part).map_or_else(String::new, |each| {
                format!(" ({})", wording::money(each * part.count, &prices.currency))
            });
            let code = part.kind.code();
            Tick {
                done: outcome.is_got(&code),
                code: Some(code),
                label: part.kind.what(),
                name: count_of(part),
                text: format!("{}: {}{price}", part.kind.what(), part.kind.spec()),
            }
        })
        .collect();
    let got = ticks.iter().filter(|tick| tick.done).count();
    let so_many = if outcome.logbook_lost {
        "What is ticked off is not known: the logbook does not read".to_owned()
    } else {
        format!("{got} of {} kinds are ticked off", parts.len())
    };
    let mut section = Section::new("What to buy", so_many.clone(), None);
    if ticks.is_empty() {
        section = section.with(Block::Text(
            "Nothing is to be bought for what is known.".to_owned(),
        ));
    } else {
        section = section
            .with(Block::Text(format!("{so_many}.")))
            .with(Block::Ticks(ticks));
    }
    for missing in outcome.not_listed() {
        section = section.with(Block::Caution(missing));
    }
    let stays = outcome.stays();
    if !stays.is_empty() {
        section = section
            .with(Block::Text(
                "These stay, and nothing is listed for them. To make one anew, tape it and look at its ports.".to_owned(),
            ))
            .with(Block::List(stays));
    }
    let money = |sum: f64| wording::money(sum, &prices.currency);
    let cost = match prices.cost(parts) {
        Some(cost) if cost.without == 0 => format!("Together {}.", money(cost.sum)),
        Some(cost) => format!(
            "Together {}, without {} that {} no price yet.",
            money(cost.sum),
            counted(cost.without, "one kind", &format!("{} kinds", cost.without)),
            counted(cost.without, "has", "have")
        ),
        None => {
            "No prices: write your own under `[prices]` in preferences.toml, each by the part's code. The \
            spreadsheet's \
                 list has the codes."
                .to_owned()
        }
    };
    section = section.with(Block::Text(cost));
    match &outcome.idle_prices {
        Some(idle) => section.with(Block::Caution(format!("Prices: {idle}."))),
        None => section,
    }
}

fn to_cut(outcome: &Outcome, units: &Units) -> Section {
    let cuts = &outcome.plumbing.cuts;
    let ticks: Vec<Tick> = cuts
        .iter()
        .map(|cut| {
            let [measured, to] = cut_words(cut, units);
            let run = run_words(&cut.run);
            let is_cut = cut.cut().is_some();
            let text = match (cut.taped, cut.made) {
                (_, plumbing::Made::Direct) => format!("{run}: one part screwed right onto the other"),
                (true, _) => format!("{run}: measured {measured}, {}", pipe_name(cut.pipe)),
                (false, _) => format!("{run}: not measured, {}", pipe_name(cut.pipe)),
            };
            Tick {
                done: outcome.is_got(&cut.run),
                code: is_cut.then(|| cut.run.clone()),
                label: run,
                name: if cut.wants_tape() {
                    "tape first".to_owned()
                } else {
                    to
                },
                text,
            }
        })
        .collect();
    let [cut, of] = [true, false].map(|done| {
        let wanted = ticks.iter().filter(|tick| tick.code.is_some());
        wanted.filter(|tick| tick.done || !done).count()
    });
    let section = Section::new("How long to cut", format!("{cut} of {of} cut"), None);
    if ticks.is_empty() {
        return section.with(Block::Text("No run is on the sheet yet.".to_owned()));
    }
    section.with(Block::Ticks(ticks)).with(Block::Text(format!(
        "Pipe: {} for bends and {} a flare on top. Hose: seat to seat, {} on top, since it shortens \
         under pressure and has to move. Nothing is cut to a length that nobody measured.",
        wording::per_cent(plumbing::FOR_BENDS),
        wording::figure(plumbing::PER_FLARE.m(), units.length),
        wording::per_cent(plumbing::FOR_HOSE)
    )))
}

fn joints(outcome: &Outcome, units: &Units) -> Section {
    let plumbing = &outcome.plumbing;
    let facts: Vec<Detail> = plumbing
        .joints
        .iter()
        .map(|joint| {
            let run = &plumbing.circuit.runs[joint.run].name;
            let band = band_words(joint, units).map_or_else(String::new, |band| format!("; {band}"));
            let inside = if joint.in_cabin { "; in the cabin" } else { "" };
            let (spec, meets) = (spec_words(joint), meets_words(joint));
            let text = format!("{spec}; {meets}{band}; on {}{inside}", run_words(run));
            Detail::new(joint.words(), text)
        })
        .collect();
    let summary = format!("{} {}", facts.len(), counted(facts.len(), "joint", "joints"));
    let section = Section::new(JOINTS, summary, None);
    if facts.is_empty() {
        return section.with(Block::Text(
            "No joint is known: the sheet has no lines yet.".to_owned(),
        ));
    }
    section.with(Block::Details(facts))
}

fn fluid(outcome: &Outcome, units: &Units) -> Section {
    let (plumbing, fluid) = (&outcome.plumbing, &outcome.plumbing.fluid);
    let volume = |m3: f64| wording::figure(m3, units.fluid);
    let reservoirs = if fluid.cabin_reservoirs.m3() > 0.0 {
        format!(
            ", and {} in reservoirs there",
            volume(fluid.cabin_reservoirs.m3())
        )
    } else {
        String::new()
    };
    let weight = wording::figure(plumbing.mass.kg(), units.mass);
    let mut facts = vec![
        Detail::new(
            "fluid",
            format!(
                "{} in the lines, {} in the brakes; {} of the lines' in the cabin{reservoirs}",
                volume(fluid.lines.m3()),
                volume(fluid.brakes.m3()),
                volume(fluid.cabin_lines.m3()),
            ),
        ),
        Detail::new(
            "weight",
            format!("{weight} for pipes, hoses, fittings and the fluid in them"),
        ),
    ];
    if let Some(hoses) = &outcome.hoses {
        facts.push(Detail::new(
            "hoses",
            format!(
                "grow by {} at the driver's pull ({}): {} at the grip, {} of its travel",
                volume(hoses.volume.m3()),
                wording::figure(hoses.pressure.pa(), units.pressure),
                wording::figure(hoses.travel.m(), units.length),
                wording::per_cent(hoses.share)
            ),
        ));
    }
    Section::new("Fluid, weight, hoses", weight, None).with(Block::Details(facts))
}

fn layouts(outcome: &Outcome, precision: &Precision, units: &Units) -> Section {
    let can = || outcome.can.iter().map(|of| &of.layout);
    let own = can().find(|layout| layout.on_sheet);
    let named = |of: &Layout| column(of, own).to_owned();
    let table = Table {
        caption: "The sheet's own first".to_owned(),
        heads: std::iter::once("compared".to_owned())
            .chain(can().map(named))
            .collect(),
        names_row: 0,
        rows: layout_rows(outcome, precision, units)
            .into_iter()
            .map(|(label, cells)| {
                std::iter::once(label.to_owned())
                    .chain(cells)
                    .collect::<Vec<_>>()
                    .into()
            })
            .collect(),
        of_words: false,
    };
    let mut notes: Vec<String> = can()
        .flat_map(|layout| {
            layout
                .notes
                .iter()
                .map(|note| format!("{}: {note}", layout.name()))
        })
        .collect();
    let cannot = outcome.cannot.iter();
    notes.extend(cannot.map(|other| format!("not on this car: {}: {}", other.name, other.why)));
    let names: Vec<String> = can().map(named).collect();
    let section = Section::new("Layouts side by side", wording::list(&names), None).with(Block::Table(table));
    if notes.is_empty() {
        return section;
    }
    section.with(Block::List(notes))
}

fn leaks(outcome: &Outcome, units: &Units) -> Section {
    let foot = wording::figure(FOOT_LIMIT_ROAD.n(), units.force);
    let title = format!("If a run leaks, at {foot} of foot");
    let own = outcome.own();
    let summary = own.and_then(|own| own.worst()).map_or_else(
        || "no run can leak".to_owned(),
        |worst| format!("at worst {} are left", wording::deceleration(worst.rate)),
    );
    let items = own.into_iter().flat_map(|own| &own.leaking).map(|failed| {
        format!(
            "{}: the foot has {}, {}. The hand {}.",
            run_words(&failed.run),
            wheels_words(&failed.foot),
            wording::deceleration(failed.rate),
            hand_after_leak(failed)
        )
    });
    Section::new(title, summary, None).with(Block::List(items.collect()))
}
