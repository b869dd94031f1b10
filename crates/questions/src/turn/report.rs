//! A turn as it is shown: a run, many of them, or a way through a bend.

use assess::is_open;
use engine::car::Centre;
use engine::thresholds::{LEVERS_SHARE, ROUND_AT};
use engine::turn::{Brief, Cell, Release, StoppedBy, Turn as Ran, TurnVerdict, WayThrough};
use quantity::si::Length;
use wording::{Measured, Shown};

use super::outcome::{Many, Run, Way};
use super::words::{LEFT_OUT, WHERE, called_by, driver_facts, in_words, moved, run_facts, swung};
use super::{Ask, SPEEDS};
use crate::question::Case;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, Table, TableRow, sentence,
};

const VERDICTS: [TurnVerdict; 4] = [
    TurnVerdict::ComesRound,
    TurnVerdict::RotatesLittle,
    TurnVerdict::Ploughs,
    TurnVerdict::Spins,
];

/// Rows and columns that a table of many runs has room for.
const IN_A_TABLE: usize = 6;

/// One run.
pub(super) fn of_run(case: &Case<'_>, run: &Run<'_>) -> Report {
    let mut report = Report::of(&Ask, case, headline(case, run));
    let turn = &run.turn;
    report.section(driver(case, turn));
    report.section(ran(turn).with(Block::Picture(SPEEDS)));
    if let Some(against) = &run.against {
        let mut section = Section::new(
            format!("Beside it: {}", against.beside.opened.car().name),
            in_words(against.turn.verdict),
            None,
        )
        .with(Block::Text(said(&against.turn)));
        section = section.with_some(against.beside.mind.map(|mind| Block::Text(mind.to_owned())));
        report.section(section.with(Block::Details(run_facts(&against.turn))));
    }
    report.sections.extend(sure(run));
    report.sections.extend(otherwise(run));
    report.sections.extend(moves(run));
    report.caution(WHERE);
    report
}

fn headline(case: &Case<'_>, run: &Run<'_>) -> Headline {
    let turn = &run.turn;
    let chance = chance(run, TurnVerdict::ComesRound);
    let open = is_open(chance);
    let how_often = chance.map(|chance| {
        format!(
            "It comes round in {} of the cars that the tolerances allow.",
            wording::chance(chance)
        )
    });
    let (stamp, frame) = match turn.verdict {
        _ if open => ("Not yet known", Frame::Broken),
        TurnVerdict::ComesRound => ("Comes round", Frame::Solid),
        TurnVerdict::RotatesLittle => ("Rotates little", Frame::Heavy),
        TurnVerdict::Ploughs => ("Ploughs", Frame::Heavy),
        TurnVerdict::Spins => ("Spins", Frame::Heavy),
    };
    let mut though = Vec::new();
    if open {
        though.push(format!("As the sheet has it, it {}.", in_words(turn.verdict)));
        though.push(because(turn));
    }
    though.push(format!(
        "Without the handbrake it turns {}.",
        wording::degrees(called_by(&turn.without_lever))
    ));
    though.extend(how_often.clone().filter(|_| !open));
    for (reading, brief) in &run.otherwise {
        if brief.verdict != turn.verdict {
            though.push(format!("If {reading}, it {}.", in_words(brief.verdict)));
        }
    }
    if let Some(against) = &run.against {
        though.push(format!(
            "{} {}, {}.",
            against.beside.opened.car().name,
            in_words(against.turn.verdict),
            wording::degrees(called_by(&against.turn.heading))
        ));
        though.extend(against.beside.mind.map(str::to_owned));
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because: how_often.filter(|_| open).unwrap_or_else(|| because(turn)),
        though,
        stops_first: Vec::new(),
        figures: figures(run),
        first: Some(if open {
            "Measure what the assessment names first.".to_owned()
        } else {
            first(case, turn).to_owned()
        }),
    }
}

