//! Keys of the car as a whole: what it is, what it weighs, its lengths, its load, its tyres and the ground.

use quantity::Dimension::{Inertia, Length, Mass, Ratio, Volume};

use super::super::drawing::Drawing;
use super::super::key::{Form, Key, key, quantity};
use super::measuring::{CORNER_SCALES, KEEP_THE_GUESS, ONE_TURN, RAISE, TREADS, TYRE_CURVE};
use super::{MEMORY_JUDGEMENT, NONE};

/// What it is.
pub(super) const CAR: &[Key] = &[
    key("car.name", "name of the car", Form::Text, "What the car is called in lists and on print.").always(),
    key("car.build", "kind of car", Form::Text, "What kind of car it is, in a few words."),
    key("car.road_registered", "driven on public roads", Form::Flag, "Whether it is driven on public roads, between stages too: road rules are then checked and a road setting is given.")
        .default("false", "left out: taken as never on a public road"),
    key("car.runs_on", "surfaces it runs on", Form::Texts, "Surfaces that it competes on, by name."),
    key("car.abs", "anti-lock unit", Form::Word(&["none", "fitted", "removed"]), "Anti-lock unit: none, fitted, or removed.")
        .default("none", "left out: taken as none"),
];

/// What it weighs.
pub(super) const WEIGHED: &[Key] = &[
    quantity(
        "weighed.front",
        "weight on the front wheels",
        Mass,
        "Both front wheels on scales, fluids in, nobody aboard.",
    )
    .always()
    .hard("50 kg", "3000 kg")
    .usual("300 kg", "1200 kg")
    .way(CORNER_SCALES),
    quantity(
        "weighed.rear",
        "weight on the rear wheels",
        Mass,
        "Both rear wheels on scales, fluids in, nobody aboard.",
    )
    .always()
    .hard("50 kg", "3000 kg")
    .usual("250 kg", "1100 kg")
    .way(CORNER_SCALES),
    quantity(
        "weighed.fuel_aboard",
        "fuel aboard when weighed",
        Volume,
        "Fuel in the tank while it was weighed.",
    )
    .hard("0 L", "300 L")
    .usual("0 L", "120 L")
    .default("10 L ± 10 L", MEMORY_JUDGEMENT)
    .how(
        "Drain the tank and refill it from a marked can, or read the gauge.",
        Drawing::Tank,
    ),
];

/// How high its weight acts.
pub(super) const RAISED: &[Key] = &[
    quantity(
        "weighed.cg_height",
        "height of the centre of gravity",
        Length,
        "Height of the centre of gravity above the ground, as weighed.",
    )
    .as_text("Or give `cg_raise`.")
    .sometimes("unless cg_raise is there")
    .hard("0.15 m", "1.5 m")
    .usual("0.40 m", "0.75 m")
    .default("0.53 m ± 0.07 m", MEMORY_JUDGEMENT)
    .way(RAISE),
    key(
        "weighed.cg_raise.lifted",
        "axle that was lifted",
        Form::Word(&["rear", "front"]),
        "Which axle was lifted to find the height of the centre of gravity.",
    )
    .in_its_table()
    .way(RAISE),
    quantity(
        "weighed.cg_raise.by",
        "how far it was lifted",
        Length,
        "How far the wheels were lifted; at most a third of the wheelbase.",
    )
    .in_its_table()
    .hard("0.05 m", "1.5 m")
    .usual("0.25 m", "0.8 m")
    .how(
        "A tape from the floor to the wheel's hub, before and after: the difference.",
        Drawing::Raised,
    ),
    quantity(
        "weighed.cg_raise.front_gains",
        "what the front scales gained",
        Mass,
        "With the rear lifted: what the front scales gained.",
    )
    .sometimes("where the rear was lifted")
    .hard("0.1 kg", "500 kg")
    .usual("5 kg", "80 kg")
    .way(RAISE),
    quantity(
        "weighed.cg_raise.rear_gains",
        "what the rear scales gained",
        Mass,
        "With the front lifted: what the rear scales gained.",
    )
    .sometimes("where the front was lifted")
    .hard("0.1 kg", "500 kg")
    .usual("5 kg", "80 kg")
    .way(RAISE),
];

