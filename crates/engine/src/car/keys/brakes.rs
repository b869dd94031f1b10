//! Keys of the brakes. Both axles have the same; a separate lever's second calipers have those of a disc brake without
//! the disc.

use quantity::Dimension::{Angle, Flex, Length, Mass, Ratio, Temperature};

use super::super::drawing::Drawing;
use super::super::key::{Form, Key, key, quantity};
use super::MEMORY_JUDGEMENT;
use super::measuring::{FRICTION_CURVE, SLOW_PULL, WRENCH, WRENCH_COLD};

const COLD_RULE: &str = "by rule: friction_at 20 °C, or else 0.80 of the warm";
const CURVE: Form = Form::Rows {
    columns: &[Temperature, Ratio],
    needed: 2,
};
const LAYOUTS: Form = Form::Word(&["opposed", "sliding"]);
const PARKING: Form = Form::Word(&["none", "in-caliper", "in-caliper-gutted", "drum-in-disc"]);

/// One key of a brake's table.
macro_rules! at {
    ($table:literal, $name:literal) => {
        concat!($table, ".", $name)
    };
}

/// What a caliper and its pads have.
macro_rules! caliper_keys {
    ($table:literal, flex: $flex:literal) => {
        [
            key(
                at!($table, "caliper.layout"),
                "kind of caliper",
                LAYOUTS,
                "opposed: pistons on both sides. sliding: on one.",
            )
            .sometimes("with a disc brake")
            .how(
                "Look through the wheel: pistons on both sides of the disc, or on one.",
                Drawing::Caliper,
            ),
            key(
                at!($table, "caliper.pistons"),
                "diameters of the pistons",
                Form::Quantities(Length),
                "Diameters: opposed, of one side; sliding, all there are.",
            )
            .sometimes("with a disc brake")
            .hard("8 mm", "100 mm")
            .usual("22 mm", "60 mm")
            .how(
                "A vernier on the piston, or on one of a spare caliper.",
                Drawing::Bore,
            ),
            key(
                at!($table, "caliper.parking_mechanism"),
                "parking brake in it",
                PARKING,
                "What the caliper or disc holds for parking.",
            )
            .default("none", "left out: taken as none")
            .how(
                "Look: a cable to the caliper, a cable to a small drum inside the disc, or none.",
                Drawing::Caliper,
            ),
            quantity(
                at!($table, "effective_radius"),
                "effective radius",
                Length,
                "Radius at which the pads' force acts.",
            )
            .as_text("Or give `pad_edges`.")
            .sometimes("with a disc brake, unless pad_edges is there")
            .hard("20 mm", "300 mm")
            .usual("85 mm", "160 mm")
            .how(
                "A ruler on the disc: from the middle of the hub to the middle of the pads' track.",
                Drawing::PadTrack,
            ),
            key(
                at!($table, "pad_edges"),
                "edges of the pad's track",
                Form::Quantities(Length),
                "Inner and outer edge of the pad, from the disc's centre.",
            )
            .sometimes("with a disc brake, unless effective_radius is there")
            .hard("10 mm", "320 mm")
            .usual("60 mm", "185 mm")
            .how(
                "A ruler on the disc: from the middle of the hub to both edges of the pads' track.",
                Drawing::PadTrack,
            ),
            quantity(
                at!($table, "pad.friction"),
                "friction of the pads, warm",
                Ratio,
                "Warm friction of pad on disc.",
            )
            .sometimes("with a disc brake")
            .hard("0.05", "1.0")
            .usual("0.28", "0.62")
            .default("0.40 ± 0.08", "from memory: road 0.3 to 0.4, competition above")
            .way(WRENCH),
            quantity(
                at!($table, "pad.cold_friction"),
                "friction of the pads, cold",
                Ratio,
                "Friction of a cold pad.",
            )
            .hard("0.03", "1.0")
            .usual("0.18", "0.55")
            .default(COLD_RULE, MEMORY_JUDGEMENT)
            .way(WRENCH_COLD),
            key(
                at!($table, "pad.friction_at"),
                "friction of the pads by temperature",
                CURVE,
                "Friction over temperature, from the maker's curve.",
            )
            .hard("-60 C", "1200 C")
            .way(FRICTION_CURVE),
            quantity(
                at!($table, "pad.thickness"),
                "thickness of the pad",
                Length,
                "Of the friction material as it is now.",
            )
            .hard("0.5 mm", "40 mm")
            .usual("3 mm", "20 mm")
            .default("10 mm ± 2 mm", MEMORY_JUDGEMENT)
            .how(
                "A vernier on the friction material, its back plate not counted.",
                Drawing::Disc,
            ),
            quantity(
                at!($table, "volume.clearance"),
                "clearance",
                Length,
                "Disc: pad to disc, each side. Drum: travel of each cylinder piston.",
            )
            .hard("0 mm", "5 mm")
            .usual("0.02 mm", "0.6 mm")
            .default(
                "by rule: 0.10 mm ± 0.05 mm at a pad, 0.30 mm ± 0.15 mm at a drum's piston",
                MEMORY_JUDGEMENT,
            )
            .way(SLOW_PULL),
            quantity(
                at!($table, "volume.flex"),
                "flex",
                Flex,
                "Volume that one caliper or wheel cylinder takes per pressure, without its hose.",
            )
            .hard("0 cm3/bar", "1 cm3/bar")
            .usual("0.002 cm3/bar", "0.04 cm3/bar")
            .default($flex, MEMORY_JUDGEMENT)
            .way(SLOW_PULL),
        ]
    };
}

