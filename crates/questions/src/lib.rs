//! What a person asks of a car: options as they write them (`"30 L"`, `"packed snow"`, `lever.bore=11/16 in`), read into
//! a car that is opened, changed for this once and put into its state. The command line and the page read by this, and
//! so say the same of the same words.
//!
//! Everything that is wrong is found at once. Nothing here prints or knows a terminal; the day is an argument.

pub mod answers;
mod ground;
mod headline;
mod history;
mod nearest;
mod opened;
pub mod picture;
mod state;
pub mod sure;
mod trouble;
mod turn;

pub use ground::Ground;
pub use headline::{headlines, plan};
pub use history::{History, history};
pub use nearest::nearest;
pub use opened::{Changes, Opened, Sheet, find};
pub use state::{
    State, StateText, aboard_in_words, foot, grips, hand, speed, state_in_words, units, warmth_in_words, wish,
};
pub use trouble::{Shown, Stop, Trouble, Wrong, of_records};
pub use turn::{
    TurnSaid, TurnText, hairpin, map_size, no_turn_in_words, turn, turn_bench, turn_read_otherwise,
    turn_study,
};
