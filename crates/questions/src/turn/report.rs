//! A turn as it is shown: a run, many of them, or a way through a bend.

use assess::is_open;
use engine::car::Centre;
use engine::thresholds::LEVER_GIVES;
use engine::turn::{
    Bend, Brief, Cell, SEARCHED_BY, StoppedBy, Technique, Turn as Ran, TurnVerdict, WayThrough,
};
use quantity::si::{Angle, Duration, Force, Length, Speed};
use wording::{Measured, Shown};

use super::outcome::{Many, Run, Way};
use super::words::{LEFT_OUT, PILES_UP, WHERE, driver_facts, moved, run_facts, spare_words, swung};
use super::{Ask, SPEEDS, helps};
use crate::options::{
    AFTER, BEND, CLUTCH_AT, ENTRY, FOOT_OFF, HAND, LEVER_AT, MAP, RELEASE, Row, SEARCH, SPEED, STEER, UNTIL,
};
use crate::question::{Case, Question as _};
use crate::report::{
    Block, Choice, Detail, Figure, Frame, Headline, Lead, Limit, Report, Section, Side, Stroke, Table,
    TableRow, sentence,
};

/// Rows and columns that a table of many runs has room for.
const IN_A_TABLE: usize = 6;

/// Sizes of a map that are offered: at once, and as fine as it is drawn.
const COARSE: &str = "24x24";
const FINE: &str = "64x64";

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
    if let Some(helps) = &run.helps {
        report.section(helps::section(helps, &case.units));
    }
    report.sections.extend(sure(run));
    report.sections.extend(otherwise(run));
    report.sections.extend(moves(run));
    if !case.brief {
        report.section(ways_on(&turn.technique));
    }
    report.section(left_out(case));
    report.caution(WHERE);
    report
}

/// The map, and the way through this bend.
fn ways_on(technique: &Technique) -> Section {
    let choices = vec![
        Choice {
            label: "Map it".to_owned(),
            text: "entry speed by pull of the hand, 24 by 24 runs; the borders of lock, of the bend and of its road"
                .to_owned(),
            says: vec![(&MAP, COARSE.to_owned())],
            ..Choice::default()
        },
        Choice {
            label: "Look for a way".to_owned(),
            text: "the fastest entry that comes round this bend with this pull, or what stops it".to_owned(),
            says: vec![(&SEARCH, bend_text(technique))],
            ..Choice::default()
        },
    ];
    Section::new("Many runs at once", "a map; the fastest way through", None).with(Block::Choose(choices))
}

/// The bend of a technique as it is looked through, to the side that is steered to.
fn bend_text(technique: &Technique) -> String {
    let Bend { angle, radius, width } = technique.bend;
    let side = if technique.steer.rad() < 0.0 { "-" } else { "" };
    format!(
        "{side}{}, {}, {}",
        typed(angle.rad().abs().to_degrees(), "deg"),
        typed(radius.m(), "m"),
        typed(width.m(), "m")
    )
}

/// A figure as it is typed: with digits enough that it is the same run.
fn typed(value: f64, unit: &str) -> String {
    let text = format!("{value:.4}");
    format!("{} {unit}", text.trim_end_matches('0').trim_end_matches('.'))
}

/// Entry speed and pull as they are typed.
fn at(entry: Speed, hand: Force) -> Vec<(&'static Row, String)> {
    vec![
        (&SPEED, typed(entry.m_s() * 3.6, "km/h")),
        (&HAND, typed(hand.n(), "N")),
    ]
}

