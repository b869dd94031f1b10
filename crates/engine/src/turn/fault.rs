//! What is wrong with what a driver is asked to do.

use thiserror::Error;

/// What is wrong with a technique.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("{what} has to lie between {low} and {high} {unit}; it is {found}")]
pub struct TechniqueFault {
    /// Which number.
    pub what: &'static str,
    /// Least that is taken.
    pub low: f64,
    /// Most that is taken.
    pub high: f64,
    /// What it is found to be.
    pub found: f64,
    /// Unit of the three.
    pub unit: &'static str,
}

impl TechniqueFault {
    /// A number that lies outside what can be driven.
    pub(super) fn unless_within(
        what: &'static str,
        found: f64,
        low: f64,
        high: f64,
        unit: &'static str,
    ) -> Result<(), Self> {
        if (low..=high).contains(&found) {
            return Ok(());
        }
        Err(Self {
            what,
            low,
            high,
            found,
            unit,
        })
    }
}
