//! What a question answers, as plain data. Terminal, page and print only render it, so that none of them can say what the
//! others do not: every caution, warning, border and rounding is decided before a report is made.
//!
//! Texts in here are finished: rounded, in the person's units, with blanks that must not be broken. Nothing in a report
//! knows a terminal or a page. Names of the sheet's keys stand between back quotes, and never in the headline.

use ::proving::SheetChange;
use assess::Finding;
use engine::car::{Key, KeyId};
use engine::working::{Expr, FIGURES};
use quantity::{Dimension, Spread};
use wording::{Measured, Shown, Units};

use crate::onto_sheet::{means_the_same, written};
use crate::opened::{LOGBOOK, Opened};
use crate::options::{self, Case};
use crate::readings::ReadingForm;

/// What stands at the foot of every answer.
pub const CAUTION: &str = "Computed figures do not replace a brake test at walking pace, in a safe place.";

/// An answer, from the stamp down to what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// Name of the question.
    pub question: &'static str,
    /// As people ask it.
    pub asked_as: &'static str,
    /// What the car is called.
    pub car: String,
    /// Its folder's name, as a command takes it.
    pub folder: String,
    /// The state that it was asked in, in one line.
    pub state: String,
    /// Readings that stand in the place of the sheet's figures, a sentence each.
    pub measured: Vec<String>,
    /// The proposal that the car was opened with, with its note.
    pub proposal: Option<String>,
    /// What is other than on the sheet for this once, in a sentence.
    pub other: Option<String>,
    /// What is read in one look.
    pub headline: Headline,
    /// Whether a terminal shows findings by their titles and sections by their summaries alone.
    pub folded: bool,
    /// Findings, worst first.
    pub findings: Vec<Finding>,
    /// The rest of the answer, in order.
    pub sections: Vec<Section>,
    /// Figures of it that explain themselves: name and meaning.
    pub workings: Vec<(&'static str, &'static str)>,
    /// What is unusual on the sheet, or has no effect.
    pub warnings: Vec<Warning>,
    /// What stands in for what is not known of this car.
    pub defaults: Vec<Default>,
    /// What must not be forgotten, the one of every computed figure last.
    pub cautions: Vec<String>,
    /// What to do after the first thing.
    pub next: Vec<String>,
}

/// The answer in one look.
#[derive(Clone, Debug, PartialEq)]
pub struct Headline {
    /// At most four words.
    pub stamp: String,
    /// How it is framed: words and frame, never colour alone.
    pub frame: Frame,
    /// Why, in at most 14 words.
    pub because: String,
    /// What takes something away from it, a short sentence each.
    pub though: Vec<String>,
    /// What stops the car before any of it counts. It is shown before the stamp, wherever that is.
    pub stops_first: Vec<String>,
    /// At most three.
    pub figures: Vec<Figure>,
    /// What to do first.
    pub first: Option<String>,
}

/// The frame of a stamp.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frame {
    /// Yes.
    Solid,
    /// Half, or no.
    Heavy,
    /// Not yet known, or nothing to know it of.
    Broken,
}

/// A figure with its range against its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is: `pull it takes`.
    pub name: &'static str,
    /// How large, and between what.
    pub measured: Measured,
    /// What it is held against.
    pub limit: Option<Limit>,
    /// The working that explains it.
    pub working: Option<&'static str>,
}

/// What a figure is held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What it is: `driver's pull`.
    pub name: &'static str,
    /// How large.
    pub shown: Shown,
    /// Which side is the good one.
    pub side: Side,
}

/// On which side of its limit a figure is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Below it.
    AtMost,
    /// Above it.
    AtLeast,
}

/// A part of an answer that can be folded.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its head.
    pub title: String,
    /// One line that stands for it while it is folded.
    pub summary: String,
    /// Whose it is, where it is somebody's.
    pub stroke: Option<Stroke>,
    /// What is in it.
    pub blocks: Vec<Block>,
}

/// One code for the whole house, readable without colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// Solid: the front axle.
    Front,
    /// Dashed: the rear axle.
    Rear,
    /// Double: the hand.
    Hand,
}

