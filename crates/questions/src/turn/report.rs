//! A turn as it is shown: a run, many of them, or a way through a bend.

use assess::is_open;
use engine::car::Centre;
use engine::thresholds::LEVER_GIVES;
use engine::turn::{Brief, Cell, StoppedBy, Turn as Ran, TurnVerdict, WayThrough};
use quantity::si::{Angle, Length};
use wording::{Measured, Shown};

use super::outcome::{Many, Run, Way};
use super::words::{LEFT_OUT, PILES_UP, WHERE, driver_facts, moved, run_facts, spare_words, swung};
use super::{Ask, SPEEDS};
use crate::question::Case;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, Table, TableRow, sentence,
};

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
            against.turn.verdict.words(),
            None,
        )
        .with(Block::Text(said(&against.turn)));
        section = section.with_some(against.beside.mind.map(|mind| Block::Text(mind.to_owned())));
        report.section(section.with(Block::Details(run_facts(&against.turn))));
    }
    report.sections.extend(sure(run));
    report.sections.extend(otherwise(run));
    report.sections.extend(moves(run));
    report.section(left_out(case));
    report.caution(WHERE);
    report
}

/// What is left out; on loose ground, what that does.
fn left_out(case: &Case<'_>) -> Section {
    let mut section = Section::new("What is left out", "what it is worth, and which way", None);
    for text in LEFT_OUT {
        section = section.with(Block::Text((*text).to_owned()));
    }
    if case.opened.state.surface.is_loose() {
        section = section.with(Block::Text(PILES_UP.to_owned()));
    }
    section
}

