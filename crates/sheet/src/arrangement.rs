//! What kind of car a sheet is of, in the words that decide which keys it needs and which it cannot have.

use engine::car::{Form, Inputs, Key, KeyId, Need, Slot, Value};

/// A key by which the kind of car is chosen, the words that may be chosen where they are not the key's own, and the one
/// that is chosen where nothing is said. What decides too much is not chosen in silence.
type Choice = (
    &'static str,
    Option<&'static [&'static str]>,
    Option<&'static str>,
);

/// In the place of a table that is there: its figures stand in it.
const FITTED: &str = "fitted";
const NONE: &str = "none";

const CHOICES: &[Choice] = &[
    ("master.kind", None, Some("tandem")),
    ("master.split", None, Some("axle")),
    (
        "lever.kind",
        Some(&["inline", "separate", "cable", NONE]),
        Some("inline"),
    ),
    ("front_brake.kind", None, Some("disc")),
    ("rear_brake.kind", None, Some("disc")),
    ("drivetrain.driven", None, None),
    ("pedal.booster", Some(&[NONE, FITTED]), None),
    (
        "bias_valve.kind",
        Some(&[NONE, "adjustable", "fixed", "limiting", "load-sensing"]),
        None,
    ),
    ("rear_brake.caliper.parking_mechanism", None, None),
];

/// Keys that a first answer leans on as a guess, and that are worth a measurement before any other.
const WORTH_MEASURING: &[&str] = &[
    "weighed.cg_height",
    "load.crew.mass",
    "pedal.booster.run_out",
    "pedal.booster.jump_in",
    "bias_valve.slope",
    "lever.hand_pull",
    "lever.room",
    "lever.stroke",
    "rear_brake.volume.clearance",
];

/// Why a word was not chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NotChosen {
    /// The kind of car is not chosen by that key.
    Key,
    /// The key has no such word, but these.
    Word(&'static [&'static str]),
}

/// What kind of car it is: a word, or none yet, at each key that decides it.
#[derive(Clone, Debug)]
pub struct Arrangement {
    words: Vec<(&'static Key, &'static [&'static str], Option<&'static str>)>,
}

impl Default for Arrangement {
    /// A tandem master cylinder split by axle, discs all round, a lever in the rear line. Which wheels are driven, booster
    /// and valve are left open.
    fn default() -> Self {
        let words = CHOICES.iter().filter_map(|&(path, own, word)| {
            let key = KeyId::of(path)?.key();
            let words = match (own, key.form) {
                (Some(own), _) => own,
                (None, Form::Word(words)) => words,
                _ => return None,
            };
            Some((key, words, word))
        });
        Self {
            words: words.collect(),
        }
    }
}

impl Arrangement {
    /// What a sheet says of it; what it does not say is open, or as it is taken to be.
    #[must_use]
    pub fn of(inputs: &Inputs) -> Self {
        let mut arrangement = Self::default();
        let said = |path: &str| {
            let key = KeyId::of(path)?;
            match inputs.get(Slot { key, entry: 0 }) {
                Some(Value::Word(word)) => Some(*word),
                _ => None,
            }
        };
        for (key, words, chosen) in &mut arrangement.words {
            let word = match key.path {
                "lever.kind" => said(key.path).or((!inputs.has_table("lever")).then_some(NONE)),
                "bias_valve.kind" => said(key.path).or((!inputs.has_table("bias_valve")).then_some(NONE)),
                "pedal.booster" if inputs.has_table(key.path) => Some(FITTED),
                "pedal.booster" => Some(NONE),
                path => said(path),
            };
            if let Some(known) = words.iter().find(|known| Some(**known) == word) {
                *chosen = Some(known);
            }
        }
        arrangement
    }

