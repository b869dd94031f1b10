//! The table itself.

use quantity::Dimension;

use super::{Address, Group, Handle, Row, Shape, TakenBy, slide, turn};
use crate::state;

/// Declares rows, and the list of all of them.
macro_rules! rows {
    ($($(#[$doc:meta])* $name:ident = $row:expr;)+) => {
        $($(#[$doc])* pub static $name: Row = $row;)+

        /// Every option, in the order of an address.
        pub static ALL: &[&Row] = &[$(&$name),+];
    };
}

/// Most of a row is the same for most of them.
const PLAIN: Row = Row {
    name: "",
    value: Shape::Flag,
    help: "",
    more: "",
    group: Group::Out,
    taken_by: TakenBy::Everywhere,
    address: None,
    handle: None,
};

const fn force(help: &'static str, range: (&'static str, &'static str)) -> Row {
    Row {
        value: Shape::Figure {
            of: "FORCE",
            dimension: Dimension::Force,
            range,
        },
        help,
        group: Group::Driver,
        address: Some(Address::In(" N")),
        ..PLAIN
    }
}

/// A moment of a turn, or how long something takes.
const fn moment(name: &'static str, help: &'static str, range: (&'static str, &'static str)) -> Row {
    Row {
        name,
        value: Shape::Figure {
            of: "TIME",
            dimension: Dimension::Duration,
            range,
        },
        help,
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::In(" s")),
        ..PLAIN
    }
}

rows! {
    /// What it drives on.
    SURFACE = Row {
        name: "surface",
        value: Shape::Text("NAME"),
        help: "What it drives on [default: hard gravel]",
        more: "One that is built in (dry tarmac, wet tarmac, hard gravel, loose gravel, packed snow, ice) or one of the sheet's own.",
        group: Group::State,
        address: Some(Address::Same),
        handle: Some(Handle::Surfaces),
        ..PLAIN
    };
    /// Grip in the place of the surface's peak.
    GRIP = Row {
        name: "grip",
        value: Shape::Figure { of: "RATIO", dimension: Dimension::Ratio, range: state::GRIP },
        help: "The most grip that the surface gives: force over load",
        group: Group::State,
        address: Some(Address::Same),
        handle: Some(Handle::Slide(slide::grip)),
        ..PLAIN
    };
    /// Fuel aboard.
    FUEL = Row {
        name: "fuel",
        value: Shape::Text("VOLUME"),
        help: "Fuel aboard: \"30 L\", dry, half or full [default: half]",
        group: Group::State,
        address: Some(Address::In(" L")),
        handle: Some(Handle::Slide(slide::fuel)),
        ..PLAIN
    };
    /// Speed of the car.
    SPEED = Row {
        name: "speed",
        value: Shape::Figure { of: "SPEED", dimension: Dimension::Speed, range: state::SPEED },
        help: "Speed of the car [default: 50 km/h]",
        group: Group::Driver,
        address: Some(Address::In(" km/h")),
        handle: Some(Handle::Slide(slide::speed)),
        ..PLAIN
    };
    /// Force of the foot.
    FOOT = Row {
        name: "foot",
        handle: Some(Handle::Slide(slide::foot)),
        ..force("Force of the foot on the pedal: \"300 N\"", state::FOOT)
    };
    /// Force of the hand.
    HAND = Row {
        name: "hand",
        more: "Where nothing is said, the sheet's hand_pull.",
        handle: Some(Handle::Slide(slide::hand)),
        ..force("The driver's pull at the lever's grip: \"200 N\"", state::HAND)
    };
    /// What is driven.
    STAGE = Row {
        name: "stage",
        value: Shape::Text("FILE|NAME"),
        help: "The stage: a name, or a file [default: twisty gravel]",
        more: "Built in: twisty gravel, fast tarmac, downhill road. Or one of the car's own stages, or the path of a list of stops \
               (.toml) or of a speed trace (.csv: time [s], speed [km/h], and slope [%] where it is known).",
        group: Group::State,
        taken_by: TakenBy::Named,
        address: Some(Address::Name),
        handle: Some(Handle::Stages),
    };
    /// Temperature of the air.
    AMBIENT = Row {
        name: "ambient",
        value: Shape::Figure { of: "TEMPERATURE", dimension: Dimension::Temperature, range: state::AMBIENT },
        help: "Temperature of the air [default: 15 C]",
        group: Group::State,
        taken_by: TakenBy::Named,
        address: Some(Address::In(" C")),
        handle: Some(Handle::Slide(slide::ambient)),
        ..PLAIN
    };
    /// The slope.
    SLOPE = Row {
        name: "slope",
        value: Shape::Figure { of: "SLOPE", dimension: Dimension::Slope, range: state::SLOPE },
        help: "Slope of the road: \"10 %\" [default: 0; hold: 10 %]",
        group: Group::State,
        address: Some(Address::In(" %")),
        handle: Some(Handle::Slide(slide::slope)),
        ..PLAIN
    };
    /// Which way it faces.
    FACING = Row {
        name: "facing",
        value: Shape::Read { of: "up|down", check: |text| state::facing(text).map(|_| ()) },
        help: "Which way the car faces on its slope [default: up]",
        group: Group::State,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Facing", &["up", "down"])),
        ..PLAIN
    };
    /// Setting of the bias valve.
    VALVE = Row {
        name: "valve",
        value: Shape::Text("SETTING"),
        help: "Setting of the bias valve: \"2.5 turns\", or a position",
        group: Group::Car,
        address: Some(Address::Knob),
        handle: Some(Handle::Slide(slide::valve)),
        ..PLAIN
    };
    /// What is wanted at first lock.
    WANTED = Row {
        name: "wanted",
        value: Shape::Read { of: "WISH", check: |text| state::wish(text).map(|_| ()) },
        help: "What is wanted at first lock: \"front-first 5 %\", even [default: front-first 5 %]",
        group: Group::Car,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Wanted at first lock", &[
            "front-first 5 %", "front-first 10 %", "front-first 7 %", "front-first 3 %", "even", "rear-first 3 %", "rear-first 5 %",
        ])),
        ..PLAIN
    };
    /// Grips that are looked at.
    GRIPS = Row {
        name: "grips",
        value: Shape::Read { of: "LIST", check: |text| state::grips(text).map(|_| ()) },
        help: "Grips to look at, commas between [default: 0.1 to 1.2 by tenths]",
        group: Group::State,
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// Speed at the start of a turn.
    ENTRY = Row {
        name: "entry",
        value: Shape::Figure { of: "SPEED", dimension: Dimension::Speed, range: ("2 km/h", "250 km/h") },
        help: "Speed at the start, straight ahead; --speed says the same [default: 50 km/h]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// Steer of the front wheels.
    STEER = Row {
        name: "steer",
        value: Shape::Figure { of: "ANGLE", dimension: Dimension::Angle, range: ("-65 deg", "65 deg") },
        help: "Steer of the front wheels, positive to the left [default: 0.25 rad]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::In(" deg")),
        handle: Some(Handle::Slide(slide::steer)),
        ..PLAIN
    };
    /// When steering starts.
    STEER_AT = moment("steer-at", "When steering starts [default: 0.2 s]", state::MOMENT);
    /// Time that steering takes.
    STEER_IN = moment("steer-in", "Time that steering takes [default: 0.3 s]", state::MOMENT);
    /// When the hand pulls.
    LEVER_AT = moment("lever-at", "When the hand pulls [default: 0.5 s]", state::MOMENT);
    /// Time in which the pull comes.
    LEVER_RISE = moment("lever-rise", "Time in which the pull comes, and goes [default: 0.1 s]", state::MOMENT);
    /// The clutch.
    CLUTCH = Row {
        name: "clutch",
        value: Shape::Read { of: "down|up", check: |text| turn::pressed(text).map(|_| ()) },
        help: "The clutch: down or up [default: down]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Clutch", &["down", "up"])),
        ..PLAIN
    };
    /// When the clutch goes down.
    CLUTCH_AT = moment("clutch-at", "When the clutch goes down [default: 0.1 s before the pull]", state::MOMENT);
    /// When the lever is let go.
    RELEASE = Row {
        name: "release",
        value: Shape::Read { of: "TIME|ANGLE|best|never", check: |text| turn::release(text).map(|_| ()) },
        help: "When the lever is let go: \"1.8 s\", \"90 deg\", never [default: at the best moment]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::In(" s")),
        handle: Some(Handle::Slide(slide::release)),
        ..PLAIN
    };
    /// The wheel after that.
    AFTER = Row {
        name: "after",
        value: Shape::Read { of: "drives|hold|into-slide", check: |text| turn::after(text).map(|_| ()) },
        help: "The wheel after the lever is let go: drives round the bend, hold, or into-slide [default: drives]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// Throttle after that.
    THROTTLE = Row {
        name: "throttle",
        value: Shape::Figure { of: "TORQUE", dimension: Dimension::Torque, range: ("-300 N m", "1500 N m") },
        help: "Torque of the engine after that, at the crank: \"120 N m\" [default: what the driven wheels take; closed with hold]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// When the throttle comes.
    THROTTLE_AT = moment("throttle-at", "When the throttle comes, during the pull too, the clutch up [default: once it is let go]", state::MOMENT);
    /// The bend.
    BEND = Row {
        name: "bend",
        value: Shape::Read { of: "BEND", check: |text| turn::bend(text).map(|_| ()) },
        help: "The bend it is driven for: hairpin, junction, or \"120 deg, 7 m, 5 m\" [default: hairpin]",
        more: "Its angle, the radius of the middle of the road, the width of the road. A hairpin turns by 180\u{b0}, a junction by \
               90\u{b0}, both 7\u{a0}m to the middle of a road of 5\u{a0}m. It bends to the side that is steered to.",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Bend", &["hairpin", "junction"])),
    };
    /// When the foot presses.
    FOOT_AT = moment("foot-at", "When the foot presses [default: 0 s]", state::MOMENT);
    /// When the foot is taken off.
    FOOT_OFF = moment("foot-off", "When the foot is taken off [default: as the hand pulls]", state::MOMENT);
    /// How long a run is followed.
    UNTIL = moment("until", "How long all of it is followed [default: until it is a second out of the bend, or cannot come out]", ("0.05 s", "60 s"));
    /// Another car beside this one.
    AGAINST = Row {
        name: "against",
        value: Shape::Text("CAR"),
        help: "Another car beside it: a name or a path, as its sheet has it",
        more: "The same car's name compares what --with and --valve change with what it is now.",
        taken_by: TakenBy::Named,
        address: Some(Address::Name),
        handle: Some(Handle::Cars),
        ..PLAIN
    };
    /// Another car, written behind the first.
    OTHER = Row {
        name: "other",
        value: Shape::Behind("OTHER"),
        help: "Another car to hold it against: a name or a path; left out: the car as its sheet has it",
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// What is asked of both.
    ASKED = Row {
        name: "question",
        value: Shape::Read { of: "NAME", check: |text| super::compared::asked(text).map(|_| ()) },
        help: "What is asked of both [default: assess]",
        more: "assess, lever, balance, pressures, settings, turn, heat or hold.",
        group: Group::Out,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Ask both", &super::compared::COMPARED)),
    };
    /// Many runs.
    MAP = Row {
        name: "map",
        value: Shape::Read { of: "ROWSxCOLUMNS", check: |text| turn::map_size(text).map(|_| ()) },
        help: "Run it at many entry speeds (rows) and pulls (columns): 64x64",
        more: "Each run is let go at its own best moment, and judged by the bend. On a page each cell opens its run.",
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// A way through a bend.
    SEARCH = Row {
        name: "search",
        value: Shape::Read { of: "ANGLE, RADIUS, WIDTH", check: |text| turn::hairpin(text).map(|_| ()) },
        help: "Look for the fastest way through a bend: \"180 deg, 7 m, 5 m\"",
        more: "Its angle, the radius of the middle of the road, the width of the road. Hand, lock and quickness stay as asked. \
               Entry, steer and moments are looked for: a sample all over, then steps from the best; --seed makes another.",
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// A logger's file.
    FILE = Row {
        name: "file",
        value: Shape::Behind("FILE"),
        help: "A CSV file: a name in the car's logs folder, or a path [default: the last in the folder]",
        group: Group::Out,
        taken_by: TakenBy::Named,
        address: Some(Address::OnShelf),
        ..PLAIN
    };
    /// A log made by simulation.
    DEMONSTRATION = Row {
        name: "demonstration",
        help: "Drive this car in simulation instead, with noise, and see what is found again",
        more: "What was hidden in it stands beside what was found; --seed makes another one.",
        group: Group::State,
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// What the driver says.
    SAYS = Row {
        name: "says",
        value: Shape::Behind("SENTENCE"),
        help: "What the driver says, in quotes; without it the list of what drivers say",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("What it does", &[
            super::NOTHING_SAID,
            "Lever long, then firm on the second pull",
            "Lever comes up further than it did",
            "Lever soft all the way",
            "Lever firm, the rear does not lock",
            "Locks at walking pace, not at speed",
            "Lever fine cold, long hot",
            "Only one rear wheel locks",
            "Rear drags after a pull",
            "Lever held, the pressure falls",
            "Pedal long, then firm on the second press",
            "Pedal sinks under a steady foot",
            "Pedal soft",
            "Pedal hard, the car does not slow",
            "Pedal to the floor after a long run",
            "Pulls to one side under the foot",
            "Rear steps out under the foot",
            "A wheel is wet, or the reservoir falls",
        ])),
        ..PLAIN
    };
    /// What a test said.
    FOUND = Row {
        name: "found",
        value: Shape::Many("TEST=yes|no"),
        help: "What came of a test that was named before",
        more: "May be given again and again: every answer narrows the causes.",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// What was seen of a leak.
    SIGN = Row {
        name: "sign",
        value: Shape::Text("SIGN"),
        help: "What was seen: lever loses, pedal sinks, or a wheel such as rear left that is wet",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("What was seen", &[
            "lever loses",
            "pedal sinks",
            "rear left wet",
            "rear right wet",
            "front left wet",
            "front right wet",
        ])),
        ..PLAIN
    };
    /// What the cuts of a round said.
    STILL = Row {
        name: "still",
        value: Shape::Text("yes,no,\u{2026}"),
        help: "Whether it still lost pressure after each cut of the round so far: yes,no,yes",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// Nobody aboard.
    NO_CREW = Row {
        name: "no-crew",
        help: "Nobody and nothing aboard but fuel",
        group: Group::State,
        address: Some(Address::Same),
        handle: Some(Handle::Tick("Nobody aboard")),
        ..PLAIN
    };
    /// Cold brakes.
    COLD = Row {
        name: "cold",
        help: "Pads or linings are cold",
        group: Group::State,
        address: Some(Address::Same),
        handle: Some(Handle::Tick("Brakes cold")),
        ..PLAIN
    };
    /// The day.
    ON = Row {
        name: "on",
        value: Shape::Text("YYYY-MM-DD"),
        help: "The day [default: today]",
        group: Group::State,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// Other values of the sheet's keys.
    WITH = Row {
        name: "with",
        value: Shape::Many("KEY=VALUE"),
        help: "Take another value for one key of the sheet",
        more: "May be given again and again. The value is written and checked as on the sheet; the sheet itself stays as it is.",
        group: Group::Car,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// A proposal beside the car.
    PROPOSAL = Row {
        name: "proposal",
        value: Shape::Text("NAME"),
        help: "Open the car with a proposal that was kept beside it",
        more: "Its keys stand in the place of the sheet's; --with goes before them. `proposal list` names what there is.",
        group: Group::Car,
        address: Some(Address::Name),
        ..PLAIN
    };
    /// How many cars are drawn.
    DRAWS = Row {
        name: "draws",
        value: Shape::Count,
        help: "Cars to draw from the tolerances [default: 1024, of a stage or a night 64; 0: none]",
        group: Group::Sure,
        ..PLAIN
    };
    /// From which seed.
    SEED = Row {
        name: "seed",
        value: Shape::Count,
        help: "Seed of the draws: the same seed gives the same ranges [default: 1]",
        group: Group::Sure,
        ..PLAIN
    };
    /// What settles the turn too.
    OF_THE_TURN = Row {
        name: "turn",
        help: "Also what settles the turn, every drawn car driven: it takes longer",
        group: Group::Sure,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// Everything that was found, whole.
    ALL_OF_IT = Row {
        name: "all",
        help: "Each finding whole, and everything behind it",
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// Sold bores, one by one.
    BORES = Row {
        name: "bores",
        help: "Try every bore that is sold, one by one",
        more: "Rows that cannot do it are struck through, with what ends them.",
        group: Group::Car,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// Ratios that bores are tried with.
    RATIOS = Row {
        name: "ratios",
        value: Shape::Read { of: "LIST", check: |text| state::ratios(text).map(|_| ()) },
        help: "Lever ratios to try bores with, commas between [default: the car's, one below, one above]",
        group: Group::Car,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// The most that the grip travels.
    ROOM = Row {
        name: "room",
        value: Shape::Figure { of: "LENGTH", dimension: Dimension::Length, range: state::ROOM },
        help: "The most that the grip may travel [default: the sheet's room]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::In(" mm")),
        ..PLAIN
    };
    /// The most that the foot pad travels.
    PEDAL_TRAVEL = Row {
        name: "pedal-travel",
        value: Shape::Figure { of: "LENGTH", dimension: Dimension::Length, range: state::ROOM },
        help: "The most that the foot pad may travel [default: until the master runs out]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::In(" mm")),
        ..PLAIN
    };
    /// The least that is left to the fluid's boiling.
    FLUID_MARGIN = Row {
        name: "fluid-margin",
        value: Shape::Read { of: "DEGREES", check: |text| state::fluid_margin(text).map(|_| ()) },
        help: "The least that the stage leaves to the fluid's wet boiling point: \"20 C\" [default: any]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Left to wet boiling, at least", &["any", "0 C", "20 C", "40 C", "60 C"])),
        ..PLAIN
    };
    /// The least that the turn has to come to.
    TURN_WORD = Row {
        name: "turn-word",
        value: Shape::Read { of: "WORD", check: |text| state::turn_word(text).map(|_| ()) },
        help: "The least that the usual turn has to come to: comes-round, comes-round-late [default: any]",
        group: Group::Driver,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("The turn, at least", &["any", "comes-round-late", "comes-round"])),
        ..PLAIN
    };
    /// Parts that may be others.
    CHANGE = Row {
        name: "change",
        value: Shape::Read { of: "PARTS", check: |text| state::changing(text).map(|_| ()) },
        help: "Parts that may be others, commas between [default: all of them]",
        more: "lever, pads, pistons, master, valve, layout; or all.",
        group: Group::Car,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        handle: Some(Handle::Choice("Parts that may be others", &[
            "all", "lever", "lever, valve", "lever, pads", "lever, pads, valve", "lever, master", "pads, pistons", "layout, lever",
        ])),
    };
    /// More sizes.
    WIDE = Row {
        name: "wide",
        help: "Look two sizes to either side of the car's own, not one",
        group: Group::Car,
        taken_by: TakenBy::Named,
        address: Some(Address::Same),
        ..PLAIN
    };
    /// The lists, for a spreadsheet.
    CSV = Row {
        name: "csv",
        value: Shape::Text("DIR"),
        help: "Write the lists of the answer into this folder, a CSV file each",
        more: "lines: parts, cuts, joints, layouts, comes-out. With --bores: bores.",
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// An empty sheet.
    BLANK = Row {
        name: "blank",
        help: "An empty sheet for the clipboard",
        taken_by: TakenBy::Named,
        ..PLAIN
    };
    /// Exit status 1 where a finding says stop.
    STRICT = Row {
        name: "strict",
        help: "Exit with status 1 if a finding says stop",
        ..PLAIN
    };
    /// Units to show.
    UNITS = Row {
        name: "units",
        value: Shape::Read { of: "LIST", check: |text| state::units(Some(text)).map(|_| ()) },
        help: "Units to show, commas between [default: bar,mm,N]",
        more: "A unit each for pressure, length, force, torque, mass and volume, in any order; those left out follow the others or stay as they are.",
        ..PLAIN
    };
    /// For other programs.
    JSON = Row {
        name: "json",
        help: "One JSON object in SI units, for other programs",
        ..PLAIN
    };
    /// The picture, into a file.
    SVG = Row {
        name: "svg",
        value: Shape::Text("FILE"),
        help: "Write the picture that belongs to the answer, as SVG",
        ..PLAIN
    };
}

/// What every question takes of the car that it is asked of.
pub static EVERY: &[&Row] = &[&PROPOSAL];

/// What every question takes of how its answer is written.
pub static OUT: &[&Row] = &[&UNITS, &JSON, &SVG];
