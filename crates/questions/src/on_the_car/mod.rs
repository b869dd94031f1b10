//! What is on the car: the sheet figure by figure, as a person without a text editor sees it. Which figures are asked of such
//! a car, which are known, guessed, or still to be found; what is typed, and the change of the sheet that keeps it.

mod checked;
mod cost;
mod kept;
mod several;
mod typed;

use engine::car::{Key, KeyId, Need, Slot, Value};
use sheet::{Arrangement, Problem};

pub use checked::{Checked, Usual, check};
pub use cost::CostOfGuess;
pub use kept::{Steps, keep};
pub use several::{Several, named as several};
pub use typed::{Sure, Typed, sures, unit_keys, unit_of};

/// How a figure stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// It is on the sheet.
    Known,
    /// The sheet says `guess`, or leaves it out where a first answer leans on it.
    Guessed,
    /// There is no answer before it is found.
    Open,
    /// It is left out, and its usual value is taken.
    LeftOut,
}

/// One figure of the sheet.
#[derive(Clone, Debug)]
pub struct SheetFigure {
    /// Its key, entries counted from 1.
    pub path: String,
    /// What is known of the key.
    pub key: &'static Key,
    /// How it stands.
    pub stands: Stands,
    /// What the sheet says, without quotes and brackets; empty where nothing that can be read.
    pub says: String,
    /// Whether it is asked of such a car. The others fold away.
    pub asked: bool,
    /// What is wrong with it, and what to do, where it is more than not filled in.
    pub wrong: Option<(String, String)>,
}

/// The sheet, figure by figure.
#[derive(Debug)]
pub struct OnTheCar {
    text: String,
    figures: Vec<SheetFigure>,
    others: Vec<Problem>,
}

impl OnTheCar {
    /// Of the text of a sheet, whether it reads or not.
    #[must_use]
    pub fn of(text: &str) -> Self {
        let read = sheet::read(text.as_bytes(), "car.toml");
        let problems: Vec<Problem> = match read.assemble() {
            Ok(_) => Vec::new(),
            Err(problems) => problems.shown().to_vec(),
        };
        let arrangement = Arrangement::of(&read.inputs);
        let figures: Vec<SheetFigure> = slots(&read)
            .filter_map(|slot| figure(text, &read, &arrangement, &problems, slot))
            .collect();
        let others = problems
            .into_iter()
            .filter(|problem| {
                let of = |figure: &SheetFigure| Some(&figure.path) == problem.key.as_ref();
                !figures.iter().any(of)
            })
            .collect();
        Self {
            text: text.to_owned(),
            figures,
            others,
        }
    }

    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Every figure that can say something of such a car, in the order of the sheet.
    #[must_use]
    pub fn figures(&self) -> &[SheetFigure] {
        &self.figures
    }

    /// What is wrong beside the figures.
    #[must_use]
    pub fn others(&self) -> &[Problem] {
        &self.others
    }

    /// The figure at a path.
    #[must_use]
    pub fn figure(&self, path: &str) -> Option<&SheetFigure> {
        self.figures.iter().find(|figure| figure.path == path)
    }

