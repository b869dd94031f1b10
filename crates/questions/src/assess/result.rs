//! What `assess` answers, as other programs read it.

use std::collections::BTreeMap;

use assess::{Finding, Weight};
use engine::figures::Turned;
use engine::headline::HeadlineFigures;
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::Outcome;
use crate::result::{ChancesView, Num, OrWhy, RangeView, chances};

/// Whether it will work in this car.
#[derive(Serialize, JsonSchema)]
pub(super) struct AssessView {
    /// In parts, each read in one look.
    verdict: VerdictView,
    /// The same as sentences.
    answer: String,
    /// Worst first.
    findings: Vec<FindingView>,
    /// Headline figures, each with the range that holds 90 % of the draws.
    figures: FiguresView,
    /// The turn as it is run, on the surface that was asked about.
    turn: OrWhy<TurnedView>,
    /// Chances of verdicts, between 0 and 1.
    chances: ChancesView,
    /// What to measure next, what settles most first.
    measure_next: Vec<MeasureView>,
    /// What the new parts replace or make useless.
    comes_out: Vec<ComesOutView>,
    /// What to mind whatever the answer is.
    cautions: Vec<&'static str>,
}

#[derive(Serialize, JsonSchema)]
struct VerdictView {
    /// `yes`, `half`, `not-with-this-centre`, `no`, `open`, `no-lever`.
    word: &'static str,
    /// In at most four words.
    said: &'static str,
    /// In at most 14 words.
    because: String,
    /// What else has to be known.
    though: Vec<String>,
    /// Findings that stop the car before any of it counts, by slug. They never change the word.
    stops_first: Vec<&'static str>,
    /// What to do first.
    first: OrWhy<String>,
}

fn verdict(answer: &assess::VerdictInParts) -> VerdictView {
    VerdictView {
        word: answer.verdict.word(),
        said: answer.said,
        because: answer.because.clone(),
        though: answer.though.clone(),
        stops_first: answer.stops_first.iter().map(|(slug, _)| *slug).collect(),
        first: OrWhy::or(answer.first.clone(), "nothing was found that wants putting right"),
    }
}

/// How grave a finding is.
#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum WeightView {
    /// Somebody would be hurt, or scrutineering or road law surely fails.
    Stop,
    /// It wants putting right.
    Fix,
    /// It is worth knowing.
    Know,
}

#[derive(Serialize, JsonSchema)]
struct FindingView {
    /// A word for it that never changes.
    slug: &'static str,
    weight: WeightView,
    title: String,
    /// The figures in words.
    because: String,
    /// What to do about it.
    #[serde(rename = "do")]
    remedy: String,
    /// What to mind meanwhile.
    #[serde(skip_serializing_if = "Option::is_none")]
    caution: Option<&'static str>,
    /// The figures that it rests on, in SI.
    figures: BTreeMap<&'static str, Num>,
}

#[derive(Serialize, JsonSchema)]
struct FiguresView {
    front_first_by: OrWhy<RangeView>,
    in_hand: OrWhy<RangeView>,
    hand_force_n: OrWhy<RangeView>,
    travel_m: OrWhy<RangeView>,
    pressure_pa: OrWhy<RangeView>,
}

/// What the run comes to; `turn` has the whole of it.
#[derive(Serialize, JsonSchema)]
struct TurnedView {
    /// `comes-round`, `comes-round-late`, `rotates-little`, `ploughs`, `spins`.
    verdict: &'static str,
    /// 3 % of grip would make it another word.
    on_the_border: bool,
    entry_m_s: Num,
    /// By how much further into the bend the car looks for the lever.
    lever_gave_rad: OrWhy<Num>,
    /// When the lever is let go.
    heading_at_release_rad: Num,
    heading_without_lever_at_release_rad: Num,
    rear_locked_for_s: Num,
    front_speed_ratio: OrWhy<Num>,
    /// Stretches of grip over which it comes round, each from its lowest to its highest.
    works_from_grip: Vec<[Num; 2]>,
    /// The same with the axles free.
    uncoupled: OrWhy<String>,
}

