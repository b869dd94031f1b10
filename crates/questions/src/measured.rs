//! A sheet without what was read: what readings are held against, so that nothing counts twice.

use engine::car::Car;

use crate::opened::Opened;

/// The car as its sheet has it without the entries of a repeated table, such as `measured.valve`; the car itself where
/// the sheet cannot do without them.
pub(crate) fn without(opened: &Opened, table: &str) -> Car {
    let inputs = opened.sheet.read.inputs.without(table);
    Car::assemble(&inputs).map_or_else(|_| opened.car().clone(), |assembled| assembled.car)
}
