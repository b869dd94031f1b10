//! What a stage does to the brakes.

use engine::Conditions;
use engine::car::Axle;
use engine::heat::{Governs, Heat, HeatBench, HeatChange, HeatFault, HeatHelp, Heats, Stage, What};
use engine::ranges::Sampling;

use crate::opened::Opened;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// What was driven.
    pub stage: Stage,
    /// The operating point.
    pub conditions: Conditions,
    /// Temperatures, drawn.
    pub heats: Heats,
    /// What would help, the most helpful first.
    pub helps: Vec<HeatHelp>,
}

impl Outcome {
    /// Of a car over a stage.
    ///
    /// # Errors
    /// The temperatures cannot be followed.
    pub fn of(
        opened: &Opened,
        stage: Stage,
        conditions: Conditions,
        sampling: Sampling,
    ) -> Result<Self, HeatFault> {
        let (car, assembled) = (opened.car(), &opened.assembled);
        let heats = Heats::of(
            car,
            &opened.sheet.read.inputs,
            &assembled.toleranced,
            &conditions,
            &stage,
            sampling,
        )?;
        let helps = HeatBench::of(car, &conditions).helps(car, &stage, &heats.middle)?;
        Ok(Self {
            stage,
            conditions,
            heats,
            helps,
        })
    }

    /// Of the car itself.
    #[must_use]
    pub const fn heat(&self) -> &Heat {
        &self.heats.middle
    }

    /// Chance that the fluid boils as old as it is; `None` where nothing was drawn.
    #[must_use]
    pub fn chance_boils(&self) -> Option<f64> {
        self.heats.drawn.chance(|drawn| drawn.to_now.dk() < 0.0)
    }
}

/// An axle's word.
pub(super) const fn axle(axle: Axle) -> &'static str {
    match axle {
        Axle::Front => "front",
        Axle::Rear => "rear",
    }
}

/// What governs, in words.
pub(super) fn governs(governs: &Governs) -> String {
    let axle = axle(governs.axle);
    match governs.what {
        What::FluidRunning => format!("{axle} fluid, running"),
        What::FluidSoak => format!("{axle} fluid, in the soak"),
        What::Pads => format!("{axle} pads"),
    }
}

/// The answer in a few words.
pub(super) fn in_short(heat: &Heat) -> String {
    let left = wording::apart(heat.governs.left);
    let what = match heat.governs.what {
        What::Pads => "pads",
        _ => "fluid",
    };
    let axle = axle(heat.governs.axle);
    if heat.governs.left.dk() >= 0.0 {
        format!("{what} {left} in hand, {axle}")
    } else {
        format!("{what} {left} too hot, {axle}")
    }
}

/// A change, as what to do.
pub(super) const fn to_do(change: HeatChange) -> &'static str {
    match change {
        HeatChange::BiggerDisc => "fit discs or drums with a fifth more iron",
        HeatChange::VentedDisc => "fit vented discs of the same mass",
        HeatChange::Ducting => "lead air to the discs, half as much again",
        HeatChange::OtherPad => "fit pads whose friction reaches 150 °C further up",
        HeatChange::FreshFluid => "change the fluid",
        HeatChange::FreePlay => "give the lever free play, so that its by-pass opens at rest",
    }
}

/// A change, in words.
pub(super) const fn change(change: HeatChange) -> &'static str {
    match change {
        HeatChange::BiggerDisc => "discs or drums with a fifth more iron and a tenth more face",
        HeatChange::VentedDisc => "vented discs of the same mass",
        HeatChange::Ducting => "air led to the discs: half as much again",
        HeatChange::OtherPad => "pads whose friction reaches 150 °C further up",
        HeatChange::FreshFluid => "fresh fluid",
        HeatChange::FreePlay => "free play at the lever, so that its by-pass opens at rest",
    }
}