/// A piece of a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// Names, each with what there is to say.
    Details(Vec<Detail>),
    /// A paragraph.
    Text(String),
    /// Items.
    List(Vec<String>),
    /// Figures in rows.
    Table(Table),
    /// What is ticked off as it is done.
    Ticks(Vec<Tick>),
    /// Something that must not be forgotten.
    Caution(String),
    /// A further picture, by the name that the answer draws it under.
    Picture(&'static str),
    /// Ways on, one to choose.
    Choose(Vec<Choice>),
    /// Lines of arithmetic.
    Steps(Vec<WorkingLine>),
    /// What the sheet might take over, one by one.
    Offers(Vec<Offer>),
    /// A reading that can be taken at the car and put onto the sheet.
    Reading(ReadingForm),
    /// What is being computed elsewhere.
    UnderWay {
        /// What is done, in a few words.
        what: &'static str,
        /// How much of it, from 0 to 1.
        share: f64,
    },
    /// The last change of the sheet that was made on a page, which can be put back.
    Changed {
        /// What was changed, in words.
        said: String,
        /// What puts it back.
        back: Vec<SheetChange>,
    },
}

/// A line of arithmetic. A terminal writes its formula as text, a page sets it as mathematics.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingLine {
    /// What it gives, in a few words.
    pub meaning: &'static str,
    /// How that is written.
    pub sign: &'static str,
    /// From what.
    pub formula: Expr,
    /// In which its numbers are written.
    pub units: Units,
    /// What it gives, with its unit.
    pub value: String,
    /// Where the equation comes from, and what it assumes.
    pub source: String,
    /// Signs that come from the sheet, each with its key.
    pub keys: Vec<(&'static str, &'static str)>,
}

/// A way on: a terminal shows the options that say it, a page has a key for it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choice {
    /// `it still loses`
    pub label: String,
    /// What it leads to.
    pub text: String,
    /// What is said beside what was said here.
    pub says: Vec<(&'static options::Row, String)>,
    /// What is no longer said.
    pub unsays: Vec<&'static options::Row>,
    /// Name of the question that it asks; `None`: this one.
    pub asks: Option<&'static str>,
    /// What a page writes into the logbook in its place.
    pub notes: Option<::proving::Fact>,
}

/// A figure that was found, against what the sheet has.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// Key of the sheet.
    pub key: String,
    /// What people call it: `Bias valve: slope above the knee`
    pub name: String,
    /// What it would be, in words.
    pub value: String,
    /// What it is, in words.
    pub now: String,
    /// What it rests on.
    pub because: String,
    /// What takes it over; nothing where the sheet has it already.
    pub changes: Vec<SheetChange>,
}

/// A name and what there is to say of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Detail {
    /// `there is`
    pub name: String,
    /// `250 N of hand`
    pub text: String,
}

/// A line with a box to tick.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// What the logbook calls it; `None` where there is nothing to tick off.
    pub code: Option<String>,
    /// Whether it is ticked off.
    pub done: bool,
    /// What it is, for who hears the box and does not see its line.
    pub label: String,
    /// What leads the line: `3 bottles`
    pub name: String,
    /// The rest of it.
    pub text: String,
}

/// Figures in rows. Where it is wider than the screen each row becomes a line, headed by the cell that names it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// A head a column, with its unit.
    pub heads: Vec<String>,
    /// The column that names a row.
    pub names_row: usize,
    /// Its rows.
    pub rows: Vec<TableRow>,
    /// Whether cells are words, which are wrapped and stand at the left, rather than figures.
    pub of_words: bool,
}

impl Table {
    /// A cell with its head, in a row that is read as a line: `pull 242 N` under the head `pull, N`.
    #[must_use]
    pub fn in_a_line(&self, row: &TableRow, column: usize) -> String {
        let (head, cell) = (&self.heads[column], &row.cells[column]);
        let (name, unit) = head.split_once(", ").unwrap_or((head, ""));
        let name = name.replace(' ', "\u{a0}");
        // A unit stands in the head of a column of figures; what else stands behind a comma is part of the name.
        let is_figure = cell
            .chars()
            .all(|letter| letter.is_ascii_digit() || "+−.".contains(letter));
        if unit.is_empty() {
            format!("{name}\u{a0}{cell}")
        } else if is_figure {
            format!("{name}\u{a0}{cell}\u{a0}{unit}")
        } else {
            format!("{}\u{a0}{cell}", head.replace(' ', "\u{a0}"))
        }
    }
}