fn headline(case: &Case<'_>, run: &Run<'_>) -> Headline {
    let turn = &run.turn;
    let on_other_grip = turn.beside.is_some_and(|beside| beside.on_the_border);
    let unsure = is_open(chance(run, turn.verdict));
    let open = unsure || on_other_grip;
    let how_often = chance(run, TurnVerdict::ComesRound).map(|chance| {
        format!(
            "It comes round in {} of the cars that the tolerances allow.",
            wording::chance(chance)
        )
    });
    let (stamp, frame) = match turn.verdict {
        _ if open => ("Not yet known", Frame::Broken),
        TurnVerdict::ComesRound => ("Comes round", Frame::Solid),
        TurnVerdict::ComesRoundLate => ("Comes round late", Frame::Heavy),
        TurnVerdict::RotatesLittle => ("Rotates little", Frame::Heavy),
        TurnVerdict::Ploughs => ("Ploughs", Frame::Heavy),
        TurnVerdict::Spins => ("Spins", Frame::Heavy),
    };
    let on_the_border = assess::on_the_border();
    let mut though = Vec::new();
    if open {
        though.push(format!("As the sheet has it, it {}.", turn.verdict.words()));
        though.push(because(turn));
    }
    if on_other_grip && unsure {
        though.push(on_the_border.clone());
    }
    though.extend(how_often.clone().filter(|_| !unsure));
    if let Some((slower, brief)) = &run.slower {
        though.push(format!(
            "From {} it {}.",
            wording::speed(slower.entry),
            brief.verdict.words()
        ));
    }
    if let Some(best) = turn.beside.and_then(|beside| beside.best)
        && best.verdict != turn.verdict
    {
        though.push(format!(
            "Let go at {} and driven on, it {}.",
            wording::seconds(best.released),
            best.verdict.words()
        ));
    }
    if case.opened.state.surface.is_loose() {
        though.push("Loose ground piles up before sliding wheels; that is left out.".to_owned());
    }
    for (reading, brief) in &run.otherwise {
        if brief.verdict != turn.verdict {
            though.push(format!("If {reading}, it {}.", brief.verdict.words()));
        }
    }
    if let Some(against) = &run.against {
        though.push(format!(
            "{} {}.",
            against.beside.opened.car().name,
            against.turn.verdict.words()
        ));
        though.extend(against.beside.mind.map(str::to_owned));
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because: match how_often {
            Some(how_often) if unsure => how_often,
            _ if on_other_grip => on_the_border,
            _ => because(turn),
        },
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
    let judged = &turn.judged;
    let gives = judged.lever_gave.map_or_else(String::new, |gave| {
        format!("; the lever gives {}", wording::degrees(gave))
    });
    let spare = judged.to_spare.map_or_else(String::new, spare_words);
    match turn.verdict {
        TurnVerdict::ComesRound => format!("Out of the bend on the road, {spare}{gives}."),
        TurnVerdict::ComesRoundLate => format!("Out of the bend, but {spare}{gives}."),
        TurnVerdict::RotatesLittle => {
            let short: Vec<String> = judged.short_of.words().into_iter().map(str::to_owned).collect();
            sentence(&wording::list(&short))
        }
        TurnVerdict::Ploughs => match turn.locking.front_speed_ratio {
            Some(ratio) => format!(
                "Dragged to {} of their speed, the front wheels no longer steer.",
                wording::per_cent(ratio)
            ),
            None => "The front wheels are dragged and no longer steer.".to_owned(),
        },
        TurnVerdict::Spins => "It rolls backwards before it is out of the bend.".to_owned(),
    }
}

/// What to do first.
fn first(case: &Case<'_>, turn: &Ran) -> &'static str {
    let centre = case.opened.car().drivetrain.centre != Centre::None;
    match turn.verdict {
        TurnVerdict::ComesRound => "Try it slowly, on wide open ground where nobody stands.",
        TurnVerdict::ComesRoundLate => "Come in slower, or steer and pull earlier.",
        TurnVerdict::RotatesLittle if turn.locking.rear_from.is_none() => {
            "Look at the lever's force and travel first: both rear wheels have to lock."
        }
        TurnVerdict::RotatesLittle if turn.judged.short_of.lever_gave_less => {
            "Pull harder or longer, or steer in earlier."
        }
        TurnVerdict::RotatesLittle => "Come in slower.",
        TurnVerdict::Ploughs if centre => "Let the centre go when the lever moves, or fit one that does.",
        TurnVerdict::Ploughs => "Push the clutch down before the pull.",
        TurnVerdict::Spins => "Let go earlier, come in slower, or pull less.",
    }
}

/// What the lever gives, what is left to the edge of the road, and how long the rear stood.
fn figures(run: &Run<'_>) -> Vec<Figure> {
    let turn = &run.turn;
    let range = |figure: fn(&Brief) -> Option<f64>| run.drawn.as_ref().and_then(|drawn| drawn.range(figure));
    let mut figures = Vec::with_capacity(3);
    if let Some(gave) = turn.judged.lever_gave {
        figures.push(Figure {
            name: "what the lever gives",
            measured: wording::degrees_of(gave, range(|brief| Some(brief.judged.lever_gave?.rad()))),
            limit: Some(Limit {
                name: "at least",
                shown: wording::degrees_of(LEVER_GIVES, None).value,
                side: Side::AtLeast,
            }),
            working: None,
        });
    }
    match turn.judged.to_spare {
        Some(spare) => {
            let m = Shown {
                text: spare_words(spare),
                number: spare.m(),
            };
            figures.push(plain("the worst wheel", m));
        }
        None => figures.push(plain(
            "its path comes round by",
            wording::degrees_of(Angle::from_rad(turn.judged.through.furthest_rad), None).value,
        )),
    }
    figures.push(Figure {
        name: "both rear wheels locked for",
        measured: wording::seconds_of(turn.locking.rear_for, range(|brief| Some(brief.rear_for.s()))),
        limit: None,
        working: None,
    });
    figures
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
    format!("{} {}", sentence(turn.verdict.words()), because(turn))
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
    let items: Vec<String> = TurnVerdict::ALL
        .into_iter()
        .filter_map(|wanted| {
            let chance = chance(run, wanted).filter(|chance| *chance > 0.0)?;
            Some(format!("{} in {}", wanted.words(), wording::chance(chance)))
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
        .map(|(reading, brief)| format!("If {reading}: it {}.", brief.verdict.words()))
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
        Section::new("What moves it most", "inertia, grip and roll share", None).with(Block::Details(facts))
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
    let items = TurnVerdict::ALL
        .into_iter()
        .map(|wanted| (wanted, count(wanted)))
        .filter(|(_, count)| *count > 0)
        .map(|(wanted, count)| format!("{} in {count}", wanted.words()));
    report.section(
        Section::new("The runs", "what each is called", None)
            .with(Block::List(items.collect()))
            .with(Block::Table(some_of(case, many)))
            .with(Block::Text(
                "r comes round, t comes round late, l rotates little, p ploughs, s spins. The picture has every run.".to_owned(),
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
        TurnVerdict::ComesRoundLate => 't',
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
                "Whatever was tried, its path comes {} round at most.",
                wording::degrees(*furthest)
            ),
            "Ask first what comes of a single run.",
        ),
        Err(StoppedBy::Width(by)) => no_way(
            format!(
                "It comes out, but at best a wheel is {} beyond the edge.",
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
                "after {} it is out of the bend, at {}",
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
                "Entry, steer and moments were looked through on a grid. That is no proof that nothing faster would do."
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
            plain("speed out of the bend", wording::speed_of(found.speed).value),
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
