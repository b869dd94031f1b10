//! Studies that take so long that no page waits for them: made aside, the one that was asked for last first, and kept for
//! whoever looks again. A page says how far its own is; with the script it shows it once it is made.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use engine::ranges::Sampling;
use maud::{Markup, html};
use questions::sure::{TurnStudy, study_of_turn};
use questions::{Case, Opened};
use tokio::sync::Notify;
use wording::Units;

use super::address::path;
use super::asking::Asking;
use super::desk::Desk;
use super::stands;
use super::visit::{Visit, counts_turns, find};
use crate::shell::frame::Stands;
use crate::web::lanes::Lost;

/// So many are kept; the one that nobody has asked for longest goes, and is called off.
const KEPT: usize = 8;

/// What an address that asks how far one is gets once there is nothing to wait for.
const MADE: &str = "made";

/// Of what a study is made: the car, its sheet as it lies on the disk, the day, and what is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Key {
    car: String,
    sheet: String,
    day: String,
    query: String,
}

#[derive(Debug)]
struct Kept {
    key: Key,
    far: Arc<Far>,
    /// What came of it, once it is made.
    made: Option<TurnStudy>,
}

/// How far one is, and what calls it off.
#[derive(Debug, Default)]
struct Far {
    /// Share of it that is done, as bits.
    share: AtomicU64,
    called_off: Notify,
}

/// What is kept, what was asked for last first.
#[derive(Debug, Default)]
pub(crate) struct Studies {
    kept: Mutex<VecDeque<Kept>>,
    /// Rung when one is wanted.
    bell: Notify,
}

impl Far {
    fn share(&self) -> f64 {
        f64::from_bits(self.share.load(Ordering::Relaxed))
    }

    /// Runs end in no order, so that an earlier one may tell later.
    fn tell(&self, share: f64) {
        // Of two numbers from 0 to 1 the larger has the larger bits.
        self.share
            .fetch_max(share.clamp(0.0, 1.0).to_bits(), Ordering::Relaxed);
    }
}

impl Key {
    fn of(desk: &Desk, car: &str, asking: &Asking, stands: &Stands) -> Self {
        // An entry of the logbook changes nothing in it.
        let sheet = stands.word.split(' ').next().unwrap_or_default();
        Self {
            car: car.to_owned(),
            sheet: sheet.to_owned(),
            day: desk.today().to_string(),
            query: asking.query(),
        }
    }
}

impl Studies {
    fn kept(&self) -> MutexGuard<'_, VecDeque<Kept>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How a visit's study stands; it is begun where it is not there.
    pub(crate) fn of(&self, visit: &Visit<'_>) -> TurnStudy {
        self.of_car(visit.desk, visit.name(), &visit.asking, &visit.stands)
    }

    /// The same of a car whose files stand so.
    pub(crate) fn of_car(&self, desk: &Desk, car: &str, asking: &Asking, stands: &Stands) -> TurnStudy {
        self.asked(Key::of(desk, car, asking, stands))
    }

    fn asked(&self, key: Key) -> TurnStudy {
        let mut kept = self.kept();
        let known = kept.iter().position(|study| study.key == key);
        let study = known
            .and_then(|place| kept.remove(place))
            .unwrap_or_else(|| Kept {
                key,
                far: Arc::default(),
                made: None,
            });
        let stands = study
            .made
            .clone()
            .unwrap_or_else(|| TurnStudy::UnderWay(study.far.share()));
        kept.push_front(study);
        let stay = KEPT.min(kept.len());
        for gone in kept.split_off(stay) {
            gone.far.called_off.notify_one();
        }
        self.bell.notify_one();
        stands
    }

    /// The next to be made.
    fn next(&self) -> Option<(Key, Arc<Far>)> {
        let kept = self.kept();
        let wanted = kept.iter().find(|study| study.made.is_none())?;
        Some((wanted.key.clone(), Arc::clone(&wanted.far)))
    }

    /// Takes in what came of one; nothing: its car could not be opened, and whoever asks again is told why.
    fn end(&self, key: &Key, made: Option<TurnStudy>) {
        let mut kept = self.kept();
        match made {
            Some(made) => {
                if let Some(study) = kept.iter_mut().find(|study| study.key == *key) {
                    study.made = Some(made);
                }
            }
            None => kept.retain(|study| study.key != *key),
        }
    }

