//! A person's own prices, from the preferences beside the cars.

use std::path::Path;

use plumbing::Part;
use plumbing::code_of;
use plumbing::layouts::Layouts;
use plumbing::prices::{Cost, Prices};
use records::Cars;

use crate::opened::Opened;
use crate::part_groups::VALVE_SETTING;
use crate::parts::Exchangeable;
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

/// What is said of prices that no layout of a car needs, nor any part that can be tried on it: they may be written wrongly.
/// `None` where there are none.
pub(crate) fn idle(opened: &Opened, prices: &Prices) -> Option<String> {
    if prices.each.is_empty() {
        return None;
    }
    let layouts = Layouts::of(opened.car(), prices);
    let parts = layouts.can.iter().flat_map(|layout| &layout.plumbing.parts);
    idle_among(&parts.collect::<Vec<_>>(), opened, prices)
}

/// The same among parts that are at hand.
pub(crate) fn idle_among(parts: &[&Part], opened: &Opened, prices: &Prices) -> Option<String> {
    let mut idle = prices.unknown(parts);
    if !idle.is_empty() {
        let tried = crate::parts::parts(opened);
        let codes = |part: &Exchangeable| {
            let choices = part.choices.iter();
            let codes = choices.flat_map(|choice| codes(part.name, &choice.label));
            codes.collect::<Vec<_>>()
        };
        let tried: Vec<String> = tried.iter().flat_map(codes).collect();
        idle.retain(|code| !tried.iter().any(|known| known == code));
    }
    let what = "for nothing that any layout of this car needs";
    (!idle.is_empty()).then(|| format!("{what}: {}", idle.join(", ")))
}

/// The codes under which the price of a part may stand that can be tried: that of the choice, else that of any such part.
/// `front-pads-rally`, `front-pads`. Pads and linings go by what they are made for, whatever friction is said beside it.
pub(crate) fn codes(part: &str, choice: &str) -> [String; 2] {
    let by_kind = part.ends_with("pads") || part.ends_with("linings");
    let choice = choice.split(',').next().filter(|_| by_kind).unwrap_or(choice);
    [code_of(&format!("{part} {choice}")), code_of(part)]
}

/// What parts come to that are tried together; `None` where none has a price. A knob that is turned costs nothing.
pub(crate) fn cost(changed: &[(&'static str, String)], prices: &Prices) -> Option<Cost> {
    let each: Vec<Option<f64>> = changed
        .iter()
        .filter(|(part, _)| *part != VALVE_SETTING)
        .map(|(part, choice)| {
            let codes = codes(part, choice);
            codes.iter().find_map(|code| prices.each.get(code)).copied()
        })
        .collect();
    let without = each.iter().filter(|price| price.is_none()).count();
    (without < each.len() || (each.is_empty() && !prices.each.is_empty())).then(|| Cost {
        sum: each.into_iter().flatten().sum(),
        without,
        to_tape: 0,
    })
}
