//! Studies that take so long that no page waits for them: made aside, the one that was asked for last first, and kept for
//! whoever looks again. A page says how far its own is; with the script it shows it once it is made.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use questions::sure::TurnStudy;
use tokio::sync::Notify;

/// So many are kept; the one that nobody has asked for longest goes, and is called off.
const KEPT: usize = 8;

/// Of what a study is made: the car, its sheet as it lies on the disk, the day, and what is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Key {
    pub(crate) car: String,
    pub(crate) sheet: String,
    pub(crate) day: String,
    pub(crate) query: String,
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
pub(crate) struct Far {
    /// Share of it that is done, as bits.
    share: AtomicU64,
    pub(crate) called_off: Notify,
}

/// What is kept, what was asked for last first.
#[derive(Debug, Default)]
pub(crate) struct Studies {
    kept: Mutex<VecDeque<Kept>>,
    /// Rung when one is wanted.
    pub(crate) bell: Notify,
}

impl Far {
    fn share(&self) -> f64 {
        f64::from_bits(self.share.load(Ordering::Relaxed))
    }

    /// Runs end in no order, so that an earlier one may tell later.
    pub(crate) fn tell(&self, share: f64) {
        // Of two numbers from 0 to 1 the larger has the larger bits.
        self.share
            .fetch_max(share.clamp(0.0, 1.0).to_bits(), Ordering::Relaxed);
    }
}

impl Studies {
    fn kept(&self) -> MutexGuard<'_, VecDeque<Kept>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How a study stands; it is begun where it is not there.
    pub(crate) fn asked(&self, key: Key) -> TurnStudy {
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
    pub(crate) fn next(&self) -> Option<(Key, Arc<Far>)> {
        let kept = self.kept();
        let wanted = kept.iter().find(|study| study.made.is_none())?;
        Some((wanted.key.clone(), Arc::clone(&wanted.far)))
    }

    /// Takes in what came of one; nothing: its car could not be opened, and whoever asks again is told why.
    pub(crate) fn end(&self, key: &Key, made: Option<TurnStudy>) {
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
    pub(crate) fn far(&self, key: &Key) -> Option<f64> {
        let kept = self.kept();
        let study = kept.iter().find(|study| study.key == *key)?;
        study.made.is_none().then(|| study.far.share())
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
        let is_new = |car| matches!(studies.asked(key(car)), TurnStudy::UnderWay(share) if share < 1e-12);
        assert!((0..KEPT).all(is_new));
        let (next, far) = studies.next().unwrap();
        assert_eq!(next, key(KEPT - 1));
        far.tell(0.5);
        far.tell(0.25);
        assert_eq!(studies.far(&next), Some(0.5));
        assert!(
            matches!(studies.asked(key(KEPT - 1)), TurnStudy::UnderWay(share) if (share - 0.5).abs() < 1e-12)
        );
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
