//! What `sure` answers, as other programs read it.

use engine::settles::{OfFigure, Settled};
use engine::updating::{Counts, Held, Read};
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::Outcome;
use super::report::{MOST, WORTH_IT};
use super::words;
use crate::result::{Num, OrWhy, RangeView};
use crate::turn_study::TurnStudy;

/// How sure it is, and what would settle it.
#[derive(Serialize, JsonSchema)]
pub(super) struct SureView {
    /// Base points of the study; each costs as many cars as there are toleranced keys, and two.
    base: u32,
    /// Headline figures before the sheet's readings and after, each with the range that holds 90 %.
    figures: Vec<FigureView>,
    /// For each figure the keys that settle most of it.
    settles: Vec<SettlesView>,
    /// The same for the turn, where it was asked for.
    turn: OrWhy<Vec<SettlesView>>,
    /// The key that settles most of each figure.
    measure_next: Vec<KeyView>,
    /// Readings that could be taken, what settles most of a figure first.
    read_next: Vec<ReadNextView>,
    /// Readings on the sheet, held against it.
    readings: Vec<HeldView>,
    /// Keys of whose tolerance the readings leave less than there was.
    learned: Vec<LearnedView>,
}

#[derive(Serialize, JsonSchema)]
struct FigureView {
    figure: &'static str,
    before: OrWhy<RangeView>,
    after: OrWhy<RangeView>,
}

#[derive(Serialize, JsonSchema)]
struct SettlesView {
    figure: &'static str,
    keys: Vec<KeyView>,
}

#[derive(Clone, Serialize, JsonSchema)]
struct KeyView {
    /// Key of the sheet.
    key: String,
    /// Figure that it settles.
    figure: &'static str,
    /// Share of that figure's variance, by itself and together with others: the total-order index.
    settles: Num,
    /// By itself: the first-order index.
    alone: Num,
    /// 95 % half-width of `settles`, at most.
    unsure: Num,
    /// How to measure it.
    how: &'static str,
    /// The card that shows it: `how CARD`.
    card: Option<&'static str>,
}

#[derive(Serialize, JsonSchema)]
struct ReadNextView {
    figure: &'static str,
    /// `pedal-engine-on`, `pedal-engine-off`, `hand-force`, `grip-travel`, `rear-wheel` or `front-wheel`.
    way: &'static str,
    /// Share of what is left of the figure's variance.
    settles: Num,
    how: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct HeldView {
    /// Entry of the sheet.
    entry: String,
    /// Which of its points, counted from 1.
    point: usize,
    /// What was read, with its unit: `pressure_pa`, `travel_m` or `torque_nm`.
    quantity: &'static str,
    /// As read.
    read: Num,
    /// What the sheet makes of it.
    by_sheet: OrWhy<Num>,
    /// Standard deviation of that: tolerances, instruments, equations.
    by_sheet_sd: OrWhy<Num>,
    /// How far it lies from what the sheet and all other readings foretell, in standard deviations.
    off_sds: Num,
    /// `yes`, `not-explained`, `replaces` (it stands in the place of the sheet's figures) or `tells-nothing`.
    counts: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct LearnedView {
    /// Key of the sheet; its figures are in SI.
    key: String,
    before: RangeView,
    after: RangeView,
    /// Standard deviation that is left, of what there was.
    left: Num,
}

const NOT_DRAWN: &str = "nothing was drawn, or the car does not have it";

impl SureView {
    /// Of what came out.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let settles: Vec<SettlesView> = outcome
            .settles
            .iter()
            .map(|of| settling(of, of.figure.name()))
            .collect();
        Self {
            base: outcome.base,
            figures: outcome
                .collapsed
                .iter()
                .map(|collapsed| {
                    let view = |of: (Option<f64>, Option<engine::ranges::Range>)| {
                        let value = of.0.filter(|value| value.is_finite());
                        OrWhy::or(value.map(|value| RangeView::of(value, of.1)), NOT_DRAWN)
                    };
                    FigureView {
                        figure: collapsed.figure.name(),
                        before: view(collapsed.before),
                        after: view(collapsed.after),
                    }
                })
                .collect(),
            turn: {
                let (found, why): (Option<Vec<SettlesView>>, _) = match &outcome.of_turn {
                    Some(TurnStudy::Made(made)) => match made.as_ref() {
                        Ok(found) => {
                            let views = found.iter().map(|of| settling(of, of.figure.name()));
                            (Some(views.collect()), "")
                        }
                        Err(_) => (None, "this car makes no turn"),
                    },
                    Some(TurnStudy::UnderWay(_)) => (None, "it is being computed"),
                    None => (None, "it was not asked for: --turn"),
                };
                OrWhy::or(found, why)
            },
            measure_next: settles.iter().filter_map(|of| of.keys.first().cloned()).collect(),
            settles,
            read_next: outcome
                .next
                .iter()
                .map(|next| ReadNextView {
                    figure: next.figure.name(),
                    way: words::way_named(next.way),
                    settles: next.settles.into(),
                    how: words::way(next.way),
                })
                .collect(),
            readings: outcome.held().iter().map(held).collect(),
            learned: outcome
                .learned
                .iter()
                .filter(|learned| learned.left < 1.0 - 1e-6)
                .map(|learned| LearnedView {
                    key: learned.slot.path(),
                    before: RangeView::of(learned.before.0, Some(learned.before.1)),
                    after: RangeView::of(learned.after.0, Some(learned.after.1)),
                    left: learned.left.into(),
                })
                .collect(),
        }
    }
}

fn settling<Of>(of: &OfFigure<Of>, figure: &'static str) -> SettlesView {
    let view = |settled: &Settled| KeyView {
        key: settled.slot.path(),
        figure,
        settles: settled.index.total.clamp(0.0, 1.0).into(),
        alone: settled.index.alone.into(),
        unsure: settled.index.unsure.into(),
        how: settled.slot.key.key().how,
        card: settled.slot.key.key().drawing.map(engine::car::Drawing::name),
    };
    SettlesView {
        figure,
        keys: of
            .keys
            .iter()
            .filter(|settled| settled.index.total >= WORTH_IT)
            .take(MOST)
            .map(view)
            .collect(),
    }
}

fn held(held: &Held) -> HeldView {
    let known = |si: f64| OrWhy::or(Some(si).filter(|si| si.is_finite()), "no car is read so");
    HeldView {
        entry: words::entry(&held.reading),
        point: held.reading.point,
        quantity: match held.reading.read {
            Read::Pedal { .. } | Read::Hand { .. } => "pressure_pa",
            Read::Travel { .. } => "travel_m",
            Read::Wheel { .. } => "torque_nm",
        },
        read: held.reading.value_si().into(),
        by_sheet: known(held.by_sheet_si),
        by_sheet_sd: known(held.by_sheet_sd_si),
        off_sds: held.off_sds.into(),
        counts: match held.counts {
            Counts::Yes => "yes",
            Counts::NotExplained => "not-explained",
            Counts::Replaces => "replaces",
            Counts::TellsNothing => "tells-nothing",
        },
    }
}
