//! The car as a whole.

use assess::cautions::RAISED as RAISED_CAR;
use engine::car::Drawing;
use engine::measuring::{AxleRaised, grip_of_stop, rolling_radius};
use quantity::Dimension;
use quantity::si::{Length, Mass, Speed};

use super::sum::{Sum, SumReading, Work};
use super::{COMMON, Card};

pub(super) const SCALES: Card = Card {
    drawing: Drawing::Scales,
    tool: "Four flat scales, borrowed or hired. Or two, and two boards as thick as they are.",
    steps: &[
        "Level floor, tyres at their pressure, fluids in, nobody aboard. Roll the car on, brakes off.",
        "Add the two front scales, then the two rear ones. Note how much fuel is in.",
        "Roll it off, on again, and read once more. Two readings apart by more than 5 kg: look at the floor.",
    ],
    cautions: &["Chock the car once it stands on the scales, and let nobody lean on it."],
    trick: "No scales: a weighbridge takes one axle at a time. Keep both ends level.",
    source: COMMON,
    sums: &[],
};

pub(super) const RAISED: Card = Card {
    drawing: Drawing::Raised,
    tool: "The scales of the weighing, blocks for one axle, a tape, a strap.",
    steps: &[
        "Block the suspension at its ride height. Tank full or empty. Weigh the front axle, level.",
        "Raise the rear wheels on blocks, a fifth of the wheelbase or more. Measure how far the hubs went up.",
        "Front wheels free on the same scales: read what they gained. Do it twice.",
    ],
    cautions: &[
        RAISED_CAR,
        "Raise it on broad blocks or a ramp that carries the axle, with a strap that holds the car.",
        "Leave this to a workshop with a lift and corner scales where you have neither.",
    ],
    trick: "Nothing to raise it safely: keep the guess. It is wide, and the answer says what it costs.",
    source: "closed form: moments about the standing axle",
    sums: &[Sum {
        title: "Height of the centre of gravity",
        asks: &[
            SumReading::of("front", "what the front axle weighs, level", Dimension::Mass)
                .taken_from("weighed.front"),
            SumReading::of("rear", "what the rear axle weighs, level", Dimension::Mass)
                .taken_from("weighed.rear"),
            SumReading::of("a", "what the standing axle's scales gained", Dimension::Mass),
            SumReading::length("H", "how far the other axle's hubs went up"),
            SumReading::length("wheelbase", "front hub to rear hub").taken_from("geometry.wheelbase"),
            SumReading::length("radius", "rolling radius of the tyres").taken_from("tyres.rolling_radius"),
        ],
        formula: "radius + a × wheelbase × √(wheelbase² − H²) / ((front + rear) × H)",
        key: "weighed.cg_height",
        dimension: Dimension::Length,
        work: Work::Figures(|read| {
            let &[front, rear, gain, by, wheelbase, radius] = read else {
                return None;
            };
            let raised = AxleRaised {
                front: Mass::from_kg(front),
                rear: Mass::from_kg(rear),
                gain: Mass::from_kg(gain),
                by: Length::from_m(by),
                wheelbase: Length::from_m(wheelbase),
                front_radius: Length::from_m(radius),
                rear_radius: Length::from_m(radius),
            };
            raised.cg_height().map(Length::m)
        }),
    }],
};

pub(super) const WHEELBASE: Card = Card {
    drawing: Drawing::Wheelbase,
    tool: "Two plumb lines, chalk and a tape.",
    steps: &[
        "Wheels straight, the car rolled a metre and let stand.",
        "Hang a plumb line from the middle of each hub, and chalk where it meets the floor.",
        "Tape from mark to mark, on both sides. Their mean is the wheelbase.",
    ],
    cautions: &[],
    trick: "No plumb line: a nut on a string.",
    source: COMMON,
    sums: &[],
};

pub(super) const TRACKS: Card = Card {
    drawing: Drawing::Tracks,
    tool: "Chalk and a tape.",
    steps: &[
        "Wheels straight. Roll the car a metre, so that the tyres stand as they run.",
        "Chalk the middle of both treads on the floor, in front of the tyres.",
        "Roll the car off, and tape from mark to mark.",
    ],
    cautions: &[],
    trick: "Same tyres left and right: from the left wall of one to the left wall of the other.",
    source: COMMON,
    sums: &[],
};

