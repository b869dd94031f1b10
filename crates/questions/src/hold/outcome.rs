//! How long a lever holds, in words.

use engine::hold::{Arrival, Hold, LostBy};
use engine::thresholds::{LONGEST, SERVICE, START_LINE};

/// Whether it does for a start line and for service, in a few words; parking it never is.
pub(super) fn in_short(hold: &Hold) -> String {
    match (hold.holds(START_LINE), hold.holds(SERVICE)) {
        (true, true) => "start line yes, service yes; never park on it",
        (true, false) => "start line yes, service no; never park on it",
        (false, _) => "start line no; never park on it",
    }
    .to_owned()
}

/// How long, in words.
pub(super) fn how_long(arrival: &Arrival) -> String {
    match arrival.holds_for {
        None => format!("beyond {}\u{a0}h", wording::whole(LONGEST.s() / 3600.0)),
        Some(time) if time.s() <= 0.0 => "not at all".to_owned(),
        Some(time) => wording::minutes(time),
    }
}

/// What ends it, in words.
pub(super) const fn ended_by(lost: Option<LostBy>) -> &'static str {
    match lost {
        None => "–",
        Some(LostBy::Cooling) => "cooling, which shrinks what is trapped",
        Some(LostBy::Seep) => "seals that seep",
        Some(LostBy::Friction) => "pads that grip too little",
        Some(LostBy::Grip) => "tyres that slip",
    }
}
