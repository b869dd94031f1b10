//! What is asked first of a new car: six questions, one tap each. Their answers decide which keys its sheet begins with.

/// A question about what kind of car it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FirstQuestion {
    /// Its name in a form.
    pub name: &'static str,
    /// As it is asked.
    pub asks: &'static str,
    /// What may be answered.
    pub answers: &'static [FirstAnswer],
}

/// One answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FirstAnswer {
    /// Its name in a form.
    pub word: &'static str,
    /// In a few words.
    pub says: &'static str,
    /// How to tell it by looking.
    pub told_by: &'static str,
    /// What it decides: keys of the sheet and their words.
    pub decides: &'static [(&'static str, &'static str)],
}

impl FirstQuestion {
    /// The answer of that name.
    #[must_use]
    pub fn answer(&self, word: &str) -> Option<&'static FirstAnswer> {
        self.answers.iter().find(|answer| answer.word == word)
    }
}

const fn answer(
    word: &'static str,
    says: &'static str,
    told_by: &'static str,
    decides: &'static [(&'static str, &'static str)],
) -> FirstAnswer {
    FirstAnswer {
        word,
        says,
        told_by,
        decides,
    }
}

/// The six questions, in the order in which they are asked.
pub const FIRST_QUESTIONS: &[FirstQuestion] = &[
    FirstQuestion {
        name: "driven",
        asks: "Which wheels are driven?",
        answers: &[
            answer(
                "front",
                "front",
                "drive shafts to the front wheels alone",
                &[("drivetrain.driven", "front")],
            ),
            answer(
                "rear",
                "rear",
                "drive shafts to the rear wheels, or a live axle",
                &[("drivetrain.driven", "rear")],
            ),
            answer(
                "all",
                "all four",
                "drive shafts to all four wheels",
                &[("drivetrain.driven", "all")],
            ),
        ],
    },
    FirstQuestion {
        name: "behind",
        asks: "What brakes the rear wheels?",
        answers: &[
            answer(
                "disc",
                "discs",
                "a disc with a caliper",
                &[("rear_brake.kind", "disc")],
            ),
            answer(
                "drum",
                "drums",
                "a closed drum, shoes inside",
                &[("rear_brake.kind", "drum")],
            ),
            answer(
                "drum-in-disc",
                "discs, a small drum in each",
                "a caliper, and a cable to a drum inside the disc",
                &[
                    ("rear_brake.kind", "disc"),
                    ("rear_brake.caliper.parking_mechanism", "drum-in-disc"),
                ],
            ),
        ],
    },
    FirstQuestion {
        name: "split",
        asks: "How are the two circuits split?",
        answers: &[
            answer(
                "axle",
                "front and rear",
                "one cylinder; one outlet feeds both front wheels",
                &[("master.kind", "tandem"), ("master.split", "axle")],
            ),
            answer(
                "diagonal",
                "corner to corner",
                "one cylinder; each outlet feeds a front wheel and the rear wheel across",
                &[("master.kind", "tandem"), ("master.split", "diagonal")],
            ),
            answer(
                "twin",
                "two cylinders and a bar",
                "two cylinders side by side, a balance bar at the pedal",
                &[("master.kind", "twin"), ("master.split", "axle")],
            ),
        ],
    },
    FirstQuestion {
        name: "booster",
        asks: "Is there a brake booster?",
        answers: &[
            answer(
                "fitted",
                "yes",
                "a large round can between pedal and master cylinder",
                &[("pedal.booster", "fitted")],
            ),
            answer(
                "none",
                "no",
                "the push rod goes straight into the cylinder",
                &[("pedal.booster", "none")],
            ),
        ],
    },
    FirstQuestion {
        name: "valve",
        asks: "Is there a bias valve in the rear line?",
        answers: &[
            answer(
                "none",
                "no",
                "the pipe runs to the rear without one",
                &[("bias_valve.kind", "none")],
            ),
            answer(
                "adjustable",
                "with a knob or lever",
                "one that is set by hand",
                &[("bias_valve.kind", "adjustable")],
            ),
            answer(
                "fixed",
                "fixed",
                "a closed lump of brass; the rear rises slower above its knee",
                &[("bias_valve.kind", "fixed")],
            ),
            answer(
                "limiting",
                "limiting",
                "a closed lump of brass; the rear rises no further above its knee",
                &[("bias_valve.kind", "limiting")],
            ),
            answer(
                "load-sensing",
                "moved by the axle",
                "a rod or spring ties it to the rear axle",
                &[("bias_valve.kind", "load-sensing")],
            ),
        ],
    },
    FirstQuestion {
        name: "lever",
        asks: "How does the handbrake work?",
        answers: &[
            answer(
                "inline",
                "cylinder in the rear line",
                "its pipe is cut into the pipe to the rear brakes",
                &[("lever.kind", "inline")],
            ),
            answer(
                "separate",
                "calipers of its own",
                "its own fluid, its own second pair of calipers",
                &[("lever.kind", "separate")],
            ),
            answer("cable", "cable", "no pipe at all", &[("lever.kind", "cable")]),
            answer(
                "none",
                "none yet",
                "there is no lever in the car",
                &[("lever.kind", "none")],
            ),
        ],
    },
];
