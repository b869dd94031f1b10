//! The dash card, at its own size.

use questions::Wrong;
use questions::dash_card::DashCard;
use questions::report::Detail;
use questions::settings;

use super::{Asked, short};
use crate::document::{Begins, Card, Part, Piece};

pub(super) fn part(book: &Asked<'_>) -> Result<Part, Wrong> {
    let case = book.case(&settings::Ask)?;
    let card = DashCard::of(&case)?;
    let digest = book.opened.sheet.digest.to_string();
    let mut left = vec![
        Piece::section("Settings"),
        Piece::Text(format!("For {}, from fully out.", card.wanted)),
    ];
    if card.settings.rows.is_empty() {
        left.push(Piece::Text("Nothing to set.".to_owned()));
    } else {
        left.push(Piece::Table {
            table: card.settings,
            blanks: Vec::new(),
        });
    }
    let right = match card.pulled {
        Some(pulled) => {
            let mut right = vec![
                Piece::section(format!("One pull of {pulled}")),
                Piece::Details(card.pull),
            ];
            right.push(Piece::Text(
                "Measured: ________ mm, on ________________".to_owned(),
            ));
            right.extend(card.otherwise.map(Piece::Text));
            if !card.stops.is_empty() {
                let ground = &book.opened.state.surface.name;
                right.push(Piece::section(format!("The rear stops, on {ground}")));
                right.push(Piece::Details(card.stops));
            }
            right
        }
        None => vec![
            Piece::section("One pull"),
            Piece::Details(vec![Detail::new(
                "check",
                "none: no lever with a cylinder on the sheet",
            )]),
        ],
    };
    Ok(Part {
        title: "The dash card".to_owned(),
        begins: Begins::OnItsOwn,
        pieces: vec![
            Piece::Text(
                "Print at full size, cut along the line, stick it where the driver reads it belted in. Throw the old one away."
                    .to_owned(),
            ),
            Piece::Card(Card {
                title: book.opened.car().name.to_string(),
                print: format!("{} · sheet `{}`", book.edition.day, short(&digest)),
                columns: [left, right],
                foot: vec![super::CAUTION.to_owned()],
            }),
        ],
    })
}