fn turned(turned: &Turned) -> TurnedView {
    let turn = &turned.turn;
    TurnedView {
        verdict: turn.verdict.name(),
        on_the_border: turn.beside.is_some_and(|beside| beside.on_the_border),
        lever_gave_rad: OrWhy::or(
            turn.judged.lever_gave.map(|gave| gave.rad()),
            "it is not let go, or too slow for its path to have a direction",
        ),
        entry_m_s: turn.technique.entry.m_s().into(),
        heading_at_release_rad: turn.heading.at_release.unwrap_or(turn.heading.end).rad().into(),
        heading_without_lever_at_release_rad: turn
            .without_lever
            .at_release
            .unwrap_or(turn.without_lever.end)
            .rad()
            .into(),
        rear_locked_for_s: turn.locking.rear_for.s().into(),
        front_speed_ratio: OrWhy::or(turn.locking.front_speed_ratio, "the lever was not pulled"),
        works_from_grip: turned
            .works_in()
            .into_iter()
            .map(|(from, to)| [from.into(), to.into()])
            .collect(),
        uncoupled: OrWhy::or(
            turned.uncoupled.map(|free| free.verdict.name().to_owned()),
            "nothing ties the axles",
        ),
    }
}

#[derive(Serialize, JsonSchema)]
struct MeasureView {
    /// Key of the sheet.
    key: String,
    /// Figure that it settles most of.
    figure: &'static str,
    /// Share of that figure's range.
    settles: Num,
    /// How to measure it.
    how: &'static str,
    /// The card that shows it: `how CARD`.
    card: Option<&'static str>,
}

#[derive(Serialize, JsonSchema)]
struct ComesOutView {
    part: String,
    did: String,
    replaced_by: String,
}

impl AssessView {
    /// Of what came out.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let found = &outcome.figures.headlines;
        let lever = found.middle.outcome.is_some();
        let why = if lever {
            "a cable, or a valve that caps the pressure"
        } else {
            "this car has no handbrake lever"
        };
        let ranged = |figure: fn(&HeadlineFigures) -> Option<f64>, why: &'static str| {
            OrWhy::or(
                figure(&found.middle).map(|value| RangeView::of(value, found.range(figure))),
                why,
            )
        };
        let assessment = &outcome.assessment;
        Self {
            verdict: verdict(&assessment.answer),
            answer: assessment.answer.in_sentences(),
            findings: assessment.findings.iter().map(finding).collect(),
            figures: FiguresView {
                front_first_by: ranged(|middle| middle.front_first_by, "nothing locks"),
                in_hand: ranged(|middle| middle.in_hand, why),
                hand_force_n: ranged(|middle| middle.hand.map(|hand| hand.n()), why),
                travel_m: ranged(|middle| middle.travel.map(|travel| travel.m()), why),
                pressure_pa: ranged(|middle| middle.pressure.map(|pressure| pressure.pa()), why),
            },
            turn: match &outcome.figures.turned {
                Ok(run) => OrWhy::Is(turned(run)),
                Err(no_turn) => OrWhy::Why(no_turn.to_string().into()),
            },
            chances: chances(Some(found)),
            measure_next: assessment
                .measure_next
                .iter()
                .map(|next| MeasureView {
                    key: next.key.clone(),
                    figure: next.figure.name(),
                    settles: next.settles.into(),
                    how: next.how,
                    card: crate::measuring::of_path(&next.key)
                        .and_then(|key| key.key().drawing)
                        .map(engine::car::Drawing::name),
                })
                .collect(),
            comes_out: assessment
                .comes_out
                .iter()
                .map(|part| ComesOutView {
                    part: part.part.clone(),
                    did: part.did.clone(),
                    replaced_by: part.replaced_by.clone(),
                })
                .collect(),
            cautions: assessment.cautions.clone(),
        }
    }
}

fn finding(finding: &Finding) -> FindingView {
    FindingView {
        slug: finding.slug,
        weight: match finding.weight {
            Weight::Stop => WeightView::Stop,
            Weight::Fix => WeightView::Fix,
            Weight::Know => WeightView::Know,
        },
        title: finding.title.clone(),
        because: finding.because.clone(),
        remedy: finding.remedy.clone(),
        caution: finding.caution,
        figures: finding
            .figures
            .iter()
            .map(|&(key, value)| (key, value.into()))
            .collect(),
    }
}