/// Why it is called so.
fn because(turn: &Ran) -> String {
    let when = if turn.heading.at_release.is_some() {
        "when let go"
    } else {
        "at the end"
    };
    let looked = format!(
        "It has turned {} {when}",
        wording::degrees(called_by(&turn.heading))
    );
    match turn.verdict {
        TurnVerdict::ComesRound if turn.locking.rear_from.is_some() => {
            format!("{looked}; the rear is locked.")
        }
        TurnVerdict::ComesRound => format!("{looked}; the rear slides without locking."),
        TurnVerdict::RotatesLittle => format!("{looked}; {}.", little(turn)),
        TurnVerdict::Ploughs => match turn.locking.front_speed_ratio {
            Some(ratio) => format!(
                "Dragged to {} of their speed, the front wheels no longer steer.",
                wording::per_cent(ratio)
            ),
            None => "The front wheels are dragged and no longer steer.".to_owned(),
        },
        TurnVerdict::Spins => format!("{looked}: too far to drive out forward."),
    }
}

/// Why it turns little.
fn little(turn: &Ran) -> &'static str {
    if turn.locking.rear_from.is_none() && turn.locking.inner_only_for.s() > 0.05 {
        "only the inner rear wheel locks"
    } else if turn.locking.rear_from.is_none() {
        "the rear never locks"
    } else if levers_share(turn) < LEVERS_SHARE {
        "most of it is the steering's"
    } else {
        "a hairpin needs more"
    }
}

/// How much of the heading is the lever's doing.
fn levers_share(turn: &Ran) -> f64 {
    let heading = called_by(&turn.heading);
    if heading.rad().abs() > 0.0 {
        (heading - called_by(&turn.without_lever)) / heading
    } else {
        0.0
    }
}

