//! What can be said of a question: one table, read by the command line, the page's address and its handles.
//!
//! A new option is one row here; a question takes it by naming it ([`Question::takes`](crate::Question::takes)).

mod case;
pub(crate) mod compared;
mod said;
mod slide;
mod table;
pub(crate) mod turn;

use quantity::Dimension;

use crate::trouble::Wrong;

pub use case::Case;
pub use said::{Said, sampling};
pub use slide::Slide;
pub use table::*;

/// What the choice on a page shows while nothing is said.
pub(crate) const NOTHING_SAID: &str = "nothing yet";

/// An option.
#[derive(Debug)]
pub struct Row {
    /// Its name: `no-crew` is `--no-crew` on the command line and `no_crew` in an address.
    pub name: &'static str,
    /// What is said behind it.
    pub value: Shape,
    /// What it does, in one line; what is taken when nothing is said stands in brackets behind it.
    pub help: &'static str,
    /// More of it, in a sentence or two.
    pub more: &'static str,
    /// Under which head of the help it stands.
    pub group: Group,
    /// Who takes it.
    pub taken_by: TakenBy,
    /// How it stands in the address of a page; `None` where only the command line has it.
    pub address: Option<Address>,
    /// What moves it on a page; `None` where nothing does.
    pub handle: Option<Handle>,
}

/// A row is the one of its name.
impl PartialEq for Row {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

/// The shape of what is said.
#[derive(Debug)]
pub enum Shape {
    /// Nothing: it is said or not.
    Flag,
    /// A whole number.
    Count,
    /// A text that is read with the car at hand.
    Text(&'static str),
    /// The same, written behind the car without the option's name.
    Behind(&'static str),
    /// The same, again and again.
    Many(&'static str),
    /// A figure with its unit, without tolerance, within a range.
    Figure {
        /// What stands for it in the help.
        of: &'static str,
        /// Its dimension.
        dimension: Dimension,
        /// The least and the most, as they are written.
        range: (&'static str, &'static str),
    },
    /// A text with a reader of its own.
    Read {
        /// What stands for it in the help.
        of: &'static str,
        /// Says what is wrong with it.
        check: fn(&str) -> Result<(), Wrong>,
    },
}

/// A head of the help.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// What foot, hand and clutch do.
    Driver,
    /// What the sheet says, other for this once.
    Car,
    /// What is aboard, what it drives on, which day it is.
    State,
    /// Draws.
    Sure,
    /// How the answer is written.
    Out,
}

impl Group {
    /// As it stands in the help.
    #[must_use]
    pub const fn head(self) -> &'static str {
        match self {
            Self::Driver => "What the driver does",
            Self::Car => "What is on the car",
            Self::State => "The state of the car",
            Self::Sure => "How sure it is",
            Self::Out => "What comes out",
        }
    }
}

/// Who takes an option.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TakenBy {
    /// Every question, so that a script can give all the same ones; where it changes nothing the answer says so.
    Everywhere,
    /// The questions that name it.
    Named,
}

/// How an option stands in an address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Address {
    /// As it is written on the command line.
    Same,
    /// A bare figure has this unit behind it.
    In(&'static str),
    /// A bare figure counts turns where the knob of the car's valve does.
    Knob,
    /// As it is written, and never a path: on a page nobody names files.
    Name,
    /// A file in a folder of the car, and never a path.
    OnShelf,
}

/// What moves an option on a page.
#[derive(Clone, Copy, Debug)]
pub enum Handle {
    /// A slide, with where it stands; `None` where this car has nothing to slide.
    Slide(fn(&Case<'_>) -> Option<Slide>),
    /// A tick.
    Tick(&'static str),
    /// One of the surfaces that the car knows.
    Surfaces,
    /// One of a few texts, the first where nothing is said.
    Choice(&'static str, &'static [&'static str]),
    /// Another car of the folder.
    Cars,
    /// One of the stages that come with the program, or one of the car's own.
    Stages,
}

impl Row {
    /// With its dashes.
    #[must_use]
    pub fn dashed(&self) -> String {
        format!("--{}", self.name)
    }

    /// Its name in an address.
    #[must_use]
    pub fn in_address(&self) -> Option<String> {
        self.address.map(|_| self.name.replace('-', "_"))
    }

    /// Whether what it asks for takes so long that a page says so.
    #[must_use]
    pub fn takes_long(&self) -> bool {
        [&MAP, &SEARCH, &OF_THE_TURN].contains(&self)
    }

    /// A value of an address with the unit that a bare figure has there. `turns`: whether the knob of the car's valve counts
    /// turns.
    #[must_use]
    pub fn in_full(&self, value: &str, turns: bool) -> String {
        let unit = match self.address {
            Some(Address::In(unit)) => unit,
            Some(Address::Knob) if turns => " turns",
            _ => "",
        };
        let bare = value
            .chars()
            .all(|character| character.is_ascii_digit() || matches!(character, '.' | ',' | '-' | '+'));
        if bare {
            format!("{value}{unit}")
        } else {
            value.to_owned()
        }
    }

    /// The row of a name in an address.
    #[must_use]
    pub fn of_address(name: &str) -> Option<&'static Self> {
        ALL.iter()
            .copied()
            .find(|row| row.in_address().is_some_and(|known| known == name))
    }
}
