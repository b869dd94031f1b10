//! The page of `lines`, the listing of threads and seats, and the tables for a spreadsheet.

use assess::Assessment;
use engine::balance::FOOT_LIMIT_ROAD;
use plumbing::rules::RULES;
use plumbing::{LISTED, NOT_TAPED, Part, Seat, pipe_name, run_words};
use questions::Opened;
use wording::Units;

use super::page::{Page, Table};
use super::{ink, leaned, title};
use questions::answers::lines::{
    Outcome, band_words, column, counted, cut_words, hand_after_leak, layout_rows, meets_words, money,
    spec_words, wheels_words,
};

/// What comes out, parts, cuts, joints, layouts, what is left when a run leaks, rules.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, assessed: &Assessment, units: &Units) -> String {
    let mut page = Page::default();
    title::car(&mut page, opened, units);
    page.gap();
    if let Some(stop) = assessed.stop_first() {
        page.barred('█', ink::heavy, &stop);
    }
    page.paragraph(ink::heavy, &outcome.sentence());
    comes_out(&mut page, outcome);
    parts(&mut page, outcome);
    cuts(&mut page, outcome, units);
    joints(&mut page, outcome, units);
    fluid(&mut page, outcome, units);
    layouts(&mut page, outcome, units);
    leaks(&mut page, outcome, units);
    rules(&mut page, outcome);
    page.gap();
    page.plain(
        "Torque bands, allowances and what is sold are common practice; the maker's figure wins. Fluid strips paint and \
         hurts eyes: gloves, glasses, water at hand.",
    );
    leaned::foot(&mut page, &opened.assembled, units);
    page.into_text()
}

fn comes_out(page: &mut Page, outcome: &Outcome) {
    page.heading("What comes out");
    if outcome.comes_out.is_empty() {
        page.item("Nothing that the sheet knows of: say under [before] what the car had.");
    }
    for part in &outcome.comes_out {
        page.item(&format!(
            "{}: {}; in its place: {}",
            part.part, part.did, part.replaced_by
        ));
    }
}

fn parts(page: &mut Page, outcome: &Outcome) {
    page.heading("What to buy");
    let (prices, parts) = (&outcome.prices, &outcome.plumbing.parts);
    for part in parts {
        let price = prices.each(part).map_or_else(String::new, |each| {
            format!(" ({})", money(each * part.count, &prices.currency))
        });
        page.labelled(
            &counted(part),
            &format!("{}: {}{price}", part.kind.what(), part.kind.spec()),
        );
    }
    for missing in outcome.not_listed() {
        page.plain(&missing);
    }
    if let Some(stays) = outcome.stays() {
        page.plain(&stays);
    }
    match prices.cost(parts) {
        Some(cost) if cost.without == 0 => page.plain(&format!("Together {}.", money(cost.sum, &prices.currency))),
        Some(cost) => page.plain(&format!(
            "Together {}, without {} that have no price yet.",
            money(cost.sum, &prices.currency),
            wording::counted(cost.without, "one kind", &format!("{} kinds", cost.without))
        )),
        None => page.plain(
            "No prices: write your own under [prices] in preferences.toml, each by the part's code (--json has them).",
        ),
    }
}

fn cuts(page: &mut Page, outcome: &Outcome, units: &Units) {
    page.heading("How long to cut");
    let mut table = Table::new(vec!["measured", "cut", "of"]);
    for cut in &outcome.plumbing.cuts {
        let [measured, to] = cut_words(cut, units);
        let to = if cut.wants_tape() {
            "tape it first".to_owned()
        } else {
            to
        };
        table.row(
            &run_words(&cut.run),
            vec![
                measured,
                to,
                pipe_name(cut.pipe)
                    .replace("copper-nickel", "Cu-Ni")
                    .replace(" pipe", "")
                    .replace(" hose", "")
                    .replace(" in", ""),
            ],
            "",
        );
    }
    table.onto(page);
    page.plain(&format!(
        "Pipe: {:.0}\u{a0}% for bends and {:.0}\u{a0}mm a flare on top. Hose: seat to seat, {:.0}\u{a0}% on top, since it \
         shortens under pressure and has to move. Nothing is cut to a length that nobody measured.",
        100.0 * plumbing::FOR_BENDS,
        1e3 * plumbing::PER_FLARE.m(),
        100.0 * plumbing::FOR_HOSE
    ));
}

fn joints(page: &mut Page, outcome: &Outcome, units: &Units) {
    page.heading("Joints");
    for joint in &outcome.plumbing.joints {
        let run = &outcome.plumbing.circuit.runs[joint.run];
        let band = band_words(joint, units).map_or_else(String::new, |band| format!("; {band}"));
        let inside = if joint.in_cabin { "; in the cabin" } else { "" };
        let spec = spec_words(joint);
        let meets = meets_words(joint);
        page.labelled(
            &joint.number.to_string(),
            &format!(
                "{}, {}: {spec}; {meets}{band}{inside}",
                joint.place,
                run_words(&run.name)
            ),
        );
    }
}

