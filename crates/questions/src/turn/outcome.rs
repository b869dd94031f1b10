//! What the road does with a technique: a run, many of them, or a way through a bend.

use engine::Conditions;
use engine::ranges::{Sampling, Study};
use engine::turn::{
    Assumed, Bend, Brief, Grid, Looking, Manoeuvre, Release, Searched, Swing, Technique, Turn, TurnBench,
    TurnFault, TurnVerdict,
};
use wording::if_read;

use super::helps::Helps;
use super::technique::technique;
use crate::opened::{Beside, Opened};
use crate::options::{MAP, SEARCH};
use crate::progress::tell;
use crate::question::Case;
use crate::trouble::Wrong;

/// Rows and columns of a map while a handle moves.
const MOVING: usize = 8;

/// One run, with what is known of it.
#[derive(Debug)]
pub struct Run<'a> {
    /// The run.
    pub turn: Turn,
    /// The cars that the tolerances allow; `None` where none was drawn.
    pub drawn: Option<Study<Brief>>,
    /// Inertia, grip and roll share moved one by one; none where there is no time for it.
    pub swings: Vec<Swing>,
    /// The same with the centre coupling read in the other ways that the sheet leaves open, each by what then is so.
    pub otherwise: Vec<(String, Brief)>,
    /// What comes of a slower entry, where the run does not come round; none where there is no time for it, or a moment was
    /// given.
    pub slower: Option<(Technique, Brief)>,
    /// What changes of the car would do; `None` where there is no time for it.
    pub helps: Option<Helps>,
    /// Another set-up beside it.
    pub against: Option<AgainstRun<'a>>,
}

/// Another car's run beside it.
#[derive(Debug)]
pub struct AgainstRun<'a> {
    /// The other car.
    pub beside: &'a Beside,
    /// Its run.
    pub turn: Turn,
}

/// Many runs: entry speed and pull are moved.
#[derive(Debug)]
pub struct Many {
    /// What all of them share.
    pub technique: Technique,
    /// What came of each.
    pub grid: Grid,
}

/// A way through a bend.
#[derive(Debug)]
pub struct Way {
    /// The bend.
    pub bend: Bend,
    /// The fastest way that was found, or what stopped it.
    pub searched: Searched,
    /// Makes the sample of techniques another one.
    pub seed: u32,
    /// The run that came nearest: what is drawn where no way was found.
    pub nearest: Turn,
}

impl<'a> Run<'a> {
    /// What is asked: while a handle moves, the run alone.
    pub(super) fn of(case: &Case<'a>) -> Result<Self, Wrong> {
        let opened = case.opened;
        let technique = technique(case)?;
        let bench = bench(opened)?;
        let in_words = |no_turn: TurnFault| no_turn_in_words(opened, &no_turn);
        let swings = if case.brief {
            Vec::new()
        } else {
            bench.swings(&technique).map_err(in_words)?.to_vec()
        };
        let against = match opened.beside.as_deref() {
            Some(beside) => Some(AgainstRun {
                turn: turn(&beside.opened, &technique)?,
                beside,
            }),
            None => None,
        };
        let (turn, otherwise) = each_way(opened, &technique).map_err(in_words)?;
        let is_short = turn.verdict != TurnVerdict::ComesRound && technique.release == Release::Best;
        let slower = (is_short && !case.brief)
            .then(|| bench.at_its_entry(&technique).ok())
            .flatten()
            .filter(|(slower, _)| slower.entry < technique.entry);
        Ok(Self {
            turn,
            slower,
            helps: if case.brief {
                None
            } else {
                Helps::of(case, &technique)
            },
            drawn: (case.sampling.draws > 0).then(|| study(opened, &technique, case.sampling)),
            swings,
            otherwise,
            against,
        })
    }
}

impl Many {
    /// So many entry speeds and pulls.
    pub(super) fn of(case: &Case<'_>, (rows, columns): (usize, usize)) -> Result<Self, Wrong> {
        let technique = technique(case)?;
        // While something moves, few enough to follow it.
        let fewer = |count: usize| if case.brief { count.min(MOVING) } else { count };
        let tell = |share: f64| tell("driving the map", share);
        let grid = bench(case.opened)?.grid(&technique, (fewer(rows), fewer(columns)), &tell);
        Ok(Self {
            technique,
            grid: grid.map_err(|no_turn| no_turn_in_words(case.opened, &no_turn))?,
        })
    }
}