    /// How far one is that is still to be made.
    fn far(&self, key: &Key) -> Option<f64> {
        let kept = self.kept();
        let study = kept.iter().find(|study| study.key == *key)?;
        study.made.is_none().then(|| study.far.share())
    }
}

/// Makes what is wanted, until the server stops.
pub(crate) async fn make(desk: Arc<Desk>) {
    loop {
        let Some((key, far)) = desk.studies.next() else {
            desk.studies.bell.notified().await;
            continue;
        };
        let (at_work, asked, told) = (Arc::clone(&desk), key.clone(), Arc::clone(&far));
        let work = desk.lanes.aside(move || one(&at_work, &asked, &told));
        let made = tokio::select! {
            made = work => made,
            () = far.called_off.notified() => Err(Lost::CalledOff),
        };
        match made {
            Ok(made) => desk.studies.end(&key, made),
            Err(Lost::CalledOff) => {}
            Err(Lost::Fault(fault)) => {
                desk.tell(&format!("{}: a study could not be made: {fault}", key.car));
                desk.studies.end(&key, None);
            }
        }
    }
}

/// Opens the car as it was asked for, and studies it.
fn one(desk: &Desk, key: &Key, far: &Far) -> Option<TurnStudy> {
    let asking = Asking::read(key.query.strip_prefix('?').unwrap_or_default()).ok()?;
    let sheet = find(desk, &key.car).ok()?;
    let said = asking.said(counts_turns(&sheet));
    let opened = Opened::as_said(sheet, &said, desk.today()).ok()?;
    desk.counts.opened();
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: Sampling::default(),
        units: Units::default(),
        brief: false,
    };
    Some(study_of_turn(&case, &|share| far.tell(share)))
}

/// How far the study is that an address asks for, between 0 and 1; or that there is none to wait for.
pub(crate) fn how_far(desk: &Desk, car: &str, query: &str) -> String {
    let asking = Asking::read(query).unwrap_or_default();
    let key = Key::of(desk, car, &asking, &stands::of_car(desk, car, &asking));
    desk.studies
        .far(&key)
        .map_or_else(|| MADE.to_owned(), |share| format!("{share:.3}"))
}

/// What is being made, with how far it is: the script keeps it current, a link looks again without it.
pub(crate) fn under_way(visit: &Visit<'_>, what: &str, share: f64) -> Markup {
    let query = visit.asking.query();
    let here = format!("{}{query}", path(visit.name(), visit.room()));
    html! {
        div class="under-way" id="under-way" data-far={ (path(visit.name(), "far")) (query) } {
            p { (what) ": " output { (wording::per_cent(share)) } " done. All else on this page is complete." }
            progress max="1" value=(format!("{share:.3}")) aria-label=(what) {}
            p class="keys" { a class="key" href=(here) { "Look again" } }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(car: usize) -> Key {
        Key {
            car: format!("car {car}"),
            sheet: String::new(),
            day: String::new(),
            query: String::new(),
        }
    }

    #[test]
    fn the_last_one_asked_for_is_next_and_the_one_longest_not_asked_for_goes() {
        let studies = Studies::default();
        let is_new = |car| matches!(studies.asked(key(car)), TurnStudy::UnderWay(share) if share == 0.0);
        assert!((0..KEPT).all(is_new));
        let (next, far) = studies.next().unwrap();
        assert_eq!(next, key(KEPT - 1));
        far.tell(0.5);
        far.tell(0.25);
        assert_eq!(studies.far(&next), Some(0.5));
        assert!(matches!(studies.asked(key(KEPT - 1)), TurnStudy::UnderWay(share) if share == 0.5));
        // The first is asked for again: now the second is the oldest.
        assert!(is_new(0) && is_new(KEPT));
        assert_eq!((studies.far(&key(0)), studies.far(&key(1))), (Some(0.0), None));
        let none = || TurnStudy::Made(Arc::new(Ok(Vec::new())));
        studies.end(&key(KEPT), Some(none()));
        assert!(matches!(studies.asked(key(KEPT)), TurnStudy::Made(_)));
        assert_eq!(studies.far(&key(KEPT)), None, "there is nothing to wait for");
        assert_eq!(studies.next().unwrap().0, key(0));
        // What could not be opened is begun again by whoever asks again; what came of one that is gone is nobody's.
        studies.end(&key(0), None);
        studies.end(&key(1), Some(none()));
        assert!(is_new(0) && is_new(1));
    }
}