    /// The parts of the car with their figures, in order.
    pub fn parts(&self) -> impl Iterator<Item = (&'static str, Vec<&SheetFigure>)> {
        let mut parts: Vec<(&'static str, Vec<&SheetFigure>)> = Vec::new();
        for figure in &self.figures {
            let title = figure.key.part();
            match parts.iter_mut().find(|(known, _)| *known == title) {
                Some((_, figures)) => figures.push(figure),
                None => parts.push((title, vec![figure])),
            }
        }
        parts.into_iter()
    }

    fn count(&self, stands: Stands) -> usize {
        let counts = |figure: &&SheetFigure| is_counted(figure) && figure.stands == stands;
        self.figures.iter().filter(counts).count()
    }

    /// How many are left before there is a first answer.
    #[must_use]
    pub fn left(&self) -> usize {
        self.count(Stands::Open)
    }

    /// Whether nothing but figures that are still to be found keeps the sheet from being read.
    #[must_use]
    pub fn is_only_unfinished(&self) -> bool {
        self.others.iter().all(Problem::is_open) && self.figures.iter().all(|figure| figure.wrong.is_none())
    }

    /// `26 of 31 known, 5 guessed`, or `6 left to a first answer`.
    #[must_use]
    pub fn short(&self) -> String {
        let left = self.left();
        if left > 0 {
            return format!("{left} left to a first answer");
        }
        let (known, guessed) = (self.count(Stands::Known), self.count(Stands::Guessed));
        match guessed {
            0 => format!("{known} known, none guessed"),
            _ => format!("{known} of {} known, {guessed} guessed", known + guessed),
        }
    }

    /// The next figure to find, behind a path: one that a first answer wants; then a guess.
    #[must_use]
    pub fn next(&self, behind: Option<&str>) -> Option<&SheetFigure> {
        let at = behind.and_then(|path| self.figures.iter().position(|figure| figure.path == path));
        let from = at.map_or(0, |at| at + 1);
        let (before, after) = self.figures.split_at(from.min(self.figures.len()));
        let find = |stands: Stands| {
            let wanted = |figure: &&SheetFigure| is_counted(figure) && figure.stands == stands;
            after.iter().find(wanted).or_else(|| before.iter().find(wanted))
        };
        find(Stands::Open).or_else(|| after.iter().find(|figure| figure.stands == Stands::Guessed))
    }
}

/// What the car is called, and readings, are no figures of it that may be missing.
fn is_counted(figure: &SheetFigure) -> bool {
    !figure.path.starts_with("car.")
}

/// Every key that has a place for a figure, with the entries that there are.
fn slots(read: &sheet::ReadSheet) -> impl Iterator<Item = Slot> {
    KeyId::all().flat_map(move |key| {
        let entries = match key.key().path.split_once("[]") {
            Some((group, _)) => read.inputs.entries(group),
            None => 1,
        };
        (0..entries).map(move |entry| Slot { key, entry })
    })
}

fn figure(
    text: &str,
    read: &sheet::ReadSheet,
    arrangement: &Arrangement,
    problems: &[Problem],
    slot: Slot,
) -> Option<SheetFigure> {
    let (key, path) = (slot.key.key(), slot.path());
    let value = read.inputs.get(slot);
    let here: Vec<&Problem> = problems
        .iter()
        .filter(|problem| problem.key.as_deref() == Some(&path))
        .collect();
    let stands_there = value.is_some() || !here.is_empty();
    let is_hidden = key.path == "format" || key.path.starts_with("measured.");
    // A name that is a table on this sheet is not asked as a word.
    let is_table = read.places.table(&path).is_some();
    let asked = arrangement.asks_for(key) && !several::is_said_otherwise(read, key);
    if is_hidden || is_table || (!stands_there && !arrangement.belongs(key)) {
        return None;
    }
    let wrong = here.iter().find(|problem| !problem.is_open());
    let stands = match value {
        _ if here.iter().any(|problem| problem.is_open()) => Stands::Open,
        Some(Value::Guess | Value::Word("guess")) => Stands::Guessed,
        Some(_) => Stands::Known,
        None if wrong.is_some() => Stands::Open,
        None if asked && key.default.is_some() && key.need != Need::Always => Stands::Guessed,
        // Before a sheet assembles, not all that is missing is told.
        None if asked && !problems.is_empty() => Stands::Open,
        None => Stands::LeftOut,
    };
    Some(SheetFigure {
        says: value
            .and_then(|_| text.get(read.places.value(slot)?.value.clone()))
            .map_or_else(String::new, plain),
        asked: asked || stands_there,
        wrong: wrong.map(|problem| (problem.text(), problem.remedy())),
        path,
        key,
        stands,
    })
}

/// As a person reads it: rows parted by semicolons, without quotes and brackets.
fn plain(raw: &str) -> String {
    let rows = raw.replace("], [", "; ").replace("],[", "; ");
    let apart = if rows.starts_with("[[") || rows.contains(';') {
        rows
    } else {
        rows.replace("\", \"", "; ")
    };
    apart.replace(['"', '[', ']'], "")
}
