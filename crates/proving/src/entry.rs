//! An entry for a logbook, made by one reading.

use nearest::nearest_one;
use serde_json::Value;

use crate::data::EntryFault;
use crate::fact::Fact;

/// What may stand in an entry of each kind, beside `text`.
const KEYS: &[(&str, &[&str])] = &[
    ("note", &["step", "event", "hoses", "got", "sheet"]),
    ("joint", &["joint", "state", "touched"]),
    (
        "reading",
        &[
            "check", "result", "not_done", "first", "second", "from", "to", "in", "air", "left", "right",
            "how", "fluid",
        ],
    ),
    ("setting", &["event", "came_of_it"]),
    ("fluid", &["changed", "boils"]),
    ("pads", &["axle", "left", "fitted"]),
    ("fault", &["symptom", "test", "said", "right"]),
    ("signoff", &["by", "checked_by"]),
];

/// An entry that a logbook may take: its kind and keys are known, and what it means to say can be read. There is no
/// other way to one than [`read`](Self::read) and [`of`](Self::of).
#[derive(Clone, Debug, PartialEq)]
pub struct NewEntry {
    kind: &'static str,
    data: String,
    fact: Option<Fact>,
}

impl NewEntry {
    /// Reads a kind and the JSON object of an entry, which is kept to the byte. An entry of nothing but words is a note, a
    /// setting or a fault; the other kinds say something that counts.
    ///
    /// # Errors
    /// What is wrong with it, and what was expected.
    pub fn read(kind: &str, data: &str) -> Result<Self, EntryFault> {
        let &(kind, keys) = KEYS.iter().find(|(known, _)| *known == kind).ok_or_else(|| {
            let kinds: Vec<&str> = KEYS.iter().map(|(known, _)| *known).collect();
            EntryFault(format!("`{kind}` is no kind of entry: {}", kinds.join(", ")))
        })?;
        let value: Value = serde_json::from_str(data)
            .map_err(|fault| EntryFault(format!("the data is no JSON: {fault}")))?;
        let Value::Object(object) = &value else {
            return Err(EntryFault("the data is no JSON object".to_owned()));
        };
        for key in object.keys().filter(|key| *key != "text") {
            if !keys.contains(&key.as_str()) {
                return Err(EntryFault(unknown(kind, key, keys)));
            }
        }
        let fact = Fact::read(kind, &value)?;
        let said = object
            .get("text")
            .and_then(Value::as_str)
            .is_some_and(|text| !text.trim().is_empty());
        if fact.is_none() && !said {
            return Err(EntryFault(
                "the entry says nothing: write what was done or seen".to_owned(),
            ));
        }
        Ok(Self {
            kind,
            data: data.to_owned(),
            fact,
        })
    }

    /// The entry that says a fact, with words for a person.
    ///
    /// # Errors
    /// Figures that cannot be, as [`read`](Self::read).
    pub fn of(fact: &Fact) -> Result<Self, EntryFault> {
        let (kind, data) = fact.entry();
        Self::read(kind, &data.to_string())
    }

    /// Its kind, as it is written.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        self.kind
    }

    /// What it says, as JSON.
    #[must_use]
    pub fn data(&self) -> &str {
        &self.data
    }

    /// What it says, as far as anything leans on it.
    #[must_use]
    pub const fn fact(&self) -> Option<&Fact> {
        self.fact.as_ref()
    }
}

fn unknown(kind: &str, key: &str, keys: &[&str]) -> String {
    match nearest_one(key, keys.iter().copied()) {
        Some(near) => format!("`{key}` is no key of a `{kind}`: did you mean `{near}`?"),
        None if keys.is_empty() => format!("`{key}` is no key of a `{kind}`: it takes a text alone"),
        None => format!("`{key}` is no key of a `{kind}`: text, {}", keys.join(", ")),
    }
}
