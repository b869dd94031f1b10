//! What is known of every car: answers as they are kept beside the cars, and which are wanted anew.

use std::collections::{HashMap, HashSet, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use core::time::Duration;

use questions::{Sheet, Stop};
use records::logbook;
use records::{Answers, CarFolder, Cars, KeptAnswer};
use tokio::sync::Notify;

use super::row::{MadeFor, Row, Says};

/// A writer is waited for so long where a logbook is only looked at.
const A_LOOK: Duration = Duration::from_millis(200);
/// So many are made before they are kept together.
pub(crate) const AT_A_TIME: usize = 10;

/// An answer, with what it says.
#[derive(Clone, Debug)]
pub(crate) struct Known {
    pub(crate) answer: KeptAnswer,
    pub(crate) row: Row,
}

/// How an answer stands against the car's files.
#[derive(Clone, Debug)]
pub(crate) enum Stands {
    /// The files are those that it was made of.
    Good(Arc<Known>),
    /// It was made of others, or for another day, other units or by another build.
    AsOf(Arc<Known>, Older),
    /// There is none yet.
    NotYet,
    /// The sheet would not be read.
    Unread(Stop),
}

/// What has changed since an answer was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Older {
    Sheet,
    Logbook,
    Day,
    /// Units, or the program.
    Reading,
}

impl Older {
    /// `its sheet has changed`
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Sheet => "its sheet has changed",
            Self::Logbook => "its logbook has changed",
            Self::Day => "a day has come on which something falls due",
            Self::Reading => "units or program have changed",
        }
    }
}

/// The board.
#[derive(Default)]
pub(crate) struct Board {
    known: Mutex<Kept>,
    wanted: Mutex<Wanted>,
    /// Rung when something is wanted.
    bell: Notify,
}

#[derive(Default)]
struct Kept {
    /// Opened when it is first asked for.
    file: Option<Answers>,
    rows: HashMap<String, Arc<Known>>,
    /// Cars whose sheet was not to be read when an answer was to be made.
    unread: HashSet<String>,
}

/// Cars whose answers are wanted anew, each once.
#[derive(Default)]
struct Wanted {
    /// Somebody looks at them.
    looked_at: VecDeque<String>,
    others: VecDeque<String>,
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Board {
    fn known(&self, cars: &Cars) -> MutexGuard<'_, Kept> {
        let mut known = locked(&self.known);
        if known.file.is_none() {
            let (file, answers) = Answers::open(cars);
            known.file = Some(file);
            for answer in answers {
                // What this program does not understand is made again.
                if let Ok(row) = serde_json::from_str(&answer.said) {
                    let known_as = answer.car.clone();
                    known.rows.insert(known_as, Arc::new(Known { answer, row }));
                }
            }
        }
        known
    }

