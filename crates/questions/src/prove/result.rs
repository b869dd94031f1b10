//! What `prove` answers, as other programs read it.

use plumbing::bleeding::{BledCorner, LeverAt, ValveAt};
use proving::{CheckResult, CheckState};
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::Outcome;
use crate::result::{Num, OrWhy};

/// Bleeding, the round, the checks.
#[derive(Serialize, JsonSchema)]
pub(super) struct ProveView {
    /// Corners in the order in which they are bled.
    bleed: Vec<CornerView>,
    /// Fluid to buy, in whole bottles.
    buy_m3: Num,
    /// What one person can hold.
    alone: AloneView,
    round: Vec<RoundView>,
    checks: Vec<CheckView>,
    /// What is open before it may be signed.
    open: Vec<String>,
    may_sign: bool,
    signed: OrWhy<SignedView>,
    /// Entries of the logbook that do not count.
    ignored: Vec<IgnoredView>,
    /// The newest soak on the sheet.
    soak: OrWhy<SoakView>,
}

#[derive(Serialize, JsonSchema)]
struct CornerView {
    corner: String,
    length_m: Num,
    run_m3: Num,
    brake_m3: Num,
    through_m3: Num,
    /// With a one-person bleeder at 1 bar and 20 °C, without the bleed screw's own resistance.
    least_s: OrWhy<Num>,
    /// `mid`, `fixed`, `none`.
    valve: &'static str,
    /// `rest`, `works`, `none`.
    lever: &'static str,
    screws: usize,
}

#[derive(Serialize, JsonSchema)]
struct AloneView {
    /// Pedal propped, engine off.
    propped_pa: Num,
    /// Pedal propped, engine running.
    running_pa: Num,
    /// Lever strapped back.
    strapped_pa: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct RoundView {
    joint: String,
    number: usize,
    place: String,
    /// `untried`, `marked`, `dry`, `weep`, `remade`.
    state: &'static str,
    /// Entry of the logbook that made it so.
    since: OrWhy<i64>,
}

#[derive(Serialize, JsonSchema)]
struct CheckView {
    check: &'static str,
    what: &'static str,
    /// `holds`, `fails`, `left`, `tells nothing`, `not done`.
    state: &'static str,
    /// Figures and reasons in words.
    says: OrWhy<String>,
    since: OrWhy<i64>,
}

#[derive(Serialize, JsonSchema)]
struct SignedView {
    by: String,
    checked_by: OrWhy<String>,
    entry: i64,
    #[schemars(extend("format" = "date"))]
    day: String,
}

#[derive(Serialize, JsonSchema)]
struct IgnoredView {
    entry: i64,
    why: String,
}

#[derive(Serialize, JsonSchema)]
struct SoakView {
    fell_pa: Num,
    /// By temperature and creeping rubber.
    explained_pa: Num,
    unsure_pa: Num,
    /// Of pressure a kelvin.
    per_degree_pa_k: Num,
    /// Of pressure for 0.05 cm³ lost.
    per_drop_pa: Num,
    weeps: bool,
}

fn corner(corner: &BledCorner) -> CornerView {
    CornerView {
        corner: corner.name.clone(),
        length_m: corner.length.m().into(),
        run_m3: corner.run.m3().into(),
        brake_m3: corner.brake.m3().into(),
        through_m3: corner.through.m3().into(),
        least_s: OrWhy::or(
            corner.least_time.map(|time| time.s()),
            "no line leads there, or the flow is not laminar",
        ),
        valve: match corner.valve {
            ValveAt::None => "none",
            ValveAt::Mid => "mid",
            ValveAt::Fixed => "fixed",
        },
        lever: match corner.lever {
            LeverAt::None => "none",
            LeverAt::Rest => "rest",
            LeverAt::Works => "works",
        },
        screws: corner.screws,
    }
}

fn check(state: &CheckState) -> CheckView {
    let (word, says) = match &state.judged {
        None => ("not done", None),
        Some(CheckResult::Holds(says)) => ("holds", Some(says.clone())),
        Some(CheckResult::Fails(says)) => ("fails", Some(says.clone())),
        Some(CheckResult::Left(says)) => ("left", Some(says.clone())),
        Some(CheckResult::TellsNothing(says)) => ("tells nothing", Some(says.clone())),
    };
    CheckView {
        check: state.check.name(),
        what: state.check.words(),
        state: word,
        says: OrWhy::or(says, "it was not made since something was last opened"),
        since: OrWhy::or(state.since.map(|(id, _)| id), "no entry says it"),
    }
}

impl ProveView {
    /// Of where proving stands.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let proof = &outcome.proof;
        let mut ignored: Vec<IgnoredView> = proof
            .ignored
            .iter()
            .map(|ignored| IgnoredView {
                entry: ignored.id,
                why: ignored.why.clone(),
            })
            .collect();
        ignored.extend(outcome.not_read.iter().map(|(entry, why)| IgnoredView {
            entry: *entry,
            why: why.clone(),
        }));
        Self {
            bleed: outcome.bleed.corners.iter().map(corner).collect(),
            buy_m3: outcome.bleed.buy().m3().into(),
            alone: AloneView {
                propped_pa: outcome.alone.propped.pa().into(),
                running_pa: outcome.alone.running.pa().into(),
                strapped_pa: OrWhy::or(
                    outcome.alone.strapped.map(|strapped| strapped.pa()),
                    "no lever works a cylinder",
                ),
            },
            round: proof
                .joints
                .iter()
                .map(|joint| RoundView {
                    joint: joint.id.clone(),
                    number: joint.number,
                    place: joint.place.clone(),
                    state: joint.state.word(),
                    since: OrWhy::or(joint.since.map(|(id, _)| id), "nobody has looked at it"),
                })
                .collect(),
            checks: proof.checks.iter().map(check).collect(),
            open: proof.open.clone(),
            may_sign: proof.may_sign(),
            signed: OrWhy::or(
                proof.signed.as_ref().map(|(entry, day, signature)| SignedView {
                    by: signature.by.clone(),
                    checked_by: OrWhy::or(signature.checked_by.clone(), "nobody else looked at it"),
                    entry: *entry,
                    day: day.to_string(),
                }),
                "nobody has signed since something was last open",
            ),
            ignored,
            soak: OrWhy::or(
                outcome.soak.as_ref().map(|(_, verdict)| SoakView {
                    fell_pa: verdict.fell.pa().into(),
                    explained_pa: verdict.explained.pa().into(),
                    unsure_pa: verdict.unsure.pa().into(),
                    per_degree_pa_k: verdict.closed.per_degree_pa_k.into(),
                    per_drop_pa: verdict.closed.per_drop.pa().into(),
                    weeps: verdict.weeps(),
                }),
                "no [[measured.soak]] on the sheet, or nothing that could hold it",
            ),
        }
    }
}
