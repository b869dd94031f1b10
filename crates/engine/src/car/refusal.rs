/// Why a car cannot be assembled: a figure or a combination that physics or the arrangement does not allow.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Path of the key that it concerns, entries of repeated tables counted from 1.
    pub path: String,
    /// Short stable name of the kind of refusal.
    pub slug: &'static str,
    /// What is wrong.
    pub text: String,
    /// What to do.
    pub remedy: String,
}
