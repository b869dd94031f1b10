//! Logbooks as they were read, for as long as nobody writes in them.
//!
//! A logbook is read whole, every hash of it, when it is first asked for, and again when it lies otherwise on the disk or
//! its newest entry is another. Whoever writes or signs reads all of it for that alone.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use questions::History;
use records::logbook::{ChainHead, WAIT, newest};
use records::{CarFolder, Fault};

/// The most that are kept; the one that was not asked for longest goes.
const MOST: usize = 16;

/// Logbooks as they were read.
#[derive(Default)]
pub(crate) struct Books(Mutex<Vec<Book>>);

struct Book {
    path: PathBuf,
    /// How it lay on the disk before it was read.
    lay: String,
    newest: ChainHead,
    says: Arc<History>,
}

impl Books {
    /// What the logbook of a car says, and whether it was read for that.
    pub(crate) fn of(&self, car: &CarFolder) -> (Arc<History>, bool) {
        let (path, lies) = (car.logbook(), car.book_lies());
        let newest = match newest(&path, WAIT) {
            // Whoever has waited for another program once does not wait again.
            Err(fault @ Fault::Busy { .. }) => return (Arc::new(History::unread(car, &fault)), false),
            newest => newest.ok(),
        };
        let mut books = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let place = books.iter().position(|book| book.path == path);
        if let Some(book) = place.map(|place| books.remove(place))
            && book.lay == lies
            && newest == Some(book.newest)
        {
            let says = Arc::clone(&book.says);
            books.push(book);
            return (says, false);
        }
        drop(books);
        let says = Arc::new(History::of(car));
        // One that does not read may do so at the next look.
        if let (Some(newest), None) = (newest, &says.lost) {
            let mut books = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            books.retain(|book| book.path != path);
            let many = books.len();
            books.drain(..(many + 1).saturating_sub(MOST));
            books.push(Book {
                path,
                lay: lies,
                newest,
                says: Arc::clone(&says),
            });
        }
        (says, true)
    }
}
