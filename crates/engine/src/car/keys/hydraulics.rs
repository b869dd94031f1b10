//! Keys of foot, master cylinder, bias valve and hand.

use quantity::Dimension::{Force, Length, Pressure, Ratio, Turns};

use super::super::drawing::Drawing;
use super::super::key::{Form, Key, key, quantity};
use super::measuring::{BORE, FOOT_AGAINST_GAUGE, GAUGES_AND_SCALES, SHEET, STROKE, TWO_GAUGES};
use super::{MEMORY_JUDGEMENT, NONE};

const VALVE_SLOPES: &str =
    "factory valves: nine service manuals, 0.24 to 0.31; adjustable ones: from memory, judgement";

/// From the foot to the push rod.
pub(super) const PEDAL: &[Key] = &[
    quantity(
        "pedal.ratio", "pedal ratio",
        Ratio,
        "Travel of the foot pad over travel of the push rod.",
    )
    .always()
    .hard("1", "20")
    .usual("3", "7")
    .default("4.5 ± 1.2", MEMORY_JUDGEMENT).how("A ruler: travel of the foot pad over travel of the push rod, near the middle of the stroke.", Drawing::Pedal),
    quantity(
        "pedal.efficiency", "efficiency of the pedal",
        Ratio,
        "What the pedal's pivot and the seals leave of the force.",
    )
    .hard("0.3", "1")
    .usual("0.8", "0.97")
    .default("0.90 ± 0.04", "from memory: common for a pivoted pedal").way(FOOT_AGAINST_GAUGE),
    quantity(
        "pedal.preload", "foot force that moves nothing",
        Force,
        "Force of the foot that moves nothing without assistance: return springs, the booster's valve.",
    )
    .hard("0 N", "400 N")
    .usual("20 N", "150 N")
    .default("65 N ± 20 N", MEMORY_JUDGEMENT).way(FOOT_AGAINST_GAUGE),
    key(
        "pedal.booster", "booster",
        NONE,
        "none: the foot has no help.",
    )
    .as_text("Or a table of its own, with `gain` and `run_out`.")
    .default("none", "left out: taken as none"),
    quantity(
        "pedal.booster.gain", "gain of the booster",
        Ratio,
        "Force out over force in, below run-out.",
    )
    .in_its_table()
    .hard("1", "15")
    .usual("2", "10").way(FOOT_AGAINST_GAUGE),
    quantity(
        "pedal.booster.run_out", "run-out of the booster",
        Pressure,
        "Line pressure above which the booster adds no more.",
    )
    .hard("1 bar", "400 bar")
    .usual("30 bar", "120 bar")
    .default("90 bar ± 20 bar", MEMORY_JUDGEMENT).way(FOOT_AGAINST_GAUGE),
    quantity(
        "pedal.booster.jump_in", "jump-in of the booster",
        Pressure,
        "Line pressure at which the boosted line meets a foot of zero: two gauge readings drawn back to zero.",
    )
    .hard("0 bar", "80 bar")
    .usual("0 bar", "25 bar")
    .default("10 bar ± 8 bar", MEMORY_JUDGEMENT).way(FOOT_AGAINST_GAUGE),
];