    /// The keys that can be chosen, each with its words and the one chosen so far.
    pub fn choices(
        &self,
    ) -> impl Iterator<Item = (&'static str, &'static [&'static str], Option<&'static str>)> {
        self.words
            .iter()
            .map(|&(key, words, word)| (key.path, words, word))
    }

    pub(crate) fn choose(&mut self, path: &str, word: &str) -> Result<(), NotChosen> {
        let (_, words, chosen) = self
            .words
            .iter_mut()
            .find(|(key, ..)| key.path == path)
            .ok_or(NotChosen::Key)?;
        let known = words.iter().find(|known| **known == word);
        *chosen = Some(known.ok_or(NotChosen::Word(words))?);
        Ok(())
    }

    fn word(&self, path: &str) -> Option<&'static str> {
        self.words.iter().find(|(key, ..)| key.path == path)?.2
    }

    fn is(&self, path: &str, word: &str) -> bool {
        self.word(path) == Some(word)
    }

    /// The word that stands at a key of such a car.
    pub(crate) fn written(&self, key: &Key) -> Option<&'static str> {
        match key.path {
            "bias_valve" | "pedal.booster" => self.says_none(key.path).then_some(NONE),
            path => self.word(path).filter(|word| *word != NONE),
        }
    }

    /// Whether the word `none` stands in the place of a table.
    fn says_none(&self, table: &str) -> bool {
        match table {
            "pedal.booster" => self.is(table, NONE),
            "bias_valve" => self.is("bias_valve.kind", NONE),
            _ => false,
        }
    }

    fn has_lever(&self) -> bool {
        !self.is("lever.kind", NONE)
    }

    fn has_valve(&self) -> bool {
        self.word("bias_valve.kind").is_some_and(|kind| kind != NONE)
    }

    fn is_drum(&self, brake: &str) -> bool {
        self.is(&format!("{brake}.kind"), "drum")
    }

    /// Whether a table has to be on the sheet of such a car.
    pub(crate) fn has_table(&self, path: &str) -> bool {
        match path {
            "" | "car" | "weighed" | "geometry" | "tyres" | "pedal" | "master" | "drivetrain" | "load"
            | "load.crew" | "front_brake" | "rear_brake" | "rear_brake.volume" => true,
            "pedal.booster" => self.is(path, FITTED),
            "bias_valve" => self.has_valve(),
            "bias_valve.knee" => self.has_valve() && self.knee_is_a_table(),
            "lever" => self.has_lever(),
            "lever.cable" => self.is("lever.kind", "cable"),
            "lever_brake" => self.is("lever.kind", "separate"),
            "drivetrain.centre" => self.is("drivetrain.driven", "all"),
            _ => match path.split_once('.') {
                Some(("lever_brake", "caliper" | "pad")) => self.has_table("lever_brake"),
                Some((brake @ ("front_brake" | "rear_brake"), "caliper" | "pad")) => !self.is_drum(brake),
                Some((brake @ ("front_brake" | "rear_brake"), "lining")) => self.is_drum(brake),
                _ => false,
            },
        }
    }

    fn knee_is_a_table(&self) -> bool {
        matches!(self.word("bias_valve.kind"), Some("adjustable" | "load-sensing"))
    }

    /// Whether the sheet of such a car begins with a key: it has to be there, or is worth a measurement.
    #[must_use]
    pub fn asks_for(&self, key: &Key) -> bool {
        if self.written(key).is_some() {
            return true;
        }
        if !self.has_table(key.table()) || !self.belongs(key) {
            return false;
        }
        if matches!(key.need, Need::Always | Need::InItsTable) || WORTH_MEASURING.contains(&key.path) {
            return true;
        }
        match key.path {
            "tyres.rolling_radius" | "lever.cable.ratio" | "drivetrain.centre.kind" | "lever_brake.kind" => {
                true
            }
            "master.bore" | "master.front_bore" | "master.rear_bore" | "lever.bore" | "lever.ratio" => true,
            path if path.starts_with("bias_valve.knee") => path != "bias_valve.knee.positions",
            path => match path.split_once('.') {
                Some(("front_brake" | "rear_brake" | "lever_brake", rest)) => matches!(
                    rest,
                    "caliper.layout"
                        | "caliper.pistons"
                        | "effective_radius"
                        | "pad.friction"
                        | "cylinder_bore"
                        | "drum_radius"
                        | "lining.friction"
                        | "shoe_factor"
                ),
                _ => false,
            },
        }
    }

