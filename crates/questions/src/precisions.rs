//! Digits that were decided, for as long as somebody asks the same car again and again.

use std::sync::{Mutex, PoisonError};

use engine::Conditions;
use records::Digest;
use wording::Precision;

/// The most that are kept; the one that was decided first goes.
const MOST: usize = 64;

/// What digits were decided for: a sheet, what was put in the place of its keys, what the car was asked under.
#[derive(Debug, PartialEq)]
struct Asked {
    sheet: Digest,
    overrides: Vec<(String, String)>,
    conditions: Conditions,
}

/// Digits that were decided.
#[derive(Debug, Default)]
pub struct Precisions(Mutex<Vec<(Asked, Precision)>>);

impl Precisions {
    /// Those of a car under conditions; `draw` decides them where nobody has.
    pub(crate) fn of(
        &self,
        sheet: Digest,
        overrides: &[(String, String)],
        conditions: &Conditions,
        draw: impl FnOnce() -> Precision,
    ) -> Precision {
        let asked = Asked {
            sheet,
            overrides: overrides.to_vec(),
            conditions: conditions.clone(),
        };
        let kept = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, known)) = kept().iter().rev().find(|(of, _)| *of == asked) {
            return *known;
        }
        let drawn = draw();
        let mut kept = kept();
        let many = kept.len();
        kept.drain(..(many + 1).saturating_sub(MOST));
        kept.push((asked, drawn));
        drawn
    }
}