/// A row of a table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TableRow {
    /// Whose it is, where it is somebody's.
    pub stroke: Option<Stroke>,
    /// As many cells as the table has heads.
    pub cells: Vec<String>,
    /// Whether it is struck through: it cannot be had so. A cell says why.
    pub struck: bool,
    /// Whether it is the one that there is now, or that has changed.
    pub own: bool,
    /// Keys of the sheet, `KEY=VALUE`, that make it so: a page has a key that tries them.
    pub tries: Vec<String>,
    /// Ways from a cell to the whole answer of another question: a page links it.
    pub leads: Vec<Lead>,
}

/// A way from a cell of a table to another question, asked in another state.
#[derive(Clone, Debug, PartialEq)]
pub struct Lead {
    /// The cell, counted from 0.
    pub cell: usize,
    /// Name of the question.
    pub question: &'static str,
    /// What is said beside what was said here.
    pub says: Vec<(&'static options::Row, String)>,
    /// What is no longer said.
    pub unsays: Vec<&'static options::Row>,
}

impl From<Vec<String>> for TableRow {
    fn from(cells: Vec<String>) -> Self {
        Self {
            cells,
            ..Self::default()
        }
    }
}

/// Something unusual.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// The key or option that it concerns.
    pub key: String,
    /// What is unusual about it.
    pub text: String,
}

/// A default that an answer leaned on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Default {
    /// The key that it stands in for.
    pub key: String,
    /// As a sheet would write it.
    pub value: String,
    /// Where it comes from.
    pub source: String,
    /// Whether the sheet says `guess`, or nothing.
    pub guess: bool,
}

impl Warning {
    /// Whether it concerns what was asked rather than what the sheet says.
    #[must_use]
    pub fn is_of_an_option(&self) -> bool {
        self.key.starts_with("--")
    }
}

impl Report {
    /// A report of what is asked by a name, for a car in its state, with everything that is the same for all.
    #[must_use]
    pub fn named(
        question: &'static str,
        asked_as: &'static str,
        case: &Case<'_>,
        headline: Headline,
    ) -> Self {
        let opened = case.opened;
        let assembled = &opened.assembled;
        Self {
            question,
            asked_as,
            car: opened.car().name.to_string(),
            folder: opened.sheet.name().to_owned(),
            state: crate::in_words::state_in_words(opened, &case.units),
            measured: crate::in_words::measured_in_words(opened, &case.units).collect(),
            proposal: opened.proposal.as_ref().map(crate::proposed::Proposed::words),
            other: crate::in_words::other_in_words(opened),
            headline,
            folded: false,
            findings: Vec::new(),
            sections: Vec::new(),
            workings: Vec::new(),
            warnings: assembled
                .warnings
                .iter()
                // It stands first, as what stops the car.
                .filter(|warning| warning.path != LOGBOOK)
                .map(|warning| Warning {
                    key: warning.path.clone(),
                    text: wording::remark(&warning.text, &case.units),
                })
                .collect(),
            defaults: assembled
                .defaults_used
                .iter()
                .map(|leaned| Default {
                    key: leaned.slot.path(),
                    value: wording::taken(leaned),
                    source: leaned.source.to_owned(),
                    guess: leaned.guess,
                })
                .collect(),
            cautions: vec![CAUTION.to_owned()],
            next: Vec::new(),
        }
    }

    /// Adds a section.
    pub fn section(&mut self, section: Section) {
        self.sections.push(section);
    }

    /// Adds a caution before the one that stands at the foot of every answer.
    pub fn caution(&mut self, text: impl Into<String>) {
        let last = self.cautions.len().saturating_sub(1);
        self.cautions.insert(last, text.into());
    }

    /// Names the figures that explain themselves.
    pub fn explain(&mut self, names: &[&str]) {
        let known = FIGURES.iter().copied().filter(|(name, _)| names.contains(name));
        self.workings.extend(known);
    }
}

impl Tick {
    /// Its box in letters.
    #[must_use]
    pub const fn sign(&self) -> &'static str {
        match (&self.code, self.done) {
            (None, _) => " – ",
            (Some(_), true) => "[x]",
            (Some(_), false) => "[ ]",
        }
    }
}

impl Section {
    /// A section of facts.
    #[must_use]
    pub fn new(title: impl Into<String>, summary: impl Into<String>, stroke: Option<Stroke>) -> Self {
        Self {
            title: title.into(),
            summary: summary.into(),
            stroke,
            blocks: Vec::new(),
        }
    }

