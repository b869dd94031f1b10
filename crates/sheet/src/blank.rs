//! The sheet that a new car begins with: every key, what it is, what is usual and what is taken without it.

use core::fmt;
use nearest::nearest_one;

use engine::car::{Form, Key, KeyId, Need};

use crate::about::{about, explained};
use crate::example;
use crate::fault::Fault;
use crate::layout::{self, Node};
use crate::splice::quoted;

/// Columns that comments are wrapped at.
const COLUMNS: usize = 100;

/// What stands where a guess does to begin with.
const GUESS: &str = "\"guess\"";

/// What kind of car a blank sheet is for.
#[derive(Clone, Debug)]
pub struct Blank {
    name: String,
    choices: Vec<(&'static Key, Option<&'static str>)>,
    explains: bool,
}

/// Keys by which the kind of car is chosen, and what is chosen where nothing is said. Which wheels are driven decides
/// too much to be chosen in silence.
const CHOICES: &[(&str, Option<&str>)] = &[
    ("master.kind", Some("tandem")),
    ("master.split", Some("axle")),
    ("lever.kind", Some("inline")),
    ("front_brake.kind", Some("disc")),
    ("rear_brake.kind", Some("disc")),
    ("drivetrain.driven", None),
];

impl Blank {
    /// For a car of this name: a tandem master cylinder, split by axle, discs all round, with a lever in the rear line.
    #[must_use]
    pub fn new(name: &str) -> Self {
        let choices = CHOICES
            .iter()
            .filter_map(|&(path, word)| Some((KeyId::of(path)?.key(), word)))
            .collect();
        Self {
            name: name.to_owned(),
            choices,
            explains: false,
        }
    }

    /// Says at every key how it is found out, and not only at those that are still to be filled in.
    #[must_use]
    pub const fn explained(mut self) -> Self {
        self.explains = true;
        self
    }

    /// The keys that can be chosen, each with its words and the one chosen so far.
    pub fn choices(
        &self,
    ) -> impl Iterator<Item = (&'static str, &'static [&'static str], Option<&'static str>)> {
        self.choices.iter().filter_map(|&(key, word)| match key.form {
            Form::Word(words) => Some((key.path, words, word)),
            _ => None,
        })
    }

    /// Chooses another kind: `master.split`, `diagonal`.
    ///
    /// # Errors
    /// The key is none that can be chosen, or the word none that it may have.
    pub fn choose(mut self, path: &str, word: &str) -> Result<Self, Fault> {
        let Some(choice) = self.choices.iter_mut().find(|(key, _)| key.path == path) else {
            let names: Vec<String> = CHOICES.iter().map(|&(path, _)| path.to_owned()).collect();
            let offer = crate::fault::Meant::All(names);
            return Err(Fault::Unknown {
                name: path.to_owned(),
                table: String::new(),
                is_table: false,
                offer,
            });
        };
        let Form::Word(words) = choice.0.form else {
            return Ok(self);
        };
        let Some(known) = words.iter().find(|known| **known == word) else {
            let near = nearest_one(word, words.iter().copied());
            return Err(Fault::UnknownWord {
                found: word.to_owned(),
                words,
                near,
            });
        };
        choice.1 = Some(known);
        Ok(self)
    }

    fn chosen(&self, path: &str) -> &'static str {
        self.choices
            .iter()
            .find(|(key, _)| key.path == path)
            .and_then(|&(_, word)| word)
            .unwrap_or_default()
    }

    /// Whether a table has to be on the sheet of such a car.
    fn has_table(&self, path: &str) -> bool {
        let drum = |brake: &str| self.chosen(&format!("{brake}.kind")) == "drum";
        match path {
            "" | "car" | "weighed" | "geometry" | "tyres" | "pedal" | "master" | "lever" | "drivetrain" => {
                true
            }
            "front_brake" | "rear_brake" => true,
            "lever.cable" => self.chosen("lever.kind") == "cable",
            "lever_brake" => self.chosen("lever.kind") == "separate",
            "drivetrain.centre" => self.chosen("drivetrain.driven") == "all",
            _ => match path.split_once('.') {
                Some(("lever_brake", "caliper" | "pad")) => self.has_table("lever_brake"),
                Some((brake @ ("front_brake" | "rear_brake"), "caliper" | "pad")) => !drum(brake),
                Some((brake @ ("front_brake" | "rear_brake"), "lining")) => drum(brake),
                _ => false,
            },
        }
    }

