//! The one rule for what the handbrake does on each of the car's surfaces.
//!
//! Where the turn was run, the run says whether the car comes round; that the rear does not stop going straight is then a
//! reason, and no second answer. Where it could not be run, stopping the rear stands for it.

use engine::figures::LeverRow;
use engine::lever::WhatStops;
use engine::turn::TurnVerdict as Run;

use super::Seen;

/// A surface of the car's, what the pull does there going straight, and what the run comes to.
#[derive(Clone, Copy, Debug)]
pub(crate) struct OnSurface<'a> {
    pub(crate) row: &'a LeverRow,
    pub(crate) run: Option<Run>,
}

impl<'a> OnSurface<'a> {
    /// Every surface that the car runs on; none without a lever.
    pub(crate) fn all(seen: &Seen<'a>) -> Vec<Self> {
        let figures = seen.figures;
        let run_on = |surface: &str| {
            let turned = figures.turned.as_ref().ok()?;
            let row = turned.rows.iter().find(|row| &*row.surface == surface)?;
            Some(row.brief?.verdict)
        };
        let rows = figures.hand.as_ref().map_or(&[][..], |hand| &hand.rows);
        rows.iter()
            .map(|row| Self {
                row,
                run: run_on(&row.surface),
            })
            .collect()
    }

    /// Whether both rear wheels stop going straight.
    pub(crate) fn stops_straight(&self) -> bool {
        self.row.answer.to_lock.outcome == WhatStops::Rear
    }

    /// Whether the handbrake does there what it is for.
    pub(crate) fn works(&self) -> bool {
        self.run
            .map_or_else(|| self.stops_straight(), |run| run.is_round())
    }

    /// The surface, and what the run does there in place of coming round.
    pub(crate) fn words(&self) -> String {
        let surface = &self.row.surface;
        match self.run {
            Some(run) if !self.works() => format!("{surface} ({})", run.words()),
            _ => surface.to_string(),
        }
    }
}
