//! The handbrake.

use assess::cautions::{EVENT, FLUID, GAUGE, PULLED};
use engine::car::Drawing;
use engine::measuring::cable_efficiency;
use quantity::Dimension;
use quantity::si::Force;

use super::foot::RATIO_WORK;
use super::sum::{Sum, SumReading, Work};
use super::{COMMON, Card};

pub(super) const KIND: Card = Card {
    drawing: Drawing::LeverKind,
    tool: "A lamp and your fingers.",
    steps: &[
        "Follow the pipe of the lever's cylinder. Into the rear line: inline.",
        "To calipers of its own: separate. No pipe at all: cable.",
        "Follow the rear line from the master cylinder. Note which comes first, valve or lever.",
    ],
    cautions: &["Under the car only on jack stands that carry it, on hard ground."],
    trick: "Pull the lever and feel with the other hand which line or cable tightens.",
    source: COMMON,
    sums: &[],
};

pub(super) const RATIO: Card = Card {
    drawing: Drawing::LeverRatio,
    tool: "A tape or a ruler.",
    steps: &[
        "From the middle of the pivot to the middle of the grip.",
        "From the pivot to the pin of the push rod, straight across the rod.",
        "The first over the second. Or the travel of grip and rod, near the middle of the stroke.",
    ],
    cautions: &[],
    trick: "Several holes for the rod: measure each, and note which one is in use.",
    source: "closed form: a stiff lever turns by one angle",
    sums: &[Sum {
        title: "Lever ratio",
        asks: &[
            SumReading::length("a", "pivot to grip, or travel of the grip"),
            SumReading::length("b", "pivot to push rod, or travel of the rod"),
        ],
        formula: "a / b",
        key: "lever.ratio",
        dimension: Dimension::Ratio,
        work: RATIO_WORK,
    }],
};

pub(super) const FREE_PLAY: Card = Card {
    drawing: Drawing::FreePlay,
    tool: "A ruler; for the free stroke a little fluid at the inlet.",
    steps: &[
        "Free play: ruler at the grip. Move it until the push rod just begins to move.",
        "Free stroke: outlet open, fluid at the inlet. It drips through at rest.",
        "Push the rod slowly until it stops dripping: read how far the rod went.",
    ],
    cautions: &[
        FLUID,
        "No free play at all: the by-pass may stay shut, and the rear brakes drag as they warm.",
    ],
    trick: "Blow gently through a clean hose at the inlet: it stops where the by-pass is covered.",
    source: COMMON,
    sums: &[],
};

pub(super) const PULL: Card = Card {
    drawing: Drawing::HandPull,
    tool: "A luggage scale that keeps its highest reading.",
    steps: &[
        "Driver belted in, seat and wheel where they are on a stage.",
        "Hook the scale at the middle of the grip. Pull straight across the lever, as in a bend.",
        "The best of three, each held for a second. Use the other driver's too, if two drive.",
    ],
    cautions: &[PULLED],
    trick: "Scale too weak: hook it halfway down the lever, and halve what it reads.",
    source: COMMON,
    sums: &[],
};

pub(super) const SLOW_PULL: Card = Card {
    drawing: Drawing::SlowPull,
    tool: "A ruler, a gauge at a rear nipple, a luggage scale.",
    steps: &[
        "Ruler along the grip's way, zero at rest. Gauge at a rear nipple, bled.",
        "Pull slowly and stop five times or more. Read travel and pressure, and the scale if it is on.",
        "Put them on the sheet as one pull. It tells clearance, flex and air apart.",
    ],
    cautions: &[
        GAUGE,
        "Chock the wheels: the car is not to roll while you pull and let go.",
    ],
    trick: "For the front brakes do the same at the pedal, with the gauge at a front nipple.",
    source: "how the three are told apart stands in `pull`; how it is read: common practice, no source",
    sums: &[],
};

pub(super) const CABLE: Card = Card {
    drawing: Drawing::Cable,
    tool: "Two luggage scales and a ruler.",
    steps: &[
        "Ratio: slack taken up, travel of the grip over travel at the shoes or pads.",
        "One scale at the grip, the other at the end of the cable, both sides together.",
        "Pull, hold, and read both at once.",
    ],
    cautions: &[PULLED],
    trick: "One scale: read the end first, then the grip, with the cable at the same mark.",
    source: "closed form: without losses forces stand as the ratio",
    sums: &[
        Sum {
            title: "Ratio of the cable",
            asks: &[
                SumReading::length("grip", "travel of the grip"),
                SumReading::length("end", "travel at the shoes or pads"),
            ],
            formula: "grip / end",
            key: "cable.ratio",
            dimension: Dimension::Ratio,
            work: RATIO_WORK,
        },
        Sum {
            title: "What the cable leaves",
            asks: &[
                SumReading::of("a", "force at the grip", Dimension::Force),
                SumReading::of("b", "force at the cable's end", Dimension::Force),
                SumReading::of("ratio", "ratio between the two", Dimension::Ratio)
                    .taken_from("lever.cable.ratio"),
            ],
            formula: "b / (a × ratio)",
            key: "cable.efficiency",
            dimension: Dimension::Ratio,
            work: Work::Figures(|read| {
                let &[hand, end, ratio] = read else { return None };
                cable_efficiency(Force::from_n(hand), Force::from_n(end), ratio)
            }),
        },
    ],
};

pub(super) const ROOM: Card = Card {
    drawing: Drawing::Room,
    tool: "A ruler, and the driver belted in.",
    steps: &[
        "Driver in suit and helmet, belts tight, seat where it is on a stage.",
        "Grip at rest: hold the ruler along its way, zero at the grip.",
        "Pull until arm, seat, wheel or trim stops it, and read.",
    ],
    cautions: &["Pull by hand only: what flexes or breaks in the cabin does so towards the driver."],
    trick: "Two drivers: take the smaller room.",
    source: COMMON,
    sums: &[],
};

pub(super) const MOUNT: Card = Card {
    drawing: Drawing::Mount,
    tool: "A ruler and a vernier.",
    steps: &[
        "Bolts: count them, read size and grade off their heads, measure between their middles.",
        "Sheet and spreader: a vernier at an open edge or through a drilled hole.",
        "Heights: from the floor sheet to the pivot, and from the pivot to the grip, at rest.",
    ],
    cautions: &[EVENT],
    trick: "No open edge: drill where the bolt goes through anyway, and measure there.",
    source: COMMON,
    sums: &[],
};
