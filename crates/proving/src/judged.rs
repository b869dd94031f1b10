//! What a reading comes to.

/// How a check stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CheckResult {
    /// It holds.
    Holds(String),
    /// It does not.
    Fails(String),
    /// It was left, with its reason.
    Left(String),
    /// The reading tells nothing, and why.
    TellsNothing(String),
}