    /// Whether a key can say something of such a car. What belongs to another kind of brake, valve, lever or cylinder does
    /// not.
    #[must_use]
    pub fn belongs(&self, key: &Key) -> bool {
        let path = key.path;
        let driven = |axle: &str| {
            self.word("drivetrain.driven")
                .is_none_or(|driven| driven == axle || driven == "all")
        };
        let (table, rest) = path.split_once('.').unwrap_or((path, ""));
        match (table, rest) {
            ("master", "bore") => !self.is("master.kind", "twin"),
            ("master", "front_bore" | "rear_bore") => self.is("master.kind", "twin"),
            ("master", rest) if rest.starts_with("bar.") => self.is("master.kind", "twin"),
            ("pedal", rest) if rest.starts_with("booster.") => self.is("pedal.booster", FITTED),
            ("bias_valve", "" | "kind") => true,
            ("bias_valve", rest) => match (rest, self.word("bias_valve.kind")) {
                ("knee", Some("fixed" | "limiting"))
                | ("place", Some("adjustable" | "fixed" | "limiting" | "load-sensing")) => true,
                ("knee.at_fewest" | "knee.at_most" | "knee.turns" | "knee.positions" | "setting", kind) => {
                    kind == Some("adjustable")
                }
                ("knee.empty" | "knee.laden", kind) => kind == Some("load-sensing"),
                ("slope", kind) => matches!(kind, Some("adjustable" | "fixed" | "load-sensing")),
                _ => false,
            },
            ("lever", "kind") => true,
            ("lever", _) if !self.has_lever() => false,
            ("lever", rest) if rest.starts_with("cable.") => self.is("lever.kind", "cable"),
            (
                "lever",
                "bore" | "ratio" | "stroke" | "free_stroke" | "free_play" | "rear_seal" | "outlets"
                | "efficiency" | "frame" | "cable_kept",
            ) => !self.is("lever.kind", "cable"),
            ("lever_brake", _) => self.is("lever.kind", "separate"),
            ("lines" | "air", rest) if rest.starts_with("lever") => self.is("lever.kind", "separate"),
            ("routes", rest) if rest.starts_with("lever_to_lever") || rest.starts_with("lever_tee") => {
                self.is("lever.kind", "separate")
            }
            ("routes", "bulkhead_to_lever" | "lever_to_rear_tee") => self.is("lever.kind", "inline"),
            ("routes", "bulkhead_to_rear_tee") => !self.is("lever.kind", "inline"),
            ("places", "lever_reservoir") => self.is("lever.kind", "separate"),
            ("lines", "ports.bias_valve") => self.has_valve(),
            ("lines", "ports.lever") => self.has_lever() && !self.is("lever.kind", "cable"),
            (brake @ ("front_brake" | "rear_brake"), rest) => match rest {
                "kind" | "volume.clearance" | "volume.flex" => true,
                rest if rest.starts_with("caliper.")
                    || rest.starts_with("pad")
                    || rest.starts_with("disc.")
                    || rest == "effective_radius" =>
                {
                    !self.is_drum(brake)
                }
                _ => self.is_drum(brake),
            },
            ("drivetrain", rest) if rest.starts_with("front_diff.") => driven("front"),
            ("drivetrain", rest) if rest.starts_with("rear_diff.") => driven("rear"),
            ("drivetrain", rest) if rest.starts_with("centre.") || rest == "front_share" => {
                driven("all") && driven("front") && driven("rear")
            }
            ("drivetrain", _) => true,
            // As front and rear, written in another way.
            ("tyres", rest) => !rest.starts_with("rolling_radius."),
            _ => true,
        }
    }

    /// Whether the sheet begins with a guess at a key: what is taken then is wide, but it is an answer.
    pub(crate) fn begins_as_a_guess(&self, key: &Key) -> bool {
        WORTH_MEASURING.contains(&key.path) || key.name() == "friction"
    }
}