/// The master cylinder, or both of them with their bar.
pub(super) const MASTER: &[Key] = &[
    key(
        "master.kind", "kind of master cylinder",
        Form::Word(&["tandem", "twin"]),
        "tandem: two circuits in one bore. twin: two cylinders and a balance bar.",
    )
    .always().how("Look at it: one body with two outlets is a tandem; two bodies under one pedal are twin.", Drawing::Master),
    quantity("master.bore", "bore of the master cylinder", Length, "Of a tandem master cylinder.")
        .sometimes("with a tandem cylinder")
        .hard("8 mm", "60 mm")
        .usual("17 mm", "30 mm")
        .default("22.2 mm ± 2.5 mm", MEMORY_JUDGEMENT).way(BORE),
    quantity("master.front_bore", "bore of the front cylinder", Length, "Of the front one of twin cylinders.")
        .sometimes("with twin cylinders")
        .hard("8 mm", "60 mm")
        .usual("12 mm", "28 mm").way(BORE),
    quantity("master.rear_bore", "bore of the rear cylinder", Length, "Of the rear one of twin cylinders.")
        .sometimes("with twin cylinders")
        .hard("8 mm", "60 mm")
        .usual("12 mm", "28 mm").way(BORE),
    key(
        "master.split", "split of the circuits",
        Form::Word(&["axle", "diagonal"]),
        "Which wheels the two circuits feed.",
    )
    .always().how("Follow both pipes from the cylinder by hand, each to its wheels.", Drawing::Master),
    quantity(
        "master.stroke", "stroke of the master cylinder",
        Length,
        "Tandem: of the primary piston, both chambers together. Twin: of each.",
    )
    .hard("3 mm", "120 mm")
    .usual("20 mm", "45 mm")
    .default("34 mm ± 4 mm", MEMORY_JUDGEMENT).way(STROKE),
    key(
        "master.residual_valve", "residual pressure valve",
        Form::Flag,
        "Whether the cylinder holds a little pressure back for drums.",
    )
    .default("false", "left out: taken as none"),
    quantity(
        "master.bar.front_share", "front share of the balance bar",
        Ratio,
        "The front cylinder's share of the push rod's force.",
    )
    .hard("0.02", "0.98")
    .usual("0.35", "0.75")
    .default("0.50 ± 0.05", MEMORY_JUDGEMENT).how("A gauge in each circuit and one press. Pressure times bore area is each side's force; the front's over the sum.", Drawing::Bar),
    quantity(
        "master.bar.share_per_turn", "change of share per turn",
        Ratio,
        "Change of that share per turn of the bar.",
    )
    .hard("0.0001", "0.2")
    .usual("0.004", "0.03")
    .default("0.012 ± 0.004", MEMORY_JUDGEMENT).how("Two gauges: the front's share of the force, read again with the bar one turn further.", Drawing::Bar),
];

/// The valve in the rear line.
pub(super) const BIAS_VALVE: &[Key] = &[
    key(
        "bias_valve", "bias valve",
        NONE,
        "none: nothing holds the rear back.",
    )
    .as_text("Or a table of its own, with `kind` and `knee`.")
    .default("none", "left out: taken as none"),
    key(
        "bias_valve.kind", "kind of bias valve",
        Form::Word(&["adjustable", "fixed", "limiting", "load-sensing"]),
        "What sets the knee. In a diagonal split one valve stands in each rear run.",
    )
    .in_its_table().how("Look at it: a knob or lever sets an adjustable one, a rod to the axle a load-sensing one. Two gauges tell a fixed one from a limiting one.", Drawing::Knob),
    quantity(
        "bias_valve.knee", "knee",
        Pressure,
        "fixed, limiting: inlet pressure at which it starts to reduce.",
    )
    .sometimes("with a fixed or limiting valve")
    .hard("0 bar", "300 bar")
    .usual("5 bar", "90 bar").way(TWO_GAUGES),
    quantity(
        "bias_valve.knee.at_fewest", "knee, knob fully out",
        Pressure,
        "adjustable: knee with the knob fully out, or at position 1.",
    )
    .sometimes("with an adjustable valve")
    .hard("0 bar", "300 bar")
    .usual("3 bar", "60 bar").way(TWO_GAUGES),
    quantity(
        "bias_valve.knee.at_most", "knee, knob fully in",
        Pressure,
        "adjustable: knee with the knob fully in, or at the last position.",
    )
    .sometimes("with an adjustable valve")
    .hard("0 bar", "300 bar")
    .usual("20 bar", "120 bar").way(TWO_GAUGES),
    quantity(
        "bias_valve.knee.turns", "turns of the knob in all",
        Turns,
        "adjustable: turns from fully out to fully in.",
    )
    .sometimes("with a knob")
    .hard("0.1 turns", "60 turns")
    .usual("2 turns", "12 turns").how("Turn the knob from fully out to fully in by hand, and count.", Drawing::Knob),
    key(
        "bias_valve.knee.positions", "positions of the lever",
        Form::Count,
        "adjustable with a stepped lever: how many positions, counted from 1.",
    )
    .sometimes("with a stepped lever")
    .hard("2", "60")
    .usual("3", "12").how("Move the lever from end to end by hand, and count its notches.", Drawing::Knob),
    key(
        "bias_valve.knee.empty", "axle load and knee, light",
        Form::Row(&[Force, Pressure]),
        "load-sensing: rear axle load and knee, light.",
    )
    .sometimes("with a load-sensing valve")
    .hard("0 N", "40 kN")
    .usual("1.5 kN", "9 kN").way(GAUGES_AND_SCALES),
    key(
        "bias_valve.knee.laden", "axle load and knee, laden",
        Form::Row(&[Force, Pressure]),
        "load-sensing: rear axle load and knee, laden.",
    )
    .sometimes("with a load-sensing valve")
    .hard("0 N", "40 kN")
    .usual("2.5 kN", "14 kN").way(GAUGES_AND_SCALES),
    quantity(
        "bias_valve.slope", "slope above the knee",
        Ratio,
        "Outlet's rise over the inlet's above the knee. Limiting valves have none.",
    )
    .hard("0", "1")
    .usual("0.2", "0.65")
    .default(
        "by rule: 0.43 ± 0.08 adjustable, 0.30 ± 0.05 fixed and load-sensing",
        VALVE_SLOPES,
    ).way(TWO_GAUGES),
    key(
        "bias_valve.setting", "setting now",
        Form::Setting,
        "adjustable: turns in from fully out, or the position.",
    )
    .hard("0 turns", "60 turns")
    .default("0 turns", "left out: taken as fully out").how("Turn the knob out to its end and count the turns; set it back. Of a stepped lever read the notch.", Drawing::Knob),
    key(
        "bias_valve.place", "place in the rear line",
        Form::Word(&["before-lever", "after-lever"]),
        "Where it stands in the rear line.",
    )
    .default("before-lever", "left out: taken as before the lever").how("Follow the rear pipe by hand from the master cylinder: which of the two comes first.", Drawing::LeverKind),
];

