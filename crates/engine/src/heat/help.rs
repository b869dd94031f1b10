//! What would help, and by how much.

use quantity::si::TemperatureDifference;

use super::{Governs, Heat, HeatBench, HeatFault, Stage, What};
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

/// What a change does is stepped through so many times less exactly than what is: it is told in kelvins, and found to a
/// hundredth of one.
const COARSER: f64 = 1e3;

impl HeatBench {
    /// Every change that touches what governs, the most helpful first. Changes that do nothing are left out. `now` is what
    /// this bench says of the stage.
    ///
    /// # Errors
    /// The temperatures cannot be followed.
    pub fn helps(&self, car: &Car, stage: &Stage, now: &Heat) -> Result<Vec<HeatHelp>, HeatFault> {
        let Governs { axle, what, .. } = now.governs;
        let mut helps = Vec::new();
        for change in [
            HeatChange::BiggerDisc,
            HeatChange::VentedDisc,
            HeatChange::Ducting,
            HeatChange::OtherPad,
            HeatChange::FreshFluid,
            HeatChange::FreePlay,
        ] {
            let left = match (change, what) {
                (HeatChange::FreshFluid, What::Pads) => continue,
                // It gets as hot as now.
                (HeatChange::FreshFluid, _) => now.corner(axle).to_dry,
                _ => {
                    let Some(other) = self.changed(car, axle, change) else {
                        continue;
                    };
                    let then = *other.drive(stage)?.corner(axle);
                    if what == What::Pads {
                        then.to_fade
                    } else {
                        then.to_wet
                    }
                }
            };
            let gains = left - now.governs.left;
            if gains.dk() > 0.5 {
                helps.push(HeatHelp { change, left, gains });
            }
        }
        helps.sort_by(|one, other| other.gains.dk().total_cmp(&one.gains.dk()));
        Ok(helps)
    }

    /// With other parts on an axle; `None` where it has them already.
    fn changed(&self, car: &Car, axle: Axle, change: HeatChange) -> Option<Self> {
        let at = usize::from(axle == Axle::Rear);
        let solid =
            matches!(car.brake(axle), Brake::Disc(disc) if disc.disc.is_some_and(|disc| !disc.vented));
        let mut other = self.clone();
        other.exactness.relative *= COARSER;
        other.exactness.absolute_k *= COARSER;
        let corner = &mut other.vehicle.corners[at];
        match change {
            HeatChange::BiggerDisc => *corner = corner.changed(1.2, 1.1, 1.0),
            HeatChange::VentedDisc if solid => *corner = corner.changed(1.0, 1.0, 2.0),
            HeatChange::Ducting => *corner = corner.changed(1.0, 1.0, 1.5),
            HeatChange::OtherPad => {
                let fade = &mut other.vehicle.fades[at];
                *fade = fade.shifted_up(150.0);
            }
            HeatChange::FreePlay if !self.vehicle.dragging.is_empty() => other.vehicle.dragging.clear(),
            HeatChange::FreshFluid | HeatChange::VentedDisc | HeatChange::FreePlay => return None,
        }
        Some(other)
    }
}
