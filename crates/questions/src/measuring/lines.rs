//! Pipes, hoses, threads, fluid, a pressure that is held, a maker's papers.

use assess::cautions::{self, GAUGE, LATCH, STANDS};
use engine::car::Drawing;

use super::{COMMON, Card};

pub(super) const ALONG: Card = Card {
    drawing: Drawing::Lines,
    tool: "A string, a tape, a lamp.",
    steps: &[
        "Lay the string along the path, port to port, round every bend. Pinch it at both ends.",
        "Pull it straight, and tape its length. Hoses apart, fitting to fitting.",
        "On the way count the clips, and note where it runs and what guards it.",
    ],
    cautions: &[STANDS],
    trick: "Planning a new line: soft wire keeps the bends, and shows where clips go.",
    source: COMMON,
    sums: &[],
};

pub(super) const PIPE: Card = Card {
    drawing: Drawing::Pipe,
    tool: "A vernier and a magnet.",
    steps: &[
        "Clean a straight piece. Vernier across it: 4.8 mm is 3/16 in, 6.4 mm is 1/4 in.",
        "Magnet: it holds on steel, not on copper-nickel.",
        "Hoses: look at the cover, steel braid or rubber.",
    ],
    cautions: &[
        STANDS,
        "A pipe that is rusty, kinked or chafed is renewed, not measured.",
    ],
    trick: "No vernier: a drill that just enters a hole that the pipe just enters.",
    source: "3/16 in is 4.76 mm, 1/4 in is 6.35 mm: by definition of the inch",
    sums: &[],
};

pub(super) const THREAD: Card = Card {
    drawing: Drawing::Thread,
    tool: "A thread gauge and a vernier; a lamp to look into the port.",
    steps: &[
        "Vernier over the crests of the fitting's thread.",
        "Thread gauge: the blade that lies in without light between.",
        "Look into the port: funnel, cone or flat floor. `lines --seats` lists what mates.",
    ],
    cautions: &[
        cautions::FLUID,
        "Two threads that nearly fit hold once and strip later. In doubt buy the mating fitting.",
    ],
    trick: "No thread gauge: the pipe nut of a known car that runs in by fingers to its end.",
    source: COMMON,
    sums: &[],
};

pub(super) const FLUID: Card = Card {
    drawing: Drawing::Fluid,
    tool: "The bottle; a boiling-point tester if there is one.",
    steps: &[
        "Read the grade and both boiling points off the bottle that went in.",
        "Read the day off the reservoir's tag or the logbook.",
        "A tester in the reservoir tells where it boils now.",
    ],
    cautions: &[cautions::FLUID],
    trick: "Bottle gone and no tag: change the fluid, and write down what and when.",
    source: COMMON,
    sums: &[],
};

pub(super) const HELD: Card = Card {
    drawing: Drawing::Held,
    tool: "A gauge, a pedal prop or the latched lever, a watch, a thermometer.",
    steps: &[
        "Gauge at a nipple, bled. Press or pull, then set the prop or the latch.",
        "Read pressure, air and watch. Wait as long as you want to know about.",
        "Read all three again. Feel every joint before you let go.",
    ],
    cautions: &[GAUGE, LATCH],
    trick: "No prop: a strap from pedal to seat rail, pulled tight.",
    source: COMMON,
    sums: &[],
};

pub(super) const PAPERS: Card = Card {
    drawing: Drawing::Papers,
    tool: "The maker's data sheet.",
    steps: &[
        "Find the curve or the number for your very part, and note its date.",
        "Read two points or more off the curve: along the bottom, then up the side.",
        "A locking value is halved before it goes on the sheet.",
    ],
    cautions: &["A maker's curve is of a new part on a test bench: yours may lie below it."],
    trick: "No papers: keep the guess, and see what it costs the answer.",
    source: "the maker's paper is the source: name it on the sheet",
    sums: &[],
};
