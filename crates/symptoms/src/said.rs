//! What the driver says.

/// What the driver says, as the trade says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Symptom {
    /// The lever comes up far, and is firm on a second pull.
    LongThenFirm,
    /// The lever comes up further than it did.
    ComesUpFurther,
    /// It is soft all the way.
    LeverSoft,
    /// Firm, and the rear does not lock.
    FirmNoLock,
    /// It locks at walking pace and not at speed.
    WalkingPace,
    /// Fine cold, long hot.
    LongHot,
    /// One rear wheel only.
    OneSide,
    /// The rear drags after a pull.
    Drags,
    /// Pressure does not stay while the lever is held.
    WillNotHold,
    /// The pedal is long, and firm on a second press.
    PedalPumps,
    /// The pedal sinks under a steady foot.
    PedalSinks,
    /// The pedal is soft.
    PedalSoft,
    /// The pedal is hard and the car does not slow.
    PedalHard,
    /// The pedal went to the floor after a long run.
    PedalGone,
    /// It pulls to one side.
    Pulls,
    /// The rear steps out under the foot.
    RearFirst,
    /// One wheel is wet, or the reservoir falls.
    Wet,
}

/// Why the car stays where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DoNotDrive {
    /// In one sentence.
    pub because: &'static str,
}

/// A symptom that a sentence may mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Matched {
    /// Which.
    pub symptom: Symptom,
    /// How well it fits, from 0 to 1.
    pub fits: f64,
}

impl Symptom {
    /// All of them, the lever's first.
    pub const ALL: [Self; 17] = [
        Self::LongThenFirm,
        Self::ComesUpFurther,
        Self::LeverSoft,
        Self::FirmNoLock,
        Self::WalkingPace,
        Self::LongHot,
        Self::OneSide,
        Self::Drags,
        Self::WillNotHold,
        Self::PedalPumps,
        Self::PedalSinks,
        Self::PedalSoft,
        Self::PedalHard,
        Self::PedalGone,
        Self::Pulls,
        Self::RearFirst,
        Self::Wet,
    ];

