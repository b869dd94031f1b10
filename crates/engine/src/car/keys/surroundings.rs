//! Keys of fluid, routes, lines, places, what the car had, trapped air and readings.

use quantity::Dimension::{Duration, Force, Length, Pressure, Temperature, Torque, Volume};

use super::super::drawing::Drawing;
use super::super::key::{Form, Key, key, quantity};
use super::MEMORY_JUDGEMENT;
use super::measuring::{BOTH_GAUGES, FOLLOW, HELD, SLOW_PULL, THREAD_GAUGE};

const PIPES: &[&str] = &[
    "steel 3/16 in",
    "copper-nickel 3/16 in",
    "steel 1/4 in",
    "copper-nickel 1/4 in",
    "braided hose -3",
    "rubber hose",
];
const HOSES: &[&str] = &["braided hose -3", "rubber hose"];
const STANDS: &[&str] = &["engine bay", "cabin"];

/// What is in the lines.
pub(super) const FLUID: &[Key] = &[
    key(
        "fluid.grade",
        "grade of the fluid",
        Form::Word(&["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]),
        "As it says on the bottle.",
    )
    .default("DOT 4", "left out: the common grade")
    .how("Read it off the bottle that went in.", Drawing::Fluid),
    key(
        "fluid.fitted",
        "day of the last change",
        Form::Date,
        "When it was last changed.",
    )
    .how(
        "Look into the logbook, or at the tag on the reservoir.",
        Drawing::Fluid,
    ),
    quantity("fluid.boiling.dry", "boiling point, fresh", Temperature, "Fresh.")
        .hard("100 C", "400 C")
        .usual("205 C", "340 C")
        .default("by rule: the grade's minimum", "49 CFR 571.116 S5.1")
        .how("Read it off the bottle.", Drawing::Fluid),
    quantity(
        "fluid.boiling.wet",
        "boiling point, with water",
        Temperature,
        "With its share of water.",
    )
    .hard("90 C", "400 C")
    .usual("140 C", "280 C")
    .default("by rule: the grade's minimum", "49 CFR 571.116 S5.1")
    .how(
        "Read it off the bottle; a boiling-point tester in the reservoir tells where it is now.",
        Drawing::Fluid,
    ),
];

/// How long they are, of what, and how they end.
pub(super) const LINES: &[Key] = &[
    route(
        "routes.master_to_bulkhead",
        "master cylinder to bulkhead",
        "By tape along the path, to the bias valve's place.",
        "0.1 m",
    ),
    route(
        "routes.bulkhead_to_lever",
        "bulkhead to lever",
        "By tape along the path.",
        "0.3 m",
    ),
    route(
        "routes.lever_to_rear_tee",
        "lever to rear tee",
        "By tape along the path. Two outlets: 0 m, each has its wheel's run.",
        "0 m",
    ),
    route(
        "routes.bulkhead_to_rear_tee",
        "bulkhead to rear tee",
        "By tape along the path, where no cylinder sits in the rear line.",
        "1 m",
    ),
    route(
        "routes.tee_to_rear_left",
        "tee to rear left",
        "By tape along the path.",
        "0.3 m",
    ),
    route(
        "routes.tee_to_rear_right",
        "tee to rear right",
        "By tape along the path.",
        "0.3 m",
    ),
    route(
        "routes.master_to_front_left",
        "master cylinder to front left",
        "By tape along the path.",
        "0.3 m",
    ),
    route(
        "routes.master_to_front_right",
        "master cylinder to front right",
        "By tape along the path.",
        "0.3 m",
    ),
    route(
        "routes.lever_to_lever_tee",
        "lever to its own tee",
        "A separate lever's own line.",
        "0.3 m",
    ),
    route(
        "routes.lever_tee_to_left",
        "lever's tee to left",
        "A separate lever's own line.",
        "0.3 m",
    ),
    route(
        "routes.lever_tee_to_right",
        "lever's tee to right",
        "A separate lever's own line.",
        "0.3 m",
    ),
    pipe(
        "lines.rear.pipe",
        "pipe of the rear line",
        "What the rear line is made of.",
    ),
    flexible_last("lines.rear.flexible_last", "hose in the rear line"),
    flexible("lines.rear.flexible", "kind of hose, rear line"),
    pipe(
        "lines.front.pipe",
        "pipe of the front lines",
        "What the front lines are made of.",
    ),
    flexible_last("lines.front.flexible_last", "hose in the front lines"),
    flexible("lines.front.flexible", "kind of hose, front lines"),
    pipe(
        "lines.lever.pipe",
        "pipe of the lever's line",
        "What a separate lever's line is made of.",
    ),
    flexible_last("lines.lever.flexible_last", "hose in the lever's line"),
    flexible("lines.lever.flexible", "kind of hose, lever's line"),
    key(
        "lines.ports.master",
        "ports of the master cylinder",
        Form::Text,
        "Thread and seat of the master cylinder's ports.",
    )
    .way(THREAD_GAUGE),
    key(
        "lines.ports.bias_valve",
        "ports of the bias valve",
        Form::Text,
        "Thread and seat of the bias valve's ports.",
    )
    .way(THREAD_GAUGE),
    key(
        "lines.ports.lever",
        "ports of the lever cylinder",
        Form::Text,
        "Thread and seat of the lever cylinder's ports.",
    )
    .way(THREAD_GAUGE),
    key(
        "lines.ports.caliper",
        "ports of the calipers",
        Form::Text,
        "Thread and seat of the calipers' ports.",
    )
    .way(THREAD_GAUGE),
    key(
        "lines.ports.tee",
        "ports of the tee",
        Form::Text,
        "Thread and seat of the tee's ports.",
    )
    .way(THREAD_GAUGE),
];

/// Where things stand and run.
pub(super) const PLACES: &[Key] = &[
    key(
        "places.reservoir",
        "fluid reservoir",
        Form::Word(STANDS),
        "Where the brake fluid stands.",
    )
    .default("engine bay", "left out: taken as outside the cabin")
    .way(FOLLOW),
    key(
        "places.lever_reservoir",
        "reservoir of the lever",
        Form::Word(STANDS),
        "Where a separate lever's fluid stands.",
    )
    .default("cabin", "left out: taken as beside the lever")
    .way(FOLLOW),
    key(
        "places.rear_run",
        "where the rear line runs",
        Form::Word(&["inside", "outside"]),
        "Where the rear line runs.",
    )
    .default("outside", "left out: taken as under the floor")
    .way(FOLLOW),
    key(
        "places.rear_clips",
        "clips along the rear line",
        Form::Count,
        "Clips along the rear line.",
    )
    .hard("0", "200")
    .usual("4", "25")
    .how("Count them along the line.", Drawing::Lines),
    key(
        "places.rear_guard",
        "guard over the rear line",
        Form::Flag,
        "Whether it is guarded: against stones outside, covered inside.",
    )
    .default("false", "left out: taken as bare")
    .way(FOLLOW),
];

/// What the car had.
pub(super) const BEFORE: &[Key] = &[
    key(
        "before.factory_valve",
        "factory valve in the rear line",
        Form::Flag,
        "Whether the car had a valve of its own in the rear line.",
    )
    .default("false", "left out: not known, taken as none"),
    key(
        "before.parking",
        "parking brake it had",
        Form::Word(&[
            "none",
            "cable shoes",
            "cable in-caliper",
            "cable drum-in-disc",
            "electric",
        ]),
        "The parking brake that it had.",
    )
    .default("none", "left out: not known, taken as none"),
    key(
        "before.old_rear_pipe",
        "where the old rear pipe is",
        Form::Text,
        "Where the old rear pipe still is, or none.",
    ),
];

/// Air in the lines, at rest.
pub(super) const AIR: &[Key] = &[
    quantity(
        "air.rear",
        "air in the rear line",
        Volume,
        "Air in the rear line at rest, if known or to try.",
    )
    .hard("0 cm3", "200 cm3")
    .usual("0 cm3", "5 cm3")
    .default("0 cm3", "left out: taken as bled")
    .way(SLOW_PULL),
    quantity(
        "air.front",
        "air in the front lines",
        Volume,
        "Air in the front lines at rest, if known or to try.",
    )
    .hard("0 cm3", "200 cm3")
    .usual("0 cm3", "5 cm3")
    .default("0 cm3", "left out: taken as bled")
    .way(SLOW_PULL),
    quantity(
        "air.lever",
        "air in the lever's line",
        Volume,
        "Air in a separate lever's line at rest, if known or to try.",
    )
    .hard("0 cm3", "200 cm3")
    .usual("0 cm3", "5 cm3")
    .default("0 cm3", "left out: taken as bled")
    .way(SLOW_PULL),
];

/// Readings.
pub(super) const MEASURED: &[Key] = &[
    key(
        "measured.valve[].setting", "setting",
        Form::Setting,
        "Turns or position at which it was read.",
    )
    .hard("0 turns", "60 turns").how("Read the knob's turns, in from fully out, or the lever's notch.", Drawing::Knob),
    quantity("measured.valve[].front", "before the valve", Pressure, "Gauge before the valve.")
        .in_its_table()
        .hard("0 bar", "400 bar")
        .usual("5 bar", "150 bar").way(BOTH_GAUGES),
    quantity("measured.valve[].rear", "behind the valve", Pressure, "Gauge behind the valve.")
        .in_its_table()
        .hard("0 bar", "400 bar")
        .usual("5 bar", "120 bar").way(BOTH_GAUGES),
    key("measured.valve[].on", "day", Form::Date, "When."),
    key("measured.pull[].on", "day", Form::Date, "When."),
    key(
        "measured.pull[].points", "points of the pull",
        Form::Rows {
            columns: &[Length, Pressure, Force],
            needed: 2,
        },
        "Grip travel, rear pressure, and the hand's force if it was read.",
    )
    .in_its_table()
    .hard("0 mm", "900 mm").how("Pull slowly: a ruler at the grip, a gauge at a rear nipple, a luggage scale on the grip. Five points or more.", Drawing::SlowPull),
    key("measured.pedal[].on", "day", Form::Date, "When."),
    key(
        "measured.pedal[].engine", "engine",
        Form::Word(&["on", "off"]),
        "Whether the booster worked.",
    )
    .default("on", "left out: taken as running"),
    key(
        "measured.pedal[].press", "press",
        Form::Word(&["first", "second"]),
        "Which press it was, where two were made one after the other.",
    )
    .default("first", "left out: taken as the first"),
    key(
        "measured.pedal[].points", "points of the press",
        Form::Rows {
            columns: &[Force, Pressure, Length],
            needed: 2,
        },
        "Foot force and line pressure, and the pedal's travel if it was read.",
    )
    .in_its_table()
    .hard("0 N", "3000 N").how("A bathroom scale under the foot, a gauge at a front nipple, a ruler at the pad. Three points or more.", Drawing::Foot),
    key("measured.wheel[].on", "day", Form::Date, "When."),
    key(
        "measured.wheel[].wheel", "wheel",
        Form::Word(&["front left", "front right", "rear left", "rear right"]),
        "Which wheel.",
    )
    .in_its_table(),
    key(
        "measured.wheel[].brake", "brake, cold or warm",
        Form::Word(&["cold", "warm"]),
        "Cold as after a night, or warm from driving. Left out: it may have been either.",
    ),
    quantity("measured.wheel[].pressure", "pressure held", Pressure, "Pressure that was held.")
        .in_its_table()
        .hard("0 bar", "400 bar")
        .usual("5 bar", "60 bar").how("A gauge at that wheel's nipple, the pressure held with a pedal prop or the latched lever.", Drawing::Wrench),
    quantity(
        "measured.wheel[].torque", "torque at which it slipped",
        Torque,
        "Torque wrench on the hub at the moment it slipped.",
    )
    .in_its_table()
    .hard("1 N m", "10000 N m")
    .usual("40 N m", "800 N m").how("Wheel off the ground. A torque wrench on the hub: read it as the wheel slips.", Drawing::Wrench),
    key("measured.soak[].on", "day", Form::Date, "When."),
    quantity("measured.soak[].from", "pressure at the start", Pressure, "Pressure at the start.")
        .in_its_table()
        .hard("0 bar", "400 bar")
        .usual("20 bar", "120 bar").way(HELD),
    quantity("measured.soak[].to", "pressure at the end", Pressure, "Pressure at the end.")
        .in_its_table()
        .hard("0 bar", "400 bar")
        .usual("20 bar", "120 bar").way(HELD),
    quantity("measured.soak[].in", "how long it was held", Duration, "How long it was held.")
        .in_its_table()
        .hard("1 s", "48 h")
        .usual("2 min", "1 h").how("A watch, from the first reading to the last.", Drawing::Held),
    key(
        "measured.soak[].air", "air, at start and end",
        Form::Quantities(Temperature),
        "Air at the start and at the end.",
    )
    .hard("-60 C", "70 C")
    .usual("-15 C", "40 C").how("A thermometer beside the car, in the shade.", Drawing::Held),
];

/// A measured route.
const fn route(path: &'static str, label: &'static str, help: &'static str, usual_from: &'static str) -> Key {
    quantity(path, label, Length, help)
        .hard("0 m", "15 m")
        .usual(usual_from, "4 m")
        .default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT)
        .how(
            "A string along the path, then the tape along the string.",
            Drawing::Lines,
        )
}

/// What a line is made of.
const fn pipe(path: &'static str, label: &'static str, help: &'static str) -> Key {
    key(path, label, Form::Word(PIPES), help)
        .default("steel 3/16 in", "left out: the common pipe")
        .how(
            "A vernier across it: 4.8 mm is 3/16 in, 6.4 mm is 1/4 in. A magnet tells steel.",
            Drawing::Pipe,
        )
}

/// How much of a line's last route is hose.
const fn flexible_last(path: &'static str, label: &'static str) -> Key {
    quantity(
        path,
        label,
        Length,
        "How much of each route to a wheel is a flexible hose, at the wheel.",
    )
    .hard("0 m", "15 m")
    .usual("0.2 m", "0.8 m")
    .default(
        "by rule: none; 0.40 m ± 0.10 m where the line is not described at all",
        MEMORY_JUDGEMENT,
    )
    .how("A tape along the hose, fitting to fitting.", Drawing::Lines)
}

/// What that hose is.
const fn flexible(path: &'static str, label: &'static str) -> Key {
    key(path, label, Form::Word(HOSES), "What that hose is.")
        .default("rubber hose", "left out: the common hose")
        .how("Look at it: a cover of steel braid, or rubber.", Drawing::Pipe)
}
