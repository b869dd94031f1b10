//! Dry, firm, written down: bleeding, the round, the checks.

use engine::car::MeasuredSoak;
use plumbing::Plumbing;
use plumbing::bleeding::{BleedOrder, in_order};
use proving::{Alone, Proof, SoakVerdict, alone, newest_soak, prove};

use crate::history::History;
use crate::opened::Opened;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Joints.
    pub plumbing: Plumbing,
    /// The order of bleeding.
    pub bleed: BleedOrder,
    /// What to mind while it is bled.
    pub mind: Vec<String>,
    /// What one person can hold.
    pub alone: Alone,
    /// Where the round stands.
    pub proof: Proof,
    /// Entries that cannot be read.
    pub not_read: Vec<(i64, String)>,
    /// Why nothing of the logbook is known, where it does not read, and what to do.
    pub stop: Option<(String, String)>,
    /// The newest soak on the sheet, judged.
    pub soak: Option<(MeasuredSoak, SoakVerdict)>,
}

impl Outcome {
    /// Of a car and its logbook.
    #[must_use]
    pub fn of(opened: &Opened, history: &History) -> Self {
        let car = opened.car();
        let plumbing = Plumbing::of(car);
        let stop = history.stop();
        let mut proof = prove(car, &plumbing, &history.noted);
        if let Some((said, _)) = &stop {
            proof.open.insert(0, said.clone());
        }
        let bleed = in_order(car, &plumbing);
        Self {
            mind: proving::mind(car, &bleed.corners),
            bleed,
            alone: alone(car, &opened.state.laden),
            proof,
            not_read: history.not_read.clone(),
            stop,
            soak: newest_soak(car),
            plumbing,
        }
    }

    /// The short answer: `14 of 19 dry, 1 weeps`.
    #[must_use]
    pub fn short(&self) -> String {
        match self.stop {
            Some(_) => "the logbook does not read".to_owned(),
            None => self.proof.short(),
        }
    }
}
