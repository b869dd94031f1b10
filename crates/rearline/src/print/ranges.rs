//! How sure the headline figures are.

use asked::Units;
use engine::ranges::Range;
use quantity::Unit;

use super::page::Page;
use super::words;
use engine::headline::Headlines;

/// Of lock order.
pub(crate) fn balance(page: &mut Page, headline: Option<&Headlines>) {
    let Some(found) = headline else { return };
    let Some(range) = found.range(|drawn| drawn.front_first_by) else {
        return;
    };
    page.plain(&format!(
        "Nine times in ten the front leads by {} to {}; the rear locks first in {} of the cars that the tolerances allow.",
        words::margin(range.low),
        words::margin(range.high),
        words::chance(found.chance_rear_first().unwrap_or(0.0)),
    ));
}

/// Of the lever.
pub(crate) fn lever(page: &mut Page, headline: Option<&Headlines>, units: &Units) {
    let Some(found) = headline else { return };
    let Some(in_hand) = found.range(|drawn| drawn.in_hand) else {
        return;
    };
    let mut said = vec![format!(
        "in hand {} to {}",
        words::ratio(in_hand.low),
        words::ratio(in_hand.high)
    )];
    if let Some(hand) = found.range(|drawn| drawn.hand.map(|hand| hand.n())) {
        said.push(format!("hand {}", span(hand, units.force)));
    }
    if let Some(travel) = found.range(|drawn| drawn.travel.map(|travel| travel.m())) {
        said.push(format!("travel {}", span(travel, units.length)));
    }
    page.plain(&format!(
        "Nine times in ten: {}. The rear stops in {} of the cars that the tolerances allow.",
        said.join(", "),
        words::chance(found.chance_rear_stops().unwrap_or(0.0)),
    ));
}

/// Both ends of a range in one unit.
fn span(range: Range, unit: Unit) -> String {
    let digits = asked::column([range.low, range.high], unit);
    let (low, high) = (
        quantity::show(range.low, unit, digits),
        quantity::show(range.high, unit, digits),
    );
    let low = low.split('\u{a0}').next().unwrap_or(&low).to_owned();
    format!("{low} to {high}")
}
