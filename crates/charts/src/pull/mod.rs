//! The hand's pull: pressure at the rear over travel of the grip, where it locks, where room and stroke end, and what
//! takes the travel.

mod drawing;

use engine::curves::Pulled;
use quantity::si::Force;

use crate::card::Card;
use crate::picture::{Look, Picture, PictureTable};
use wording::{Column, named};

/// The picture of a pull.
#[derive(Clone, Debug, PartialEq)]
pub struct PullCurve(pub Pulled);

/// What the driver's own pull is called: it is said, where the pulls that lock are found.
const DRIVER: &str = "driver's pull";

impl PullCurve {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "pull", "The hand's pull");
        match &self.0 {
            Pulled::NoLever => {
                card.empty("This car has no handbrake to pull.");
                card.finish(
                    true,
                    PictureTable {
                        caption: "The hand's pull".into(),
                        ..PictureTable::default()
                    },
                )
            }
            Pulled::Cable { driver, warm, cold } => {
                let force = |hand: &Option<Force>| {
                    hand.map_or_else(
                        || "more than any hand".to_owned(),
                        |hand| look.precision.pull(hand, &look.units),
                    )
                };
                card.empty("A cable works the rear brakes: it makes no pressure, and how far it stretches is not computed.");
                card.say(format!(
                    "The rear locks at {} of hand warm, {} cold; the driver pulls {}.",
                    force(warm),
                    force(cold),
                    wording::pull(*driver, &look.units),
                ));
                let rows = [
                    ("locks warm", *warm),
                    ("locks cold", *cold),
                    (DRIVER, Some(*driver)),
                ];
                let column = Column::of(
                    look.units.force,
                    rows.iter().filter_map(|row| row.1).map(Force::n),
                );
                let cell = |name: &str, hand: Option<Force>| match hand {
                    Some(hand) if name != DRIVER => column.known(hand.n(), look.precision.hand),
                    hand => column.maybe(hand.map(Force::n)),
                };
                let table = PictureTable {
                    caption: "The hand's pull on a cable".into(),
                    head: vec!["at".into(), named("hand", look.units.force)],
                    rows: rows
                        .iter()
                        .map(|(name, hand)| vec![(*name).to_owned(), cell(name, *hand)])
                        .collect(),
                };
                card.finish(true, table)
            }
            Pulled::Cylinder(pull) => drawing::Drawn(pull).draw(card),
        }
    }
}