/// What to do first.
fn first(case: &Case<'_>, turn: &Ran) -> &'static str {
    let centre = case.opened.car().drivetrain.centre != Centre::None;
    match turn.verdict {
        TurnVerdict::ComesRound => "Try it slowly, on wide open ground where nobody stands.",
        TurnVerdict::RotatesLittle if turn.locking.rear_from.is_none() => {
            "Look at the lever's force and travel first: both rear wheels have to lock."
        }
        TurnVerdict::RotatesLittle => "Let go later, or steer in earlier.",
        TurnVerdict::Ploughs if centre => "Let the centre go when the lever moves, or fit one that does.",
        TurnVerdict::Ploughs => "Push the clutch down before the pull.",
        TurnVerdict::Spins => "Let go earlier.",
    }
}

/// Heading, how long the rear stood, and what is left of the speed.
fn figures(run: &Run<'_>) -> Vec<Figure> {
    let turn = &run.turn;
    let range = |figure: fn(&Brief) -> Option<f64>| run.drawn.as_ref().and_then(|drawn| drawn.range(figure));
    let released = turn.heading.at_release.is_some();
    let heading = called_by(&turn.heading);
    let known = if released {
        range(|brief| brief.heading.at_release.map(|heading| heading.rad()))
    } else {
        range(|brief| Some(brief.heading.end.rad()))
    };
    // A heading that was asked for moves the border along, and so does a turn to the right.
    let border = !matches!(turn.technique.release, Release::Heading(_)) && turn.technique.steer.rad() > 0.0;
    vec![
        Figure {
            name: if released {
                "heading when let go"
            } else {
                "heading at the end"
            },
            measured: wording::degrees_of(heading, known),
            limit: border.then(|| Limit {
                name: "round from",
                shown: wording::degrees_of(ROUND_AT, None).value,
                side: Side::AtLeast,
            }),
            working: None,
        },
        Figure {
            name: "both rear wheels locked for",
            measured: wording::seconds_of(turn.locking.rear_for, range(|brief| Some(brief.rear_for.s()))),
            limit: None,
            working: None,
        },
        match turn.speed_at_release {
            Some(speed) => plain("speed when let go", wording::speed_of(speed).value),
            None => plain("speed at the end", wording::speed_of(turn.speed_end).value),
        },
    ]
}

/// A figure without range and limit.
fn plain(name: &'static str, value: Shown) -> Figure {
    Figure {
        name,
        measured: Measured { value, range: None },
        limit: None,
        working: None,
    }
}

/// A run in one sentence.
fn said(turn: &Ran) -> String {
    format!("{} {}", sentence(in_words(turn.verdict)), because(turn))
}

fn driver(case: &Case<'_>, turn: &Ran) -> Section {
    let technique = &turn.technique;
    let summary = format!(
        "{}, {}",
        wording::speed(technique.entry),
        wording::pull(technique.hand, &case.units)
    );
    Section::new("Handbrake: what the driver does", summary, Some(Stroke::Hand))
        .with(Block::Details(driver_facts(technique, &case.units)))
}

fn ran(turn: &Ran) -> Section {
    Section::new("The run", "wheels, heading, speeds and room", Some(Stroke::Rear))
        .with(Block::Details(run_facts(turn)))
}

fn chance(run: &Run<'_>, wanted: TurnVerdict) -> Option<f64> {
    run.drawn
        .as_ref()
        .and_then(|drawn| drawn.chance(|brief: &Brief| brief.verdict == wanted))
}

/// How often it is called what, of the cars that the tolerances allow.
fn sure(run: &Run<'_>) -> Option<Section> {
    let items: Vec<String> = VERDICTS
        .into_iter()
        .filter_map(|wanted| {
            let chance = chance(run, wanted).filter(|chance| *chance > 0.0)?;
            Some(format!("{} in {}", in_words(wanted), wording::chance(chance)))
        })
        .collect();
    (!items.is_empty()).then(|| {
        Section::new("How sure it is", "of the cars that the tolerances allow", None)
            .with(Block::Text("Of the cars that the tolerances allow it".to_owned()))
            .with(Block::List(items))
    })
}

fn otherwise(run: &Run<'_>) -> Option<Section> {
    let items: Vec<String> = run
        .otherwise
        .iter()
        .map(|(reading, brief)| {
            format!(
                "If {reading}: it {}, {}.",
                in_words(brief.verdict),
                wording::degrees(called_by(&brief.heading))
            )
        })
        .collect();
    let summary = wording::readings(items.len());
    (!items.is_empty())
        .then(|| Section::new("The centre coupling, read otherwise", summary, None).with(Block::List(items)))
}

fn moves(run: &Run<'_>) -> Option<Section> {
    let facts: Vec<Detail> = run
        .swings
        .iter()
        .map(|swing| Detail::new(moved(swing.varied), swung(swing)))
        .collect();
    (!facts.is_empty()).then(|| {
        Section::new("What moves it most", "inertia, grip and roll share", None)
            .with(Block::Details(facts))
            .with(Block::Text(LEFT_OUT.to_owned()))
    })
}

/// Many runs: a table of some of them; the picture has all.
pub(super) fn of_many(case: &Case<'_>, many: &Many) -> Report {
    let cells = || many.grid.cells.iter().flatten().flatten();
    let count = |wanted| cells().filter(|cell| cell.verdict == wanted).count();
    let (runs, round) = (cells().count(), count(TurnVerdict::ComesRound));
    let (stamp, frame) = match round {
        0 => ("Never comes round", Frame::Heavy),
        all if all == runs => ("Always comes round", Frame::Solid),
        _ => ("Sometimes comes round", Frame::Heavy),
    };
    let headline = Headline {
        stamp: stamp.to_owned(),
        frame,
        because: format!("Of {runs} runs it comes round in {round}."),
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: Some("Ask for one run where it comes round, and see how sure that is.".to_owned()),
    };
    let mut report = Report::of(&Ask, case, headline);
    let items = VERDICTS
        .into_iter()
        .map(|wanted| (wanted, count(wanted)))
        .filter(|(_, count)| *count > 0)
        .map(|(wanted, count)| format!("{} in {count}", in_words(wanted)));
    report.section(
        Section::new("The runs", "what each is called", None)
            .with(Block::List(items.collect()))
            .with(Block::Table(some_of(case, many)))
            .with(Block::Text(
                "r comes round, l rotates little, p ploughs, s spins. The picture has every run.".to_owned(),
            )),
    );
    report.caution(WHERE);
    report
}

/// Entry speed down, pull across.
fn some_of(case: &Case<'_>, many: &Many) -> Table {
    let grid = &many.grid;
    let few = |count: usize| (0..count).step_by(count.saturating_sub(1).div_ceil(IN_A_TABLE).max(1));
    let mut heads = vec!["entry speed".to_owned()];
    heads.extend(
        few(grid.hands.len()).map(|column| wording::figure(grid.hands[column].n(), case.units.force)),
    );
    let cell = |cell: &Cell| {
        let heading = cell.heading_at_release.unwrap_or(cell.heading_end);
        format!("{} {}", wording::degrees(heading), letter(cell.verdict))
    };
    let row = |row: usize| {
        let mut cells = vec![wording::speed(grid.entries[row])];
        cells.extend(few(grid.hands.len()).map(|column| {
            grid.cells[row][column]
                .as_ref()
                .map_or_else(|| "–".to_owned(), cell)
        }));
        TableRow::from(cells)
    };
    Table {
        caption: "Heading when the handbrake is let go, entry speed down, pull across".to_owned(),
        heads,
        names_row: 0,
        rows: few(grid.entries.len()).map(row).collect(),
        of_words: false,
    }
}

const fn letter(verdict: TurnVerdict) -> char {
    match verdict {
        TurnVerdict::ComesRound => 'r',
        TurnVerdict::RotatesLittle => 'l',
        TurnVerdict::Ploughs => 'p',
        TurnVerdict::Spins => 's',
    }
}

/// A way through a bend, or what stopped it.
pub(super) fn of_way(case: &Case<'_>, way: &Way) -> Report {
    let headline = match &way.found {
        Ok(found) => a_way(found),
        Err(StoppedBy::Rotation(furthest)) => no_way(
            format!(
                "Whatever was tried, it turns by {} at most.",
                wording::degrees(*furthest)
            ),
            "Ask first what comes of a single run.",
        ),
        Err(StoppedBy::Width(by)) => no_way(
            format!(
                "It turns, but at best a wheel is {} beyond the edge.",
                wording::metres(*by)
            ),
            "Measure the road: a wider one may do.",
        ),
    };
    let mut report = Report::of(&Ask, case, headline);
    let bend = &way.bend;
    let metres = |length: Length| wording::metres(length);
    let mut facts = vec![
        Detail::new("angle", wording::degrees(bend.angle)),
        Detail::new(
            "radius",
            format!("{}, to the middle of the road", metres(bend.radius)),
        ),
        Detail::new("road", format!("{} wide", metres(bend.width))),
    ];
    if let Ok(found) = &way.found {
        facts.push(Detail::new(
            "reached",
            format!(
                "after {} it looks the new way, at {}; from then on the throttle has it",
                wording::seconds(found.reached),
                wording::speed(found.speed)
            ),
        ));
    }
    report.section(Section::new("The bend", "angle, radius and road", None).with(Block::Details(facts)));
    if let Ok(found) = &way.found {
        report.section(driver(case, &found.turn));
        report.section(ran(&found.turn));
    }
    report.section(
        Section::new("How it was looked for", "on a grid: no proof", None)
            .with(Block::Text(
                "Entry, steer, moments and the heading when let go were looked through on a grid. That is no proof that \
                 nothing faster would do."
                    .to_owned(),
            ))
            .with(Block::Text(
                "The driver's own pull is taken throughout. Wheels have to stay on the road; overhangs are not counted."
                    .to_owned(),
            )),
    );
    report.caution(WHERE);
    report
}

fn a_way(found: &WayThrough) -> Headline {
    let (entry, spare) = (
        wording::speed(found.technique.entry),
        wording::metres(found.to_spare),
    );
    Headline {
        stamp: "A way round".to_owned(),
        frame: Frame::Solid,
        because: format!("From {entry} at the fastest, {spare} to spare at the worst moment."),
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: vec![
            plain("entry speed", wording::speed_of(found.technique.entry).value),
            plain(
                "to spare at the worst moment",
                Shown {
                    text: spare,
                    number: found.to_spare.m(),
                },
            ),
            plain("speed looking the new way", wording::speed_of(found.speed).value),
        ],
        first: Some("Walk the bend and measure its road before anybody drives it.".to_owned()),
    }
}

fn no_way(because: String, first: &str) -> Headline {
    Headline {
        stamp: "No way round".to_owned(),
        frame: Frame::Heavy,
        because,
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: Some(first.to_owned()),
    }
}
