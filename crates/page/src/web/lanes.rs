//! How much is computed at once, and what goes first.
//!
//! A handle that moves wants its answer at once, and has a lane that nothing else is in. Whole pages with their draws, maps
//! and the book go through another, which is narrow; while a handle moves, all cores but one are left to it. What the list is
//! filled with in the background goes there too, a car at a time. The list itself computes nothing; one at a time is read.
//! What takes so long that no page waits for it is made aside, one at a time, and gives way to both.
//! Whoever waits in a lane and goes away leaves it; what is being computed for nobody is called off.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use core::time::Duration;

use engine::wanted::{Wanted, while_wanted};
use rayon::{ThreadPool, ThreadPoolBuildError, ThreadPoolBuilder};
use tokio::sync::Semaphore;

/// How often the background looks whether a handle has come to rest.
const LOOKS: Duration = Duration::from_millis(20);
/// As long as it gives way to handles that never do: that many looks.
const GIVES_WAY: usize = 100;
/// How long a thread waits between two runs while a handle moves.
const PAUSE: Duration = Duration::from_millis(5);
/// As often at most before one run of what is made aside.
const STANDS_ASIDE: usize = 200;
/// What a page's draws may stack up, in bytes.
const STACK: usize = 8 * 1024 * 1024;

/// The lanes.
pub(crate) struct Lanes {
    handles: Semaphore,
    /// Their threads: what they share between them begins at once.
    at_hand: Option<ThreadPool>,
    moving: Arc<AtomicUsize>,
    lists: Semaphore,
    long: Semaphore,
    /// Long answers that are being computed.
    under_way: Arc<AtomicUsize>,
    asides: Semaphore,
    cores: usize,
    /// One for each place in the long lane; none where the system gives no threads: then the usual ones serve.
    pools: Mutex<Vec<ThreadPool>>,
}

/// Why there is no answer.
pub(crate) enum Lost {
    /// It fell over.
    Fault(String),
    /// It was called off.
    CalledOff,
}

/// Calls off what nobody waits for any more.
struct Waits(Wanted);

impl Drop for Waits {
    fn drop(&mut self) {
        self.0.call_off();
    }
}

/// Counts what is under way: handles that wait for their answer, long answers.
struct Counted(Arc<AtomicUsize>);

impl Counted {
    fn of(count: &Arc<AtomicUsize>) -> Self {
        count.fetch_add(1, Ordering::Relaxed);
        Self(Arc::clone(count))
    }
}

impl Drop for Counted {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

/// The threads of a place in the long lane, given back when it is done.
struct Place {
    lanes: Arc<Lanes>,
    pool: Option<ThreadPool>,
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut pools = self.lanes.pools.lock().unwrap_or_else(PoisonError::into_inner);
        pools.extend(self.pool.take());
    }
}

impl Lanes {
    /// For the cores of this machine: one long answer for four of them, on all of them.
    pub(crate) fn new() -> Self {
        Self::of(std::thread::available_parallelism().map_or(1, NonZeroUsize::get))
    }

    fn of(cores: usize) -> Self {
        let places = (cores / 4).max(1);
        let threads = (cores / places).max(1);
        Self {
            handles: Semaphore::new(cores.max(2)),
            at_hand: pool(cores).ok(),
            moving: Arc::default(),
            lists: Semaphore::new(1),
            long: Semaphore::new(places),
            under_way: Arc::default(),
            asides: Semaphore::new(1),
            cores,
            pools: Mutex::new((0..places).filter_map(|_| pool(threads).ok()).collect()),
        }
    }

    /// A handle's answer.
    pub(crate) async fn at_once<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Lost> {
        let _moves = Counted::of(&self.moving);
        let _place = self.handles.acquire().await;
        let waits = Waits(Wanted::default());
        let wanted = waits.0.clone();
        let lanes = Arc::clone(self);
        done(
            tokio::task::spawn_blocking(move || {
                let work = || while_wanted(&wanted, work);
                match &lanes.at_hand {
                    Some(pool) => pool.install(work),
                    None => work(),
                }
            })
            .await,
        )
    }

    /// A list.
    pub(crate) async fn listed<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Lost> {
        let _place = self.lists.acquire().await;
        done(tokio::task::spawn_blocking(|| Some(work())).await)
    }

    /// What takes long.
    pub(crate) async fn in_turn<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Lost> {
        let moving = Arc::clone(&self.moving);
        let waits = Waits(Wanted::giving_way(Arc::new(move || give_way(&moving))));
        // Dropped here, in the queue, where whoever asked goes away before it begins.
        let _place = self.long.acquire().await;
        let wanted = waits.0.clone();
        let lanes = Arc::clone(self);
        let counted = Counted::of(&self.under_way);
        done(
            tokio::task::spawn_blocking(move || {
                let _counted = counted;
                let pool = lanes.pools.lock().unwrap_or_else(PoisonError::into_inner).pop();
                let place = Place { lanes, pool };
                let work = || while_wanted(&wanted, work);
                match &place.pool {
                    Some(pool) => pool.install(work),
                    None => work(),
                }
            })
            .await,
        )
    }

