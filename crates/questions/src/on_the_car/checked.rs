//! A figure while it is typed: what it is read as, whether that is usual, or what is wrong with it.

use engine::car::{KeyId, Value};
use quantity::{Amount, Spread, Unit, find_unit};

use super::kept::keep;
use super::typed::{Typed, unit_keys};
use crate::onto_sheet::{Leaves, changed_and};
use crate::trouble::Wrong;

/// What a figure was read as.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// In the usual unit, with what it is sure to.
    pub means: String,
    /// Where it stands on its line.
    pub usual: Option<Usual>,
}

/// A usual range, and where a figure stands beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Usual {
    /// Its lower end, as the table of keys has it.
    pub low: &'static str,
    /// Its upper end.
    pub high: &'static str,
    /// Where the figure stands: 0 is the lower end, 1 the upper one. None: there is no figure yet.
    pub at: Option<f64>,
}

impl Usual {
    /// Of a key, with or without a figure in SI.
    #[must_use]
    pub fn of(key: KeyId, si: Option<f64>) -> Option<Self> {
        let (low, high) = key.key().usual?;
        let (low_si, high_si) = key.usual_si()?;
        Some(Self {
            low,
            high,
            at: si.map(|si| (si - low_si) / (high_si - low_si)),
        })
    }

    /// Whether the figure is outside.
    #[must_use]
    pub fn is_unusual(&self) -> bool {
        self.at.is_some_and(|at| !(-1e-9..=1.0 + 1e-9).contains(&at))
    }
}

/// Reads what was typed at a key of a sheet, as if it were kept.
///
/// # Errors
/// What is wrong with it.
pub fn check(text: &str, path: &str, typed: Typed<'_>) -> Result<Checked, Wrong> {
    let mut change = keep(text, path, typed, "")?;
    change.was = crate::onto_sheet::written(text, path);
    let edited = changed_and(Leaves::Unfinished, "form", text, core::slice::from_ref(&change))?;
    let read = sheet::read(edited.as_bytes(), "");
    let slot = sheet::slot_of(path);
    let value = slot.and_then(|slot| read.inputs.get(slot));
    let Some((slot, value)) = slot.zip(value) else {
        return Ok(Checked {
            means: String::new(),
            usual: None,
        });
    };
    let unit = unit_keys(slot.key.key())
        .iter()
        .find_map(|symbol| find_unit(symbol, slot.key.key().dimension()?).ok());
    let (means, si) = match value {
        Value::Amount(amount) | Value::ByLabel(amount) => (in_words(amount, unit), Some(amount.si)),
        Value::Amounts(amounts) => {
            let members: Vec<String> = amounts.iter().map(|amount| in_words(amount, unit)).collect();
            (wording::list(&members), amounts.first().map(|first| first.si))
        }
        Value::Guess => ("a guess".to_owned(), None),
        _ => (String::new(), None),
    };
    Ok(Checked {
        means,
        usual: Usual::of(slot.key, si),
    })
}

fn in_words(amount: &Amount, unit: Option<Unit>) -> String {
    let Some(unit) = unit else {
        return match amount.spread {
            Spread::Exact => wording::ratio(amount.si),
            Spread::Normal { half_width_si } => {
                format!(
                    "{} ± {}",
                    wording::ratio(amount.si),
                    wording::ratio(half_width_si)
                )
            }
            Spread::Uniform { low_si, high_si } => {
                format!("{} to {}", wording::ratio(low_si), wording::ratio(high_si))
            }
        };
    };
    let figure = |si: f64| wording::figure(si, unit);
    match amount.spread {
        Spread::Exact => figure(amount.si),
        Spread::Normal { half_width_si } => {
            let half = unit.difference_from_si(half_width_si);
            let half = (half * 1000.0).round() / 1000.0;
            format!("{} ± {half} {}", figure(amount.si), unit.symbol())
        }
        Spread::Uniform { low_si, high_si } => format!("{} to {}", figure(low_si), figure(high_si)),
    }
}
