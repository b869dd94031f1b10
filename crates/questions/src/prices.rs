//! A person's own prices, from the preferences beside the cars.

use std::path::Path;

use plumbing::Part;
use plumbing::layouts::Layouts;
use plumbing::prices::Prices;
use records::Cars;

use crate::trouble::{Quotation, Stop, Trouble, Wrong, of_records};

/// The person's prices, from the preferences beside the cars; what is wrong with them joins what is wrong already.
///
/// # Errors
/// A file that cannot be read.
pub fn prices(folder: &Path, wrong: &mut Wrong) -> Result<Prices, Stop> {
    let Ok(cars) = Cars::open(folder) else {
        return Ok(Prices::default());
    };
    let file = cars.preferences();
    let shown = file.path().display().to_string();
    let text = file
        .read_if_there(records::LARGEST_SHEET)
        .map_err(|fault| of_records(&shown, &fault, None))?;
    let list = match text.map(|text| sheet::price_list(&text.text)) {
        None => return Ok(Prices::default()),
        Some(Ok(list)) => list,
        Some(Err(faults)) => {
            for fault in faults {
                wrong.add(
                    Trouble {
                        file: shown.clone(),
                        place: Some((fault.line, fault.column)),
                        key: None,
                        slug: "price".to_owned(),
                        text: fault.text.clone(),
                        remedy: fault.remedy.to_owned(),
                        shown: Quotation::Nothing,
                    }
                    .into(),
                );
            }
            return Ok(Prices::default());
        }
    };
    Ok(Prices {
        currency: list.currency,
        each: list.each,
    })
}

/// What is said of prices that no layout of a car needs: they may be written wrongly. `None` where there are none.
pub(crate) fn idle(car: &engine::car::Car, prices: &Prices) -> Option<String> {
    if prices.each.is_empty() {
        return None;
    }
    let layouts = Layouts::of(car, prices);
    let parts = layouts.can.iter().flat_map(|layout| &layout.plumbing.parts);
    idle_among(&parts.collect::<Vec<_>>(), prices)
}

/// The same among parts that are at hand.
pub(crate) fn idle_among(parts: &[&Part], prices: &Prices) -> Option<String> {
    let idle = prices.unknown(parts);
    let what = "for nothing that any layout of this car needs";
    (!idle.is_empty()).then(|| format!("{what}: {}", idle.join(", ")))
}
