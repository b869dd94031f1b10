//! The one table of keys. The reader of sheets, the blank sheet, the reference page, the JSON Schema, the warnings
//! and the list of defaults that a result leaned on are all made from it.

mod body;
mod brakes;
mod drivetrain;
mod hydraulics;
mod measuring;
mod surroundings;

use super::key::{Drawing, Form, Key, key};

const MEMORY_JUDGEMENT: &str = "from memory, judgement";
/// The word that stands where a table might, and says that there is no such thing.
const NONE: Form = Form::Word(&["none"]);

const FORMAT: &[Key] = &[key(
    "format",
    "format of the file",
    Form::Count,
    "Of this file: 2. It rises only when a key changes its meaning.",
)
.always()];

/// Keys that stand together, and the card that shows them.
type Part = (&'static [Key], Option<Drawing>);

const PARTS: &[Part] = &[
    (FORMAT, None),
    (body::CAR, None),
    (body::WEIGHED, Some(Drawing::Scales)),
    (body::RAISED, Some(Drawing::Raised)),
    (body::GEOMETRY, Some(Drawing::Lengths)),
    (body::LOAD, Some(Drawing::Load)),
    (body::TYRES, Some(Drawing::Tyre)),
    (body::SURFACE, None),
    (hydraulics::PEDAL, Some(Drawing::Pedal)),
    (hydraulics::MASTER, Some(Drawing::Master)),
    (hydraulics::BIAS_VALVE, Some(Drawing::BiasValve)),
    (hydraulics::LEVER, Some(Drawing::Lever)),
    (hydraulics::MOUNT, Some(Drawing::Mount)),
    (hydraulics::CABLE, Some(Drawing::Lever)),
    (brakes::FRONT_DISC, Some(Drawing::Disc)),
    (brakes::FRONT_DRUM, Some(Drawing::Drum)),
    (brakes::FRONT_CALIPER, Some(Drawing::Disc)),
    (brakes::REAR_DISC, Some(Drawing::Disc)),
    (brakes::REAR_DRUM, Some(Drawing::Drum)),
    (brakes::REAR_CALIPER, Some(Drawing::Disc)),
    (brakes::SECOND_KIND, Some(Drawing::Disc)),
    (brakes::SECOND_CALIPER, Some(Drawing::Disc)),
    (drivetrain::DRIVETRAIN, Some(Drawing::Drivetrain)),
    (surroundings::FLUID, None),
    (surroundings::LINES, Some(Drawing::Lines)),
    (surroundings::PLACES, None),
    (surroundings::BEFORE, None),
    (surroundings::AIR, Some(Drawing::Readings)),
    (surroundings::MEASURED, Some(Drawing::Readings)),
];

static ALL: [Key; count(PARTS)] = joined(PARTS);

/// Every key of the sheet, in the order in which a sheet is written.
pub static KEYS: &[Key] = &ALL;

const fn count(parts: &[Part]) -> usize {
    let (mut all, mut part) = (0, 0);
    while part < parts.len() {
        all += parts[part].0.len();
        part += 1;
    }
    all
}

const fn joined<const ALL: usize>(parts: &[Part]) -> [Key; ALL] {
    let mut all = [parts[0].0[0]; ALL];
    let (mut filled, mut part) = (0, 0);
    while part < parts.len() {
        let mut row = 0;
        while row < parts[part].0.len() {
            all[filled] = parts[part].0[row];
            all[filled].drawing = parts[part].1;
            filled += 1;
            row += 1;
        }
        part += 1;
    }
    all
}
