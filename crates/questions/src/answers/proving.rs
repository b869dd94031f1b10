//! Dry, firm, written down: bleeding, the round, the checks.

use engine::car::MeasuredSoak;
use plumbing::Plumbing;
use plumbing::bleeding::{BleedPlan, Corner, LeverAt, ValveAt, plan};
use proving::{Alone, Proof, SoakVerdict, alone, newest_soak, prove};

use crate::history::History;
use crate::opened::Opened;
use wording::Units;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Joints.
    pub plumbing: Plumbing,
    /// The order of bleeding.
    pub bleed: BleedPlan,
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
        let bleed = plan(car, &plumbing);
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

/// Where it stands and what is open first, in one sentence.
#[must_use]
pub fn sentence(outcome: &Outcome) -> String {
    let proof = &outcome.proof;
    if let Some((said, _)) = &outcome.stop {
        return format!("Stop: {said}. What is dry and what weeps is not known.");
    }
    let short = outcome.short();
    if proof.signed.is_some() {
        return format!("{short}.");
    }
    match proof.open.len() {
        0 => format!("{short}. Nothing is open: it may be signed."),
        1 => format!("{short}. Not to be signed yet: {}.", proof.open[0]),
        many => format!(
            "{short}. Not to be signed yet: {many} things are open, the first: {}.",
            proof.open[0]
        ),
    }
}

/// A corner by name.
#[must_use]
pub fn corner_name(corner: &Corner) -> String {
    let wheel = corner.wheel.name().replace('_', " ");
    if corner.lever == LeverAt::Works {
        format!("{wheel}, second")
    } else {
        wheel
    }
}

/// Where the knob of the valve stands meanwhile.
#[must_use]
pub const fn valve_word(at: ValveAt) -> &'static str {
    match at {
        ValveAt::None => "–",
        ValveAt::Mid => "mid",
        ValveAt::Fixed => "as it is",
    }
}

/// What the lever does meanwhile.
#[must_use]
pub const fn lever_word(at: LeverAt) -> &'static str {
    match at {
        LeverAt::None => "–",
        LeverAt::Rest => "rest",
        LeverAt::Works => "pumps",
    }
}

/// What the soak on the sheet says; `None` where there is none.
#[must_use]
pub fn soak_sentence(outcome: &Outcome, units: &Units) -> Option<String> {
    let (measured, verdict) = outcome.soak.as_ref()?;
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    let on = measured.on.map_or_else(String::new, |day| format!("{day}: "));
    Some(format!(
        "{on}fell {} in {:.0} min; temperature and creeping rubber explain {}, give or take {}. Here a degree is worth {}, \
         a drop lost {}. {}",
        pressure(verdict.fell.pa()),
        measured.held_for.s() / 60.0,
        pressure(verdict.explained.pa()),
        pressure(verdict.unsure.pa()),
        pressure(verdict.closed.per_degree_pa_k),
        pressure(verdict.closed.per_drop.pa()),
        if verdict.weeps() {
            format!(
                "That leaves a weep of {:.2} cm³ an hour: find it.",
                verdict.loses.m3() * 1e6
            )
        } else {
            "Nothing is left that a gauge could call a weep.".to_owned()
        }
    ))
}
