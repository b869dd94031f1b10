//! The holding's answer as it is shown.

use assess::cautions::{LATCH, ROAD};
use engine::hold::{Arrival, HoldFigures, Holds, Kept, USUAL_AT};
use engine::thresholds::{HOSE_TESTED, LONGEST, SERVICE, START_LINE};
use quantity::si::Pressure;
use wording::{Measured, Units};

use super::Ask;
use super::outcome::{ended_by, how_long};
use crate::question::Case;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, Table, sentence,
};

/// What is left out.
const LEFT_OUT: &str = "A coupling that ties the front wheels, rolling resistance and a gear are left out: the safe side. Half an hour \
     from hot is not to be trusted, whatever the minutes say.";

pub(super) fn of(case: &Case<'_>, holds: &Holds) -> Report {
    let hold = &holds.middle;
    let by_fluid = hold.seep.is_some();
    let mut report = Report::of(&Ask, case, headline(case, holds));
    if !case.opened.state.slope_given {
        report.state.push_str("; ");
        report.state.push_str(&crate::grade_in_words(hold.grade));
    }
    report.findings = assess::hold(case.opened.car(), hold, case.units);
    report.section(arrivals(holds, &case.units));
    report.section(slope(holds, &case.units));
    report.sections.extend(trapped(holds, &case.units));
    report.section(kept(holds, &case.units));
    report.section(
        Section::new("What is counted", "and what is not", None).with(Block::Text(LEFT_OUT.to_owned())),
    );
    report.explain(&["over_needed", "steepest_for_two_minutes"]);
    if HoldFigures::of(hold).shortest < LONGEST {
        report.explain(&["minutes"]);
    }
    if by_fluid {
        report.caution(LATCH);
    }
    if case.opened.car().road_registered {
        report.caution(ROAD);
    }
    report
}

