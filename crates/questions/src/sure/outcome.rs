//! What would settle each figure, and what readings have settled.

use std::sync::Arc;

use engine::Conditions;
use engine::figures::Headlined;
use engine::loads::Grade;
use engine::sensitivity::Design;
use engine::settles::{DrawnFrom, DrawnSheet, OfFigure, OfTurn, settles, settles_of_turn};
use engine::turn::{Manoeuvre, Technique, TurnBench, TurnFault};
use engine::updating::{Collapsed, Counts, Held, Kit, Learned, Narrowed, NextReading, Updated};

use crate::options::{Case, OF_THE_TURN};
use crate::turn_study::TurnStudy;

/// Base points of a study of the turn: each car is driven.
const BASE_OF_TURN: u32 = 128;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Base points of the study.
    pub base: u32,
    /// For each headline figure the keys, what settles most first; empty where nothing was drawn.
    pub settles: Vec<OfFigure<Headlined>>,
    /// The same for the turn, where it was asked for.
    pub of_turn: Option<TurnStudy>,
    /// The sheet with its readings; `None` where it makes no car without them.
    pub updated: Option<Updated>,
    /// Headline figures before the readings and after; empty where nothing was drawn.
    pub collapsed: Vec<Collapsed>,
    /// What the readings made of each key, what they say most of first.
    pub learned: Vec<Learned>,
    /// Readings that could be taken, what settles most of a figure first.
    pub next: Vec<NextReading>,
}

impl Outcome {
    /// Of a case. While something moves, few points.
    #[must_use]
    pub fn of(case: &Case<'_>) -> Self {
        let opened = case.opened;
        let conditions = on_the_level(case);
        let inputs = &opened.sheet.read.inputs;
        let updated = Updated::of(inputs, &opened.assembled, Kit::default());
        let read = updated.as_ref().filter(|updated| updated.has_learned());
        let (base, design) = (case.sampling.draws, design(case));
        let sheet = DrawnSheet::of(inputs, &opened.assembled.toleranced);
        let narrowed = read.map(Updated::narrowed);
        let from = drawn_from(narrowed.as_ref(), &sheet);
        let told = |share: f64| crate::progress::tell("what settles what", share.min(0.99));
        let found = if base > 0 {
            settles(from, &conditions, design, &told)
        } else {
            Vec::new()
        };
        crate::progress::tell("what settles what", 1.0);
        let of_turn = (case.said.has(&OF_THE_TURN) && base > 0).then(|| {
            opened.turn_study().cloned().unwrap_or_else(|| {
                let told = |share: f64| crate::progress::tell("what settles the turn", share.min(0.99));
                let made = of_turn(case, &conditions, from, design, &told);
                crate::progress::tell("what settles the turn", 1.0);
                TurnStudy::Made(Arc::new(made))
            })
        });
        let collapsed = match &updated {
            Some(updated) if base > 0 => updated.collapsed(&conditions, case.sampling),
            _ => Vec::new(),
        };
        Self {
            base,
            settles: found,
            of_turn,
            collapsed,
            learned: updated.as_ref().map(Updated::learned).unwrap_or_default(),
            next: updated
                .as_ref()
                .map(|updated| updated.next(&conditions))
                .unwrap_or_default(),
            updated,
        }
    }

    /// Every reading on the sheet, held against it.
    #[must_use]
    pub fn held(&self) -> &[Held] {
        self.updated.as_ref().map_or(&[], |updated| &updated.held)
    }

    /// Readings that neither the sheet nor the others explain.
    pub fn not_explained(&self) -> impl Iterator<Item = &Held> {
        self.held()
            .iter()
            .filter(|held| held.counts == Counts::NotExplained)
    }

    /// A figure before and after the readings.
    #[must_use]
    pub fn of_figure(&self, figure: Headlined) -> Option<&Collapsed> {
        self.collapsed.iter().find(|collapsed| collapsed.figure == figure)
    }
}

/// The study of the turn by itself, as the answer has it; `told` hears how much of it is done, from 0 to 1.
#[must_use]
pub fn study_of_turn(case: &Case<'_>, told: &(dyn Fn(f64) + Sync)) -> TurnStudy {
    let conditions = on_the_level(case);
    let (inputs, assembled) = (&case.opened.sheet.read.inputs, &case.opened.assembled);
    let updated = Updated::of(inputs, assembled, Kit::default());
    let narrowed = updated
        .as_ref()
        .filter(|read| read.has_learned())
        .map(Updated::narrowed);
    let sheet = DrawnSheet::of(inputs, &assembled.toleranced);
    let from = drawn_from(narrowed.as_ref(), &sheet);
    TurnStudy::Made(Arc::new(of_turn(case, &conditions, from, design(case), told)))
}

/// On the level, as an assessment.
fn on_the_level(case: &Case<'_>) -> Conditions {
    Conditions {
        grade: Grade::LEVEL,
        ..case.conditions()
    }
}

fn design(case: &Case<'_>) -> Design {
    Design {
        base: case.sampling.draws,
        seed: case.sampling.seed,
    }
}

/// The sheet as its readings narrow it, where they do.
fn drawn_from<'d>(narrowed: Option<&'d Narrowed<'d>>, sheet: &'d DrawnSheet<'d>) -> &'d dyn DrawnFrom {
    match narrowed {
        Some(narrowed) => narrowed,
        None => sheet,
    }
}

fn of_turn(
    case: &Case<'_>,
    conditions: &Conditions,
    from: &dyn DrawnFrom,
    design: Design,
    told: &(dyn Fn(f64) + Sync),
) -> Result<Vec<OfFigure<OfTurn>>, TurnFault> {
    let design = Design {
        base: design.base.min(BASE_OF_TURN),
        ..design
    };
    let (car, state) = (case.opened.car(), &case.opened.state);
    let technique = Technique {
        entry: conditions.speed,
        ..Technique::on(&state.surface, car)
    };
    let pull = conditions.pull_at(car, state.surface.peak);
    let reading = engine::coupling::deciding(car, &state.laden, pull, conditions.warmth);
    // Why there is none is found at the car itself, before any is drawn.
    TurnBench::of(car, &state.laden, &state.surface, reading)?;
    let manoeuvre = Manoeuvre {
        conditions: conditions.clone(),
        reading,
        technique,
    };
    Ok(settles_of_turn(&manoeuvre, from, design, told))
}