/// The hand, its lever and its cylinder.
pub(super) const LEVER: &[Key] = &[
    key(
        "lever.kind", "kind of handbrake",
        Form::Word(&["inline", "separate", "cable"]),
        "Left out with its table: no handbrake.",
    )
    .in_its_table().how("Follow its pipe by hand: into the rear line is inline, to calipers of its own separate. No pipe: cable.", Drawing::LeverKind),
    quantity("lever.bore", "bore of the handbrake's cylinder", Length, "Of the lever's cylinder.")
        .sometimes("with a hydraulic lever")
        .hard("6 mm", "50 mm")
        .usual("9 mm", "23 mm").way(BORE),
    quantity(
        "lever.ratio", "lever ratio",
        Ratio,
        "Travel of the grip over travel of the push rod.",
    )
    .sometimes("with a hydraulic lever")
    .hard("1", "30")
    .usual("4", "12").how("A ruler: travel of the grip over travel of the push rod, near the middle of the stroke.", Drawing::LeverRatio),
    quantity("lever.stroke", "stroke of the handbrake's cylinder", Length, "Of the lever's cylinder.")
        .hard("2 mm", "100 mm")
        .usual("12 mm", "40 mm")
        .default("24 mm ± 3 mm", MEMORY_JUDGEMENT).way(STROKE),
    quantity(
        "lever.efficiency", "efficiency of the lever",
        Ratio,
        "What pivot and seals leave of the hand's force.",
    )
    .hard("0.3", "1")
    .usual("0.8", "0.97")
    .default("0.90 ± 0.04", "from memory: common for a pivoted lever").how("A luggage scale on the grip and a gauge at a rear nipple: force against pressure, three readings.", Drawing::SlowPull),
    quantity(
        "lever.free_stroke", "free stroke of the cylinder",
        Length,
        "At the cylinder, until its by-pass is covered.",
    )
    .hard("0 mm", "15 mm")
    .usual("0.5 mm", "3 mm")
    .default("1.2 mm ± 0.5 mm", MEMORY_JUDGEMENT).how("A ruler at the push rod, outlet open and fluid at the inlet. Push until it stops dripping.", Drawing::FreePlay),
    quantity(
        "lever.free_play", "free play at the grip",
        Length,
        "At the grip, before the cylinder moves. 0: the by-pass may never open.",
    )
    .hard("0 mm", "80 mm")
    .usual("1 mm", "12 mm")
    .default("3 mm ± 2 mm", MEMORY_JUDGEMENT).how("A ruler at the grip: how far it moves before the push rod does.", Drawing::FreePlay),
    quantity(
        "lever.rear_seal", "diameter of the rear seal",
        Length,
        "Diameter of the piston's rear seal. Left out: as the bore, as in most.",
    )
    .hard("1 mm", "50 mm")
    .usual("5 mm", "23 mm").how("A vernier on the rear land of the piston of a spare.", Drawing::Bore),
    key(
        "lever.outlets", "outlets of the cylinder",
        Form::Word(&["one", "tandem", "side-by-side"]),
        "one; tandem: two circuits at one pressure, one behind the other; side-by-side: two bores abreast.",
    )
    .default("one", "left out: taken as one"),
    quantity("lever.hand_pull", "what the driver will pull", Force, "What the driver will pull.")
        .hard("5 N", "2000 N")
        .usual("100 N", "450 N")
        .default("250 N ± 50 N", MEMORY_JUDGEMENT).how("A luggage scale on the grip, the driver belted in. The best of three pulls, each held for a second.", Drawing::HandPull),
    quantity("lever.room", "room for the grip", Length, "Grip travel that there is space for.")
        .hard("5 mm", "900 mm")
        .usual("80 mm", "350 mm")
        .default("180 mm ± 40 mm", MEMORY_JUDGEMENT).how("A ruler at the grip, the driver belted in: from rest to where arm or trim stops it.", Drawing::Room),
    key("lever.latch", "latch", Form::Flag, "Whether it can be held applied.")
        .default("false", "left out: taken as no latch"),
    key(
        "lever.switch", "switch at the lever",
        Form::Flag,
        "Whether a switch tells a disengaging centre and lights the brake lamps.",
    )
    .default("false", "left out: taken as no switch"),
    key(
        "lever.cable_kept", "parking cable kept",
        Form::Flag,
        "Whether a separate mechanical parking brake stays.",
    )
    .default("false", "left out: taken as none"),
    key(
        "lever.frame", "frame of lever and cylinder",
        Form::Word(&["closed", "apart"]),
        "closed: pivot and cylinder share a frame. apart: the cylinder is bolted to the shell by itself.",
    )
    .default("closed", "left out: taken as closed"),
];

