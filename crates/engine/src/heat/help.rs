//! What would help, and by how much.

use quantity::si::TemperatureDifference;

use super::{Heat, HeatBench, HeatFault, Stage, What};
use crate::car::{Axle, Brake, Car};

/// A change of parts, or of the fluid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeatChange {
    /// Discs or drums of a fifth more iron and a tenth more area on the axle that governs.
    BiggerDisc,
    /// Vented discs in the place of solid ones, of the same mass.
    VentedDisc,
    /// Air led to the disc: half as much again of what the air takes (judgement).
    Ducting,
    /// Pads whose curve reaches 150 K further up.
    OtherPad,
    /// Fluid changed today: held against its dry boiling point.
    FreshFluid,
    /// Free play at the lever, so that the by-pass opens at rest.
    FreePlay,
}

/// What a change would do to what governs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatHelp {
    /// The change.
    pub change: HeatChange,
    /// What would then be left at the place that governs now.
    pub left: TemperatureDifference,
    /// By how much that is more than now.
    pub gains: TemperatureDifference,
}

impl HeatBench {
    /// Every change that touches what governs, the most helpful first. Changes that do nothing are left out.
    ///
    /// # Errors
    /// The temperatures cannot be followed.
    pub fn helps(&self, car: &Car, stage: &Stage, now: &Heat) -> Result<Vec<HeatHelp>, HeatFault> {
        let axle = now.governs.axle;
        let at = usize::from(axle == Axle::Rear);
        let mut helps = Vec::new();
        let solid =
            matches!(car.brake(axle), Brake::Disc(disc) if disc.disc.is_some_and(|disc| !disc.vented));
        for change in [
            HeatChange::BiggerDisc,
            HeatChange::VentedDisc,
            HeatChange::Ducting,
            HeatChange::OtherPad,
            HeatChange::FreshFluid,
            HeatChange::FreePlay,
        ] {
            let mut other = self.clone();
            let corner = &mut other.vehicle.corners[at];
            match change {
                HeatChange::BiggerDisc => *corner = corner.changed(1.2, 1.1, 1.0),
                HeatChange::VentedDisc if solid => *corner = corner.changed(1.0, 1.0, 2.0),
                HeatChange::Ducting => *corner = corner.changed(1.0, 1.0, 1.5),
                HeatChange::OtherPad => {
                    let fade = &mut other.vehicle.fades[at];
                    *fade = fade.shifted_up(150.0);
                }
                HeatChange::FreshFluid => {}
                HeatChange::FreePlay if !self.vehicle.dragging.is_empty() => other.vehicle.dragging.clear(),
                HeatChange::VentedDisc | HeatChange::FreePlay => continue,
            }
            let then = other.drive(stage)?;
            let left = match (now.governs.what, change) {
                (What::Pads, _) => then.corner(axle).to_fade,
                (_, HeatChange::FreshFluid) => then.corner(axle).to_dry,
                _ => then.corner(axle).to_wet,
            };
            let gains = left - now.governs.left;
            if gains.dk() > 0.5 {
                helps.push(HeatHelp { change, left, gains });
            }
        }
        helps.sort_by(|one, other| other.gains.dk().total_cmp(&one.gains.dk()));
        Ok(helps)
    }
}
