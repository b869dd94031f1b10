//! Of many cars those that no other is better than.

use super::FoundRow;

/// A difference of the hand's force that nobody feels (N; judgement).
const HAND_N: f64 = 5.0;
/// Of the grip's or the pedal's travel (m; judgement).
const TRAVEL_M: f64 = 2e-3;
/// Of the foot's force (N; judgement).
const FOOT_N: f64 = 10.0;

/// What a car is held against another by: figures in steps that a person feels, and how much is changed. The less the better.
type Steps = [i64; 5];

/// Cars of which none is at least as good as another in everything and better in something. Of those that feel alike, the
/// first in the order of the search stands for all.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Best {
    rows: Vec<(Steps, FoundRow)>,
}

impl Best {
    /// Takes a car in, unless one that is there is better; what it is better than goes.
    pub fn take(&mut self, row: FoundRow) {
        let steps = steps(&row);
        let gives_way = |(known, there): &(Steps, FoundRow)| {
            known.iter().zip(steps).all(|(known, new)| *known <= new)
                && (*known != steps || there.picked <= row.picked)
        };
        // One that is there and better is mostly among those that sent others away lately.
        if let Some(place) = self.rows.iter().position(gives_way) {
            self.rows.swap(place, 0);
            return;
        }
        self.rows
            .retain(|(known, _)| !steps.iter().zip(known).all(|(new, known)| new <= known));
        self.rows.push((steps, row));
    }

    /// The cars, those that change least first, then in the order of the search.
    #[must_use]
    pub fn into_rows(self) -> Vec<FoundRow> {
        let mut rows: Vec<FoundRow> = self.rows.into_iter().map(|(_, row)| row).collect();
        rows.sort_by(|one, other| (one.changes, &one.picked).cmp(&(other.changes, &other.picked)));
        rows
    }

    /// How many there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "forces and travels of a car, in steps: a few thousand"
)]
fn steps(row: &FoundRow) -> Steps {
    let of = |figure: f64, step: f64| (figure / step).round() as i64;
    let figures = &row.figures;
    [
        of(figures.hand.n(), HAND_N),
        of(figures.travel.m(), TRAVEL_M),
        of(figures.foot.n(), FOOT_N),
        of(figures.pedal_travel.m(), TRAVEL_M),
        i64::try_from(row.changes).unwrap_or(i64::MAX),
    ]
}
