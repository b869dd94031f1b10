use engine::car::{Remark, RemarkPart};
use quantity::{Dimension, Unit, units_of};

use crate::rounding::figure;
use crate::units::Units;

/// A sentence with its figures in a person's units; where none was chosen, as it was written.
#[must_use]
pub fn remark(remark: &Remark, units: &Units) -> String {
    let put = |part: &RemarkPart| match part {
        RemarkPart::Words(text) => text.clone(),
        RemarkPart::Figure {
            written,
            dimension,
            si,
        } => or_written(*dimension, *si, written.clone(), units),
    };
    remark.parts().iter().map(put).collect()
}

/// A figure in the unit that a person chose for its kind; as it was written where none was chosen.
#[must_use]
pub fn or_written(dimension: Dimension, si: f64, written: String, units: &Units) -> String {
    chosen(dimension, units).map_or(written, |unit| figure(si, unit))
}

/// The unit that a person chose for a kind of figure; none where it is the usual one.
fn chosen(dimension: Dimension, units: &Units) -> Option<Unit> {
    let unit = match dimension {
        Dimension::Pressure => units.pressure,
        Dimension::Length => units.length,
        Dimension::Force => units.force,
        Dimension::Torque => units.torque,
        Dimension::Mass => units.mass,
        _ => return None,
    };
    (unit.symbol() != units_of(dimension)[0].symbol()).then_some(unit)
}