/// What only an axle's own brake has: its kind and its disc.
macro_rules! axle_keys {
    ($table:literal, disc: $mass:literal, vented: $vented:literal, $vented_source:literal) => {
        [
            key(
                at!($table, "kind"),
                "kind of brake",
                Form::Word(&["disc", "drum"]),
                "disc or drum.",
            )
            .always()
            .how(
                "Look through the wheel: a disc with a caliper, or a closed drum.",
                Drawing::Caliper,
            ),
            quantity(
                at!($table, "disc.mass"),
                "weight of the disc",
                Mass,
                "Of the disc, with its bell.",
            )
            .hard("0.3 kg", "40 kg")
            .usual("2.5 kg", "12 kg")
            .default($mass, MEMORY_JUDGEMENT)
            .how(
                "A luggage scale under a spare disc, bell and all.",
                Drawing::Weight,
            ),
            quantity(
                at!($table, "disc.outer_diameter"),
                "outer diameter of the disc",
                Length,
                "Outer edge of the friction ring.",
            )
            .hard("80 mm", "600 mm")
            .usual("220 mm", "380 mm")
            .how("A ruler across the disc.", Drawing::Disc),
            quantity(
                at!($table, "disc.inner_diameter"),
                "inner diameter of the track",
                Length,
                "Inner edge of the friction ring.",
            )
            .hard("30 mm", "550 mm")
            .usual("120 mm", "230 mm")
            .how("A ruler across the inner edge of the pads' track.", Drawing::Disc),
            quantity(
                at!($table, "disc.thickness"),
                "thickness of the disc",
                Length,
                "Over both faces.",
            )
            .hard("2 mm", "60 mm")
            .usual("7 mm", "36 mm")
            .default(
                "by rule: 22 mm ± 3 mm vented, 10 mm ± 2 mm solid",
                MEMORY_JUDGEMENT,
            )
            .how("A vernier over both faces, inside the worn edge.", Drawing::Disc),
            key(
                at!($table, "disc.vented"),
                "vented disc",
                Form::Flag,
                "Whether air passes between the faces.",
            )
            .default($vented, $vented_source)
            .how(
                "Look at the disc's edge: open between its faces, or not.",
                Drawing::Disc,
            ),
        ]
    };
}