/// Its lengths, and how it turns.
pub(super) const GEOMETRY: &[Key] = &[
    quantity(
        "geometry.wheelbase",
        "wheelbase",
        Length,
        "Front axle to rear axle.",
    )
    .always()
    .hard("1 m", "5 m")
    .usual("2.0 m", "3.1 m")
    .how(
        "A plumb line from both hubs to the floor, then the tape between. On both sides.",
        Drawing::Wheelbase,
    ),
    quantity(
        "geometry.front_track",
        "front track",
        Length,
        "Between the middles of the front tyres.",
    )
    .hard("0.6 m", "2.5 m")
    .usual("1.2 m", "1.8 m")
    .default("1.50 m ± 0.08 m", MEMORY_JUDGEMENT)
    .way(TREADS),
    quantity(
        "geometry.rear_track",
        "rear track",
        Length,
        "Between the middles of the rear tyres.",
    )
    .hard("0.6 m", "2.5 m")
    .usual("1.2 m", "1.8 m")
    .default("1.50 m ± 0.08 m", MEMORY_JUDGEMENT)
    .way(TREADS),
    quantity(
        "geometry.yaw_inertia",
        "yaw inertia",
        Inertia,
        "Of the car as weighed, about the vertical.",
    )
    .hard("100 kg m2", "20000 kg m2")
    .usual("600 kg m2", "4000 kg m2")
    .default("by rule: 0.95 × mass × a × b, ± 15 %", MEMORY_JUDGEMENT)
    .way(KEEP_THE_GUESS),
    quantity(
        "geometry.roll_share_front",
        "front share of roll",
        Ratio,
        "The front axle's share of the sideways load transfer.",
    )
    .hard("0", "1")
    .usual("0.35", "0.70")
    .default("0.55 ± 0.10", MEMORY_JUDGEMENT)
    .way(KEEP_THE_GUESS),
];

/// What comes aboard.
pub(super) const LOAD: &[Key] = &[
    key(
        "load.crew",
        "crew",
        NONE,
        "none: nobody is counted. Left out: 160 kg ± 40 kg in the seats.",
    )
    .as_text("Or a table of its own, with mass and place."),
    quantity(
        "load.crew.mass",
        "weight of the crew",
        Mass,
        "Everyone aboard, with helmets.",
    )
    .in_its_table()
    .hard("0 kg", "600 kg")
    .usual("60 kg", "220 kg")
    .default("160 kg ± 40 kg", MEMORY_JUDGEMENT)
    .how("A bathroom scale, everyone in suit and helmet.", Drawing::Weight),
    quantity(
        "load.crew.aft_of_front_axle",
        "crew, behind the front axle",
        Length,
        "Where the crew's weight acts. Negative is ahead of the front axle.",
    )
    .hard("-2 m", "6 m")
    .usual("1.1 m", "2.2 m")
    .default("1.50 m ± 0.20 m", MEMORY_JUDGEMENT)
    .how(
        "A plumb line at the front hub, then the tape back to the hips of the crew as they sit.",
        Drawing::Aboard,
    ),
    quantity(
        "load.crew.height",
        "crew, above the ground",
        Length,
        "How high the crew's weight acts above the ground.",
    )
    .hard("0 m", "3 m")
    .usual("0.35 m", "0.85 m")
    .default("0.55 m ± 0.10 m", MEMORY_JUDGEMENT)
    .how(
        "A tape from the floor to the belt buckle of the driver as he sits.",
        Drawing::Aboard,
    ),
    quantity(
        "load.tank.capacity",
        "what the tank holds",
        Volume,
        "What a full tank holds.",
    )
    .in_its_table()
    .hard("1 L", "300 L")
    .usual("15 L", "120 L")
    .how(
        "Fill it from empty with a marked can, or read the maker's plate.",
        Drawing::Tank,
    ),
    quantity(
        "load.tank.aft_of_front_axle",
        "tank, behind the front axle",
        Length,
        "Middle of the tank. Negative is ahead of the front axle.",
    )
    .hard("-2 m", "6 m")
    .usual("1.5 m", "3.2 m")
    .default("2.45 m ± 0.30 m", MEMORY_JUDGEMENT)
    .how(
        "A plumb line at the front hub, then the tape back to the middle of the tank.",
        Drawing::Aboard,
    ),
    quantity(
        "load.tank.height",
        "tank, above the ground",
        Length,
        "Middle of the fuel above the ground.",
    )
    .hard("0 m", "3 m")
    .usual("0.2 m", "0.7 m")
    .default("0.42 m ± 0.10 m", MEMORY_JUDGEMENT)
    .how(
        "A tape from the floor to the middle of the fuel.",
        Drawing::Aboard,
    ),
    key("load.item[].name", "what it is", Form::Text, "What it is.").in_its_table(),
    quantity("load.item[].mass", "what it weighs", Mass, "What it weighs.")
        .in_its_table()
        .hard("0 kg", "1000 kg")
        .usual("1 kg", "150 kg")
        .how("A bathroom scale or a luggage scale.", Drawing::Weight),
    quantity(
        "load.item[].aft_of_front_axle",
        "behind the front axle",
        Length,
        "Where it lies. Negative is ahead of the front axle.",
    )
    .in_its_table()
    .hard("-3 m", "7 m")
    .usual("-0.8 m", "4 m")
    .how(
        "A plumb line at the front hub, then the tape along the car to its middle.",
        Drawing::Aboard,
    ),
    quantity(
        "load.item[].height",
        "above the ground",
        Length,
        "Its middle above the ground.",
    )
    .hard("0 m", "4 m")
    .usual("0.2 m", "1.6 m")
    .default("0.50 m ± 0.15 m", MEMORY_JUDGEMENT)
    .how("A tape from the floor to its middle.", Drawing::Aboard),
];