    /// Whether a key has to be on the sheet of such a car.
    fn has_key(&self, key: &Key) -> bool {
        if !self.has_table(key.table()) {
            return false;
        }
        if self.choices.iter().any(|(chosen, _)| chosen.path == key.path) {
            return true;
        }
        if matches!(key.need, Need::Always | Need::InItsTable) {
            return true;
        }
        let twin = self.chosen("master.kind") == "twin";
        let cable = self.chosen("lever.kind") == "cable";
        match key.path {
            "weighed.cg_height" | "tyres.rolling_radius" | "lever.cable.ratio" | "drivetrain.centre.kind" => {
                true
            }
            "master.bore" => !twin,
            "master.front_bore" | "master.rear_bore" => twin,
            "lever.bore" | "lever.ratio" => !cable,
            path => match path.split_once('.') {
                Some(("lever_brake", rest)) => is_for_disc(rest),
                Some((brake @ ("front_brake" | "rear_brake"), rest)) => {
                    if self.chosen(&format!("{brake}.kind")) == "drum" {
                        is_for_drum(rest)
                    } else {
                        is_for_disc(rest)
                    }
                }
                _ => false,
            },
        }
    }

    /// What stands at a key: what was chosen, `guess` where that does to begin with, or the sign that it is still to
    /// be filled in.
    fn value(&self, key: &Key) -> String {
        if let Some((_, Some(word))) = self.choices.iter().find(|(chosen, _)| chosen.path == key.path) {
            return format!("\"{word}\"");
        }
        match key.form {
            Form::Text if key.path == "car.name" => quoted(&self.name),
            _ if matches!(key.name(), "cg_height" | "friction") => GUESS.to_owned(),
            _ => example::to_fill_in(key),
        }
    }

    fn table(&self, f: &mut fmt::Formatter<'_>, node: &Node) -> fmt::Result {
        let is_there = self.has_table(node.path);
        if !node.path.is_empty() && node.children.iter().any(|child| child.leaf.is_some()) {
            let header = if node.repeats {
                format!("[[{}]]", plain(node))
            } else {
                format!("[{}]", plain(node))
            };
            writeln!(f, "\n{}{header}", if is_there { "" } else { "#" })?;
        }
        for key in node.children.iter().filter_map(|child| child.leaf) {
            let key = key.key();
            let value = self.has_key(key).then(|| self.value(key));
            let is_open = |value: &String| value.contains('…') || value == GUESS;
            if self.explains || value.as_ref().is_some_and(is_open) {
                comment(f, &explained(key))?;
            } else {
                comment(f, &about(key))?;
            }
            if let Some(value) = value {
                writeln!(f, "{} = {value}", key.name())?;
            } else {
                writeln!(f, "#{} = {}", key.name(), example::to_fill_in(key))?;
            }
        }
        node.children
            .iter()
            .filter(|child| child.is_table())
            .try_for_each(|child| self.table(f, child))
    }
}

impl fmt::Display for Blank {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, paragraph) in HEAD.iter().enumerate() {
            if at > 0 {
                writeln!(f, "#")?;
            }
            comment(f, paragraph)?;
        }
        writeln!(f)?;
        self.table(f, layout::sheet())
    }
}

/// How to fill in a sheet.
const HEAD: &[&str] = &[
    "Put a figure in the place of every … below; nothing is computed while one is left. What begins with a # right before a \
     name is left out: take the # away to use it, and the one before the header in brackets above it.",
    "Figures stand in quotes with their unit, in whatever unit you have them: \"5/8 in\", \"15.9 mm\", \"15,9 mm\", \
     \"70 bar\", \"1000 psi\", \"34 lb\". Only a figure without a unit may go without quotes: 4.3.",
    "Say how sure you are, and every answer says so too: \"0.42 ± 0.04\" (or +/-), \"1.30 m ± 5 %\", \
     \"between 0.38 and 0.46\". What you do not know yet: \"guess\", wherever a line below says what is taken then.",
];

fn is_for_disc(path: &str) -> bool {
    matches!(
        path,
        "caliper.layout" | "caliper.pistons" | "effective_radius" | "pad.friction"
    )
}

fn is_for_drum(path: &str) -> bool {
    matches!(
        path,
        "cylinder_bore" | "drum_radius" | "lining.friction" | "shoe_factor"
    )
}

fn plain(node: &Node) -> String {
    node.path.replace("[]", "")
}

/// Lines that begin with a `#` and a blank. A figure stays with its tolerance.
fn comment(f: &mut fmt::Formatter<'_>, text: &str) -> fmt::Result {
    const GLUED: &str = "\u{a0}±\u{a0}";
    let mut line = String::from("#");
    for word in text
        .replace(" ± ", GLUED)
        .split([' ', '\n'])
        .filter(|word| !word.is_empty())
    {
        if line.len() > 1 && line.chars().count() + 1 + word.chars().count() > COLUMNS {
            writeln!(f, "{}", line.replace(GLUED, " ± "))?;
            line.truncate(1);
        }
        line.push(' ');
        line.push_str(word);
    }
    writeln!(f, "{}", line.replace(GLUED, " ± "))
}
