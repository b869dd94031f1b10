//! What to measure next: the keys that settle most of the figure that is least sure.

use engine::figures::{Figures, Headlined};

use crate::families::guesses::is_open;

/// Keys that settle less are left out.
const WORTH_IT: f64 = 0.05;
/// How many are given for one figure.
const MOST: usize = 3;

/// One reading that would settle something.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureNext {
    /// Key of the sheet.
    pub key: String,
    /// Headline figure that it settles.
    pub figure: Headlined,
    /// Share of that figure's variance that knowing the key alone would take away, over the draws.
    pub settles: f64,
    /// How it is measured.
    pub how: &'static str,
}

/// For the open verdicts, the lever's before the balance; where none is open, for what is in hand.
pub(crate) fn measure_next(figures: &Figures) -> Vec<MeasureNext> {
    let headlines = &figures.headlines;
    let doubts = [
        (
            Headlined::InHand,
            is_open(headlines.chance_rear_stops()) || is_open(headlines.chance_rear_stops_at_worst()),
        ),
        (Headlined::FrontFirstBy, is_open(headlines.chance_rear_first())),
    ];
    let mut open: Vec<Headlined> = doubts
        .iter()
        .filter(|(_, open)| *open)
        .map(|&(figure, _)| figure)
        .collect();
    if open.is_empty() {
        let has_lever = headlines.middle.in_hand.is_some();
        open.push(if has_lever {
            Headlined::InHand
        } else {
            Headlined::FrontFirstBy
        });
    }
    let mut next: Vec<MeasureNext> = Vec::new();
    for figure in open {
        let settles = figures
            .settles
            .iter()
            .filter(|(of, _)| *of == figure)
            .flat_map(|(_, settles)| settles);
        for settled in settles.filter(|settled| settled.share >= WORTH_IT).take(MOST) {
            let key = settled.slot.path();
            if !next.iter().any(|known| known.key == key) {
                next.push(MeasureNext {
                    how: settled.slot.key.key().how,
                    key,
                    figure,
                    settles: settled.share,
                });
            }
        }
    }
    next
}
