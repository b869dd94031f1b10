//! Answers of the list, made in the background: ten at a time, those that somebody looks at first.

use std::sync::Arc;

use super::board::Stands;
use super::desk::Desk;
use super::row;
use crate::web::lanes::Lost;

/// Looks at every car once, then makes what is wanted, until the server stops.
pub(crate) async fn fill(desk: Arc<Desk>) {
    let at_work = Arc::clone(&desk);
    let _ = desk.lanes.behind(move || begin(&at_work)).await;
    loop {
        let (names, looked_at) = desk.board.next();
        if names.is_empty() {
            desk.board.wanted().await;
            continue;
        }
        let mut made = Vec::new();
        let mut left = names.into_iter();
        for name in left.by_ref() {
            let (at_work, asked) = (Arc::clone(&desk), name.clone());
            let done = desk.lanes.behind(move || one(&at_work, &asked)).await;
            match done {
                Ok(true) => made.push(name),
                Ok(false) | Err(Lost::CalledOff) => {}
                Err(Lost::Fault(fault)) => {
                    desk.tell(&format!("{name}: no answer could be made for the list: {fault}"));
                }
            }
            // Whoever looks at the list now does not wait for the rest of the ten.
            if !looked_at && desk.board.is_looked_at() {
                break;
            }
        }
        desk.board.put_back(left.collect());
        if made.is_empty() {
            continue;
        }
        let at_work = Arc::clone(&desk);
        let kept = tokio::task::spawn_blocking(move || {
            if let Ok(cars) = at_work.cars() {
                at_work.board.keep(&cars, &made);
            }
        });
        let _ = kept.await;
    }
}

/// Wants every car looked at, and forgets those that are gone.
fn begin(desk: &Desk) {
    let Ok(cars) = desk.cars() else { return };
    if let Ok(listing) = cars.list() {
        desk.board.only(&cars, &listing.found);
        desk.board
            .want(listing.found.iter().map(|car| car.name().to_owned()));
    }
}

/// Makes the answer of a car, where the one that is known does not hold any more. Whether there is a new one.
fn one(desk: &Desk, name: &str) -> bool {
    let Ok(cars) = desk.cars() else { return false };
    let Ok(car) = cars.named(name) else { return false };
    let made_for = desk.made_for();
    if matches!(desk.board.check(&cars, &car, &made_for), Stands::Good(_)) {
        return false;
    }
    desk.counts.opened();
    match row::made(car, &made_for) {
        Ok((answer, row)) => {
            desk.board.take_in(&cars, answer, row);
            true
        }
        // Whoever looks at the list sees why.
        Err(_) => {
            desk.board.is_unread(&cars, name);
            false
        }
    }
}