    /// Its name for addresses and other programs.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::LongThenFirm => "long-then-firm",
            Self::ComesUpFurther => "comes-up-further",
            Self::LeverSoft => "lever-soft",
            Self::FirmNoLock => "firm-no-lock",
            Self::WalkingPace => "walking-pace",
            Self::LongHot => "long-hot",
            Self::OneSide => "one-side",
            Self::Drags => "drags",
            Self::WillNotHold => "will-not-hold",
            Self::PedalPumps => "pedal-pumps",
            Self::PedalSinks => "pedal-sinks",
            Self::PedalSoft => "pedal-soft",
            Self::PedalHard => "pedal-hard",
            Self::PedalGone => "pedal-gone",
            Self::Pulls => "pulls",
            Self::RearFirst => "rear-first",
            Self::Wet => "wet",
        }
    }

    /// As a driver says it.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Self::LongThenFirm => "Lever long, then firm on the second pull",
            Self::ComesUpFurther => "Lever comes up further than it did",
            Self::LeverSoft => "Lever soft all the way",
            Self::FirmNoLock => "Lever firm, the rear does not lock",
            Self::WalkingPace => "Locks at walking pace, not at speed",
            Self::LongHot => "Lever fine cold, long hot",
            Self::OneSide => "Only one rear wheel locks",
            Self::Drags => "Rear drags after a pull",
            Self::WillNotHold => "Lever held, the pressure falls",
            Self::PedalPumps => "Pedal long, then firm on the second press",
            Self::PedalSinks => "Pedal sinks under a steady foot",
            Self::PedalSoft => "Pedal soft",
            Self::PedalHard => "Pedal hard, the car does not slow",
            Self::PedalGone => "Pedal to the floor after a long run",
            Self::Pulls => "Pulls to one side under the foot",
            Self::RearFirst => "Rear steps out under the foot",
            Self::Wet => "A wheel is wet, or the reservoir falls",
        }
    }

    /// Whether it is about the handbrake.
    #[must_use]
    pub const fn is_of_lever(self) -> bool {
        matches!(
            self,
            Self::LongThenFirm
                | Self::ComesUpFurther
                | Self::LeverSoft
                | Self::FirmNoLock
                | Self::WalkingPace
                | Self::LongHot
                | Self::OneSide
                | Self::WillNotHold
        )
    }

    /// Words that mean it, beside those of the sentence itself.
    const fn words(self) -> &'static [&'static str] {
        match self {
            Self::LongThenFirm => &[
                "long",
                "then",
                "firm",
                "second",
                "pull",
                "pump",
                "pumps",
                "twice",
                "lever",
                "handbrake",
            ],
            Self::ComesUpFurther => &[
                "further",
                "higher",
                "more",
                "travel",
                "creeps",
                "longer",
                "than",
                "did",
                "lever",
                "handbrake",
            ],
            Self::LeverSoft => &["soft", "spongy", "springy", "lever", "handbrake"],
            Self::FirmNoLock => &[
                "firm",
                "hard",
                "not",
                "lock",
                "rolls",
                "nothing",
                "happens",
                "weak",
                "lever",
                "handbrake",
                "rear",
            ],
            Self::WalkingPace => &[
                "walking", "pace", "slow", "slowly", "speed", "sixty", "fast", "only", "locks", "standing",
            ],
            Self::LongHot => &[
                "hot",
                "cold",
                "warm",
                "fine",
                "long",
                "stage",
                "lever",
                "handbrake",
            ],
            Self::OneSide => &["one", "side", "only", "left", "right", "wheel", "locks", "single"],
            Self::Drags => &[
                "drags", "drag", "binds", "sticks", "stays", "smells", "smokes", "release", "after", "pull",
                "on",
            ],
            Self::WillNotHold => &[
                "hold", "holds", "held", "creeps", "rolls", "falls", "loses", "pressure", "latched", "lever",
            ],
            Self::PedalPumps => &[
                "pedal", "long", "then", "firm", "second", "press", "pump", "pumps", "up", "twice",
            ],
            Self::PedalSinks => &[
                "pedal", "sinks", "sink", "creeps", "down", "slowly", "falls", "steady",
            ],
            Self::PedalSoft => &["pedal", "soft", "spongy", "springy"],
            Self::PedalHard => &[
                "pedal", "hard", "heavy", "wooden", "stop", "slow", "not", "no", "brakes",
            ],
            Self::PedalGone => &[
                "pedal", "floor", "gone", "nothing", "boiled", "fade", "faded", "hot", "after", "stage",
                "downhill",
            ],
            Self::Pulls => &[
                "pulls", "pull", "side", "left", "right", "veers", "darts", "foot", "pedal", "braking",
            ],
            Self::RearFirst => &[
                "rear", "back", "steps", "out", "spins", "loose", "foot", "pedal", "braking", "first",
            ],
            Self::Wet => &[
                "wet",
                "leak",
                "leaks",
                "fluid",
                "drops",
                "drip",
                "reservoir",
                "level",
                "low",
                "puddle",
            ],
        }
    }

    /// What says: do not drive.
    #[must_use]
    pub const fn stop(self) -> Option<DoNotDrive> {
        let because = match self {
            Self::PedalSinks => "A pedal that sinks may be gone at the next corner.",
            Self::PedalHard => "A car that does not slow on a hard pedal is not driven to find out why.",
            Self::PedalGone => "Fluid that has boiled once boils sooner the next time.",
            Self::Wet => "Where fluid gets out, the circuit can be lost at one press.",
            Self::Pulls => "A car that darts under the foot is not driven on a road.",
            Self::Drags => "A brake that stays on overheats fluid, pads and bearing within minutes.",
            _ => return None,
        };
        Some(DoNotDrive { because })
    }
}

/// Words that say nothing about a symptom.
const EMPTY: [&str; 14] = [
    "the", "a", "an", "it", "is", "and", "i", "my", "of", "to", "under", "on", "when", "at",
];

/// Symptoms that a sentence may mean, the best fit first; empty where no word is known. A slug means its own symptom.
#[must_use]
pub fn matched(sentence: &str) -> Vec<Matched> {
    let plain = sentence.trim().to_lowercase();
    if let Some(symptom) = Symptom::ALL
        .into_iter()
        .find(|symptom| symptom.slug() == plain || symptom.said().to_lowercase() == plain)
    {
        return vec![Matched { symptom, fits: 1.0 }];
    }
    let words: Vec<&str> = plain
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty() && !EMPTY.contains(word))
        .take(60)
        .collect();
    let same = |one: &str, other: &str| {
        one == other || (one.len() > 4 && strsim::damerau_levenshtein(one, other) == 1)
    };
    // A word that few symptoms know tells more than one that all of them know.
    let weight = |word: &str| {
        let know = Symptom::ALL
            .iter()
            .filter(|symptom| symptom.words().iter().any(|known| same(word, known)))
            .count();
        match u32::try_from(know) {
            Ok(0) | Err(_) => 0.0,
            Ok(know) => 1.0 / f64::from(know),
        }
    };
    let all: f64 = words.iter().map(|word| weight(word)).sum();
    if all <= 0.0 {
        return Vec::new();
    }
    let mut matches: Vec<Matched> = Symptom::ALL
        .into_iter()
        .map(|symptom| {
            let met: f64 = words
                .iter()
                .filter(|word| symptom.words().iter().any(|known| same(word, known)))
                .map(|word| weight(word))
                .sum();
            Matched {
                symptom,
                fits: met / all,
            }
        })
        .filter(|matched| matched.fits > 0.25)
        .collect();
    matches.sort_by(|one, other| other.fits.total_cmp(&one.fits));
    matches
}
