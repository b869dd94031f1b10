//! Whether it will work in a car, and what was found.

use ::assess::{Assessment, Finding, Verdict};
use engine::Conditions;
use engine::figures::{Depth, Figures};
use engine::loads::Grade;
use engine::ranges::Sampling;
use plumbing::Plumbing;
use proving::due::due;
use proving::{Fact, prove};
use quantity::si::Speed;

use crate::history::History;
use crate::opened::Opened;
use crate::report::Frame;
use crate::trouble::Wrong;
use wording::{Precision, Units};

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Everything that was computed for it.
    pub figures: Figures,
    /// What it means.
    pub assessment: Assessment,
    /// Whether the car has a logbook that does not read: that is a *stop* among the findings.
    pub logbook_lost: bool,
    /// How far its figures are rounded.
    pub precision: Precision,
}

impl Outcome {
    /// Of an opened car. The surface is one that the car knows: opening it has seen to that.
    ///
    /// # Errors
    /// Where the car does not know the surface.
    pub fn of(opened: &Opened, speed: Speed, sampling: Sampling, units: &Units) -> Result<Self, Wrong> {
        Self::looked_at(opened, speed, sampling, units, false)
    }

    /// A look while something moves, or for a few words: few draws or none, the turn run once.
    ///
    /// # Errors
    /// Where the car does not know the surface.
    pub fn briefly(opened: &Opened, speed: Speed, draws: u32, units: &Units) -> Result<Self, Wrong> {
        let few = Sampling {
            draws,
            ..Sampling::default()
        };
        Self::looked_at(opened, speed, few, units, true)
    }

    fn looked_at(
        opened: &Opened,
        speed: Speed,
        sampling: Sampling,
        units: &Units,
        briefly: bool,
    ) -> Result<Self, Wrong> {
        // On the level: an assessment takes no slope.
        let conditions = Conditions {
            speed,
            grade: Grade::LEVEL,
            ..opened.state.conditions.clone()
        };
        let depth = Depth { sampling, briefly };
        let figures = Figures::of(&opened.sheet.read.inputs, &opened.assembled, &conditions, depth).map_err(
            |unknown| {
                let remedy = "describe it under [[surface]], or ask about another".to_owned();
                Wrong::plain(
                    &opened.sheet.path(),
                    "unknown-surface",
                    unknown.to_string(),
                    remedy,
                )
            },
        )?;
        let history = opened.history();
        let written = written(opened, history);
        let precision = if sampling.draws == 0 && !briefly {
            Precision::default()
        } else if sampling == Precision::DRAWN {
            // The same draws: nothing is drawn twice.
            Precision::of(&figures.headlines)
        } else {
            opened.precision(speed)
        };
        Ok(Self {
            assessment: ::assess::assess_in(opened.car(), &figures, *units, precision, written),
            figures,
            logbook_lost: history.lost.is_some(),
            precision,
        })
    }
}

impl Outcome {
    /// The verdict in a few words, what stops the car before it.
    #[must_use]
    pub fn in_short(&self) -> String {
        let answer = &self.assessment.answer;
        let said = answer.said.to_lowercase();
        match answer.stops_first.len() {
            0 => said,
            1 => format!("stop first; then {said}"),
            many => format!("{many} stops first; then {said}"),
        }
    }

    /// The frame of its stamp.
    #[must_use]
    pub const fn frame(&self) -> Frame {
        match self.assessment.answer.verdict {
            Verdict::Yes => Frame::Solid,
            Verdict::Half | Verdict::NotWithThisCentre | Verdict::No => Frame::Heavy,
            Verdict::Open | Verdict::NoLever => Frame::Broken,
        }
    }
}

/// Findings from the car's logbook. The sheet's own fluid date is a finding of the assessment already.
pub(crate) fn written(opened: &Opened, history: &History) -> Vec<Finding> {
    if let Some((said, remedy)) = history.stop() {
        return vec![::assess::logbook_lost(&said, &remedy)];
    }
    if history.noted.is_empty() && history.not_read.is_empty() {
        return Vec::new();
    }
    let car = opened.car();
    let plumbing = Plumbing::of(car);
    let about_joints = history.noted.iter().any(|noted| {
        matches!(
            noted.fact,
            Fact::Joint { .. } | Fact::Touched { .. } | Fact::Checked { .. }
        )
    });
    let proof = about_joints.then(|| prove(car, &plumbing, &history.noted));
    let mut due = due(car, &plumbing, &history.noted, opened.state.day);
    due.retain(|due| due.slug != "fluid-age");
    ::assess::written(proof.as_ref(), &history.not_read, &due)
}
