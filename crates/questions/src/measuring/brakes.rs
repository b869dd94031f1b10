//! Discs, calipers, drums.

use assess::cautions::{DUST, GAUGE, PULLED, RAISED};
use engine::car::Drawing;
use engine::lining::friction_radius;
use quantity::Dimension;
use quantity::si::Length;

use super::sum::{Sum, SumReading, Work};
use super::{COMMON, Card};

pub(super) const KIND: Card = Card {
    drawing: Drawing::Caliper,
    tool: "A lamp; the wheel off where it hides the brake.",
    steps: &[
        "Look through the wheel: a disc with a caliper, or a closed drum.",
        "Pistons on both sides of the disc: opposed. On one side, the body on pins: sliding.",
        "A cable to the caliper, or to a small drum inside the disc: that is for parking.",
    ],
    cautions: &[RAISED],
    trick: "A mirror and a lamp show the inner side without taking the wheel off.",
    source: COMMON,
    sums: &[],
};

pub(super) const PAD_TRACK: Card = Card {
    drawing: Drawing::PadTrack,
    tool: "A steel ruler.",
    steps: &[
        "Wheel off. Look for the bright track that the pads leave on the disc.",
        "From the middle of the hub to the inner edge of the track, then to its outer edge.",
        "Write both on the sheet as pad edges, or the radius that they give.",
    ],
    cautions: &[RAISED, "Let the disc cool: it burns skin long after a stop."],
    trick: "Hub in the way: measure across the whole track to both outer edges, and halve it.",
    source: "Bhandari, Design of Machine Elements, brakes, example 12.12: even pressure over the pad",
    sums: &[Sum {
        title: "Effective radius",
        asks: &[
            SumReading::length("a", "middle of the hub to the inner edge"),
            SumReading::length("b", "middle of the hub to the outer edge"),
        ],
        formula: "⅔ × (b³ − a³) / (b² − a²)",
        key: "effective_radius",
        dimension: Dimension::Length,
        work: Work::Figures(|read| {
            let &[inner, outer] = read else { return None };
            (inner > 0.0 && outer > inner)
                .then(|| friction_radius(Length::from_m(inner), Length::from_m(outer)).m())
        }),
    }],
};

pub(super) const DISC: Card = Card {
    drawing: Drawing::Disc,
    tool: "A ruler and a vernier.",
    steps: &[
        "A ruler across the disc, through its middle: outer edge, then inner edge of the ring.",
        "Thickness: a vernier over both faces, inside the worn lip. Air between the faces: vented.",
        "Pads: the friction material alone, at its thinnest place.",
    ],
    cautions: &[RAISED, DUST],
    trick: "Worn lip in the way: two coins on the faces, and subtract them.",
    source: COMMON,
    sums: &[],
};

pub(super) const WRENCH: Card = Card {
    drawing: Drawing::Wrench,
    tool: "A torque wrench, a gauge at this wheel's nipple, a pedal prop or the latched lever.",
    steps: &[
        "Wheel off the ground on a stand, gearbox in neutral. Brake warm; or stone cold for cold friction.",
        "Hold the pressure, read the gauge. Turn the hub with the wrench: read it as the wheel slips.",
        "Both sides, three times. Put pressure and torque on the sheet: friction follows from them.",
    ],
    cautions: &[RAISED, PULLED, GAUGE],
    trick: "No torque wrench: a luggage scale on a bar of known length, pulled square.",
    source: COMMON,
    sums: &[],
};

pub(super) const DRUM: Card = Card {
    drawing: Drawing::Drum,
    tool: "A ruler or a vernier, the drum off.",
    steps: &[
        "Across the inside of the drum, through its middle. Half of it is the radius.",
        "Across the worn face: its width.",
        "Look: one cylinder for both shoes, one for each, or shoes that push each other. See what adjusts them.",
    ],
    cautions: &[RAISED, DUST],
    trick: "The largest size allowed is cast into the drum: yours lies just under it.",
    source: COMMON,
    sums: &[Sum {
        title: "Radius of the drum",
        asks: &[SumReading::length("a", "inside of the drum, across")],
        formula: "a / 2",
        key: "drum_radius",
        dimension: Dimension::Length,
        work: Work::Figures(|read| {
            let &[across] = read else { return None };
            (across > 0.0).then_some(across / 2.0)
        }),
    }],
};

pub(super) const SHOE: Card = Card {
    drawing: Drawing::Shoe,
    tool: "A ruler, a protractor, a straight edge.",
    steps: &[
        "Drum off. From the middle of the hub to the shoe's pivot; the straight edge along that line.",
        "Protractor at the hub: angles from that line to the lining's start and to its end.",
        "From the pivot straight across to the line in which the wheel cylinder pushes.",
    ],
    cautions: &[RAISED, DUST],
    trick: "A photo taken square on, with a ruler in it, can be measured at the table.",
    source: COMMON,
    sums: &[],
};
