//! Whether anybody still waits for what takes long.
//!
//! Whoever asks for something of many runs may say how it can be called off ([`Wanted`]); the runs look between one and the
//! next, and stop in the middle once nobody waits. Nothing half done comes back: the work is unwound as a whole.

use core::cell::RefCell;
use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What is waited for, until it is called off.
#[derive(Clone, Default)]
pub struct Wanted {
    called_off: Arc<AtomicBool>,
    gives_way: Option<GivesWay>,
}

/// What a thread does between one run and the next, so that something more urgent goes first.
pub type GivesWay = Arc<dyn Fn() + Send + Sync>;

impl core::fmt::Debug for Wanted {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Wanted")
            .field("called_off", &self.is_called_off())
            .finish_non_exhaustive()
    }
}

impl Wanted {
    /// The same, which gives way between one run and the next.
    #[must_use]
    pub fn giving_way(gives_way: GivesWay) -> Self {
        Self {
            gives_way: Some(gives_way),
            ..Self::default()
        }
    }

    /// Nobody waits any more.
    pub fn call_off(&self) {
        self.called_off.store(true, Ordering::Relaxed);
    }

    /// Whether nobody waits any more.
    #[must_use]
    pub fn is_called_off(&self) -> bool {
        self.called_off.load(Ordering::Relaxed)
    }
}

/// What unwinds a work that nobody waits for. Nothing is written where the program was started: it is no fault.
struct CalledOff;

thread_local! {
    static ASKED: RefCell<Option<Wanted>> = const { RefCell::new(None) };
}

/// Puts back what was asked before, however the work ends.
struct Before(Option<Wanted>);

impl Drop for Before {
    fn drop(&mut self) {
        let before = self.0.take();
        ASKED.with_borrow_mut(|asked| *asked = before);
    }
}

/// Does a work as long as it is wanted; `None`: it was called off.
pub fn while_wanted<T>(wanted: &Wanted, work: impl FnOnce() -> T) -> Option<T> {
    let _before = Before(ASKED.with_borrow_mut(|asked| asked.replace(wanted.clone())));
    match catch_unwind(AssertUnwindSafe(work)) {
        Ok(done) => Some(done),
        Err(why) if is_called_off(&*why) => None,
        Err(fault) => resume_unwind(fault),
    }
}

fn is_called_off(why: &(dyn Any + Send)) -> bool {
    why.is::<CalledOff>()
}

/// Who waits for what this thread does, taken along to the threads that help it.
#[derive(Clone, Debug)]
pub(crate) struct Asked(Option<Wanted>);

/// Who waits for what this thread does.
pub(crate) fn asked() -> Asked {
    Asked(ASKED.with_borrow(Clone::clone))
}

/// Does two works at once, each as long as what this thread does is wanted.
pub(crate) fn both<A: Send, B: Send>(
    one: impl FnOnce() -> A + Send,
    other: impl FnOnce() -> B + Send,
) -> (A, B) {
    let asked = asked();
    rayon::join(|| asked.clone().within(one), || asked.clone().within(other))
}

impl Asked {
    /// Does a work for whoever waits.
    fn within<T>(self, work: impl FnOnce() -> T) -> T {
        let _before = Before(ASKED.with_borrow_mut(|asked| core::mem::replace(asked, self.0)));
        work()
    }

    /// Goes on where somebody waits; does not come back otherwise.
    pub(crate) fn go_on(&self) {
        let Some(wanted) = &self.0 else { return };
        if wanted.is_called_off() {
            resume_unwind(Box::new(CalledOff));
        }
        if let Some(gives_way) = &wanted.gives_way {
            gives_way();
        }
    }
}

#[cfg(test)]
mod tests {
    use core::sync::atomic::AtomicU32;

    use rayon::prelude::{IntoParallelIterator as _, ParallelIterator as _};

    use super::*;

    #[test]
    fn a_work_that_is_called_off_stops_in_the_middle_and_gives_nothing() {
        let (wanted, runs) = (Wanted::default(), AtomicU32::new(0));
        let done = while_wanted(&wanted, || {
            let asked = asked();
            (0..100_000_u32)
                .into_par_iter()
                .map(|number| {
                    asked.go_on();
                    if runs.fetch_add(1, Ordering::Relaxed) == 40 {
                        wanted.call_off();
                    }
                    u64::from(number)
                })
                .sum::<u64>()
        });
        assert_eq!(done, None);
        assert!(runs.load(Ordering::Relaxed) < 100_000);
        // What is asked afterwards is another matter.
        assert_eq!(while_wanted(&Wanted::default(), || asked().go_on()), Some(()));
        asked().go_on();
    }

    #[test]
    fn two_works_at_once_are_called_off_together() {
        let wanted = Wanted::default();
        let (one, other) = while_wanted(&wanted, || both(|| asked().0.is_some(), || asked().0.is_some()))
            .expect("nobody has called it off");
        assert!(one && other);
        assert!(asked().0.is_none());
        wanted.call_off();
        let done = while_wanted(&wanted, || both(|| 1, || asked().go_on()));
        assert_eq!(done, None);
    }

    #[test]
    fn a_fault_of_the_work_is_a_fault() {
        let fell = catch_unwind(|| while_wanted(&Wanted::default(), || panic!("at work")));
        assert!(fell.is_err());
    }
}
