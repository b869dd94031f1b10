//! Makes studies aside, and says how far one is.

use std::sync::Arc;

use engine::ranges::Sampling;
use maud::{Markup, html};
use questions::sure::{TurnStudy, study_of_turn};
use questions::{Case, Opened};
use wording::Units;

use super::address::path;
use super::asking::Asking;
use super::desk::Desk;
use super::stands;
use super::studies::{Far, Key};
use super::visit::{Visit, find};
use crate::shell::frame::Stands;
use crate::web::lanes::Lost;

/// What an address that asks how far one is gets once there is nothing to wait for.
const MADE: &str = "made";

/// How a visit's study stands; it is begun where it is not there.
pub(crate) fn of(visit: &Visit<'_>) -> TurnStudy {
    of_car(visit.desk, visit.name(), &visit.asking, &visit.stands)
}

/// The same of a car whose files stand so.
pub(crate) fn of_car(desk: &Desk, car: &str, asking: &Asking, stands: &Stands) -> TurnStudy {
    desk.studies.asked(key(desk, car, asking, stands))
}

fn key(desk: &Desk, car: &str, asking: &Asking, stands: &Stands) -> Key {
    // An entry of the logbook changes nothing in it.
    let sheet = stands.word.split(' ').next().unwrap_or_default();
    Key {
        car: car.to_owned(),
        sheet: sheet.to_owned(),
        day: desk.today().to_string(),
        query: asking.query(),
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
    let said = asking.said(desk.counts_turns(&sheet));
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
    let key = key(desk, car, &asking, &stands::of_car(desk, car, &asking));
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