/// What a drum brake has.
macro_rules! drum_keys {
    ($table:literal) => {
        [
            quantity(at!($table, "cylinder_bore"), "bore of the wheel cylinder", Length, "Of the wheel cylinder.")
                .sometimes("with a drum brake")
                .hard("8 mm", "60 mm")
                .usual("14 mm", "32 mm").how("Read the size cast into the wheel cylinder; or a vernier on its piston.", Drawing::Bore),
            quantity(at!($table, "drum_radius"), "radius of the drum", Length, "Inside of the drum.")
                .sometimes("with a drum brake")
                .hard("40 mm", "300 mm")
                .usual("85 mm", "150 mm").how("Drum off: a ruler across its inside, halved.", Drawing::Drum),
            key(
                at!($table, "shoes"), "kind of shoes",
                Form::Word(&["leading-trailing", "two-leading", "servo"]),
                "How the shoes are worked.",
            )
            .default("leading-trailing", "left out: the common kind").how("Drum off, look: one cylinder pushing both shoes, a cylinder for each shoe, or shoes that push each other.", Drawing::Drum),
            quantity(
                at!($table, "lining.friction"), "friction of the linings, warm",
                Ratio,
                "Warm friction of lining on drum.",
            )
            .sometimes("with a drum brake")
            .hard("0.05", "1.0")
            .usual("0.25", "0.5")
            .default("0.35 ± 0.06", "from memory: road linings").way(WRENCH),
            quantity(
                at!($table, "lining.cold_friction"), "friction of the linings, cold",
                Ratio,
                "Friction of a cold lining.",
            )
            .hard("0.03", "1.0")
            .usual("0.18", "0.5")
            .default(COLD_RULE, MEMORY_JUDGEMENT).way(WRENCH_COLD),
            key(
                at!($table, "lining.friction_at"), "friction of the linings by temperature",
                CURVE,
                "Friction over temperature, from the maker's curve.",
            )
            .hard("-60 C", "1200 C").way(FRICTION_CURVE),
            quantity(at!($table, "drum.mass"), "weight of the drum", Mass, "Of the drum.")
                .hard("0.3 kg", "40 kg")
                .usual("3 kg", "10 kg")
                .default("5 kg ± 1.5 kg", MEMORY_JUDGEMENT).how("A luggage scale under a spare drum.", Drawing::Weight),
            quantity(at!($table, "drum.width"), "width of the drum", Length, "Of the drum's friction face.")
                .hard("10 mm", "200 mm")
                .usual("25 mm", "70 mm")
                .default("40 mm ± 8 mm", MEMORY_JUDGEMENT).how("Drum off: a ruler across its worn face.", Drawing::Drum),
            key(
                at!($table, "adjust"), "adjuster",
                Form::Word(&["lever-ratchet", "automatic", "manual"]),
                "What takes up the wear of the linings. lever-ratchet: the parking cable's lever does.",
            )
            .default("manual", "left out: taken as by hand").how("Drum off, look: a ratchet on the cable's lever, a ratchet of its own, or a wheel turned from outside.", Drawing::Drum),
            quantity(
                at!($table, "shoe_factor"), "shoe factor",
                Ratio,
                "Drum friction force over applied force, at the friction of the lining when warm.",
            )
            .as_text("Or give `shoe`.")
            .sometimes("with a drum brake, unless shoe is there")
            .hard("0.1", "12")
            .usual("1", "5").way(WRENCH),
            quantity(
                at!($table, "shoe.pivot_radius"), "drum centre to shoe pivot",
                Length,
                "Drum centre to the shoe's pivot.",
            )
            .sometimes("with a drum brake, unless shoe_factor is there")
            .hard("10 mm", "300 mm")
            .usual("60 mm", "130 mm").how("Drum off: a ruler from the middle of the hub to the shoe's pivot.", Drawing::Shoe),
            quantity(
                at!($table, "shoe.heel"), "start of the lining",
                Angle,
                "Where the lining starts, from the line through the pivot.",
            )
            .sometimes("with a drum brake, unless shoe_factor is there")
            .hard("0 deg", "170 deg")
            .usual("8 deg", "50 deg").how("Drum off: a protractor at the middle of the hub, from the line through the pivot to the lining's start.", Drawing::Shoe),
            quantity(
                at!($table, "shoe.toe"), "end of the lining",
                Angle,
                "Where the lining ends, from the line through the pivot.",
            )
            .sometimes("with a drum brake, unless shoe_factor is there")
            .hard("5 deg", "180 deg")
            .usual("90 deg", "150 deg").how("Drum off: a protractor at the middle of the hub, from the line through the pivot to the lining's end.", Drawing::Shoe),
            quantity(
                at!($table, "shoe.force_arm"), "pivot to the cylinder's line",
                Length,
                "Pivot to the line of the wheel cylinder's force.",
            )
            .sometimes("with a drum brake, unless shoe_factor is there")
            .hard("10 mm", "600 mm")
            .usual("120 mm", "240 mm").how("Drum off: a ruler from the pivot straight across to the line of the cylinder.", Drawing::Shoe),
        ]
    };
}

const FRONT_DISCS: [Key; 6] =
    axle_keys!("front_brake", disc: "6.5 kg ± 1.5 kg", vented: "true", "left out: taken as vented in front");
const FRONT_DRUMS: [Key; 14] = drum_keys!("front_brake");
const FRONT_CALIPERS: [Key; 11] = caliper_keys!("front_brake", flex: "0.010 cm3/bar ± 0.004 cm3/bar");
const REAR_DISCS: [Key; 6] =
    axle_keys!("rear_brake", disc: "4.5 kg ± 1.2 kg", vented: "false", "left out: taken as solid behind");
const REAR_DRUMS: [Key; 14] = drum_keys!("rear_brake");
const REAR_CALIPERS: [Key; 11] = caliper_keys!("rear_brake", flex: "0.008 cm3/bar ± 0.004 cm3/bar");
const SECOND_CALIPERS: [Key; 11] = caliper_keys!("lever_brake", flex: "0.008 cm3/bar ± 0.004 cm3/bar");

/// The front axle's discs.
pub(super) const FRONT_DISC: &[Key] = &FRONT_DISCS;
/// The front axle's drums.
pub(super) const FRONT_DRUM: &[Key] = &FRONT_DRUMS;
/// The front axle's calipers, and what they take.
pub(super) const FRONT_CALIPER: &[Key] = &FRONT_CALIPERS;
/// The rear axle's discs.
pub(super) const REAR_DISC: &[Key] = &REAR_DISCS;
/// The rear axle's drums.
pub(super) const REAR_DRUM: &[Key] = &REAR_DRUMS;
/// The rear axle's calipers, and what they take.
pub(super) const REAR_CALIPER: &[Key] = &REAR_CALIPERS;
/// What kind a separate lever's own brakes are.
pub(super) const SECOND_KIND: &[Key] = &[key(
    "lever_brake.kind",
    "kind of brake",
    Form::Word(&["disc"]),
    "A separate lever's own second calipers.",
)
.default("disc", "a second caliper on the rear disc")];
/// A separate lever's second calipers.
pub(super) const SECOND_CALIPER: &[Key] = &SECOND_CALIPERS;