    /// With a block behind the others.
    #[must_use]
    pub fn with(mut self, block: Block) -> Self {
        self.blocks.push(block);
        self
    }
}

impl Section {
    /// With a block behind the others, where there is one.
    #[must_use]
    pub(crate) fn with_some(mut self, block: Option<Block>) -> Self {
        self.blocks.extend(block);
        self
    }
}

impl Detail {
    /// Of a name and a text.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            text: text.into(),
        }
    }
}

impl Offer {
    /// Of a key and a value as a sheet writes it, onto a car's sheet.
    #[must_use]
    pub(crate) fn new(
        opened: &Opened,
        (key, value): (&str, &str),
        now: &str,
        because: String,
        units: &Units,
    ) -> Self {
        let text = opened.sheet.read.text();
        let was = written(text, key);
        let stands = was
            .as_deref()
            .is_some_and(|was| was.trim_matches('"') == value || means_the_same(text, key, was, value));
        let change = SheetChange {
            key: key.to_owned(),
            was,
            now: Some(value.to_owned()),
        };
        let known = KeyId::of(key).map(KeyId::key);
        let in_words = |value: &str| in_words(known.and_then(Key::dimension), value, units);
        Self {
            key: key.to_owned(),
            name: known.map_or_else(|| key.to_owned(), |key| format!("{}: {}", key.part(), key.label)),
            value: in_words(value),
            now: in_words(now),
            because,
            changes: if stands { Vec::new() } else { vec![change] },
        }
    }
}

/// A value as a sheet writes it, in words: without quotes, and in the unit that the person chose for its kind.
pub(crate) fn in_words(dimension: Option<Dimension>, written: &str, units: &Units) -> String {
    let bare = written.trim_matches('"');
    let amount = dimension.and_then(|dimension| quantity::parse(bare, dimension).ok());
    let Some(amount) = amount else {
        return bare.to_owned();
    };
    // What was written stays, with its tolerance, where no other unit was chosen.
    let ends = match amount.spread {
        Spread::Exact => return wording::or_written(amount.dimension, amount.si, bare.to_owned(), units),
        Spread::Normal { half_width_si } => (amount.si - half_width_si, amount.si + half_width_si),
        Spread::Uniform { low_si, high_si } => (low_si, high_si),
    };
    let said =
        [amount.si, ends.0, ends.1].map(|si| wording::or_written(amount.dimension, si, String::new(), units));
    match said {
        [value, low, high] if !value.is_empty() => format!("{value} ({low} to {high})"),
        _ => bare.to_owned(),
    }
}

/// The last change of the sheet that was made on a page, where it stands as it was made: in words, with what puts it back.
#[must_use]
pub fn changed_last(opened: &Opened) -> Option<(String, Vec<SheetChange>)> {
    let text = opened.sheet.read.text();
    let noted = opened.history().noted.iter().rev();
    let changes = noted.into_iter().find_map(|noted| match &noted.fact {
        ::proving::Fact::Sheet { changes } => Some(changes),
        _ => None,
    })?;
    // A sheet writes a value as it has to: in quotes, or bare.
    let stands = |change: &SheetChange| match (written(text, &change.key), &change.now) {
        (Some(stands), Some(now)) => stands == *now || means_the_same(text, &change.key, &stands, now),
        (stands, now) => stands.is_none() && now.is_none(),
    };
    let said: Vec<String> = changes.iter().map(SheetChange::words).collect();
    changes.iter().all(stands).then(|| {
        (
            format!("Changed last: {}.", said.join("; ")),
            changes.iter().rev().map(SheetChange::undone).collect(),
        )
    })
}

/// The same as a block of an answer.
pub(crate) fn last_change(opened: &Opened) -> Option<Block> {
    changed_last(opened).map(|(said, back)| Block::Changed { said, back })
}

/// What of some findings stops the car, but for those that the stamp says itself.
pub(crate) fn stops(findings: &[Finding], stamped: &[&str]) -> Vec<String> {
    findings
        .iter()
        .filter(|finding| finding.weight == assess::Weight::Stop && !stamped.contains(&finding.slug))
        .map(|finding| finding.title.clone())
        .collect()
}

/// A phrase as a sentence: a capital in front, a full stop behind.
#[must_use]
pub fn sentence(phrase: &str) -> String {
    let mut said = wording::capital(phrase);
    if !said.is_empty() && !said.ends_with(['.', '?', '!']) {
        said.push('.');
    }
    said
}
