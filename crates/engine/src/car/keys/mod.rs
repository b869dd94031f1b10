//! The one table of keys. The reader of sheets, the blank sheet, the reference page, the JSON Schema, the warnings
//! and the list of defaults that a result leaned on are all made from it.

mod body;
mod brakes;
mod drivetrain;
mod hydraulics;
mod measuring;
mod surroundings;

use super::key::{Form, Key, key};

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

/// Keys that stand together.
type Part = &'static [Key];

const PARTS: &[Part] = &[
    FORMAT,
    body::CAR,
    body::WEIGHED,
    body::RAISED,
    body::GEOMETRY,
    body::LOAD,
    body::TYRES,
    body::SURFACE,
    hydraulics::PEDAL,
    hydraulics::MASTER,
    hydraulics::BIAS_VALVE,
    hydraulics::LEVER,
    hydraulics::MOUNT,
    hydraulics::CABLE,
    brakes::FRONT_DISC,
    brakes::FRONT_DRUM,
    brakes::FRONT_CALIPER,
    brakes::REAR_DISC,
    brakes::REAR_DRUM,
    brakes::REAR_CALIPER,
    brakes::SECOND_KIND,
    brakes::SECOND_CALIPER,
    drivetrain::DRIVETRAIN,
    surroundings::FLUID,
    surroundings::LINES,
    surroundings::PLACES,
    surroundings::BEFORE,
    surroundings::AIR,
    surroundings::MEASURED,
];

static ALL: [Key; count(PARTS)] = joined(PARTS);

/// Every key of the sheet, in the order in which a sheet is written.
pub static KEYS: &[Key] = &ALL;

const fn count(parts: &[Part]) -> usize {
    let (mut all, mut part) = (0, 0);
    while part < parts.len() {
        all += parts[part].len();
        part += 1;
    }
    all
}

const fn joined<const ALL: usize>(parts: &[Part]) -> [Key; ALL] {
    let mut all = [parts[0][0]; ALL];
    let (mut filled, mut part) = (0, 0);
    while part < parts.len() {
        let mut row = 0;
        while row < parts[part].len() {
            all[filled] = parts[part][row];
            filled += 1;
            row += 1;
        }
        part += 1;
    }
    all
}
