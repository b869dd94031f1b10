//! The bias valve.

use assess::cautions::{GAUGE, RAISED};
use engine::car::Drawing;

use super::{COMMON, Card};

pub(super) const KNOB: Card = Card {
    drawing: Drawing::Knob,
    tool: "Your hand, and a dab of paint.",
    steps: &[
        "Note how it stands. Turn the knob fully out, counting: that is the setting.",
        "Turn it fully in and count all turns. Of a stepped lever count the notches.",
        "Set it back to where it stood, and mark it with paint.",
    ],
    cautions: &["Set it back before the car moves: a valve left fully in lets the rear lock first."],
    trick: "No knob and no lever: a rod to the axle means load-sensing, none means fixed or limiting.",
    source: COMMON,
    sums: &[],
};

pub(super) const TWO_GAUGES: Card = Card {
    drawing: Drawing::ValveGauges,
    tool: "Two gauges on tees or at nipples.",
    steps: &[
        "One gauge before the valve, one behind it. Bleed both.",
        "Press slowly. Where the second begins to lag is the knee: once knob fully out, once fully in.",
        "Go on to twice the knee and read both: their rises above it give the slope.",
    ],
    cautions: &[GAUGE],
    trick: "One gauge: a front nipple first, then a rear one, at the same foot on a bathroom scale.",
    source: COMMON,
    sums: &[],
};

pub(super) const LOAD: Card = Card {
    drawing: Drawing::LoadValve,
    tool: "Two gauges, and a scale under each rear wheel.",
    steps: &[
        "Rear wheels on scales, the car level. One gauge before the valve, one behind it.",
        "Light: read the rear load, press slowly, note where the second gauge lags.",
        "Laden with sandbags over the rear axle: the same again. The rod stays as it is.",
    ],
    cautions: &[GAUGE, RAISED],
    trick: "No scales: weigh the sandbags on a bathroom scale, and add them to the weighed rear axle.",
    source: COMMON,
    sums: &[],
};
