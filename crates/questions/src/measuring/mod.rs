//! How to measure: a card a way of measuring, with the tool, the steps, its caution, a trick where the tool is lacking, and
//! the arithmetic where the reading is not yet the figure. The table of keys names the card of every figure that a person
//! measures.
//!
//! A card is the same for every car. What a car's sheet says of a figure, [`present`] tells beside it.

mod brakes;
mod car;
mod drivetrain;
mod foot;
mod hand;
mod lines;
mod sum;
mod valve;

use engine::car::{Assembled, Drawing, KEYS, Key, KeyId};

pub use sum::{Sum, SumReading, Worked};

/// A way of measuring, on a card.
#[derive(Clone, Copy, Debug)]
pub struct Card {
    /// Its drawing, which gives its name and its title.
    pub drawing: Drawing,
    /// What it takes.
    pub tool: &'static str,
    /// At most three, each in short sentences.
    pub steps: &'static [&'static str],
    /// What to mind, each said in one place.
    pub cautions: &'static [&'static str],
    /// What helps where the tool is lacking.
    pub trick: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// From the reading to the figure, where they are not the same.
    pub sums: &'static [Sum],
}

/// What a way of measuring rests on where no source is known.
const COMMON: &str = "common practice, no source";

/// Every card, in the order of [`Drawing::ALL`].
pub static CARDS: [&Card; Drawing::ALL.len()] = [
    &car::SCALES,
    &car::RAISED,
    &car::WHEELBASE,
    &car::TRACKS,
    &car::WEIGHT,
    &car::ABOARD,
    &car::TANK,
    &car::TYRE,
    &car::STOP,
    &foot::PEDAL,
    &foot::FOOT,
    &foot::MASTER,
    &foot::BORE,
    &foot::STROKE,
    &foot::BAR,
    &valve::KNOB,
    &valve::TWO_GAUGES,
    &valve::LOAD,
    &hand::KIND,
    &hand::RATIO,
    &hand::FREE_PLAY,
    &hand::PULL,
    &hand::SLOW_PULL,
    &hand::CABLE,
    &hand::ROOM,
    &hand::MOUNT,
    &brakes::KIND,
    &brakes::PAD_TRACK,
    &brakes::DISC,
    &brakes::WRENCH,
    &brakes::DRUM,
    &brakes::SHOE,
    &drivetrain::DIFFERENTIAL,
    &drivetrain::CENTRE,
    &drivetrain::WRENCH,
    &drivetrain::SHAFTS,
    &drivetrain::FILM,
    &lines::ALONG,
    &lines::PIPE,
    &lines::THREAD,
    &lines::FLUID,
    &lines::HELD,
    &lines::PAPERS,
];

/// The card of a drawing.
#[must_use]
pub fn card(drawing: Drawing) -> Option<&'static Card> {
    CARDS.iter().copied().find(|card| card.drawing == drawing)
}

/// The card of a name, or of a key of the sheet; with the key where it was one.
#[must_use]
pub fn named(name: &str) -> Option<(&'static Card, Option<KeyId>)> {
    if let Some(drawing) = Drawing::named(name) {
        return card(drawing).map(|card| (card, None));
    }
    let key = of_path(name)?;
    card(key.key().drawing?).map(|card| (card, Some(key)))
}

/// The key of a path, entries counted from 1 or not at all: `load.item[2].mass`.
#[must_use]
pub fn of_path(path: &str) -> Option<KeyId> {
    let plain = match (path.find('['), path.find(']')) {
        (Some(open), Some(close)) if open < close => format!("{}[]{}", &path[..open], &path[close + 1..]),
        _ => path.to_owned(),
    };
    KeyId::of(&plain)
}

/// What a key of the sheet is called, such as `pad edges, rear`; that of one axle's brakes with the axle. `None`: no key.
#[must_use]
pub fn in_words(path: &str) -> Option<String> {
    Some(wording::key_called(path, of_path(path)?.key().label))
}

/// A piece of a text in which keys of the sheet stand between back quotes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InText<'t> {
    /// Words.
    Words(&'t str),
    /// A key, in the place of words.
    Key(&'t str),
    /// A key in brackets behind what it is called, for whoever opens the sheet: the blank before it and its brackets
    /// belong to it.
    Behind(&'t str),
}

/// The pieces of such a text.
#[must_use]
pub fn pieces(text: &str) -> Vec<InText<'_>> {
    let parts: Vec<&str> = text.split('`').collect();
    let is_behind = |at: usize| {
        at < parts.len()
            && at % 2 == 1
            && parts[at - 1].ends_with(" (")
            && parts.get(at + 1).is_some_and(|next| next.starts_with(')'))
    };
    let mut pieces = Vec::with_capacity(parts.len());
    for (at, &part) in parts.iter().enumerate() {
        if at % 2 == 1 {
            pieces.push(if is_behind(at) {
                InText::Behind(part)
            } else {
                InText::Key(part)
            });
            continue;
        }
        let part = if at > 0 && is_behind(at - 1) {
            &part[1..]
        } else {
            part
        };
        let part = if is_behind(at + 1) {
            part.strip_suffix(" (").unwrap_or(part)
        } else {
            part
        };
        if !part.is_empty() {
            pieces.push(InText::Words(part));
        }
    }
    pieces
}

impl Card {
    /// Its name in addresses and commands.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        self.drawing.name()
    }

    /// What stands above it.
    #[must_use]
    pub const fn title(&self) -> &'static str {
        self.drawing.title()
    }

    /// The keys of the sheet that are measured so.
    pub fn keys(&self) -> impl Iterator<Item = &'static Key> + '_ {
        KEYS.iter().filter(|key| key.drawing == Some(self.drawing))
    }

    /// The sums that give this key's figure; all of them where no key is asked for.
    pub fn sums_for(&self, key: Option<KeyId>) -> impl Iterator<Item = &'static Sum> + '_ {
        self.sums
            .iter()
            .filter(move |sum| key.is_none_or(|key| sum.gives(key.key())))
    }
}

/// What stands for a figure of a car now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Present {
    /// What its sheet says.
    Says(String),
    /// What is taken for it, and where that comes from.
    Taken {
        /// As a sheet would write it.
        value: String,
        /// As it is shown.
        shown: String,
        /// Where it comes from.
        source: String,
        /// Whether the sheet says `guess`, or nothing.
        guess: bool,
    },
    /// Nothing.
    Nothing,
}

/// What is told of one card.
#[derive(Clone, Debug)]
pub struct CardTold {
    /// The card.
    pub card: &'static Card,
    /// The key of the sheet that was asked for.
    pub key: Option<KeyId>,
    /// What a car that was named has for it.
    pub present: Option<(String, Present)>,
    /// What the readings give, and by which sum.
    pub worked: Option<(&'static Sum, Worked)>,
}

/// What a sheet says of a key, or what is taken where it says nothing. `assembled`: the car, where its sheet reads.
#[must_use]
pub fn present(text: &str, assembled: Option<&Assembled>, path: &str) -> Present {
    let leaned = assembled.and_then(|assembled| {
        assembled
            .defaults_used
            .iter()
            .find(|leaned| leaned.slot.path() == path)
    });
    if let Some(leaned) = leaned {
        return Present::Taken {
            value: leaned.value.to_string(),
            shown: wording::taken(leaned),
            source: leaned.source.to_string(),
            guess: leaned.guess,
        };
    }
    crate::onto_sheet::written(text, path).map_or(Present::Nothing, |written| {
        Present::Says(written.replace('"', ""))
    })
}
