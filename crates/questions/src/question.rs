//! What every question is made of.

use charts::{Look, Picture};
use engine::hydraulics::Forces;
use engine::ranges;
use quantity::si::Force;
use serde_json::Value;

pub use crate::options::Case;
use crate::options::{HAND, Row, Said};
use crate::report::{Frame, Headline, Report, sentence};
use crate::result::{CsvTable, Head};
use crate::trouble::Wrong;

/// A question of the trade: one value in [`ALL`](crate::ALL). Everything that a terminal, a page or another program
/// shows of it comes from here.
pub trait Question: Sync {
    /// Its verb, and the name in its machine-read result.
    fn name(&self) -> &'static str;

    /// Its part of an address.
    fn room(&self) -> &'static str {
        self.name()
    }

    /// As people ask it: `How hard, how far?`
    fn asked_as(&self) -> &'static str;

    /// What its help says.
    fn help(&self) -> Help;

    /// The options that it takes, in the order of its handles and of its help. Options that every question takes and that
    /// are not listed change nothing here, and the answer says so.
    fn takes(&self) -> &'static [&'static Row];

    /// What can be moved on its page: what it takes, as far as that has a handle.
    fn handles(&self) -> Vec<&'static Row> {
        let taken = self.takes().iter().copied();
        taken.filter(|row| row.handle.is_some()).collect()
    }

    /// How often tolerances are drawn where nothing is said of it: less often where one draw is a whole stage or night.
    fn draws(&self) -> u32 {
        ranges::DRAWS
    }

    /// The stamp where it cannot be answered.
    fn unanswered(&self) -> &'static str {
        "Not for this car"
    }

    /// Whether the answer leans on the car's logbook: one that does not read stops it.
    fn reads_logbook(&self) -> bool {
        false
    }

    /// Whether the answer leans on the person's own prices: they are read, and stop it where they are written wrongly.
    fn reads_prices(&self) -> bool {
        false
    }

    /// Whether a part of what is asked takes so long that a page has it made elsewhere, and shows the rest at once.
    fn takes_long(&self, _said: &Said) -> bool {
        false
    }

    /// Where handles stand, and what a page asks with, while nobody has said anything: figures in the unit of the address.
    fn usual(&self, _case: &Case<'_>) -> Vec<(&'static Row, f64)> {
        Vec::new()
    }

    /// Whether the car from above is not shown beside it: its own picture is that already, or it is of no one state.
    fn without_the_car_from_above(&self) -> bool {
        false
    }

    /// The foot and the hand that the car from above shows beside the answer: the driver's pull, where nothing else is said.
    fn braked(&self, case: &Case<'_>) -> Forces {
        let of_sheet = case.opened.car().lever.as_ref().map(|lever| lever.hand_pull);
        Forces {
            foot: Force::ZERO,
            hand: case.said.force(&HAND).or(of_sheet).unwrap_or(Force::ZERO),
        }
    }

    /// The present answer in a few words, for the index. It is asked for every page, so that it draws nothing.
    fn short(&self, case: &Case<'_>) -> String;

    /// The whole answer.
    ///
    /// # Errors
    /// Why this car cannot be asked this.
    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong>;

    /// The head of its machine-read result.
    fn head(&self, case: &Case<'_>) -> Head {
        Head::of(self.name(), case.opened)
    }

    /// The JSON Schema of its machine-read result.
    fn schema(&self) -> Value;
}

/// What comes of a question.
pub trait Answer {
    /// Everything that is shown of it, as plain data.
    fn report(&self) -> Report;

    /// The same for other programs: SI, keys that keep their meaning.
    ///
    /// # Errors
    /// As [`to_json`](crate::result::to_json).
    fn result(&self) -> Result<Value, serde_json::Error>;

    /// The same for a spreadsheet, where there are lists: a table a file.
    fn tables(&self) -> Vec<CsvTable> {
        Vec::new()
    }

    /// The picture that belongs to it.
    fn draw(&self, look: &Look<'_>) -> Picture;

    /// The car from above with what belongs to the answer at its wheels; `None`: what a foot and a hand do there.
    fn above(&self, _look: &Look<'_>) -> Option<Picture> {
        None
    }

    /// A further picture, by the name that its report gives it.
    fn draw_more(&self, _name: &str, look: &Look<'_>) -> Picture {
        self.draw(look)
    }
}

impl Report {
    /// A report of a question for a car in its state, with everything that is the same for all questions.
    #[must_use]
    pub fn of(question: &dyn Question, case: &Case<'_>, headline: Headline) -> Self {
        Self::named(question.name(), question.asked_as(), case, headline)
    }

    /// The report of a question that this car cannot be asked, with why.
    #[must_use]
    pub fn refused(question: &dyn Question, case: &Case<'_>, wrong: &Wrong) -> Self {
        let why = wrong.troubles.first();
        let headline = Headline {
            stamp: question.unanswered().to_owned(),
            frame: Frame::Broken,
            because: why.map_or_else(String::new, |trouble| sentence(&trouble.text)),
            though: Vec::new(),
            stops_first: Vec::new(),
            figures: Vec::new(),
            first: why.map(|trouble| sentence(&trouble.remedy)),
        };
        Self::of(question, case, headline)
    }
}

/// What the help of a question says.
#[derive(Clone, Copy, Debug)]
pub struct Help {
    /// One line.
    pub about: &'static str,
    /// A few sentences behind it.
    pub more: &'static str,
    /// What it teaches, and examples; each line at most 78 columns wide.
    pub teaches: &'static str,
}
