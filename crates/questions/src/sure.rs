//! How sure the headline figures are, in one sentence each.

use engine::headline::Headlines;
use engine::ranges::Range;
use quantity::Unit;

use wording::{Units, column};

/// Of lock order.
#[must_use]
pub fn balance(headline: Option<&Headlines>) -> Option<String> {
    let found = headline?;
    let range = found.range(|drawn| drawn.front_first_by)?;
    Some(format!(
        "Nine times in ten the front leads by {} to {}; the rear locks first in {} of the cars that the tolerances allow.",
        wording::margin(range.low),
        wording::margin(range.high),
        wording::chance(found.chance_rear_first().unwrap_or(0.0)),
    ))
}

/// Of the lever.
#[must_use]
pub fn lever(headline: Option<&Headlines>, units: &Units) -> Option<String> {
    let found = headline?;
    let in_hand = found.range(|drawn| drawn.in_hand)?;
    let mut said = vec![format!(
        "in hand {} to {}",
        wording::ratio(in_hand.low),
        wording::ratio(in_hand.high)
    )];
    if let Some(hand) = found.range(|drawn| drawn.hand.map(|hand| hand.n())) {
        said.push(format!("hand {}", span(hand, units.force)));
    }
    if let Some(travel) = found.range(|drawn| drawn.travel.map(|travel| travel.m())) {
        said.push(format!("travel {}", span(travel, units.length)));
    }
    Some(format!(
        "Nine times in ten: {}. The rear stops in {} of the cars that the tolerances allow.",
        said.join(", "),
        wording::chance(found.chance_rear_stops().unwrap_or(0.0)),
    ))
}

/// Both ends of a range in one unit.
fn span(range: Range, unit: Unit) -> String {
    let digits = column([range.low, range.high], unit);
    let (low, high) = (
        quantity::show(range.low, unit, digits),
        quantity::show(range.high, unit, digits),
    );
    let low = low.split('\u{a0}').next().unwrap_or(&low).to_owned();
    format!("{low} to {high}")
}
