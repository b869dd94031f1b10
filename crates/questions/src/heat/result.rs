//! What `heat` answers, as other programs read it.

use engine::heat::{CornerHeat, HeatChange};
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::{Outcome, governs};
use crate::result::{Num, OrWhy, RangeView};

/// How hot it gets.
#[derive(Serialize, JsonSchema)]
pub(super) struct HeatView {
    stage: StageView,
    /// Temperature of the air, and of the brakes at the start.
    ambient_k: Num,
    corners: CornersView,
    /// What comes nearest to its limit.
    governs: String,
    /// What is left there: to the wet boiling point, or until the pads have faded.
    governs_left_dk: Num,
    boiling: BoilingView,
    /// Share of the heat that the front brakes made.
    front_share: OrWhy<Num>,
    foot: OrWhy<FootView>,
    /// What would help, the most helpful first.
    helps: Vec<HelpView>,
    /// Where the lever's by-pass may stay covered.
    drags: OrWhy<DragsView>,
    account: AccountView,
    ranges: RangesView,
    /// Chance that the fluid boils as old as it is.
    chance_boils: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct StageView {
    name: String,
    lasts_s: Num,
    length_m: Num,
    brakings: usize,
    /// Speed with which it ends.
    ends_at_m_s: Num,
}

#[derive(Serialize, JsonSchema)]
struct CornersView {
    front: CornerView,
    rear: CornerView,
}

/// A wheel of the axle.
#[derive(Serialize, JsonSchema)]
struct CornerView {
    disc_peak_k: Num,
    disc_peak_at_s: Num,
    fluid_running_k: Num,
    fluid_soak_k: Num,
    /// From stopping.
    fluid_soak_at_s: Num,
    /// To the wet boiling point.
    fluid_margin_dk: Num,
    fluid_margin_dry_dk: Num,
    /// To the boiling point at the fluid's age.
    fluid_margin_now_dk: Num,
    /// Where so little of the warm friction is left that the pads have faded.
    fades_at_k: Num,
    /// Least that was left of the warm friction.
    fade_worst: Num,
    /// Whether it was hotter than iron or pads are known.
    left_tables: bool,
}

#[derive(Serialize, JsonSchema)]
struct BoilingView {
    dry_k: Num,
    wet_k: Num,
    /// At its age.
    now_k: Num,
}

#[derive(Serialize, JsonSchema)]
struct FootView {
    /// Most that any braking asks.
    most_n: Num,
    /// Most that one asks over what it asks with warm pads.
    over_warm: Num,
}

#[derive(Serialize, JsonSchema)]
struct HelpView {
    /// `bigger-disc`, `vented-disc`, `ducting`, `other-pad`, `fresh-fluid`, `free-play`.
    change: &'static str,
    left_dk: Num,
    gains_dk: Num,
}

#[derive(Serialize, JsonSchema)]
struct DragsView {
    felt_at_s: OrWhy<Num>,
    /// When nobody drives on.
    ends_at_s: OrWhy<Num>,
    pressure_pa: Num,
}

/// Heat of all four brakes.
#[derive(Serialize, JsonSchema)]
struct AccountView {
    made_j: Num,
    held_j: Num,
    to_air_j: Num,
    radiated_j: Num,
}

#[derive(Serialize, JsonSchema)]
struct RangesView {
    fluid_margin_dk: RangeView,
    fluid_margin_now_dk: RangeView,
    disc_peak_k: RangeView,
}

impl HeatView {
    pub(super) fn of(outcome: &Outcome) -> Self {
        let heat = outcome.heat();
        let figures = engine::heat::HeatFigures::of(heat);
        let heats = &outcome.heats;
        Self {
            stage: StageView {
                name: outcome.stage.name.to_string(),
                lasts_s: heat.driven.s().into(),
                length_m: heat.distance.m().into(),
                brakings: outcome.stage.brakings(),
                ends_at_m_s: heat.ends_at.m_s().into(),
            },
            ambient_k: outcome.conditions.ambient.k().into(),
            corners: CornersView {
                front: corner(&heat.front),
                rear: corner(&heat.rear),
            },
            governs: governs(&heat.governs),
            governs_left_dk: heat.governs.left.dk().into(),
            boiling: BoilingView {
                dry_k: heat.boiling.dry.k().into(),
                wet_k: heat.boiling.wet.k().into(),
                now_k: heat.boiling.now.k().into(),
            },
            front_share: OrWhy::or(
                Some(heat.front_share).filter(|share| share.is_finite()),
                "nothing was braked",
            ),
            foot: OrWhy::or(
                heat.foot.map(|foot| FootView {
                    most_n: foot.most.n().into(),
                    over_warm: foot.over_warm.into(),
                }),
                "the pedal is not used",
            ),
            helps: outcome
                .helps
                .iter()
                .map(|help| HelpView {
                    change: match help.change {
                        HeatChange::BiggerDisc => "bigger-disc",
                        HeatChange::VentedDisc => "vented-disc",
                        HeatChange::Ducting => "ducting",
                        HeatChange::OtherPad => "other-pad",
                        HeatChange::FreshFluid => "fresh-fluid",
                        HeatChange::FreePlay => "free-play",
                    },
                    left_dk: help.left.dk().into(),
                    gains_dk: help.gains.dk().into(),
                })
                .collect(),
            drags: OrWhy::or(
                heat.drags.map(|drags| DragsView {
                    felt_at_s: OrWhy::or(drags.felt_at.map(|at| at.s()), "not within the stage"),
                    ends_at_s: OrWhy::or(drags.ends_at.map(|at| at.s()), "not within the stage"),
                    pressure_pa: drags.pressure.pa().into(),
                }),
                "the lever's by-pass opens at rest",
            ),
            account: AccountView {
                made_j: heat.account.made_j.into(),
                held_j: heat.account.held_j.into(),
                to_air_j: heat.account.to_air_j.into(),
                radiated_j: heat.account.radiated_j.into(),
            },
            ranges: RangesView {
                fluid_margin_dk: RangeView::of(figures.to_wet.dk(), heats.range(|drawn| drawn.to_wet.dk())),
                fluid_margin_now_dk: RangeView::of(
                    figures.to_now.dk(),
                    heats.range(|drawn| drawn.to_now.dk()),
                ),
                disc_peak_k: RangeView::of(figures.disc_peak.k(), heats.range(|drawn| drawn.disc_peak.k())),
            },
            chance_boils: OrWhy::or(outcome.chance_boils(), "nothing was drawn"),
        }
    }
}

fn corner(corner: &CornerHeat) -> CornerView {
    CornerView {
        disc_peak_k: corner.disc_peak.k().into(),
        disc_peak_at_s: corner.disc_peak_at.s().into(),
        fluid_running_k: corner.fluid_running.k().into(),
        fluid_soak_k: corner.fluid_soak.k().into(),
        fluid_soak_at_s: corner.fluid_soak_at.s().into(),
        fluid_margin_dk: corner.to_wet.dk().into(),
        fluid_margin_dry_dk: corner.to_dry.dk().into(),
        fluid_margin_now_dk: corner.to_now.dk().into(),
        fades_at_k: corner.fades_at.k().into(),
        fade_worst: corner.fade_worst.into(),
        left_tables: corner.left_tables,
    }
}
