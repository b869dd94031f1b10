//! Differentials, shafts and the centre coupling.

use assess::cautions::{PULLED, RAISED, TURNED};
use engine::car::Drawing;
use quantity::Dimension;

use super::sum::{Sum, SumReading, Work};
use super::{COMMON, Card};

pub(super) const DIFFERENTIAL: Card = Card {
    drawing: Drawing::Differential,
    tool: "A jack, a stand, chocks; a torque wrench for plates and viscous ones.",
    steps: &[
        "Gearbox in neutral, one wheel of the axle off the ground, the others chocked. Turn it by hand.",
        "Turns freely: open. Drags: plates or viscous. Cannot turn: locked.",
        "Plates: read the wrench as it slips. Viscous: two or three steady speeds, counted with a watch.",
    ],
    cautions: &[RAISED, TURNED, PULLED],
    trick: "Torque falls when it is turned more slowly: viscous. It stays: plates.",
    source: COMMON,
    sums: &[],
};

pub(super) const CENTRE: Card = Card {
    drawing: Drawing::Centre,
    tool: "Two jacks, two stands, chocks, a helper.",
    steps: &[
        "Gearbox in neutral. One front and one rear wheel of one side up on stands, the others chocked.",
        "Turn the rear wheel by hand while somebody watches the front one.",
        "It stays: open. At once: locked. Slowly: viscous. Until it slips: plates.",
    ],
    cautions: &[RAISED, TURNED],
    trick: "A disengaging centre: try it with the lever at rest, and again with its switch made.",
    source: COMMON,
    sums: &[],
};

pub(super) const WRENCH: Card = Card {
    drawing: Drawing::CentreWrench,
    tool: "A jack, a stand, chocks, a torque wrench, a watch.",
    steps: &[
        "Gearbox in neutral, front wheels chocked, one rear wheel off the ground.",
        "Wrench on its hub: plates, read as it slips; viscous, two or three steady speeds.",
        "At the shaft of an open rear differential: twice the reading, over the final drive.",
    ],
    cautions: &[RAISED, TURNED, PULLED],
    trick: "No torque wrench: say how it feels by hand, soft, middle or stiff. It is a wide guess.",
    source: COMMON,
    sums: &[],
};

pub(super) const SHAFTS: Card = Card {
    drawing: Drawing::Shafts,
    tool: "A lamp, chalk, a helper.",
    steps: &[
        "Look under the car: which axles have drive shafts, and where the coupling sits.",
        "Chalk on the shaft and on a wheel. Turn both wheels of the axle by one turn.",
        "Count the turns of shaft, coupling or crank meanwhile. Ten turns are better than one.",
    ],
    cautions: &[RAISED, TURNED],
    trick: "The final drive's teeth are often stamped on its case: the larger number over the smaller.",
    source: "closed form: turns over turns",
    sums: &[Sum {
        title: "Turns to a turn",
        asks: &[
            SumReading::of("shaft", "turns of the shaft or coupling", Dimension::Ratio),
            SumReading::of(
                "wheel",
                "turns of both wheels, or of the shaft behind it",
                Dimension::Ratio,
            ),
        ],
        formula: "shaft / wheel",
        key: "",
        dimension: Dimension::Ratio,
        work: Work::Figures(|read| {
            let &[shaft, wheel] = read else { return None };
            (shaft > 0.0 && wheel > 0.0).then(|| shaft / wheel)
        }),
    }],
};

pub(super) const FILM: Card = Card {
    drawing: Drawing::Film,
    tool: "A phone that films in slow motion, chalk on the shaft.",
    steps: &[
        "Phone on a block, switch and chalk in one picture. Wheels off the ground, shaft turned by hand.",
        "Film while somebody makes the switch.",
        "Count frames from the click until the shaft slips. Over frames a second it is the time.",
    ],
    cautions: &[RAISED, TURNED],
    trick: "Switch out of the picture: a lamp wired to it, held beside the shaft.",
    source: "closed form: frames over frames a second",
    sums: &[Sum {
        title: "Time to let go",
        asks: &[
            SumReading::of("frames", "frames from click to slip", Dimension::Ratio),
            SumReading::of("rate", "frames a second", Dimension::Ratio),
        ],
        formula: "frames / rate",
        key: "centre.in",
        dimension: Dimension::Duration,
        work: Work::Figures(|read| {
            let &[frames, rate] = read else { return None };
            (frames >= 0.0 && rate > 0.0).then(|| frames / rate)
        }),
    }],
};
