//! The questions of the trade, each one thing: a folder with its options, outcome, verdict, sentence, machine-read
//! result, picture and report. Terminal, page, handed-on page and print render what stands here and add nothing.
//!
//! The shapes, from what a person writes to what is shown:
//!
//! - A [`Row`](options::Row) of the one [table of options](options) says an option's name, the shape of its value, its
//!   help, its place in an address and what moves it on a page. The command line, the address and the handles are made
//!   from it.
//! - [`Said`](options::Said) is what was said of them, as text. [`open`] reads it into an [`Opened`] car: everything that is
//!   wrong is found at once.
//! - A [`Case`] is that car with what was said, the draws, and the units that the person reads in.
//! - A [`Question`] is a value in [`ALL`]. It names the rows that it takes and answers a case.
//! - An [`Answer`] gives its [`Report`](report::Report), its machine-read result, its picture.
//! - A report is plain data: a headline (stamp, frame, why, figures with range and limit, what to do first), then
//!   sections of a title, a summary for when they are folded, and blocks (facts, text, list, table, caution), then
//!   findings, workings, warnings, defaults and cautions. Its texts are finished; whoever shows it decides only where.
//!
//! A new question is a folder here and a line in [`ALL`]; a new option is a row in the table. Nothing here prints or knows
//! a terminal; the day is an argument.

mod answered;
pub mod assess;
pub mod balance;
pub mod compare;
pub mod conditions;
pub mod dash_card;
pub mod due;
mod exchanged;
mod explained;
mod ground;
pub mod heat;
mod history;
pub mod hold;
mod in_words;
pub mod leak;
pub mod lever;
pub mod lines;
pub mod logbook;
pub mod logger;
mod measured;
pub mod measuring;
pub mod on_the_car;
pub mod onto_sheet;
mod open;
mod opened;
pub mod options;
mod part_groups;
pub mod parts;
pub mod picture;
pub mod plan;
mod precisions;
pub mod pressures;
mod prices;
pub mod progress;
pub mod proposals;
mod proposed;
pub mod prove;
pub mod pull;
mod question;
pub mod readings;
pub mod report;
pub mod result;
pub mod scrutineer;
pub mod settings;
pub mod size;
mod state;
pub mod sure;
pub mod symptom;
mod trouble;
pub mod turn;
mod turn_study;
pub mod working;
pub mod writing;

pub use explained::working_bench;
pub use ground::Ground;
pub use history::{History, history};
pub use in_words::{
    aboard_in_words, grade_in_words, measured_in_words, other_in_words, state_in_words, warmth_in_words,
};
pub use nearest::nearest_one as nearest;
pub use open::{is_idle, open};
pub use opened::{Beside, Changes, Opened, Sheet, find, headlines};
pub use options::sampling;
pub use precisions::Precisions;
pub use prices::prices;
pub use question::{Answer, Case, Help, Question};
pub use report::changed_last as last_change;
pub use state::{State, StateText, day, facing, foot, grips, hand, speed, units, wish};
pub use trouble::{Quotation, Stop, Trouble, Wrong, of_records};

/// Every question that answers through its report.
pub static ALL: &[&dyn Question] = &[
    &assess::Ask,
    &pressures::Ask,
    &balance::Ask,
    &settings::Ask,
    &lever::Ask,
    &size::Ask,
    &conditions::Ask,
    &compare::Ask,
    &turn::Ask,
    &heat::Ask,
    &hold::Ask,
    &lines::Ask,
    &prove::Ask,
    &plan::Ask,
    &sure::Ask,
    &pull::Ask,
    &logger::Ask,
    &symptom::Ask,
    &leak::Ask,
];

/// The question of a name.
#[must_use]
pub fn named(name: &str) -> Option<&'static dyn Question> {
    ALL.iter().copied().find(|question| question.name() == name)
}