impl Way {
    /// Looks for one.
    pub(super) fn of(case: &Case<'_>, bend: Bend) -> Result<Self, Wrong> {
        let technique = technique(case)?;
        let bench = bench(case.opened)?;
        let in_words = |no_turn: TurnFault| no_turn_in_words(case.opened, &no_turn);
        let seed = case.sampling.seed;
        let looking = if case.brief {
            Looking::brief(seed)
        } else {
            Looking::whole(seed)
        };
        let searched = bench.search(&technique, &bend, looking).map_err(in_words)?;
        let nearest = searched.nearest.unwrap_or(Technique {
            bend: Bend {
                angle: quantity::si::Angle::from_rad(bend.angle.rad().abs()),
                ..bend
            },
            ..technique
        });
        Ok(Self {
            nearest: bench.turn_alone(&nearest).map_err(in_words)?,
            searched,
            seed,
            bend,
        })
    }

    /// The run that is drawn.
    #[must_use]
    pub fn drawn(&self) -> &Turn {
        self.searched
            .found
            .as_ref()
            .map_or(&self.nearest, |way| &way.turn)
    }
}

/// One of them at most changes what is asked.
pub(super) fn one_of(case: &Case<'_>) -> Result<(), Wrong> {
    let conflict = |text: &str, option: &str, other: &str| {
        let what = format!("`{option}` and `{other}` ask two different things");
        let remedy = "leave one of them out".to_owned();
        Err(Wrong::option(
            option,
            text,
            0..text.len(),
            "option-conflict",
            what,
            remedy,
        ))
    };
    match (case.said.text(&MAP), case.said.text(&SEARCH), &case.opened.beside) {
        (Some(map), Some(_), _) => conflict(map, "--map", "--search"),
        (Some(map), None, Some(_)) => conflict(map, "--map", "--against"),
        (None, Some(search), Some(_)) => conflict(search, "--search", "--against"),
        _ => Ok(()),
    }
}

/// An opened car, made ready to be driven in its state.
///
/// # Errors
/// No lever, or a surface that makes no grip curve, with what to do.
fn bench(opened: &Opened) -> Result<TurnBench, Wrong> {
    let state = &opened.state;
    TurnBench::of(opened.car(), &state.laden, &state.surface, reading(opened))
        .map_err(|no_turn| no_turn_in_words(opened, &no_turn))
}

/// What comes of a technique in an opened car, without what stands beside it.
///
/// # Errors
/// As [`bench`]; a motion that cannot be followed.
pub(super) fn turn(opened: &Opened, technique: &Technique) -> Result<Turn, Wrong> {
    bench(opened)?
        .turn_alone(technique)
        .map_err(|no_turn| no_turn_in_words(opened, &no_turn))
}

/// What comes of a technique, and with the centre coupling read in the other ways that the sheet leaves open, each by what
/// then is so.
fn each_way(opened: &Opened, technique: &Technique) -> Result<(Turn, Vec<(String, Brief)>), TurnFault> {
    let state = &opened.state;
    let (turn, otherwise) = engine::coupling::turn_each_way(
        opened.car(),
        &state.laden,
        &state.surface,
        technique,
        reading(opened),
    )?;
    let otherwise = otherwise
        .into_iter()
        .map(|(reading, brief)| (if_read(&reading), brief));
    Ok((turn, otherwise.collect()))
}

/// The technique in every car that an opened car's tolerances allow.
fn study(opened: &Opened, technique: &Technique, sampling: Sampling) -> Study<Brief> {
    Manoeuvre {
        conditions: opened.state.conditions.clone(),
        reading: reading(opened),
        technique: *technique,
    }
    .study(&opened.sheet.read.inputs, &opened.assembled.toleranced, sampling)
}

/// The coupling read in the way that leaves the sheet's own pull least in hand.
fn reading(opened: &Opened) -> Assumed {
    let (state, car) = (&opened.state, opened.car());
    let conditions = Conditions {
        speed: Technique::on(&state.surface, car).entry,
        ..state.conditions.clone()
    };
    let pull = conditions.pull_at(car, state.surface.peak);
    engine::coupling::deciding(car, &state.laden, pull, conditions.warmth)
}

/// Why there is no turn, and what to do.
fn no_turn_in_words(opened: &Opened, no_turn: &TurnFault) -> Wrong {
    let path = opened.sheet.path();
    let (slug, remedy) = match no_turn {
        TurnFault::NoLever => ("no-lever", "describe it under [lever] on the sheet"),
        TurnFault::NoSurface => (
            "unknown-surface",
            "describe it under [[surface]], or ask about another",
        ),
        TurnFault::Surface(_) => (
            "impossible-surface",
            "change the four figures of that [[surface]]: `slip_at_peak` and `stiffness` have to fit each other",
        ),
        TurnFault::Technique(_) => ("out-of-range", "choose a figure between the two"),
        TurnFault::MotionFault(_) => (
            "not-followed",
            "a technique this extreme is beyond what can be followed; shorten it, or take a slower entry",
        ),
    };
    Wrong::plain(&path, slug, no_turn.to_string(), remedy.to_owned())
}