/// What is said of one run at an entry speed and a pull, in the place of a map's or a search's.
#[must_use]
pub fn of_cell(entry: Speed, hand: Force) -> (Vec<(&'static Row, String)>, [&'static Row; 3]) {
    (at(entry, hand), [&MAP, &SEARCH, &ENTRY])
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
    let in_cars = |word: TurnVerdict| {
        let share = chance(run, word)?;
        Some(format!(
            "It {} in {} of the cars that the tolerances allow.",
            word.words(),
            wording::chance(share)
        ))
    };
    let how_often = in_cars(TurnVerdict::ComesRound);
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
    // What leaves it open is said as the reason: how often it is called as it is on the sheet.
    let is_the_reason = unsure && turn.verdict == TurnVerdict::ComesRound;
    though.extend(how_often.filter(|_| !is_the_reason));
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
        because: match in_cars(turn.verdict) {
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
        TurnVerdict::Ploughs if centre => {
            "Fit a centre that lets go while the lever is pulled, or a softer one."
        }
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
    let shown = (many.grid.entries.len(), many.grid.hands.len());
    let mut report = Report::of(&Ask, case, headline);
    let items = TurnVerdict::ALL
        .into_iter()
        .map(|wanted| (wanted, count(wanted)))
        .filter(|(_, count)| *count > 0)
        .map(|(wanted, count)| format!("{} in {count}", wanted.words()));
    report.section(
        Section::new("The runs", format!("{} by {}, and what each is called", shown.0, shown.1), None)
            .with(Block::List(items.collect()))
            .with(Block::Table(some_of(case, many)))
            .with(Block::Text(
                "r comes round, t comes round late, l rotates little, p ploughs, s spins. The picture has every run.".to_owned(),
            )),
    );
    let mut choices = vec![Choice {
        label: "One run".to_owned(),
        text: "the technique by itself, as it was asked".to_owned(),
        unsays: vec![&MAP],
        ..Choice::default()
    }];
    if case.said.text(&MAP) != Some(FINE) {
        choices.push(Choice {
            label: "Finer".to_owned(),
            text: "64 by 64 runs; it takes some seconds".to_owned(),
            says: vec![(&MAP, FINE.to_owned())],
            ..Choice::default()
        });
    }
    report.section(Section::new("Ways on", "one run; a finer map", None).with(Block::Choose(choices)));
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
        let lead = |(cell, column): (usize, usize)| {
            let (says, unsays) = of_cell(grid.entries[row], grid.hands[column]);
            Lead {
                cell: cell + 1,
                question: Ask.name(),
                says,
                unsays: unsays.to_vec(),
            }
        };
        TableRow {
            leads: few(grid.hands.len()).enumerate().map(lead).collect(),
            ..TableRow::from(cells)
        }
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
    let searched = &way.searched;
    let headline = match &searched.found {
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
        Err(StoppedBy::Lever(gave)) => no_way(
            format!(
                "It comes out on the road, but the lever gives {} at most.",
                wording::degrees(*gave)
            ),
            "Pull harder, or look at what would turn it.",
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
    if let Ok(found) = &searched.found {
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
    let drawn = way.drawn();
    if searched.found.is_err() {
        report.section(
            Section::new("What came nearest", drawn.verdict.words(), None)
                .with(Block::Text(said(drawn)))
                .with(Block::Text("It is the run that is drawn.".to_owned())),
        );
    }
    report.section(driver(case, drawn));
    report.section(ran(drawn));
    report.section(to_the_run(&drawn.technique));
    let [sample, compass] = SEARCHED_BY;
    report.section(
        Section::new("How it was looked for", format!("{sample}, then {compass}: no proof"), None)
            .with(Block::Text(format!(
                "First a {sample} of {} techniques all over, seed {}: entry, steer and the moment of the pull.",
                searched.sampled, way.seed
            )))
            .with(Block::Text(format!(
                "Then a {compass} from the best of them, {} more. The same seed finds the same.",
                searched.bettered
            )))
            .with(Block::Text("That is no proof that nothing faster would do.".to_owned()))
            .with(Block::Text(
                "The driver's own pull is taken throughout. Wheels have to stay on the road; overhangs are not counted."
                    .to_owned(),
            )),
    );
    report.caution(WHERE);
    report
}

/// The way to the run that was found, and back to the one that was asked.
fn to_the_run(technique: &Technique) -> Section {
    let mut says = at(technique.entry, technique.hand);
    let bend = bend_text(technique);
    says.extend([
        (&STEER, typed(technique.steer.rad().to_degrees(), "deg")),
        (&LEVER_AT, typed(technique.lever_at.s(), "s")),
        (&BEND, bend.trim_start_matches('-').to_owned()),
    ]);
    if let engine::turn::Clutch::DownAt(at) = technique.clutch
        && (technique.lever_at - at - Duration::from_s(0.1)).s().abs() > 1e-9
    {
        says.push((&CLUTCH_AT, typed(at.s(), "s")));
    }
    if let Some(off) = technique.foot.and_then(|foot| foot.off) {
        says.push((&FOOT_OFF, typed(off.s(), "s")));
    }
    let unsays: Vec<&'static Row> = vec![&SEARCH, &MAP, &ENTRY, &RELEASE, &AFTER, &UNTIL];
    let choices = vec![
        Choice {
            label: "Open that run".to_owned(),
            text: "by itself, with how sure it is and what would help".to_owned(),
            says,
            unsays,
            ..Choice::default()
        },
        Choice {
            label: "One run".to_owned(),
            text: "the technique as it was asked".to_owned(),
            unsays: vec![&SEARCH],
            ..Choice::default()
        },
    ];
    Section::new("Ways on", "the run by itself", None).with(Block::Choose(choices))
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
