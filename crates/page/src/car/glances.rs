//! What stands on every page of a car beside its answer: the verdict with what stops the car, and each question's answer in
//! a few words. Whoever goes from room to room sees the same ones; they are made once, for as long as nothing that they
//! rest on changes.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use engine::car::Date;
use plumbing::prices::Prices;
use questions::History;
use questions::assess::Outcome as Assessed;
use records::Digest;
use wording::Units;

/// The most that are kept; the one that was not asked for longest goes.
const MOST: usize = 16;

/// What it rests on.
#[derive(Clone, Debug)]
pub(crate) struct Grounds {
    pub(crate) car: String,
    /// The sheet's bytes.
    pub(crate) sheet: Digest,
    /// What a proposal and the address put in the place of its keys.
    pub(crate) overrides: Vec<(String, String)>,
    /// What else the address says.
    pub(crate) query: String,
    pub(crate) day: Date,
    pub(crate) units: Units,
    /// The very logbook that was read: it is read anew once another lies there.
    pub(crate) history: Arc<History>,
    pub(crate) prices: Prices,
}

impl PartialEq for Grounds {
    fn eq(&self, other: &Self) -> bool {
        let Self {
            car,
            sheet,
            overrides,
            query,
            day,
            units,
            history,
            prices,
        } = self;
        *car == other.car
            && *sheet == other.sheet
            && *overrides == other.overrides
            && *query == other.query
            && *day == other.day
            && *units == other.units
            && Arc::ptr_eq(history, &other.history)
            && *prices == other.prices
    }
}

/// What was made of it so far.
#[derive(Debug, Default)]
pub(crate) struct Glance {
    /// A brief look at the assessment; nothing where this car cannot be assessed.
    pub(crate) assessed: OnceLock<Option<Assessed>>,
    shorts: Mutex<BTreeMap<&'static str, String>>,
}

impl Glance {
    /// A room's answer in a few words, made where nobody has.
    pub(crate) fn short(&self, room: &'static str, make: impl FnOnce() -> String) -> String {
        let shorts = || self.shorts.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = shorts().get(room) {
            return known.clone();
        }
        // Two who ask at once make the same.
        let made = make();
        shorts().insert(room, made.clone());
        made
    }
}

/// Those of the cars that somebody looks at.
#[derive(Debug, Default)]
pub(crate) struct Glances(Mutex<Vec<(Grounds, Arc<Glance>)>>);

impl Glances {
    fn kept(&self) -> MutexGuard<'_, Vec<(Grounds, Arc<Glance>)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What is known on these grounds: nothing yet, where nobody asked.
    pub(crate) fn on(&self, grounds: Grounds) -> Arc<Glance> {
        let mut kept = self.kept();
        let place = kept.iter().position(|(of, _)| *of == grounds);
        let (grounds, glance) = match place {
            Some(place) => kept.remove(place),
            None => (grounds, Arc::default()),
        };
        let many = kept.len();
        kept.drain(..(many + 1).saturating_sub(MOST));
        kept.push((grounds, Arc::clone(&glance)));
        glance
    }
}