    /// What no page waits for: one at a time, on all cores, and while anything else is computed hardly at all.
    pub(crate) async fn aside<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Lost> {
        let others = [Arc::clone(&self.moving), Arc::clone(&self.under_way)];
        let waits = Waits(Wanted::giving_way(Arc::new(move || stand_aside(&others))));
        let _place = self.asides.acquire().await;
        let wanted = waits.0.clone();
        let cores = self.cores;
        done(
            tokio::task::spawn_blocking(move || {
                let work = || while_wanted(&wanted, work);
                match pool(cores) {
                    Ok(pool) => pool.install(work),
                    Err(_) => work(),
                }
            })
            .await,
        )
    }

    /// What nobody waits for in person: behind all handles, and in turn with the rest.
    pub(crate) async fn behind<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Lost> {
        for _ in 0..GIVES_WAY {
            if self.moving.load(Ordering::Relaxed) == 0 {
                break;
            }
            tokio::time::sleep(LOOKS).await;
        }
        self.in_turn(work).await
    }
}

fn pool(threads: usize) -> Result<ThreadPool, ThreadPoolBuildError> {
    ThreadPoolBuilder::new()
        .num_threads(threads)
        .stack_size(STACK)
        .build()
}

/// While anything else is computed, what is made aside waits between two runs, though never for good.
fn stand_aside(others: &[Arc<AtomicUsize>]) {
    for _ in 0..STANDS_ASIDE {
        if others.iter().all(|count| count.load(Ordering::Relaxed) == 0) {
            break;
        }
        std::thread::sleep(PAUSE);
    }
}

/// While a handle moves, a long answer leaves nearly all cores to it: its threads do one run, and wait, the first not as long
/// as the others, so that it is made all the same. (Threads of a lower priority would starve beside other programs.)
fn give_way(moving: &AtomicUsize) {
    let is_first = matches!(rayon::current_thread_index(), None | Some(0));
    if moving.load(Ordering::Relaxed) > 0 {
        std::thread::sleep(if is_first { PAUSE } else { 4 * PAUSE });
    }
}

fn done<T>(ended: Result<Option<T>, tokio::task::JoinError>) -> Result<T, Lost> {
    match ended {
        Ok(Some(done)) => Ok(done),
        Ok(None) => Err(Lost::CalledOff),
        // The server ends: nobody is told of what it did not come to.
        Err(fault) if fault.is_cancelled() => Err(Lost::CalledOff),
        Err(fault) => Err(Lost::Fault(fault.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::channel;

    use super::*;

    #[tokio::test(flavor = "multi_thread", worker_threads = 2)]
    async fn a_handle_is_answered_while_the_long_lane_is_full() {
        let lanes = Arc::new(Lanes::of(2));
        let (go, wait) = channel::<()>();
        let (begun, begins) = channel();
        let long = {
            let lanes = Arc::clone(&lanes);
            tokio::spawn(async move {
                lanes
                    .in_turn(move || {
                        let _ = begun.send(());
                        wait.recv().is_ok()
                    })
                    .await
            })
        };
        tokio::task::spawn_blocking(move || begins.recv())
            .await
            .unwrap()
            .unwrap();
        // A second one waits its turn, and is never begun once whoever asked for it has gone.
        let second = {
            let lanes = Arc::clone(&lanes);
            tokio::spawn(async move { lanes.in_turn(|| panic!("nobody waits for this")).await })
        };
        tokio::task::yield_now().await;
        second.abort();
        assert!(lanes.at_once(|| true).await.is_ok_and(|answered| answered));
        go.send(()).unwrap();
        assert!(long.await.unwrap().is_ok_and(|done| done));
    }

    #[tokio::test(flavor = "multi_thread", worker_threads = 2)]
    async fn what_is_computed_for_nobody_is_called_off() {
        let lanes = Arc::new(Lanes::of(2));
        let (begun, begins) = channel();
        let (ended, ends) = channel();
        let gone = {
            let lanes = Arc::clone(&lanes);
            tokio::spawn(async move {
                let _ = lanes
                    .in_turn(move || {
                        // Told by whoever is dropped when the work is unwound.
                        struct Told(std::sync::mpsc::Sender<()>);
                        impl Drop for Told {
                            fn drop(&mut self) {
                                let _ = self.0.send(());
                            }
                        }
                        let _told = Told(ended);
                        let _ = begun.send(());
                        // Draws without end, as a page that nobody reads would make them.
                        let inputs = sheet::read(b"format = 1", "car.toml").inputs;
                        let plan = engine::ranges::Sampling { draws: 64, seed: 1 };
                        loop {
                            let _ = engine::ranges::study(&inputs, &[], plan, |_| ());
                        }
                    })
                    .await;
            })
        };
        tokio::task::spawn_blocking(move || begins.recv())
            .await
            .unwrap()
            .unwrap();
        gone.abort();
        tokio::task::spawn_blocking(move || ends.recv())
            .await
            .unwrap()
            .unwrap();
        assert!(lanes.in_turn(|| true).await.is_ok_and(|free| free));
    }
}
