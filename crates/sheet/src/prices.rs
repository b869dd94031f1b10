//! A person's own prices, from `preferences.toml`.

use core::fmt;
use core::ops::Range;
use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::DeValue;

use crate::syntax;

/// The table that prices stand in.
const TABLE: &str = "prices";
/// What the money is called.
const CURRENCY: &str = "currency";
/// The most that anything on a car costs, in any money.
const MOST: f64 = 1e9;

/// Prices, each for one of what a part is counted in, by the part's code.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceList {
    /// What the money is called, as it is written; may be empty.
    pub currency: String,
    /// Price by code.
    pub each: BTreeMap<String, f64>,
}

/// What is wrong with a price list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceFault {
    /// Line, counted from 1.
    pub line: usize,
    /// Column, counted in characters from 1.
    pub column: usize,
    /// What is wrong: a phrase without a full stop.
    pub text: String,
    /// What to do about it.
    pub remedy: &'static str,
}

impl fmt::Display for PriceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", self.line, self.column, self.text)
    }
}

impl core::error::Error for PriceFault {}

/// Reads the `[prices]` of a `preferences.toml`; other tables are left to whoever reads them. No table: an empty list.
///
/// ```
/// let list = sheet::price_list("[prices]\ncurrency = \"EUR\"\nsteel-pipe-3-16-in = 2.40\n").unwrap();
/// assert_eq!(list.each["steel-pipe-3-16-in"], 2.40);
/// ```
///
/// # Errors
/// Every fault, in the order of the text: no TOML, a price that is no number, one below nothing.
pub fn price_list(text: &str) -> Result<PriceList, Vec<PriceFault>> {
    let tree = syntax::tree(text).map_err(|(at, what)| {
        let remedy = "write `code = price`, a line each, under [prices]";
        vec![fault(text, at, what, remedy)]
    })?;
    let mut list = PriceList::default();
    let mut faults = Vec::new();
    let Some(prices) = tree.get_ref().get(TABLE) else {
        return Ok(list);
    };
    let DeValue::Table(prices) = prices.get_ref() else {
        let what = format!("`{TABLE}` is no table");
        return Err(vec![fault(
            text,
            prices.span(),
            what,
            "write [prices], and prices below it",
        )]);
    };
    for (code, value) in prices {
        let code = code.get_ref().to_string();
        match (code.as_str(), price(value)) {
            (CURRENCY, _) => match value.get_ref() {
                DeValue::String(name) => list.currency = name.trim().to_owned(),
                _ => faults.push(fault(
                    text,
                    value.span(),
                    "a currency is a word in quotes".to_owned(),
                    "write it as you say it, such as currency = \"EUR\"",
                )),
            },
            (_, Some(price)) => {
                list.each.insert(code, price);
            }
            (_, None) => faults.push(fault(
                text,
                value.span(),
                format!("the price of `{code}` is no price"),
                "write a bare number of 0 or more, such as 2.40, without quotes",
            )),
        }
    }
    faults.sort_by_key(|fault| (fault.line, fault.column));
    if faults.is_empty() { Ok(list) } else { Err(faults) }
}

fn price(value: &Spanned<DeValue<'_>>) -> Option<f64> {
    let number: f64 = match value.get_ref() {
        DeValue::Integer(number) => number.as_str().replace('_', "").parse().ok()?,
        DeValue::Float(number) => number.as_str().replace('_', "").parse().ok()?,
        _ => return None,
    };
    (0.0..=MOST).contains(&number).then_some(number)
}

pub(crate) fn fault(text: &str, span: Range<usize>, what: String, remedy: &'static str) -> PriceFault {
    let before = &text[..text.floor_char_boundary(span.start.min(text.len()))];
    let line_start = before.rfind('\n').map_or(0, |end| end + 1);
    PriceFault {
        line: before.matches('\n').count() + 1,
        column: before[line_start..].chars().count() + 1,
        text: what,
        remedy,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_tables_and_none_at_all_are_no_prices() {
        for text in ["", "paper = \"A4\"\n", "[units]\npressure = \"psi\"\n"] {
            assert_eq!(price_list(text), Ok(PriceList::default()));
        }
    }

    #[test]
    fn every_fault_is_found_and_pointed_at() {
        let text = "[prices]\ncurrency = 3\nclip = \"0,40\"\nlever = -1\nnut = nan\nunion = 4\n";
        let faults = price_list(text).unwrap_err();
        let places: Vec<(usize, usize)> = faults.iter().map(|fault| (fault.line, fault.column)).collect();
        assert_eq!(places, [(2, 12), (3, 8), (4, 9), (5, 7)]);
        assert_eq!(price_list("[prices\n").unwrap_err()[0].line, 1);
        assert_eq!(price_list("prices = 4\n").unwrap_err()[0].column, 10);
    }
}
