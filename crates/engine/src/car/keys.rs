//! The one table of keys. The reader of sheets, the blank sheet, the reference page, the JSON Schema, the warnings
//! and the list of defaults that a result leaned on are all made from it.

use quantity::Dimension::{
    Angle, Duration, Flex, Force, Inertia, Length, Mass, Pressure, Ratio, Rotation, Temperature, Torque,
    Turns, Volume,
};

use super::key::{Form, Key, key, quantity};

const MEMORY_JUDGEMENT: &str = "from memory, judgement";

const PIPES: &[&str] = &[
    "steel 3/16 in",
    "copper-nickel 3/16 in",
    "steel 1/4 in",
    "copper-nickel 1/4 in",
    "braided hose -3",
    "rubber hose",
];
const HOSES: &[&str] = &["braided hose -3", "rubber hose"];
const DIFFERENTIALS: &[&str] = &["open", "locked", "plates", "viscous"];
const COUPLINGS: &[&str] = &["open", "locked", "plates", "viscous"];
const PLACES: &[&str] = &["engine bay", "cabin"];

/// Every key of the sheet, in the order in which a sheet is written.
pub static KEYS: &[Key] = &[
    key("format", Form::Count, "Of this file: 1. It rises only when a key changes its meaning.").always(),
    // What car it is.
    key("car.name", Form::Text, "What the car is called in lists and on print.").always(),
    key("car.build", Form::Text, "What kind of car it is, in a few words."),
    key("car.road_registered", Form::Flag, "Whether it is driven on public roads, between stages too: road rules are then checked and a road setting is given.")
        .default("false", "left out: taken as never on a public road"),
    key("car.runs_on", Form::Texts, "Surfaces that it competes on, by name."),
    key("car.abs", Form::Word(&["none", "fitted", "removed"]), "Anti-lock unit: none, fitted, or removed.")
        .default("none", "left out: taken as none"),
    // On scales.
    quantity("weighed.front", Mass, "Both front wheels on scales, fluids in, nobody aboard.")
        .always().hard("50 kg", "3000 kg").usual("300 kg", "1200 kg"),
    quantity("weighed.rear", Mass, "Both rear wheels on scales, fluids in, nobody aboard.")
        .always().hard("50 kg", "3000 kg").usual("250 kg", "1100 kg"),
    quantity("weighed.fuel_aboard", Volume, "Fuel in the tank while it was weighed.")
        .hard("0 L", "300 L").usual("0 L", "120 L").default("10 L ± 10 L", MEMORY_JUDGEMENT),
    quantity("weighed.cg_height", Length, "Height of the centre of gravity above the ground, as weighed. Or give cg_raise.")
        .sometimes().hard("0.15 m", "1.5 m").usual("0.40 m", "0.75 m").default("0.53 m ± 0.07 m", MEMORY_JUDGEMENT),
    key("weighed.cg_raise.lifted", Form::Word(&["rear", "front"]), "Which axle was lifted to find the height of the centre of gravity.")
        .in_its_table(),
    quantity("weighed.cg_raise.by", Length, "How far the wheels were lifted; at most a third of the wheelbase.")
        .in_its_table().hard("0.05 m", "1.5 m").usual("0.25 m", "0.8 m"),
    quantity("weighed.cg_raise.front_gains", Mass, "With the rear lifted: what the front scales gained.")
        .sometimes().hard("0.1 kg", "500 kg").usual("5 kg", "80 kg"),
    quantity("weighed.cg_raise.rear_gains", Mass, "With the front lifted: what the rear scales gained.")
        .sometimes().hard("0.1 kg", "500 kg").usual("5 kg", "80 kg"),
    // Geometry.
    quantity("geometry.wheelbase", Length, "Front axle to rear axle.").always().hard("1 m", "5 m").usual("2.0 m", "3.1 m"),
    quantity("geometry.front_track", Length, "Between the middles of the front tyres.")
        .hard("0.6 m", "2.5 m").usual("1.2 m", "1.8 m").default("1.50 m ± 0.08 m", MEMORY_JUDGEMENT),
    quantity("geometry.rear_track", Length, "Between the middles of the rear tyres.")
        .hard("0.6 m", "2.5 m").usual("1.2 m", "1.8 m").default("1.50 m ± 0.08 m", MEMORY_JUDGEMENT),
    quantity("geometry.yaw_inertia", Inertia, "Of the car as weighed, about the vertical. Left out: 0.95 × mass × the distances of both axles from the centre of gravity, ± 15 %.")
        .hard("100 kg m2", "20000 kg m2").usual("600 kg m2", "4000 kg m2"),
    quantity("geometry.roll_share_front", Ratio, "The front axle's share of the sideways load transfer.")
        .hard("0", "1").usual("0.35", "0.70").default("0.55 ± 0.10", MEMORY_JUDGEMENT),
    // What comes aboard.
    quantity("load.crew.mass", Mass, "Everyone aboard, with helmets.").in_its_table().hard("0 kg", "600 kg").usual("60 kg", "220 kg"),
    quantity("load.crew.aft_of_front_axle", Length, "Where the crew's weight acts. Negative is ahead of the front axle.")
        .hard("-2 m", "6 m").usual("1.1 m", "2.2 m").default("1.50 m ± 0.20 m", MEMORY_JUDGEMENT),
    quantity("load.crew.height", Length, "How high the crew's weight acts above the ground.")
        .hard("0 m", "3 m").usual("0.35 m", "0.85 m").default("0.55 m ± 0.10 m", MEMORY_JUDGEMENT),
    quantity("load.tank.capacity", Volume, "What a full tank holds.").in_its_table().hard("1 L", "300 L").usual("15 L", "120 L"),
    quantity("load.tank.aft_of_front_axle", Length, "Middle of the tank. Negative is ahead of the front axle.")
        .hard("-2 m", "6 m").usual("1.5 m", "3.2 m").default("2.45 m ± 0.30 m", MEMORY_JUDGEMENT),
    quantity("load.tank.height", Length, "Middle of the fuel above the ground.")
        .hard("0 m", "3 m").usual("0.2 m", "0.7 m").default("0.42 m ± 0.10 m", MEMORY_JUDGEMENT),
    key("load.item[].name", Form::Text, "What it is.").in_its_table(),
    quantity("load.item[].mass", Mass, "What it weighs.").in_its_table().hard("0 kg", "1000 kg").usual("1 kg", "150 kg"),
    quantity("load.item[].aft_of_front_axle", Length, "Where it lies. Negative is ahead of the front axle.")
        .in_its_table().hard("-3 m", "7 m").usual("-0.8 m", "4 m"),
    quantity("load.item[].height", Length, "Its middle above the ground.")
        .hard("0 m", "4 m").usual("0.2 m", "1.6 m").default("0.50 m ± 0.15 m", MEMORY_JUDGEMENT),
    // Tyres and ground.
    quantity("tyres.rolling_radius", Length, "Radius on which the tyres roll, loaded: a marked turn of the wheel, pushed along the floor, over 6.283. Or front and rear apart.")
        .sometimes().hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT),
    quantity("tyres.front", Length, "Rolling radius of the front tyres, where the axles differ.")
        .sometimes().hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT),
    quantity("tyres.rear", Length, "Rolling radius of the rear tyres, where the axles differ.")
        .sometimes().hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT),
    quantity("tyres.rolling_radius.front", Length, "As tyres.front, written under rolling_radius.")
        .sometimes().hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT),
    quantity("tyres.rolling_radius.rear", Length, "As tyres.rear, written under rolling_radius.")
        .sometimes().hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT),
    quantity("tyres.wheel_inertia", Inertia, "Of one wheel with tyre, disc and hub, about its axle.")
        .hard("0.05 kg m2", "20 kg m2").usual("0.5 kg m2", "2.5 kg m2").default("1.1 kg m2 ± 0.3 kg m2", MEMORY_JUDGEMENT),
    quantity("tyres.load_sensitivity", Ratio, "How much grip falls per unit of relative load. 0: not at all.")
        .hard("0", "0.6").usual("0", "0.25").default("0.10 ± 0.05", MEMORY_JUDGEMENT),
    key("surface[].name", Form::Text, "A surface of your own, or the name of a built-in one to put right.").in_its_table(),
    quantity("surface[].grip", Ratio, "The most grip it gives: force over load at the best slip.")
        .sometimes().hard("0.03", "2.0").usual("0.08", "1.3"),
    quantity("surface[].slip_at_peak", Ratio, "Slip at which the grip is greatest.").sometimes().hard("0.01", "5").usual("0.05", "0.8"),
    quantity("surface[].slide_over_peak", Ratio, "Grip of a locked wheel over the greatest. 1: no peak, the grip only rises.")
        .sometimes().hard("0.3", "1").usual("0.6", "1"),
    quantity("surface[].stiffness", Ratio, "Slope of grip over slip at the start.").sometimes().hard("0.2", "60").usual("2", "25"),
    // Foot.
    quantity("pedal.ratio", Ratio, "Travel of the foot pad over travel of the push rod.")
        .always().hard("1", "20").usual("3", "7").default("4.5 ± 1.2", MEMORY_JUDGEMENT),
    quantity("pedal.efficiency", Ratio, "What the pedal's pivot and the seals leave of the force.")
        .hard("0.3", "1").usual("0.8", "0.97").default("0.90 ± 0.04", "from memory: common for a pivoted pedal"),
    quantity("pedal.booster.gain", Ratio, "Force out over force in, below run-out.").in_its_table().hard("1", "15").usual("2", "7"),
    quantity("pedal.booster.run_out", Pressure, "Line pressure above which the booster adds no more.")
        .hard("1 bar", "400 bar").usual("30 bar", "120 bar").default("70 bar ± 15 bar", MEMORY_JUDGEMENT),
    key("master.kind", Form::Word(&["tandem", "twin"]), "tandem: two circuits in one bore. twin: two cylinders and a balance bar.").always(),
    quantity("master.bore", Length, "Of a tandem master cylinder.")
        .sometimes().hard("8 mm", "60 mm").usual("17 mm", "30 mm").default("22.2 mm ± 2.5 mm", MEMORY_JUDGEMENT),
    quantity("master.front_bore", Length, "Of the front one of twin cylinders.").sometimes().hard("8 mm", "60 mm").usual("12 mm", "28 mm"),
    quantity("master.rear_bore", Length, "Of the rear one of twin cylinders.").sometimes().hard("8 mm", "60 mm").usual("12 mm", "28 mm"),
    key("master.split", Form::Word(&["axle", "diagonal"]), "Which wheels the two circuits feed.").always(),
    quantity("master.stroke", Length, "Tandem: of the primary piston, both chambers together. Twin: of each.")
        .hard("3 mm", "120 mm").usual("20 mm", "45 mm").default("34 mm ± 4 mm", MEMORY_JUDGEMENT),
    key("master.residual_valve", Form::Flag, "Whether the cylinder holds a little pressure back for drums.").default("false", "left out: taken as none"),
    quantity("master.bar.front_share", Ratio, "The front cylinder's share of the push rod's force.")
        .hard("0.02", "0.98").usual("0.35", "0.75").default("0.50 ± 0.05", MEMORY_JUDGEMENT),
    quantity("master.bar.share_per_turn", Ratio, "Change of that share per turn of the bar.")
        .hard("0.0001", "0.2").usual("0.004", "0.03").default("0.012 ± 0.004", MEMORY_JUDGEMENT),
    // Bias valve.
    key("bias_valve.kind", Form::Word(&["adjustable", "fixed", "limiting", "load-sensing"]), "Left out with its table: no valve. In a diagonal split one stands in each rear run.")
        .in_its_table(),
    quantity("bias_valve.knee", Pressure, "fixed, limiting: inlet pressure at which it starts to reduce.")
        .sometimes().hard("0 bar", "300 bar").usual("5 bar", "90 bar"),
    quantity("bias_valve.knee.at_fewest", Pressure, "adjustable: knee with the knob fully out, or at position 1.")
        .sometimes().hard("0 bar", "300 bar").usual("3 bar", "60 bar"),
    quantity("bias_valve.knee.at_most", Pressure, "adjustable: knee with the knob fully in, or at the last position.")
        .sometimes().hard("0 bar", "300 bar").usual("20 bar", "120 bar"),
    quantity("bias_valve.knee.turns", Turns, "adjustable: turns from fully out to fully in.").sometimes().hard("0.1 turns", "60 turns").usual("2 turns", "12 turns"),
    key("bias_valve.knee.positions", Form::Count, "adjustable with a stepped lever: how many positions, counted from 1.").sometimes().hard("2", "60").usual("3", "12"),
    key("bias_valve.knee.empty", Form::Row(&[Force, Pressure]), "load-sensing: rear axle load and knee, light.").sometimes().hard("0 N", "40 kN").usual("1.5 kN", "9 kN"),
    key("bias_valve.knee.laden", Form::Row(&[Force, Pressure]), "load-sensing: rear axle load and knee, laden.").sometimes().hard("0 N", "40 kN").usual("2.5 kN", "14 kN"),
    quantity("bias_valve.slope", Ratio, "Outlet's rise over the inlet's above the knee. Limiting valves have none.")
        .hard("0", "1").usual("0.2", "0.65").default("0.40 ± 0.08", MEMORY_JUDGEMENT),
    key("bias_valve.setting", Form::Setting, "adjustable: turns in from fully out, or the position.").hard("0 turns", "60 turns").default("0 turns", "left out: taken as fully out"),
    key("bias_valve.place", Form::Word(&["before-lever", "after-lever"]), "Where it stands in the rear line.").default("before-lever", "left out: taken as before the lever"),
    // Hand.
    key("lever.kind", Form::Word(&["inline", "separate", "cable"]), "Left out with its table: no handbrake.").in_its_table(),
    quantity("lever.bore", Length, "Of the lever's cylinder.").sometimes().hard("6 mm", "50 mm").usual("14 mm", "23 mm"),
    quantity("lever.ratio", Ratio, "Travel of the grip over travel of the push rod.").sometimes().hard("1", "30").usual("4", "12"),
    quantity("lever.stroke", Length, "Of the lever's cylinder.")
        .hard("2 mm", "100 mm").usual("12 mm", "40 mm").default("24 mm ± 3 mm", MEMORY_JUDGEMENT),
    quantity("lever.efficiency", Ratio, "What pivot and seals leave of the hand's force.")
        .hard("0.3", "1").usual("0.8", "0.97").default("0.90 ± 0.04", "from memory: common for a pivoted lever"),
    quantity("lever.free_stroke", Length, "At the cylinder, until its by-pass is covered.")
        .hard("0 mm", "15 mm").usual("0.5 mm", "3 mm").default("1.2 mm ± 0.5 mm", MEMORY_JUDGEMENT),
    quantity("lever.free_play", Length, "At the grip, before the cylinder moves. 0: the by-pass may never open.")
        .hard("0 mm", "80 mm").usual("1 mm", "12 mm").default("3 mm ± 2 mm", MEMORY_JUDGEMENT),
    quantity("lever.rear_seal", Length, "Diameter of the piston's rear seal. Left out: as the bore, as in most.").hard("1 mm", "50 mm").usual("5 mm", "23 mm"),
    key("lever.outlets", Form::Word(&["one", "tandem", "side-by-side"]), "one; tandem: two circuits at one pressure, one behind the other; side-by-side: two bores abreast.")
        .default("one", "left out: taken as one"),
    quantity("lever.hand_pull", Force, "What the driver will pull.").hard("5 N", "2000 N").usual("100 N", "450 N").default("250 N ± 50 N", MEMORY_JUDGEMENT),
    quantity("lever.room", Length, "Grip travel that there is space for.").hard("5 mm", "900 mm").usual("80 mm", "350 mm").default("180 mm ± 40 mm", MEMORY_JUDGEMENT),
    key("lever.latch", Form::Flag, "Whether it can be held applied.").default("false", "left out: taken as no latch"),
    key("lever.switch", Form::Flag, "Whether a switch tells a disengaging centre and lights the brake lamps.").default("false", "left out: taken as no switch"),
    key("lever.cable_kept", Form::Flag, "Whether a separate mechanical parking brake stays.").default("false", "left out: taken as none"),
    key("lever.frame", Form::Word(&["closed", "apart"]), "closed: pivot and cylinder share a frame. apart: the cylinder is bolted to the shell by itself.")
        .default("closed", "left out: taken as closed"),
    key("lever.mount.bolts", Form::Text, "Count, size and grade, such as 4 x M8 8.8."),
    key("lever.mount.pattern", Form::Quantities(Length), "Bolt spacing along and across the car.").hard("5 mm", "500 mm").usual("40 mm", "160 mm"),
    quantity("lever.mount.floor_sheet", Length, "Thickness of the sheet that it stands on.").hard("0.2 mm", "20 mm").usual("0.7 mm", "2.5 mm").default("0.8 mm ± 0.2 mm", MEMORY_JUDGEMENT),
    quantity("lever.mount.spreader", Length, "Thickness of the spreader plate under the sheet; 0: none.").hard("0 mm", "20 mm").usual("2 mm", "6 mm").default("0 mm", "left out: taken as none"),
    quantity("lever.mount.pivot_above_floor", Length, "Height of the pivot over the floor.").hard("0 mm", "600 mm").usual("30 mm", "120 mm").default("55 mm ± 15 mm", MEMORY_JUDGEMENT),
    quantity("lever.mount.grip_above_pivot", Length, "Height of the grip over the pivot, at rest.").hard("20 mm", "900 mm").usual("200 mm", "450 mm").default("300 mm ± 60 mm", MEMORY_JUDGEMENT),
    quantity("lever.cable.ratio", Ratio, "Force at the pads or shoes of both sides over force at the hand, before losses.").sometimes().hard("1", "300").usual("12", "60"),
    quantity("lever.cable.efficiency", Ratio, "What the cable leaves of the force.").hard("0.1", "1").usual("0.4", "0.85").default("0.60 ± 0.12", MEMORY_JUDGEMENT),
    // Brakes.
    key("front_brake.kind", Form::Word(&["disc", "drum"]), "disc or drum.").always(),
    key("rear_brake.kind", Form::Word(&["disc", "drum"]), "disc or drum.").always(),
    key("lever_brake.kind", Form::Word(&["disc"]), "A separate lever's own second calipers.").default("disc", "a second caliper on the rear disc"),
    key("front_brake.caliper.layout", Form::Word(&["opposed", "sliding"]), "opposed: pistons on both sides. sliding: on one.").sometimes(),
    key("rear_brake.caliper.layout", Form::Word(&["opposed", "sliding"]), "opposed: pistons on both sides. sliding: on one.").sometimes(),
    key("lever_brake.caliper.layout", Form::Word(&["opposed", "sliding"]), "opposed: pistons on both sides. sliding: on one.").sometimes(),
    key("front_brake.caliper.pistons", Form::Quantities(Length), "Diameters: opposed, of one side; sliding, all there are.").sometimes().hard("8 mm", "100 mm").usual("22 mm", "60 mm"),
    key("rear_brake.caliper.pistons", Form::Quantities(Length), "Diameters: opposed, of one side; sliding, all there are.").sometimes().hard("8 mm", "100 mm").usual("22 mm", "48 mm"),
    key("lever_brake.caliper.pistons", Form::Quantities(Length), "Diameters: opposed, of one side; sliding, all there are.").sometimes().hard("8 mm", "100 mm").usual("20 mm", "48 mm"),
    key("front_brake.caliper.parking_mechanism", Form::Word(&["none", "in-caliper", "in-caliper-gutted", "drum-in-disc"]), "What the caliper or disc holds for parking.").default("none", "left out: taken as none"),
    key("rear_brake.caliper.parking_mechanism", Form::Word(&["none", "in-caliper", "in-caliper-gutted", "drum-in-disc"]), "What the caliper or disc holds for parking.").default("none", "left out: taken as none"),
    key("lever_brake.caliper.parking_mechanism", Form::Word(&["none", "in-caliper", "in-caliper-gutted", "drum-in-disc"]), "What the caliper or disc holds for parking.").default("none", "left out: taken as none"),
    quantity("front_brake.effective_radius", Length, "Radius at which the pads' force acts. Or give pad_edges.").sometimes().hard("20 mm", "300 mm").usual("85 mm", "160 mm"),
    quantity("rear_brake.effective_radius", Length, "Radius at which the pads' force acts. Or give pad_edges.").sometimes().hard("20 mm", "300 mm").usual("85 mm", "150 mm"),
    quantity("lever_brake.effective_radius", Length, "Radius at which the pads' force acts. Or give pad_edges.").sometimes().hard("20 mm", "300 mm").usual("85 mm", "150 mm"),
    key("front_brake.pad_edges", Form::Quantities(Length), "Inner and outer edge of the pad, from the disc's centre.").sometimes().hard("10 mm", "320 mm").usual("60 mm", "185 mm"),
    key("rear_brake.pad_edges", Form::Quantities(Length), "Inner and outer edge of the pad, from the disc's centre.").sometimes().hard("10 mm", "320 mm").usual("60 mm", "175 mm"),
    key("lever_brake.pad_edges", Form::Quantities(Length), "Inner and outer edge of the pad, from the disc's centre.").sometimes().hard("10 mm", "320 mm").usual("60 mm", "175 mm"),
    quantity("front_brake.pad.friction", Ratio, "Warm friction of pad on disc.").sometimes().hard("0.05", "1.0").usual("0.28", "0.62").default("0.40 ± 0.08", "from memory: road 0.3 to 0.4, competition above"),
    quantity("rear_brake.pad.friction", Ratio, "Warm friction of pad on disc.").sometimes().hard("0.05", "1.0").usual("0.28", "0.62").default("0.40 ± 0.08", "from memory: road 0.3 to 0.4, competition above"),
    quantity("lever_brake.pad.friction", Ratio, "Warm friction of pad on disc.").sometimes().hard("0.05", "1.0").usual("0.28", "0.62").default("0.40 ± 0.08", "from memory: road 0.3 to 0.4, competition above"),
    quantity("front_brake.pad.cold_friction", Ratio, "Friction of a cold pad. Left out: friction_at 20 °C, or else 0.80 of the warm.").hard("0.03", "1.0").usual("0.18", "0.55"),
    quantity("rear_brake.pad.cold_friction", Ratio, "Friction of a cold pad. Left out: friction_at 20 °C, or else 0.80 of the warm.").hard("0.03", "1.0").usual("0.18", "0.55"),
    quantity("lever_brake.pad.cold_friction", Ratio, "Friction of a cold pad. Left out: friction_at 20 °C, or else 0.80 of the warm.").hard("0.03", "1.0").usual("0.18", "0.55"),
    key("front_brake.pad.friction_at", Form::Rows { columns: &[Temperature, Ratio], needed: 2 }, "Friction over temperature, from the maker's curve.").hard("-60 C", "1200 C"),
    key("rear_brake.pad.friction_at", Form::Rows { columns: &[Temperature, Ratio], needed: 2 }, "Friction over temperature, from the maker's curve.").hard("-60 C", "1200 C"),
    key("lever_brake.pad.friction_at", Form::Rows { columns: &[Temperature, Ratio], needed: 2 }, "Friction over temperature, from the maker's curve.").hard("-60 C", "1200 C"),
    quantity("front_brake.pad.thickness", Length, "Of the friction material as it is now.").hard("0.5 mm", "40 mm").usual("3 mm", "20 mm").default("10 mm ± 2 mm", MEMORY_JUDGEMENT),
    quantity("rear_brake.pad.thickness", Length, "Of the friction material as it is now.").hard("0.5 mm", "40 mm").usual("3 mm", "18 mm").default("10 mm ± 2 mm", MEMORY_JUDGEMENT),
    quantity("lever_brake.pad.thickness", Length, "Of the friction material as it is now.").hard("0.5 mm", "40 mm").usual("3 mm", "18 mm").default("10 mm ± 2 mm", MEMORY_JUDGEMENT),
    quantity("front_brake.disc.mass", Mass, "Of the disc, with its bell.").hard("0.3 kg", "40 kg").usual("3 kg", "12 kg").default("6.5 kg ± 1.5 kg", MEMORY_JUDGEMENT),
    quantity("rear_brake.disc.mass", Mass, "Of the disc, with its bell.").hard("0.3 kg", "40 kg").usual("2.5 kg", "10 kg").default("4.5 kg ± 1.2 kg", MEMORY_JUDGEMENT),
    quantity("front_brake.disc.outer_diameter", Length, "Outer edge of the friction ring.").hard("80 mm", "600 mm").usual("230 mm", "380 mm"),
    quantity("rear_brake.disc.outer_diameter", Length, "Outer edge of the friction ring.").hard("80 mm", "600 mm").usual("220 mm", "350 mm"),
    quantity("front_brake.disc.inner_diameter", Length, "Inner edge of the friction ring.").hard("30 mm", "550 mm").usual("120 mm", "230 mm"),
    quantity("rear_brake.disc.inner_diameter", Length, "Inner edge of the friction ring.").hard("30 mm", "550 mm").usual("120 mm", "230 mm"),
    quantity("front_brake.disc.thickness", Length, "Over both faces. Left out: 22 mm vented, 10 mm solid.").hard("2 mm", "60 mm").usual("8 mm", "36 mm"),
    quantity("rear_brake.disc.thickness", Length, "Over both faces. Left out: 22 mm vented, 10 mm solid.").hard("2 mm", "60 mm").usual("7 mm", "32 mm"),
    key("front_brake.disc.vented", Form::Flag, "Whether air passes between the faces.").default("true", "left out: taken as vented in front"),
    key("rear_brake.disc.vented", Form::Flag, "Whether air passes between the faces.").default("false", "left out: taken as solid behind"),
    quantity("front_brake.volume.clearance", Length, "Disc: pad to disc, each side. Drum: travel of each cylinder piston.").hard("0 mm", "5 mm").usual("0.02 mm", "0.6 mm").default("0.10 mm ± 0.05 mm", MEMORY_JUDGEMENT),
    quantity("rear_brake.volume.clearance", Length, "Disc: pad to disc, each side. Drum: travel of each cylinder piston.").hard("0 mm", "5 mm").usual("0.02 mm", "0.6 mm").default("0.10 mm ± 0.05 mm", MEMORY_JUDGEMENT),
    quantity("lever_brake.volume.clearance", Length, "Pad to disc, each side.").hard("0 mm", "5 mm").usual("0.02 mm", "0.6 mm").default("0.10 mm ± 0.05 mm", MEMORY_JUDGEMENT),
    quantity("front_brake.volume.flex", Flex, "Volume that one caliper takes per pressure, without its hose.").hard("0 cm3/bar", "1 cm3/bar").usual("0.002 cm3/bar", "0.04 cm3/bar").default("0.010 cm3/bar ± 0.004 cm3/bar", MEMORY_JUDGEMENT),
    quantity("rear_brake.volume.flex", Flex, "Volume that one caliper takes per pressure, without its hose.").hard("0 cm3/bar", "1 cm3/bar").usual("0.002 cm3/bar", "0.04 cm3/bar").default("0.008 cm3/bar ± 0.004 cm3/bar", MEMORY_JUDGEMENT),
    quantity("lever_brake.volume.flex", Flex, "Volume that one caliper takes per pressure, without its hose.").hard("0 cm3/bar", "1 cm3/bar").usual("0.002 cm3/bar", "0.04 cm3/bar").default("0.008 cm3/bar ± 0.004 cm3/bar", MEMORY_JUDGEMENT),
    // Drums.
    quantity("front_brake.cylinder_bore", Length, "Of the wheel cylinder.").sometimes().hard("8 mm", "60 mm").usual("15 mm", "32 mm"),
    quantity("rear_brake.cylinder_bore", Length, "Of the wheel cylinder.").sometimes().hard("8 mm", "60 mm").usual("14 mm", "28 mm"),
    quantity("front_brake.drum_radius", Length, "Inside of the drum.").sometimes().hard("40 mm", "300 mm").usual("85 mm", "150 mm"),
    quantity("rear_brake.drum_radius", Length, "Inside of the drum.").sometimes().hard("40 mm", "300 mm").usual("85 mm", "150 mm"),
    key("front_brake.shoes", Form::Word(&["leading-trailing", "two-leading", "servo"]), "How the shoes are worked.").default("leading-trailing", "left out: the common kind"),
    key("rear_brake.shoes", Form::Word(&["leading-trailing", "two-leading", "servo"]), "How the shoes are worked.").default("leading-trailing", "left out: the common kind"),
    quantity("front_brake.lining.friction", Ratio, "Warm friction of lining on drum.").sometimes().hard("0.05", "1.0").usual("0.25", "0.5").default("0.35 ± 0.06", "from memory: road linings"),
    quantity("rear_brake.lining.friction", Ratio, "Warm friction of lining on drum.").sometimes().hard("0.05", "1.0").usual("0.25", "0.5").default("0.35 ± 0.06", "from memory: road linings"),
    quantity("front_brake.lining.cold_friction", Ratio, "Friction of a cold lining. Left out: friction_at 20 °C, or else 0.80 of the warm.").hard("0.03", "1.0").usual("0.18", "0.5"),
    quantity("rear_brake.lining.cold_friction", Ratio, "Friction of a cold lining. Left out: friction_at 20 °C, or else 0.80 of the warm.").hard("0.03", "1.0").usual("0.18", "0.5"),
    key("front_brake.lining.friction_at", Form::Rows { columns: &[Temperature, Ratio], needed: 2 }, "Friction over temperature, from the maker's curve.").hard("-60 C", "1200 C"),
    key("rear_brake.lining.friction_at", Form::Rows { columns: &[Temperature, Ratio], needed: 2 }, "Friction over temperature, from the maker's curve.").hard("-60 C", "1200 C"),
    quantity("front_brake.drum.mass", Mass, "Of the drum.").hard("0.3 kg", "40 kg").usual("3 kg", "10 kg").default("5 kg ± 1.5 kg", MEMORY_JUDGEMENT),
    quantity("rear_brake.drum.mass", Mass, "Of the drum.").hard("0.3 kg", "40 kg").usual("3 kg", "10 kg").default("5 kg ± 1.5 kg", MEMORY_JUDGEMENT),
    quantity("front_brake.drum.width", Length, "Of the drum's friction face.").hard("10 mm", "200 mm").usual("25 mm", "70 mm").default("40 mm ± 8 mm", MEMORY_JUDGEMENT),
    quantity("rear_brake.drum.width", Length, "Of the drum's friction face.").hard("10 mm", "200 mm").usual("25 mm", "70 mm").default("40 mm ± 8 mm", MEMORY_JUDGEMENT),
    key("front_brake.adjust", Form::Word(&["lever-ratchet", "automatic", "manual"]), "What takes up the wear of the linings.").default("manual", "left out: taken as by hand"),
    key("rear_brake.adjust", Form::Word(&["lever-ratchet", "automatic", "manual"]), "What takes up the wear of the linings. lever-ratchet: the parking cable's lever does.").default("manual", "left out: taken as by hand"),
    quantity("front_brake.shoe_factor", Ratio, "Drum friction force over applied force, at lining.friction. Or give shoe.").sometimes().hard("0.1", "12").usual("1", "5"),
    quantity("rear_brake.shoe_factor", Ratio, "Drum friction force over applied force, at lining.friction. Or give shoe.").sometimes().hard("0.1", "12").usual("1", "5"),
    quantity("front_brake.shoe.pivot_radius", Length, "Drum centre to the shoe's pivot.").sometimes().hard("10 mm", "300 mm").usual("60 mm", "130 mm"),
    quantity("rear_brake.shoe.pivot_radius", Length, "Drum centre to the shoe's pivot.").sometimes().hard("10 mm", "300 mm").usual("60 mm", "130 mm"),
    quantity("front_brake.shoe.heel", Angle, "Where the lining starts, from the line through the pivot.").sometimes().hard("0 deg", "170 deg").usual("8 deg", "50 deg"),
    quantity("rear_brake.shoe.heel", Angle, "Where the lining starts, from the line through the pivot.").sometimes().hard("0 deg", "170 deg").usual("8 deg", "50 deg"),
    quantity("front_brake.shoe.toe", Angle, "Where the lining ends, from the line through the pivot.").sometimes().hard("5 deg", "180 deg").usual("90 deg", "150 deg"),
    quantity("rear_brake.shoe.toe", Angle, "Where the lining ends, from the line through the pivot.").sometimes().hard("5 deg", "180 deg").usual("90 deg", "150 deg"),
    quantity("front_brake.shoe.force_arm", Length, "Pivot to the line of the wheel cylinder's force.").sometimes().hard("10 mm", "600 mm").usual("120 mm", "240 mm"),
    quantity("rear_brake.shoe.force_arm", Length, "Pivot to the line of the wheel cylinder's force.").sometimes().hard("10 mm", "600 mm").usual("120 mm", "240 mm"),
    // Drivetrain.
    key("drivetrain.driven", Form::Word(&["front", "rear", "all"]), "Which wheels the engine drives.").default("front", "left out: taken as front-driven, nothing tied to the rear"),
    key("drivetrain.front_diff.kind", Form::Word(DIFFERENTIALS), "Differential of the front axle.").default("open", "left out: taken as open"),
    key("drivetrain.rear_diff.kind", Form::Word(DIFFERENTIALS), "Differential of the rear axle.").default("open", "left out: taken as open"),
    quantity("drivetrain.front_diff.preload", Torque, "plates: torque moved with no input, at the half-shafts.").hard("0 N m", "1000 N m").usual("0 N m", "150 N m").default("50 N m ± 20 N m", MEMORY_JUDGEMENT),
    quantity("drivetrain.rear_diff.preload", Torque, "plates: torque moved with no input, at the half-shafts.").hard("0 N m", "1000 N m").usual("0 N m", "150 N m").default("50 N m ± 20 N m", MEMORY_JUDGEMENT),
    quantity("drivetrain.front_diff.bias", Ratio, "plates: torque moved per input torque; half of a maker's locking value.").hard("0", "1").usual("0.05", "0.5").default("0.20 ± 0.08", MEMORY_JUDGEMENT),
    quantity("drivetrain.rear_diff.bias", Ratio, "plates: torque moved per input torque; half of a maker's locking value.").hard("0", "1").usual("0.05", "0.5").default("0.25 ± 0.08", MEMORY_JUDGEMENT),
    key("drivetrain.front_diff.torque_at", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "viscous: torque over speed difference.").sometimes().hard("0 rpm", "20000 rpm"),
    key("drivetrain.rear_diff.torque_at", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "viscous: torque over speed difference.").sometimes().hard("0 rpm", "20000 rpm"),
    key("drivetrain.centre.kind", Form::Word(&["none", "open", "locked", "plates", "viscous", "disengaging"]), "What ties the front and rear axles together.").sometimes().default("none", "left out: one driven axle, nothing ties the two"),
    quantity("drivetrain.centre.preload", Torque, "plates: torque carried with no input, where the coupling turns.").hard("0 N m", "3000 N m").usual("0 N m", "200 N m").default("40 N m ± 20 N m", MEMORY_JUDGEMENT),
    quantity("drivetrain.centre.bias", Ratio, "plates: torque moved per input torque.").hard("0", "1").usual("0.05", "0.5").default("0.20 ± 0.08", MEMORY_JUDGEMENT),
    key("drivetrain.centre.torque_at", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "viscous: torque over speed difference, where the coupling turns.").sometimes().hard("0 rpm", "20000 rpm"),
    key("drivetrain.centre.feel", Form::Word(&["soft", "middle", "stiff"]), "viscous without a curve: how it feels pulled round by hand. A wide guess.").sometimes(),
    quantity("drivetrain.centre.turns_per_wheel_turn", Ratio, "Turns of the coupling a wheel turn. Left out: final_drive, a coupling on the propshaft. 1 where it sits behind the final drive.").hard("0.2", "20").usual("1", "5"),
    key("drivetrain.centre.held.kind", Form::Word(COUPLINGS), "disengaging: what it is while held.").sometimes(),
    quantity("drivetrain.centre.held.preload", Torque, "As centre.preload.").hard("0 N m", "3000 N m").usual("0 N m", "200 N m").default("40 N m ± 20 N m", MEMORY_JUDGEMENT),
    quantity("drivetrain.centre.held.bias", Ratio, "As centre.bias.").hard("0", "1").usual("0.05", "0.5").default("0.20 ± 0.08", MEMORY_JUDGEMENT),
    key("drivetrain.centre.held.torque_at", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "As centre.torque_at.").sometimes().hard("0 rpm", "20000 rpm"),
    key("drivetrain.centre.held.feel", Form::Word(&["soft", "middle", "stiff"]), "As centre.feel.").sometimes(),
    key("drivetrain.centre.let_go.kind", Form::Word(COUPLINGS), "disengaging: what is left once it has let go.").default("open", "left out: nothing is left"),
    quantity("drivetrain.centre.let_go.preload", Torque, "As centre.preload.").hard("0 N m", "3000 N m").usual("0 N m", "200 N m").default("10 N m ± 10 N m", MEMORY_JUDGEMENT),
    quantity("drivetrain.centre.let_go.bias", Ratio, "As centre.bias.").hard("0", "1").usual("0", "0.5").default("0 ± 0.02", MEMORY_JUDGEMENT),
    key("drivetrain.centre.let_go.torque_at", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "As centre.torque_at.").sometimes().hard("0 rpm", "20000 rpm"),
    key("drivetrain.centre.let_go.feel", Form::Word(&["soft", "middle", "stiff"]), "As centre.feel.").sometimes(),
    quantity("drivetrain.centre.in", Duration, "disengaging: time to let go, and to hold again.").hard("0 s", "5 s").usual("20 ms", "400 ms").default("100 ms ± 60 ms", MEMORY_JUDGEMENT),
    quantity("drivetrain.front_share", Ratio, "Of the engine's torque, what reaches the front through the centre. 1 or 0: no differential there.").hard("0", "1").usual("0", "1").default("0.50", "left out: an even centre"),
    quantity("drivetrain.final_drive", Ratio, "Propshaft turns a wheel turn.").hard("1", "12").usual("3", "6").default("4.1 ± 0.5", MEMORY_JUDGEMENT),
    quantity("drivetrain.input_inertia", Inertia, "Gearbox side at the pinion, clutch down.").hard("0 kg m2", "5 kg m2").usual("0.01 kg m2", "0.3 kg m2").default("0.08 kg m2 ± 0.04 kg m2", MEMORY_JUDGEMENT),
    quantity("drivetrain.engine_inertia", Inertia, "Engine and flywheel, at the crank.").hard("0 kg m2", "5 kg m2").usual("0.08 kg m2", "0.4 kg m2").default("0.18 kg m2 ± 0.06 kg m2", MEMORY_JUDGEMENT),
    quantity("drivetrain.gear", Ratio, "Engine turns a pinion turn in the gear used for the turn.").hard("0.3", "10").usual("0.9", "4").default("1.9 ± 0.4", MEMORY_JUDGEMENT),
    // Fluid.
    key("fluid.grade", Form::Word(&["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]), "As it says on the bottle.").default("DOT 4", "left out: the common grade"),
    key("fluid.fitted", Form::Date, "When it was last changed."),
    quantity("fluid.boiling.dry", Temperature, "Fresh. Left out: the grade's minimum.").hard("100 C", "400 C").usual("205 C", "340 C"),
    quantity("fluid.boiling.wet", Temperature, "With its share of water. Left out: the grade's minimum.").hard("90 C", "400 C").usual("140 C", "280 C"),
    // Routes.
    quantity("routes.master_to_bulkhead", Length, "By tape along the path, to the bias valve's place.").hard("0 m", "15 m").usual("0.1 m", "3 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.bulkhead_to_lever", Length, "By tape along the path.").hard("0 m", "15 m").usual("0.3 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.lever_to_rear_tee", Length, "By tape along the path. Two outlets: 0 m, each has its wheel's run.").hard("0 m", "15 m").usual("0 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.bulkhead_to_rear_tee", Length, "By tape along the path, where no cylinder sits in the rear line.").hard("0 m", "15 m").usual("1 m", "6 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.tee_to_rear_left", Length, "By tape along the path.").hard("0 m", "15 m").usual("0.3 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.tee_to_rear_right", Length, "By tape along the path.").hard("0 m", "15 m").usual("0.3 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.master_to_front_left", Length, "By tape along the path.").hard("0 m", "15 m").usual("0.3 m", "3 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.master_to_front_right", Length, "By tape along the path.").hard("0 m", "15 m").usual("0.3 m", "3 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.lever_to_lever_tee", Length, "A separate lever's own line.").hard("0 m", "15 m").usual("0.3 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.lever_tee_to_left", Length, "A separate lever's own line.").hard("0 m", "15 m").usual("0.3 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    quantity("routes.lever_tee_to_right", Length, "A separate lever's own line.").hard("0 m", "15 m").usual("0.3 m", "4 m").default("1.0 m ± 0.5 m", MEMORY_JUDGEMENT),
    key("lines.rear.pipe", Form::Word(PIPES), "What the rear line is made of.").default("steel 3/16 in", "left out: the common pipe"),
    quantity("lines.rear.flexible_last", Length, "How much of the last route is a flexible hose.").hard("0 m", "15 m").usual("0.2 m", "0.8 m"),
    key("lines.rear.flexible", Form::Word(HOSES), "What that hose is.").default("rubber hose", "left out: the common hose"),
    key("lines.front.pipe", Form::Word(PIPES), "What the front lines are made of.").default("steel 3/16 in", "left out: the common pipe"),
    quantity("lines.front.flexible_last", Length, "How much of each route is a flexible hose at the wheel.").hard("0 m", "15 m").usual("0.2 m", "0.8 m"),
    key("lines.front.flexible", Form::Word(HOSES), "What that hose is.").default("rubber hose", "left out: the common hose"),
    key("lines.lever.pipe", Form::Word(PIPES), "What a separate lever's line is made of.").default("steel 3/16 in", "left out: the common pipe"),
    quantity("lines.lever.flexible_last", Length, "How much of the last route is a flexible hose.").hard("0 m", "15 m").usual("0.2 m", "0.8 m"),
    key("lines.lever.flexible", Form::Word(HOSES), "What that hose is.").default("rubber hose", "left out: the common hose"),
    key("lines.ports.master", Form::Text, "Thread and seat of the master cylinder's ports."),
    key("lines.ports.bias_valve", Form::Text, "Thread and seat of the bias valve's ports."),
    key("lines.ports.lever", Form::Text, "Thread and seat of the lever cylinder's ports."),
    key("lines.ports.caliper", Form::Text, "Thread and seat of the calipers' ports."),
    key("lines.ports.tee", Form::Text, "Thread and seat of the tee's ports."),
    key("places.reservoir", Form::Word(PLACES), "Where the brake fluid stands.").default("engine bay", "left out: taken as outside the cabin"),
    key("places.lever_reservoir", Form::Word(PLACES), "Where a separate lever's fluid stands.").default("cabin", "left out: taken as beside the lever"),
    key("places.rear_run", Form::Word(&["inside", "outside"]), "Where the rear line runs.").default("outside", "left out: taken as under the floor"),
    key("places.rear_clips", Form::Count, "Clips along the rear line.").hard("0", "200").usual("4", "25"),
    key("places.rear_guard", Form::Flag, "Whether it is guarded: against stones outside, covered inside.").default("false", "left out: taken as bare"),
    // What the car had.
    key("before.factory_valve", Form::Flag, "Whether the car had a valve of its own in the rear line.").default("false", "left out: not known, taken as none"),
    key("before.parking", Form::Word(&["none", "cable shoes", "cable in-caliper", "cable drum-in-disc", "electric"]), "The parking brake that it had.").default("none", "left out: not known, taken as none"),
    key("before.old_rear_pipe", Form::Text, "Where the old rear pipe still is, or none."),
    // Trapped air.
    quantity("air.rear", Volume, "Air in the rear line at rest, if known or to try.").hard("0 cm3", "200 cm3").usual("0 cm3", "5 cm3").default("0 cm3", "left out: taken as bled"),
    quantity("air.front", Volume, "Air in the front lines at rest, if known or to try.").hard("0 cm3", "200 cm3").usual("0 cm3", "5 cm3").default("0 cm3", "left out: taken as bled"),
    quantity("air.lever", Volume, "Air in a separate lever's line at rest, if known or to try.").hard("0 cm3", "200 cm3").usual("0 cm3", "5 cm3").default("0 cm3", "left out: taken as bled"),
    // What was measured.
    key("measured.valve[].setting", Form::Setting, "Turns or position at which it was read.").hard("0 turns", "60 turns"),
    quantity("measured.valve[].front", Pressure, "Gauge before the valve.").in_its_table().hard("0 bar", "400 bar").usual("5 bar", "150 bar"),
    quantity("measured.valve[].rear", Pressure, "Gauge behind the valve.").in_its_table().hard("0 bar", "400 bar").usual("5 bar", "120 bar"),
    key("measured.valve[].on", Form::Date, "When."),
    key("measured.pull[].on", Form::Date, "When."),
    key("measured.pull[].points", Form::Rows { columns: &[Length, Pressure, Force], needed: 2 }, "Grip travel, rear pressure, and the hand's force if it was read.").in_its_table().hard("0 mm", "900 mm"),
    key("measured.pedal[].on", Form::Date, "When."),
    key("measured.pedal[].engine", Form::Word(&["on", "off"]), "Whether the booster worked.").default("on", "left out: taken as running"),
    key("measured.pedal[].points", Form::Rows { columns: &[Force, Pressure], needed: 2 }, "Foot force and line pressure.").in_its_table().hard("0 N", "3000 N"),
    key("measured.wheel[].on", Form::Date, "When."),
    key("measured.wheel[].wheel", Form::Word(&["front left", "front right", "rear left", "rear right"]), "Which wheel.").in_its_table(),
    quantity("measured.wheel[].pressure", Pressure, "Pressure that was held.").in_its_table().hard("0 bar", "400 bar").usual("5 bar", "60 bar"),
    quantity("measured.wheel[].torque", Torque, "Torque wrench on the hub at the moment it slipped.").in_its_table().hard("1 N m", "10000 N m").usual("40 N m", "800 N m"),
    key("measured.soak[].on", Form::Date, "When."),
    quantity("measured.soak[].from", Pressure, "Pressure at the start.").in_its_table().hard("0 bar", "400 bar").usual("20 bar", "120 bar"),
    quantity("measured.soak[].to", Pressure, "Pressure at the end.").in_its_table().hard("0 bar", "400 bar").usual("20 bar", "120 bar"),
    quantity("measured.soak[].in", Duration, "How long it was held.").in_its_table().hard("1 s", "48 h").usual("2 min", "1 h"),
    key("measured.soak[].air", Form::Quantities(Temperature), "Air at the start and at the end.").hard("-60 C", "70 C").usual("-15 C", "40 C"),
];
