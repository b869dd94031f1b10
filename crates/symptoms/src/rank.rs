//! Causes in their order, and the test that splits the first two.

use engine::car::Car;
use engine::loads::Laden;

use crate::cause::{Cause, causes};
use crate::effect::InThisCar;
use crate::said::Symptom;
use crate::trial::{Trial, TrialResult};

/// A cause with its weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranked {
    /// Which.
    pub cause: Cause,
    /// How likely among those listed; all of them make 1.
    pub weight: f64,
    /// What it would do here.
    pub here: InThisCar,
}

/// What is wrong, as far as it is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnosis {
    /// Of what.
    pub symptom: Symptom,
    /// The likeliest first. Causes that this car cannot have are left out.
    pub causes: Vec<Ranked>,
    /// The test that splits the first two best; `None` where no test does.
    pub test: Option<Trial>,
    /// What tests said before, in order.
    pub done: Vec<(Trial, TrialResult)>,
}

/// A test is worth doing where a yes is so much likelier with one of the two (judgement).
const SPLITS: f64 = 0.2;

/// Ranks the causes of a symptom in a car, narrowed by what tests said.
#[must_use]
pub fn what_is_wrong(
    symptom: Symptom,
    car: &Car,
    laden: &Laden,
    grip: f64,
    done: &[(Trial, TrialResult)],
) -> Diagnosis {
    let has_lever = car.lever.as_ref().is_some_and(|lever| lever.cylinder().is_some());
    let ranked = causes(symptom)
        .iter()
        .filter(|(cause, _)| has_lever || !matches!(cause, Cause::LeverSeal | Cause::ByPassCovered))
        .map(|&(cause, before)| {
            let here = InThisCar::new(cause.effect(), car, laden, grip);
            Ranked {
                cause,
                weight: before * here.felt(symptom.is_of_lever()),
                here,
            }
        })
        .filter(|ranked| ranked.weight > 0.0)
        .collect();
    let inline = matches!(
        car.lever.as_ref().map(|lever| &lever.kind),
        Some(engine::car::LeverKind::Inline(_))
    );
    narrowed(symptom, ranked, done, inline)
}

/// Weights after tests, and the next one; `inline_lever`: tests that pull one may be offered. Weights: each is multiplied with the chance of what the test said (Bayes), and all make 1 again.
#[must_use]
pub fn narrowed(
    symptom: Symptom,
    mut causes: Vec<Ranked>,
    done: &[(Trial, TrialResult)],
    inline_lever: bool,
) -> Diagnosis {
    for ranked in &mut causes {
        for (trial, outcome) in done {
            let yes = trial.says_yes(ranked.cause);
            ranked.weight *= match outcome {
                TrialResult::Yes => yes,
                TrialResult::No => 1.0 - yes,
            };
        }
    }
    let all: f64 = causes.iter().map(|ranked| ranked.weight).sum();
    if all > 0.0 {
        causes.iter_mut().for_each(|ranked| ranked.weight /= all);
    }
    causes.sort_by(|one, other| {
        other
            .weight
            .total_cmp(&one.weight)
            .then(one.cause.cmp(&other.cause))
    });
    let test = match &causes[..] {
        [one, other, ..] => {
            let pair = (one.cause, other.cause);
            let may = |trial: Trial| {
                let is_done = done.iter().any(|(known, _)| *known == trial);
                let is_driven = trial.needs_driving() && symptom.stop().is_some();
                let wants_lever = trial.needs_inline_lever() && !inline_lever;
                !(is_done || is_driven || wants_lever) && trial.is_about(pair.0, pair.1)
            };
            best_test(pair, &causes, &may)
        }
        _ => None,
    };
    Diagnosis {
        symptom,
        causes,
        test,
        done: done.to_vec(),
    }
}

/// Of the tests that split two causes, the one that splits them best; of equals the one that tells most of all causes,
/// then the shorter. `may` says which can be done: where the symptom says not to drive, none that has to be driven.
fn best_test((one, other): (Cause, Cause), causes: &[Ranked], may: &dyn Fn(Trial) -> bool) -> Option<Trial> {
    Trial::ALL
        .into_iter()
        .filter(|trial| may(*trial))
        .map(|trial| {
            let splits = (trial.says_yes(one) - trial.says_yes(other)).abs();
            (trial, splits, tells(trial, causes))
        })
        .filter(|(_, splits, _)| *splits > SPLITS)
        .max_by(|one, other| {
            one.1
                .total_cmp(&other.1)
                .then(one.2.total_cmp(&other.2))
                .then(other.0.minutes().cmp(&one.0.minutes()))
        })
        .map(|(trial, ..)| trial)
}

/// Whether a yes speaks for the first of two causes.
#[must_use]
pub fn leans_to_first(trial: Trial, first: Cause, second: Cause) -> bool {
    trial.says_yes(first) >= trial.says_yes(second)
}

/// How much a test is expected to narrow all causes, in bits: what its answer and the cause have in common.
fn tells(trial: Trial, causes: &[Ranked]) -> f64 {
    let entropy = |yes: f64| {
        [yes, 1.0 - yes]
            .into_iter()
            .filter(|share| *share > 0.0)
            .map(|share| -share * share.log2())
            .sum::<f64>()
    };
    let yes: f64 = causes
        .iter()
        .map(|ranked| ranked.weight * trial.says_yes(ranked.cause))
        .sum();
    let left: f64 = causes
        .iter()
        .map(|ranked| ranked.weight * entropy(trial.says_yes(ranked.cause)))
        .sum();
    entropy(yes) - left
}