fn fluid(page: &mut Page, outcome: &Outcome, units: &Units) {
    let (plumbing, fluid) = (&outcome.plumbing, &outcome.plumbing.fluid);
    page.heading("Fluid, weight, hoses");
    let volume = |m3: f64| wording::figure(m3, units.fluid);
    page.labelled(
        "fluid",
        &format!(
            "{} stand in the lines, {} in the brakes; {} of the lines' in the cabin{}",
            volume(fluid.lines.m3()),
            volume(fluid.brakes.m3()),
            volume(fluid.cabin_lines.m3()),
            if fluid.cabin_reservoirs.m3() > 0.0 {
                format!(
                    ", and {} in reservoirs there",
                    volume(fluid.cabin_reservoirs.m3())
                )
            } else {
                String::new()
            }
        ),
    );
    page.labelled(
        "weight",
        &format!(
            "{} for pipes, hoses, fittings and the fluid in them",
            wording::figure(plumbing.mass.kg(), units.mass)
        ),
    );
    if let Some(hoses) = &outcome.hoses {
        page.labelled(
            "hoses",
            &format!(
                "grow by {} at the driver's pull ({}): {} at the grip, {} of its travel",
                volume(hoses.volume.m3()),
                wording::figure(hoses.pressure.pa(), units.pressure),
                wording::figure(hoses.travel.m(), units.length),
                wording::per_cent(hoses.share)
            ),
        );
    }
}

fn layouts(page: &mut Page, outcome: &Outcome, units: &Units) {
    page.heading("Layouts side by side (the sheet's own first)");
    let can = || outcome.can.iter().map(|of| &of.layout);
    let mut table = Table::new(can().map(column).collect());
    for (label, cells) in layout_rows(outcome, units) {
        table.row(label, cells, "");
    }
    table.onto(page);
    for layout in can() {
        for note in &layout.notes {
            page.item(&format!("{}: {note}", layout.name()));
        }
    }
    for other in &outcome.cannot {
        page.item(&format!("not on this car: {}: {}", other.name, other.why));
    }
}

fn leaks(page: &mut Page, outcome: &Outcome, units: &Units) {
    let foot = wording::figure(FOOT_LIMIT_ROAD.n(), units.force);
    page.heading(&format!("If a run leaks, at {foot} of foot"));
    for failed in &outcome.can[0].leaking {
        page.item(&format!(
            "{}: the foot has {}, {:.1}\u{a0}m/s²; the hand {}",
            run_words(&failed.run),
            wheels_words(&failed.foot),
            failed.rate.m_s2(),
            hand_after_leak(failed)
        ));
    }
}

fn rules(page: &mut Page, outcome: &Outcome) {
    if outcome.caught.is_empty() {
        return;
    }
    page.heading("Mind");
    for caught in &outcome.caught {
        let shown: Vec<String> = caught.places.iter().take(6).cloned().collect();
        let more = caught.places.len().saturating_sub(shown.len());
        let more = if more > 0 {
            format!(", {more} more")
        } else {
            String::new()
        };
        page.item(&format!(
            "{}. {} {} At: {}{more}.",
            caught.rule.title,
            caught.rule.because,
            caught.rule.remedy,
            shown.join(", ")
        ));
    }
}

/// The listing of threads and seats.
pub(crate) fn seats() -> String {
    let mut page = Page::default();
    page.paragraph(ink::heavy, "Threads and seats that a sheet may name");
    page.plain("Write them under [lines] ports. The thread presses, the seat seals: go by both.");
    page.gap();
    for port in LISTED {
        let pipe = port.pipe_outside().map_or_else(String::new, |outside| {
            format!(" for pipe of {:.2}\u{a0}mm;", outside.m() * 1e3)
        });
        page.labelled(
            "",
            &format!(
                "\"{port}\": {:.2}\u{a0}mm over the thread, pitch {:.3}\u{a0}mm;{pipe} {}",
                port.thread.major().m() * 1e3,
                port.thread.pitch().m() * 1e3,
                port.seat.closes_on()
            ),
        );
    }
    page.heading("What the port looks like");
    for seat in [
        Seat::Bubble,
        Seat::Japanese,
        Seat::Inverted,
        Seat::Male37,
        Seat::Banjo,
        Seat::Taper,
        Seat::Bleed,
    ] {
        page.labelled(seat.word(), seat.looks_like());
    }
    page.heading("Traps");
    for rule in RULES {
        page.item(&format!("{}. {} {}", rule.title, rule.because, rule.remedy));
    }
    page.into_text()
}

/// A table to be written as CSV: its name, its head, its rows.
#[derive(Debug)]
pub(crate) struct CsvTable {
    pub(crate) name: &'static str,
    pub(crate) head: Vec<&'static str>,
    pub(crate) rows: Vec<Vec<String>>,
}