/// What may be relied on.
fn words(holds: &Holds) -> [(&'static str, String); 3] {
    let hold = &holds.middle;
    let yes = |held: bool| if held { "yes" } else { "no" };
    [
        ("start line, 2\u{a0}min", yes(hold.holds(START_LINE)).to_owned()),
        ("service, 10\u{a0}min", yes(hold.holds(SERVICE)).to_owned()),
        ("parking", "no".to_owned()),
    ]
}

fn headline(case: &Case<'_>, holds: &Holds) -> Headline {
    let hold = &holds.middle;
    let (stamp, frame) = match (hold.holds(START_LINE), hold.holds(SERVICE)) {
        (true, true) => ("Service yes, parking no", Frame::Solid),
        (true, false) => ("Start line only", Frame::Heavy),
        (false, _) => ("It does not hold", Frame::Heavy),
    };
    let because = hold.worst().map_or_else(String::new, |worst| {
        if worst.holds_for.is_none() {
            "It holds for hours from cold, warm and hot; that is not parking.".to_owned()
        } else {
            sentence(&format!(
                "from {} it {} {}",
                worst.from.name(),
                match worst.holds_for {
                    Some(time) if time.s() > 0.0 => format!("holds for {}, ended by", how_long(worst)),
                    _ => "does not hold:".to_owned(),
                },
                ended_by(worst.lost_by)
            ))
        }
    });
    let mut though = words(holds)
        .map(|(name, word)| sentence(&format!("{name}: {word}")))
        .to_vec();
    let chance = holds
        .drawn
        .chance(|drawn| drawn.shortest.s() < START_LINE.s())
        .filter(|chance| *chance > 0.0 && hold.holds(START_LINE));
    if let Some(chance) = chance {
        though.push(format!(
            "It lets go within two minutes in {} of the cars that the tolerances allow.",
            wording::chance(chance)
        ));
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: crate::report::stops(&assess::hold(case.opened.car(), hold, case.units), &[]),
        figures: figures(case, holds),
        first: Some("Chock the wheels, leave it in gear, and park on level ground.".to_owned()),
    }
}

fn figures(case: &Case<'_>, holds: &Holds) -> Vec<Figure> {
    let hold = &holds.middle;
    let middle = HoldFigures::of(hold);
    let beyond = middle.shortest >= LONGEST;
    let mut figures = vec![
        Figure {
            name: if beyond {
                "holds for, as far as computed"
            } else {
                "holds for, from the worst arrival"
            },
            measured: wording::minutes_of(middle.shortest.s(), holds.range(|drawn| drawn.shortest.s())),
            limit: Some(Limit {
                name: "service",
                shown: wording::minutes_of(SERVICE.s(), None).value,
                side: Side::AtLeast,
            }),
            working: (!beyond).then_some("minutes"),
        },
        Figure {
            name: "steepest slope for two minutes",
            measured: Measured::per_cent(middle.steepest, holds.range(|drawn| drawn.steepest)),
            limit: Some(Limit {
                name: "this slope",
                shown: Measured::per_cent(hold.grade.slope, None).value,
                side: Side::AtLeast,
            }),
            working: Some("steepest_for_two_minutes"),
        },
    ];
    if hold.seep.is_some() {
        figures.push(Figure {
            name: "highest pressure, from hot",
            measured: Measured::known(
                middle.pressure_max.pa(),
                holds.range(|drawn| drawn.pressure_max.pa()),
                // As in the table of arrivals, and in the finding.
                None,
                case.units.pressure,
            ),
            limit: Some(Limit {
                name: "a hose's type test",
                shown: Measured::new(HOSE_TESTED.pa(), None, case.units.pressure).value,
                side: Side::AtMost,
            }),
            working: None,
        });
    }
    figures
}

fn arrivals(holds: &Holds, units: &Units) -> Section {
    let hold = &holds.middle;
    let by_fluid = hold.seep.is_some();
    let pressure = |pressure: Option<Pressure>| {
        pressure.map_or_else(
            || "–".to_owned(),
            |pressure| wording::figure(pressure.pa(), units.pressure),
        )
    };
    let row = |arrival: &Arrival| {
        let mut row = vec![
            arrival.from.name().to_owned(),
            how_long(arrival),
            ended_by(arrival.lost_by).to_owned(),
            wording::per_cent(arrival.steepest),
        ];
        if by_fluid {
            row.push(pressure(arrival.pressure));
            row.push(pressure(arrival.pressure_max));
        }
        row
    };
    let mut heads = vec!["from", "holds", "ended by", "steepest for 2\u{a0}min"];
    if by_fluid {
        heads.extend(["latched at", "highest"]);
    }
    let table = Table {
        caption: "How long it holds, by how hot the rear brakes arrive".to_owned(),
        heads: heads.into_iter().map(str::to_owned).collect(),
        names_row: 0,
        rows: hold.arrivals.iter().map(|arrival| row(arrival).into()).collect(),
        of_words: true,
    };
    let [line, service, leave] = words(holds);
    let mut section = Section::new(
        "From cold, warm and hot",
        "how long, and what ends it",
        Some(Stroke::Rear),
    )
    .with(Block::Details(
        [line, service, leave]
            .map(|(name, word)| Detail::new(name, word))
            .to_vec(),
    ))
    .with(Block::Table(table));
    if by_fluid {
        section = section.with(Block::Caution(LATCH.to_owned()));
    }
    section
}

fn slope(holds: &Holds, units: &Units) -> Section {
    let hold = &holds.middle;
    let ratio = HoldFigures::of(hold).ratio;
    let mut facts = vec![
        Detail::new("slope", crate::grade_in_words(hold.grade)),
        Detail::new(
            "asks for",
            format!(
                "{} at both rear wheels",
                wording::figure(hold.needed.nm(), units.torque)
            ),
        ),
        Detail::new("hand", wording::pull(hold.hand, units)),
    ];
    if ratio.is_finite() {
        facts.push(Detail::new(
            "there is",
            format!(
                "{} of it on latching, from the worst arrival",
                wording::per_cent(ratio)
            ),
        ));
    }
    if hold.grip_holds.is_finite() {
        facts.push(Detail::new(
            "tyres",
            format!(
                "the rear's grip holds on up to {}",
                wording::per_cent(hold.grip_holds)
            ),
        ));
    }
    Section::new("The slope", crate::grade_in_words(hold.grade), None).with(Block::Details(facts))
}

fn trapped(holds: &Holds, units: &Units) -> Option<Section> {
    let hold = &holds.middle;
    let seep = hold.seep?;
    let mut facts = vec![Detail::new(
        "seeps",
        format!(
            "{} an hour at {}, {}",
            wording::figure(seep.per_hour(USUAL_AT).m3(), units.fluid),
            wording::figure(USUAL_AT.pa(), units.pressure),
            if seep.measured {
                "by the soak that was measured"
            } else {
                "from memory; a measured soak would say"
            }
        ),
    )];
    let hottest = hold
        .arrivals
        .iter()
        .filter_map(|arrival| Some((arrival.pressure_max?, arrival)))
        .reduce(|most, next| if next.0 > most.0 { next } else { most });
    if let Some((most, arrival)) = hottest {
        facts.push(Detail::new(
            "rises",
            format!(
                "to {} from {}, {} after latching; latch, hose and seals have to withstand it",
                wording::figure(most.pa(), units.pressure),
                arrival.from.name(),
                wording::minutes(arrival.pressure_max_at)
            ),
        ));
    }
    Some(
        Section::new(
            "What is trapped",
            "what seeps, and what heat raises first",
            Some(Stroke::Hand),
        )
        .with(Block::Details(facts)),
    )
}

fn kept(holds: &Holds, units: &Units) -> Section {
    let (summary, text) = match holds.middle.kept {
        Kept::None => (
            "none was kept",
            "No mechanical parking brake is on the sheet. Road rules ask for one.".to_owned(),
        ),
        Kept::NoFigures => (
            "no figures",
            "A cable was kept; its ratio and efficiency on the sheet would say what it holds.".to_owned(),
        ),
        Kept::OwnShoes => (
            "shoes of its own",
            "The kept cable works shoes of its own inside the discs, of which the sheet says nothing. Try it on a slope.".to_owned(),
        ),
        Kept::Computed(kept) => (
            "beside it",
            format!(
                "The kept cable at {} makes {} cold, and holds up to {}; it does not cool or seep away.",
                wording::pull(kept.hand, units),
                wording::figure(kept.torque.nm(), units.torque),
                wording::per_cent(kept.steepest)
            ),
        ),
    };
    Section::new("The mechanical brake", summary, None).with(Block::Text(text))
}
