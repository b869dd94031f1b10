//! Places for connections: so many in all, so many an address, some kept for paired devices. Who is silent makes room first.

use std::net::IpAddr;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Instant;

use tokio::sync::Notify;

/// How many places there are.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Room {
    /// In all.
    pub(crate) all: usize,
    /// For one address.
    pub(crate) an_address: usize,
    /// Kept for connections that a paired device has used.
    pub(crate) kept: usize,
}

/// Every connection that has a place.
#[derive(Debug)]
pub(crate) struct Places {
    room: Room,
    held: Arc<Mutex<Vec<Arc<Held>>>>,
}

/// A connection with its place.
#[derive(Debug)]
struct Held {
    from: IpAddr,
    stands: Mutex<Stands>,
    /// It has to make room.
    out: Notify,
}

#[derive(Debug)]
struct Stands {
    /// Since when nothing is asked; `None`: a request is being answered.
    idle: Option<Instant>,
    /// A paired device has used it.
    is_paired: bool,
}

/// The place of a connection, until it is dropped.
#[derive(Debug)]
pub(crate) struct Place {
    held: Arc<Held>,
    places: Arc<Mutex<Vec<Arc<Held>>>>,
}

/// What the requests of a connection know of its place.
#[derive(Clone, Debug)]
pub(crate) struct Seat(Arc<Held>);

/// A request that is being answered.
pub(crate) struct Asking(Arc<Held>);

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Held {
    /// Since when it is idle, if it is, and nobody paired has used it.
    fn strange_and_idle(&self) -> Option<Instant> {
        let stands = locked(&self.stands);
        stands.idle.filter(|_| !stands.is_paired)
    }

    fn idle(&self) -> Option<Instant> {
        locked(&self.stands).idle
    }

    fn is_paired(&self) -> bool {
        locked(&self.stands).is_paired
    }
}

impl Places {
    pub(crate) fn new(room: Room) -> Self {
        Self {
            room,
            held: Arc::default(),
        }
    }

    /// A place for a new connection. Where there is none, the one that has been silent longest makes room; where all are
    /// asking something, there is none.
    pub(crate) fn take(&self, from: IpAddr) -> Option<Place> {
        let mut held = locked(&self.held);
        let Room {
            all,
            an_address,
            kept,
        } = self.room;
        let out = |held: &mut Vec<Arc<Held>>, idle: &dyn Fn(&Held) -> Option<Instant>| {
            let oldest = held
                .iter()
                .enumerate()
                .filter_map(|(at, one)| Some((idle(one)?, at)))
                .min()?;
            held.swap_remove(oldest.1).out.notify_one();
            Some(())
        };
        if held.iter().filter(|one| one.from == from).count() >= an_address {
            out(&mut held, &|one| one.idle().filter(|_| one.from == from))?;
        }
        if held.iter().filter(|one| !one.is_paired()).count() >= all.saturating_sub(kept).max(1) {
            out(&mut held, &Held::strange_and_idle)?;
        }
        if held.len() >= all {
            out(&mut held, &Held::idle)?;
        }
        let new = Arc::new(Held {
            from,
            stands: Mutex::new(Stands {
                idle: Some(Instant::now()),
                is_paired: false,
            }),
            out: Notify::new(),
        });
        held.push(Arc::clone(&new));
        Some(Place {
            held: new,
            places: Arc::clone(&self.held),
        })
    }
}

impl Place {
    pub(crate) fn seat(&self) -> Seat {
        Seat(Arc::clone(&self.held))
    }

    /// When it has to make room.
    pub(crate) async fn wanted(&self) {
        self.held.out.notified().await;
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        locked(&self.places).retain(|one| !Arc::ptr_eq(one, &self.held));
    }
}

impl Seat {
    /// A request begins; it lasts until what is handed back is dropped.
    pub(crate) fn asks(&self) -> Asking {
        locked(&self.0.stands).idle = None;
        Asking(Arc::clone(&self.0))
    }

    /// A paired device has used it.
    pub(crate) fn is_of_a_paired_device(&self) {
        locked(&self.0.stands).is_paired = true;
    }
}

impl Drop for Asking {
    fn drop(&mut self) {
        locked(&self.0.stands).idle = Some(Instant::now());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Room = Room {
        all: 4,
        an_address: 3,
        kept: 1,
    };

    fn from(last: u8) -> IpAddr {
        IpAddr::from([192, 0, 2, last])
    }

    fn is_out(place: &Place) -> bool {
        !locked(&place.places)
            .iter()
            .any(|one| Arc::ptr_eq(one, &place.held))
    }

    #[test]
    fn the_silent_one_of_the_same_address_makes_room() {
        let places = Places::new(ROOM);
        let other = places.take(from(9)).unwrap();
        let mine: Vec<Place> = (0..2).map(|_| places.take(from(1)).unwrap()).collect();
        // Strangers hold all places but the kept one: the oldest silent one goes, whoever it is.
        let third = places.take(from(1)).unwrap();
        assert!(is_out(&other) && !is_out(&mine[0]));
        // An address beyond its share makes room for itself.
        let asks = mine[0].seat().asks();
        let fourth = places.take(from(1)).unwrap();
        assert!(is_out(&mine[1]) && !is_out(&mine[0]) && !is_out(&third));
        drop((asks, fourth));
    }

    #[test]
    fn a_paired_device_keeps_its_place_and_finds_one() {
        let places = Places::new(ROOM);
        let tablet = places.take(from(7)).unwrap();
        tablet.seat().is_of_a_paired_device();
        let crowd: Vec<Place> = (0..3).map(|last| places.take(from(last)).unwrap()).collect();
        let more: Vec<Place> = (20..40).map(|last| places.take(from(last)).unwrap()).collect();
        assert!(!is_out(&tablet), "a crowd of strangers makes room among itself");
        assert!(crowd.iter().all(is_out) && !is_out(&more[19]));
    }

    #[test]
    fn where_all_are_asking_there_is_no_place_until_one_is_done() {
        let places = Places::new(ROOM);
        let held: Vec<Place> = (0..3).map(|last| places.take(from(last)).unwrap()).collect();
        let mut asking: Vec<Asking> = held.iter().map(|place| place.seat().asks()).collect();
        assert!(places.take(from(9)).is_none());
        asking.pop();
        assert!(places.take(from(9)).is_some());
        assert!(is_out(&held[2]));
        drop(held);
        assert!(locked(&places.held).len() <= 1);
    }
}