/// The tables of a spreadsheet, in SI but for what is bought by the metre.
pub(crate) fn tables(outcome: &Outcome, assessed: &Assessment) -> [CsvTable; 5] {
    let plumbing = &outcome.plumbing;
    let price = |part: &Part| outcome.prices.each(part);
    let or_empty = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.2}"));
    let metres = |m: f64| format!("{m:.3}");
    // What has to be read before the list, in a row of its own.
    let alone = |said: String| {
        let mut row = vec![String::new(); 8];
        row[0] = said;
        row
    };
    [
        CsvTable {
            name: "parts.csv",
            head: vec![
                "what",
                "count",
                "runs not measured",
                "unit",
                "spec",
                "code",
                "each",
                "sum",
            ],
            rows: assessed
                .stop_first()
                .into_iter()
                .chain(outcome.not_listed())
                .map(alone)
                .chain(plumbing.parts.iter().map(|part| {
                    vec![
                        part.kind.what(),
                        part.count.to_string(),
                        part.to_tape.to_string(),
                        part.kind.counted().word().to_owned(),
                        part.kind.spec(),
                        part.kind.code(),
                        or_empty(price(part)),
                        or_empty(price(part).map(|each| each * part.count)),
                    ]
                }))
                .collect(),
        },
        CsvTable {
            name: "cuts.csv",
            head: vec!["run", "of", "measured [m]", "cut [m]", "end a", "end b"],
            rows: plumbing
                .cuts
                .iter()
                .map(|cut| {
                    vec![
                        cut.run.clone(),
                        pipe_name(cut.pipe).to_owned(),
                        if cut.taped {
                            metres(cut.length.m())
                        } else {
                            NOT_TAPED.to_owned()
                        },
                        match cut.cut() {
                            Some(to) => metres(to.m()),
                            None if cut.wants_tape() => NOT_TAPED.to_owned(),
                            None if cut.stays => "stays".to_owned(),
                            None => "screwed on".to_owned(),
                        },
                        cut.ends[0].clone(),
                        cut.ends[1].clone(),
                    ]
                })
                .collect(),
        },
        CsvTable {
            name: "joints.csv",
            head: vec![
                "number",
                "id",
                "place",
                "thread",
                "seat",
                "mates",
                "adapter",
                "in cabin",
                "torque from [N m]",
                "torque to [N m]",
            ],
            rows: plumbing
                .joints
                .iter()
                .map(|joint| {
                    let word = |yes: bool| if yes { "yes" } else { "no" };
                    vec![
                        joint.number.to_string(),
                        joint.id.clone(),
                        joint.place.clone(),
                        joint.thread().to_owned(),
                        joint.seat().to_owned(),
                        match joint.meeting.mates() {
                            Some(mates) => word(mates).to_owned(),
                            None => meets_words(joint),
                        },
                        joint.meeting.adapter().unwrap_or_default().to_owned(),
                        word(joint.in_cabin).to_owned(),
                        or_empty(joint.torque_band.map(|band| band.0.nm())),
                        or_empty(joint.torque_band.map(|band| band.1.nm())),
                    ]
                })
                .collect(),
        },
        CsvTable {
            name: "layouts.csv",
            head: vec![
                "layout",
                "parts",
                "pipe and hose [m]",
                "joints",
                "joints in cabin",
                "fluid in cabin [cm3]",
                "cost",
                "hand to lock [N]",
                "travel to lock [mm]",
                "in hand",
                "least left [m/s2]",
            ],
            rows: outcome
                .can
                .iter()
                .map(|compared| {
                    let (layout, to_lock) = (&compared.layout, compared.to_lock.as_ref());
                    vec![
                        if layout.joined {
                            format!("{}: STOP, it joins the two circuits", layout.name())
                        } else {
                            layout.name()
                        },
                        format!("{:.0}", layout.pieces),
                        metres(layout.line.m()),
                        layout.plumbing.joints.len().to_string(),
                        layout.joints_in_cabin.to_string(),
                        format!("{:.1}", layout.fluid_in_cabin.m3() * 1e6),
                        or_empty(layout.cost.map(|cost| cost.sum)),
                        or_empty(to_lock.and_then(|to_lock| to_lock.hand).map(|hand| hand.n())),
                        or_empty(
                            to_lock
                                .and_then(|to_lock| to_lock.travel)
                                .map(|travel| travel.m() * 1e3),
                        ),
                        or_empty(to_lock.map(|to_lock| to_lock.in_hand)),
                        or_empty(compared.worst().map(|worst| worst.rate.m_s2())),
                    ]
                })
                .collect(),
        },
        CsvTable {
            name: "comes-out.csv",
            head: vec!["part", "did", "replaced by"],
            rows: outcome
                .comes_out
                .iter()
                .map(|part| vec![part.part.clone(), part.did.clone(), part.replaced_by.clone()])
                .collect(),
        },
    ]
}
