//! The sheet that a new car begins with: the keys that matter to its kind; or, explained, every key, what it is, what is
//! usual and what is taken without it.

use core::fmt;
use nearest::nearest_one;

use engine::car::{Form, Key};

use crate::about::explained;
use crate::arrangement::{Arrangement, NotChosen};
use crate::example;
use crate::fault::Fault;
use crate::first::FirstAnswer;
use crate::layout::{self, Node};
use crate::splice::quoted;

/// Columns that comments are wrapped at.
const COLUMNS: usize = 100;

/// What stands where a guess does to begin with.
const GUESS: &str = "\"guess\"";

/// A sheet to begin with, for a kind of car.
#[derive(Clone, Debug)]
pub struct Blank {
    name: String,
    arrangement: Arrangement,
    explains: bool,
}

impl Blank {
    /// For a car of this name: a tandem master cylinder, split by axle, discs all round, with a lever in the rear line.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            arrangement: Arrangement::default(),
            explains: false,
        }
    }

    /// With every key there is, what it is, what is usual, how it is found out; not only with those that such a car begins
    /// with.
    #[must_use]
    pub const fn explained(mut self) -> Self {
        self.explains = true;
        self
    }

    /// The keys that can be chosen, each with its words and the one chosen so far.
    pub fn choices(
        &self,
    ) -> impl Iterator<Item = (&'static str, &'static [&'static str], Option<&'static str>)> {
        self.arrangement.choices()
    }

    /// Chooses another kind: `master.split`, `diagonal`.
    ///
    /// # Errors
    /// The key is none that can be chosen, or the word none that it may have.
    pub fn choose(mut self, path: &str, word: &str) -> Result<Self, Fault> {
        match self.arrangement.choose(path, word) {
            Ok(()) => Ok(self),
            Err(NotChosen::Key) => {
                let names = self.choices().map(|(path, ..)| path.to_owned()).collect();
                Err(Fault::Unknown {
                    name: path.to_owned(),
                    table: String::new(),
                    is_table: false,
                    offer: crate::fault::Meant::All(names),
                })
            }
            Err(NotChosen::Word(words)) => Err(Fault::UnknownWord {
                found: word.to_owned(),
                words,
                near: nearest_one(word, words.iter().copied()),
            }),
        }
    }

    /// Takes an answer to one of the [`FIRST_QUESTIONS`](crate::FIRST_QUESTIONS).
    #[must_use]
    pub fn answered(mut self, answer: &FirstAnswer) -> Self {
        for (path, word) in answer.decides {
            // A test chooses every one of them.
            let _ = self.arrangement.choose(path, word);
        }
        self
    }

    /// What stands at a key: what was chosen, `guess` where that does to begin with, or the sign that it is still to
    /// be filled in.
    fn value(&self, key: &Key) -> String {
        if let Some(word) = self.arrangement.written(key) {
            return format!("\"{word}\"");
        }
        match key.form {
            Form::Text if key.path == "car.name" => quoted(&self.name),
            _ if self.arrangement.begins_as_a_guess(key) => GUESS.to_owned(),
            _ => example::to_fill_in(key),
        }
    }

    /// The keys that such a car begins with, as a person would write them: a table a header, what stands in it in
    /// brackets.
    fn short(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let root = layout::sheet();
        for child in &root.children {
            if let Some(key) = child.leaf.map(engine::car::KeyId::key)
                && self.arrangement.asks_for(key)
            {
                writeln!(f, "{} = {}", child.name, self.value(key))?;
            }
        }
        for table in root.children.iter().filter(|child| child.is_table()) {
            let lines: Vec<String> = table
                .children
                .iter()
                .filter_map(|child| Some(format!("{} = {}", child.name, self.within(child)?)))
                .collect();
            if !lines.is_empty() {
                writeln!(f, "\n[{}]\n{}", table.name, lines.join("\n"))?;
            }
        }
        Ok(())
    }

    /// What stands at a name of a table; `None` where nothing does.
    fn within(&self, node: &Node) -> Option<String> {
        if let Some(key) = node.leaf.map(engine::car::KeyId::key)
            && self.arrangement.asks_for(key)
        {
            return Some(self.value(key));
        }
        let inside: Vec<String> = node
            .children
            .iter()
            .filter_map(|child| Some(format!("{} = {}", child.name, self.within(child)?)))
            .collect();
        (!inside.is_empty() && !node.repeats).then(|| format!("{{ {} }}", inside.join(", ")))
    }

    fn table(&self, f: &mut fmt::Formatter<'_>, node: &Node) -> fmt::Result {
        let is_there = self.arrangement.has_table(node.path);
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
            comment(f, &explained(key))?;
            if self.arrangement.asks_for(key) {
                writeln!(f, "{} = {}", key.name(), self.value(key))?;
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
        if !self.explains {
            return self.short(f);
        }
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