pub(super) const WEIGHT: Card = Card {
    drawing: Drawing::Weight,
    tool: "A bathroom scale for people and boxes, a luggage scale for parts.",
    steps: &[
        "People: in suit, helmet and shoes, one after the other. Add them.",
        "Parts: hang them from the luggage scale, clear of the floor, and wait until it stands still.",
        "Read twice. Hang it from a beam, not from your hand.",
    ],
    cautions: &["A disc or drum is heavier than it looks: lift it with straight back, and mind your feet."],
    trick: "Too light for the scale: step on it with the part and without, and subtract.",
    source: COMMON,
    sums: &[],
};

pub(super) const ABOARD: Card = Card {
    drawing: Drawing::Aboard,
    tool: "A plumb line, a tape and chalk.",
    steps: &[
        "Plumb line from the front hub: chalk that point on the floor.",
        "Plumb line from the hips of the crew as they sit, or from the middle of tank or item. Chalk it too.",
        "Tape along the car between the marks. Then from the floor up to the same middle.",
    ],
    cautions: &[],
    trick: "Ahead of the front hub counts as negative.",
    source: COMMON,
    sums: &[],
};

pub(super) const TANK: Card = Card {
    drawing: Drawing::Tank,
    tool: "A can with marks, or the pump's own counter.",
    steps: &[
        "Run the tank down, drain the rest into the can, and note how much came.",
        "Fill to the neck, counting cans or the pump's litres.",
        "For what was aboard while it was weighed: drain and measure, or read the gauge and say how sure.",
    ],
    cautions: &[
        "Petrol vapour burns far from where it was spilt. Outdoors, no flame, no phone, cold engine, extinguisher by.",
    ],
    trick: "The maker's plate on a competition tank says what it holds.",
    source: COMMON,
    sums: &[],
};

pub(super) const TYRE: Card = Card {
    drawing: Drawing::Tyre,
    tool: "Chalk and a tape; or the label on the tyre.",
    steps: &[
        "Tyres at their pressure, driver aboard. Chalk one mark on tyre and floor.",
        "Push the car straight until the mark is down again. Two turns are better than one.",
        "Tape from mark to mark. The way over the turns, over 6.283, is the radius.",
    ],
    cautions: &["Two people: one pushes, one sits at the brake."],
    trick: "No room to roll: read the label on the tyre's wall.",
    source: "closed form: rolling without slip; a label's sizes: ETRTO, ISO 4000, the factor from memory",
    sums: &[
        Sum {
            title: "By chalk",
            asks: &[
                SumReading::length("a", "from chalk mark to chalk mark").bare("m"),
                SumReading::of("turns", "turns of the wheel", Dimension::Ratio),
            ],
            formula: "a / (6.283 × turns)",
            key: "",
            dimension: Dimension::Length,
            work: Work::Figures(|read| {
                let &[way, turns] = read else { return None };
                rolling_radius(Length::from_m(way), turns).map(Length::m)
            }),
        },
        Sum {
            title: "By its label",
            asks: &[SumReading::text("label", "as on the tyre: 195/65 R15")],
            formula: "0.97 × (rim / 2 + width × height)",
            key: "",
            dimension: Dimension::Length,
            work: Work::Label,
        },
    ],
};

pub(super) const STOP: Card = Card {
    drawing: Drawing::Stop,
    tool: "A long tape, a cone, a speed that is known.",
    steps: &[
        "On the surface in question, flat and straight: 40 km/h at the cone, then brake just short of locking.",
        "Tape from the cone to the same point of the car. Three stops, both directions.",
        "Take the mean of all. 6.3 m over it is the grip.",
    ],
    cautions: &[
        "Only on a closed, empty place, belted and helmeted, with room to run out. Try it at walking pace first.",
    ],
    trick: "No such place: take the built-in surface most like it.",
    source: "closed form: even deceleration on the level; drag of air and rolling counts as grip",
    sums: &[Sum {
        title: "Grip of a stop",
        asks: &[
            SumReading::of("speed", "speed at the cone", Dimension::Speed).bare("km/h"),
            SumReading::length("a", "from the cone to where it stopped").bare("m"),
        ],
        formula: "speed² / (2 × 9.81 m/s² × a)",
        key: "",
        dimension: Dimension::Ratio,
        work: Work::Figures(|read| {
            let &[speed, way] = read else { return None };
            grip_of_stop(Speed::from_m_s(speed), Length::from_m(way))
        }),
    }],
};