    /// What is known of some cars, in their order, right or not any more; and whether their sheet was not to be read.
    pub(crate) fn of<'a>(
        &self,
        cars: &Cars,
        names: impl Iterator<Item = &'a str>,
    ) -> Vec<(Option<Arc<Known>>, bool)> {
        let known = self.known(cars);
        names
            .map(|name| (known.rows.get(name).cloned(), known.unread.contains(name)))
            .collect()
    }

    /// Notes that the sheet of a car is not to be read.
    pub(crate) fn is_unread(&self, cars: &Cars, name: &str) {
        self.known(cars).unread.insert(name.to_owned());
    }

    /// How what is known of a car stands against its files now. The sheet is read, and the logbook opened where it does
    /// not lie as it did; nothing is computed.
    pub(crate) fn check(&self, cars: &Cars, car: &CarFolder, made_for: &MadeFor) -> Stands {
        let known = self.known(cars).rows.get(car.name()).cloned();
        let sheet = match Sheet::digest(car) {
            Ok(sheet) => sheet,
            Err(stop) => return Stands::Unread(stop),
        };
        let Some(known) = known else {
            return Stands::NotYet;
        };
        let answer = &known.answer;
        let days = answer.made_on <= made_for.day && answer.until.is_none_or(|until| made_for.day < until);
        if answer.sheet != sheet {
            Stands::AsOf(known, Older::Sheet)
        } else if !book_is_that_of(car, &known) {
            Stands::AsOf(known, Older::Logbook)
        } else if answer.made_for != made_for.words {
            Stands::AsOf(known, Older::Reading)
        } else if days {
            Stands::Good(known)
        } else {
            Stands::AsOf(known, Older::Day)
        }
    }

    /// Takes in an answer that was made.
    pub(crate) fn take_in(&self, cars: &Cars, answer: KeptAnswer, row: Row) {
        let name = answer.car.clone();
        let mut known = self.known(cars);
        known.unread.remove(&name);
        known.rows.insert(name, Arc::new(Known { answer, row }));
    }

    /// Keeps answers on the disk. One that leans on a logbook that does not read lives as long as the program.
    pub(crate) fn keep(&self, cars: &Cars, names: &[String]) {
        let mut known = self.known(cars);
        let answers: Vec<KeptAnswer> = names
            .iter()
            .filter_map(|name| known.rows.get(name))
            .filter(|known| lost(&known.row).is_none())
            .map(|known| known.answer.clone())
            .collect();
        if let Some(file) = &mut known.file {
            file.keep(&answers);
        }
    }

    /// Forgets cars that are not there any more.
    pub(crate) fn only(&self, cars: &Cars, there: &[CarFolder]) {
        let mut known = self.known(cars);
        let there: HashSet<&str> = there.iter().map(CarFolder::name).collect();
        let gone: Vec<String> = known
            .rows
            .keys()
            .filter(|name| !there.contains(name.as_str()))
            .cloned()
            .collect();
        for name in &gone {
            known.rows.remove(name);
        }
        if let Some(file) = known.file.as_mut().filter(|_| !gone.is_empty()) {
            file.forget(&gone);
        }
    }

    /// Wants answers anew that somebody looks at: these go first.
    pub(crate) fn want_at_once(&self, names: &[String]) {
        let mut wanted = locked(&self.wanted);
        for name in names.iter().rev() {
            wanted.looked_at.retain(|other| other != name);
            wanted.looked_at.push_front(name.clone());
        }
        if !names.is_empty() {
            self.bell.notify_one();
        }
    }

    /// Wants answers anew, some time.
    pub(crate) fn want(&self, names: impl IntoIterator<Item = String>) {
        locked(&self.wanted).others.extend(names);
        self.bell.notify_one();
    }

    /// The next that are wanted, at most ten, and whether somebody looks at them.
    pub(crate) fn next(&self) -> (Vec<String>, bool) {
        let mut wanted = locked(&self.wanted);
        let looked_at = !wanted.looked_at.is_empty();
        let queue = if looked_at {
            &mut wanted.looked_at
        } else {
            &mut wanted.others
        };
        let many = queue.len().min(AT_A_TIME);
        (queue.drain(..many).collect(), looked_at)
    }

    /// Puts back what was not come to.
    pub(crate) fn put_back(&self, names: Vec<String>) {
        let mut wanted = locked(&self.wanted);
        for name in names.into_iter().rev() {
            wanted.others.push_front(name);
        }
    }

    /// Whether somebody looks at cars that are not answered.
    pub(crate) fn is_looked_at(&self) -> bool {
        !locked(&self.wanted).looked_at.is_empty()
    }

    /// Waits until something is wanted.
    pub(crate) async fn wanted(&self) {
        self.bell.notified().await;
    }
}

/// Why the logbook of an answer did not read, in a word.
fn lost(row: &Row) -> Option<&str> {
    match &row.says {
        Says::Answer(answered) => answered.book_lost.as_deref(),
        Says::Unfinished(_) | Says::Faults(_) => None,
    }
}

/// Whether the logbook is the one that an answer was made of: it lies as it did, or its newest entry is the same.
fn book_is_that_of(car: &CarFolder, known: &Known) -> bool {
    let newest = || logbook::newest(&car.logbook(), A_LOOK);
    let lies = || car.book_lies() == known.answer.book;
    match lost(&known.row) {
        // Somebody wrote in it for long: that is over once it can be looked at.
        Some("busy") => lies() && newest().is_err(),
        Some(_) => lies(),
        // An answer that says nothing of the logbook has no part in it.
        None if !matches!(known.row.says, Says::Answer(_)) => true,
        None => lies() || newest().is_ok_and(|newest| newest.hash == known.answer.head),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_looked_at_goes_first_and_nothing_is_lost() {
        let board = Board::default();
        let names = |names: &[&str]| -> Vec<String> { names.iter().map(|&name| name.to_owned()).collect() };
        board.want((0..12).map(|number| format!("c{number}")));
        board.want_at_once(&names(&["b", "a"]));
        board.want_at_once(&names(&["d", "a"]));
        assert!(board.is_looked_at());
        assert_eq!(board.next(), (names(&["d", "a", "b"]), true));
        let (first, looked_at) = board.next();
        assert_eq!((first.len(), looked_at), (AT_A_TIME, false));
        board.put_back(first[4..].to_vec());
        let (rest, _) = board.next();
        assert_eq!(rest.first().map(String::as_str), Some("c4"));
        assert_eq!(rest.len(), 8);
        assert!(board.next().0.is_empty());
    }
}
