use super::KeyId;

/// Why a car cannot be assembled: a figure or a combination that physics or the arrangement does not allow.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Path of the key that it concerns, entries of repeated tables counted from 1.
    pub path: String,
    /// Short stable name of the kind of refusal.
    pub slug: &'static str,
    /// What is wrong.
    pub text: String,
    /// Whether the text names that key: nobody has to say it before.
    pub names_its_key: bool,
    /// What to do.
    pub remedy: Remedy,
}

/// What to do about a refusal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// Find the missing figure out, and write it: the table of keys says what it is.
    FindOut(KeyId),
    /// What the words say.
    Do(String),
}

impl Remedy {
    /// In words: a missing figure's are the help of its key.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::FindOut(id) => id.key().help_as_text(),
            Self::Do(words) => words.clone(),
        }
    }
}

impl<Words: Into<String>> From<Words> for Remedy {
    fn from(words: Words) -> Self {
        Self::Do(words.into())
    }
}