/// Its tyres.
pub(super) const TYRES: &[Key] = &[
    key("tyres.rolling_radius", "rolling radius, or the tyre's label", Form::RollingRadius, "Radius on which the tyres roll, loaded: a marked turn of the wheel, pushed along the floor, over 6.283. Or the tyre's label, such as 195/65 R15; or front and rear apart.")
        .sometimes("unless front and rear stand apart").hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT).way(ONE_TURN),
    key("tyres.front", "rolling radius in front", Form::RollingRadius, "Rolling radius of the front tyres, where the axles differ.")
        .sometimes("where the axles differ").hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT).way(ONE_TURN),
    key("tyres.rear", "rolling radius behind", Form::RollingRadius, "Rolling radius of the rear tyres, where the axles differ.")
        .sometimes("where the axles differ").hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT).way(ONE_TURN),
    key("tyres.rolling_radius.front", "rolling radius in front", Form::RollingRadius, "As it stands on the side of the tyre, or taped.")
    .as_text("As `tyres.front`, written under `rolling_radius`.")
        .sometimes("where the axles differ").hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT).way(ONE_TURN),
    key("tyres.rolling_radius.rear", "rolling radius behind", Form::RollingRadius, "As it stands on the side of the tyre, or taped.")
    .as_text("As `tyres.rear`, written under `rolling_radius`.")
        .sometimes("where the axles differ").hard("0.1 m", "0.7 m").usual("0.26 m", "0.36 m").default("0.310 m ± 0.020 m", MEMORY_JUDGEMENT).way(ONE_TURN),
    quantity("tyres.wheel_inertia", "inertia of a wheel", Inertia, "Of one wheel with tyre, disc and hub, about its axle.")
        .hard("0.05 kg m2", "20 kg m2").usual("0.5 kg m2", "2.5 kg m2").default("1.1 kg m2 ± 0.3 kg m2", MEMORY_JUDGEMENT).way(KEEP_THE_GUESS),
    quantity("tyres.load_sensitivity", "grip lost under load", Ratio, "How much grip falls per unit of relative load. 0: not at all.")
        .hard("0", "0.6").usual("0", "0.25").default("0.10 ± 0.05", MEMORY_JUDGEMENT).way(KEEP_THE_GUESS),
];

/// The ground.
pub(super) const SURFACE: &[Key] = &[
    key("surface[].name", "name of the surface", Form::Text, "A surface of your own, or the name of a built-in one to put right. Those are of competition tyres on tarmac and gravel, of tyres without studs on snow and ice; studded snow and studded ice have names of their own.").in_its_table(),
    quantity("surface[].grip", "grip", Ratio, "The most grip it gives: force over load at the best slip. Ordinary tyres on asphalt: 0.70 to 0.80 dry, 0.45 to 0.55 wet.")
        .sometimes("unless the surface is built in").hard("0.03", "2.0").usual("0.08", "1.3").how("Stop from 40 km/h with all wheels just short of locking, and tape the way. 6.3 m over it is the grip.", Drawing::Stop),
    quantity("surface[].slip_at_peak", "slip at the most grip", Ratio, "Slip at which the grip is greatest.").sometimes("unless the surface is built in").hard("0.01", "5").usual("0.05", "0.8").way(TYRE_CURVE),
    quantity("surface[].slide_over_peak", "grip while sliding, over the most", Ratio, "Grip of a locked wheel over the greatest. 1: no peak, the grip only rises.")
        .sometimes("unless the surface is built in").hard("0.3", "1").usual("0.6", "1").way(TYRE_CURVE),
    quantity("surface[].stiffness", "slope of grip at the start", Ratio, "Slope of grip over slip at the start.").sometimes("unless the surface is built in").hard("0.2", "60").usual("2", "25").way(TYRE_CURVE),
];
