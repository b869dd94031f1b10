//! A person's own prices, and what a list of parts comes to with them.

use std::collections::BTreeMap;

use crate::part::Part;

/// Prices by a part's code, each for one of what it is counted in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices {
    /// What the money is called, as the person writes it.
    pub currency: String,
    /// Price by code.
    pub each: BTreeMap<String, f64>,
}

/// What a list comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cost {
    /// Sum of what has a price.
    pub sum: f64,
    /// How many kinds have none.
    pub without: usize,
    /// Runs whose pipe or hose is not in it: nobody measured them.
    pub to_tape: usize,
}

impl Prices {
    /// Price of one of a part; `None` where there is none.
    #[must_use]
    pub fn each(&self, part: &Part) -> Option<f64> {
        self.each.get(&part.kind.code()).copied()
    }

    /// What a list comes to; `None` where nothing on it has a price.
    #[must_use]
    pub fn cost(&self, parts: &[Part]) -> Option<Cost> {
        let priced: Vec<Option<f64>> = parts
            .iter()
            .map(|part| Some(self.each(part)? * part.count))
            .collect();
        let without = priced.iter().filter(|sum| sum.is_none()).count();
        (without < parts.len()).then(|| Cost {
            to_tape: parts.iter().map(|part| part.to_tape).sum(),
            sum: priced.into_iter().flatten().sum(),
            without,
        })
    }

    /// Codes of the list that no part has: written wrongly, or of another layout.
    #[must_use]
    pub fn unknown<'a>(&'a self, parts: &[&Part]) -> Vec<&'a str> {
        self.each
            .keys()
            .filter(|code| !parts.iter().any(|part| part.kind.code() == **code))
            .map(String::as_str)
            .collect()
    }
}