/// What the lever is bolted to.
pub(super) const MOUNT: &[Key] = &[
    key(
        "lever.mount.bolts",
        "bolts",
        Form::Text,
        "Count, size and grade, such as 4 x M8 8.8.",
    )
    .how(
        "Read size and grade off the bolts' heads; a vernier across the thread.",
        Drawing::Mount,
    ),
    key(
        "lever.mount.pattern",
        "spacing of the bolts",
        Form::Quantities(Length),
        "Bolt spacing along and across the car.",
    )
    .hard("5 mm", "500 mm")
    .usual("40 mm", "160 mm")
    .how(
        "A ruler between the middles of the bolts, along and across the car.",
        Drawing::Mount,
    ),
    quantity(
        "lever.mount.floor_sheet",
        "thickness of the floor sheet",
        Length,
        "Thickness of the sheet that it stands on.",
    )
    .hard("0.2 mm", "20 mm")
    .usual("0.7 mm", "2.5 mm")
    .default("0.8 mm ± 0.2 mm", MEMORY_JUDGEMENT)
    .way(SHEET),
    quantity(
        "lever.mount.spreader",
        "thickness of the spreader plate",
        Length,
        "Thickness of the spreader plate under the sheet; 0: none.",
    )
    .hard("0 mm", "20 mm")
    .usual("0 mm", "6 mm")
    .default("0 mm", "left out: taken as none")
    .way(SHEET),
    quantity(
        "lever.mount.pivot_above_floor",
        "pivot above the floor",
        Length,
        "Height of the pivot over the floor.",
    )
    .hard("0 mm", "600 mm")
    .usual("30 mm", "120 mm")
    .default("55 mm ± 15 mm", MEMORY_JUDGEMENT)
    .how(
        "A ruler from the floor sheet up to the middle of the pivot.",
        Drawing::Mount,
    ),
    quantity(
        "lever.mount.grip_above_pivot",
        "grip above the pivot",
        Length,
        "Height of the grip over the pivot, at rest.",
    )
    .hard("20 mm", "900 mm")
    .usual("200 mm", "450 mm")
    .default("300 mm ± 60 mm", MEMORY_JUDGEMENT)
    .how(
        "A ruler from the middle of the pivot to the middle of the grip, at rest.",
        Drawing::Mount,
    ),
];

/// A cable to the rear brakes.
pub(super) const CABLE: &[Key] = &[
    quantity(
        "lever.cable.ratio", "ratio of lever and cable",
        Ratio,
        "Force at the pads or shoes of both sides over force at the hand, before losses.",
    )
    .sometimes("with a cable")
    .hard("1", "300")
    .usual("12", "60").how("A ruler: travel of the grip over travel at the pads or shoes, slack taken up first.", Drawing::Cable),
    quantity(
        "lever.cable.efficiency", "efficiency of the cable",
        Ratio,
        "What the cable leaves of the force.",
    )
    .hard("0.1", "1")
    .usual("0.4", "0.85")
    .default("0.60 ± 0.12", MEMORY_JUDGEMENT).how("A luggage scale at the grip and another at the cable's end. Force out over force in, over the lever's own ratio.", Drawing::Cable),
];
