//! From the foot to the master cylinder.

use assess::cautions::{FLUID, GAUGE};
use engine::car::Drawing;
use engine::measuring::{front_share, lever_ratio};
use quantity::Dimension;
use quantity::si::{Length, Pressure};

use super::sum::{Sum, SumReading, Work};
use super::{COMMON, Card};

/// Two arms, or two travels, of a pedal or a lever.
pub(super) const RATIO_WORK: Work = Work::Figures(|read| {
    let &[end, rod] = read else { return None };
    lever_ratio(Length::from_m(end), Length::from_m(rod))
});

pub(super) const PEDAL: Card = Card {
    drawing: Drawing::Pedal,
    tool: "A tape or a ruler.",
    steps: &[
        "From the middle of the pivot to the middle of the pad, straight across the way the foot pushes.",
        "From the pivot to the pin of the push rod, straight across the rod.",
        "The first over the second. Or the travel of pad and rod, near the middle of the stroke.",
    ],
    cautions: &[],
    trick: "Pivot out of reach: let somebody press slowly, and read the travel of pad and rod.",
    source: "closed form: a stiff lever turns by one angle",
    sums: &[Sum {
        title: "Pedal ratio",
        asks: &[
            SumReading::length("a", "pivot to pad, or travel of the pad"),
            SumReading::length("b", "pivot to push rod, or travel of the rod"),
        ],
        formula: "a / b",
        key: "pedal.ratio",
        dimension: Dimension::Ratio,
        work: RATIO_WORK,
    }],
};

pub(super) const FOOT: Card = Card {
    drawing: Drawing::Foot,
    tool: "A flat bathroom scale, a gauge for 100 bar or more, a ruler.",
    steps: &[
        "Gauge in the place of a front bleed screw. Scale between foot and pad.",
        "Hold three forces, each still for two seconds: read scale, gauge and the pad's travel.",
        "Engine on, then off with the booster emptied by five presses. Put each on the sheet as a reading.",
    ],
    cautions: &[
        GAUGE,
        "Engine running indoors: exhaust out of the building, gearbox in neutral, wheels chocked.",
    ],
    trick: "No gauge: leave the booster a guess. A scale alone tells the preload, where the pedal first moves.",
    source: COMMON,
    sums: &[],
};

pub(super) const MASTER: Card = Card {
    drawing: Drawing::Master,
    tool: "A lamp and your fingers.",
    steps: &[
        "One body with two outlets: tandem. Two bodies under one pedal: twin.",
        "Follow each outlet's pipe by hand to its wheels.",
        "One outlet to both front wheels: axle split. To one front and the other rear: diagonal.",
    ],
    cautions: &["Let the engine bay cool first.", FLUID],
    trick: "Pipe not to be seen: open one rear nipple, press gently, and see which chamber's level falls.",
    source: COMMON,
    sums: &[],
};

pub(super) const BORE: Card = Card {
    drawing: Drawing::Bore,
    tool: "A lamp; a vernier where nothing is cast in.",
    steps: &[
        "Wipe the body and look for a size: mm, or a fraction of an inch.",
        "None there: a vernier across the metal of the piston, of a spare or with the pads out.",
        "Write it as it is sold: 19.05 mm is 3/4 in.",
    ],
    cautions: &[FLUID, "Never pump a piston out with air: it leaves like a shot."],
    trick: "A piston is some hundredths smaller than its bore: take the next size that is sold.",
    source: COMMON,
    sums: &[],
};

pub(super) const STROKE: Card = Card {
    drawing: Drawing::Stroke,
    tool: "A ruler.",
    steps: &[
        "Cylinder out or pipes off, ports open, a rag under them.",
        "Mark the push rod at rest, push it slowly to the stop, mark it again.",
        "The distance is the stroke. Of a tandem it is that of both chambers together.",
    ],
    cautions: &[FLUID],
    trick: "Cylinder in the car: the maker's drawing says it.",
    source: COMMON,
    sums: &[],
};

pub(super) const BAR: Card = Card {
    drawing: Drawing::Bar,
    tool: "Two gauges.",
    steps: &[
        "A gauge at a front nipple, the other at a rear one, before any bias valve.",
        "One steady press, both read at the same moment. Three times.",
        "Turn the bar by one turn and read again: the difference is the share a turn.",
    ],
    cautions: &[GAUGE, "Set the bar back and count, before the car moves."],
    trick: "One gauge: read the front, then the rear, at the same foot on a bathroom scale.",
    source: "closed form: force is pressure times area",
    sums: &[Sum {
        title: "The front's share",
        asks: &[
            SumReading::of("front", "front gauge", Dimension::Pressure),
            SumReading::length("front-bore", "front cylinder's bore").taken_from("master.front_bore"),
            SumReading::of("rear", "rear gauge", Dimension::Pressure),
            SumReading::length("rear-bore", "rear cylinder's bore").taken_from("master.rear_bore"),
        ],
        formula: "front × bore² / (front × bore² + rear × bore²)",
        key: "front_share",
        dimension: Dimension::Ratio,
        work: Work::Figures(|read| {
            let &[front, front_bore, rear, rear_bore] = read else {
                return None;
            };
            front_share(
                Pressure::from_pa(front),
                Length::from_m(front_bore),
                Pressure::from_pa(rear),
                Length::from_m(rear_bore),
            )
        }),
    }],
};
