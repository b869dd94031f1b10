//! What an entry says: a JSON object that is kept as it was given.

use core::fmt;
use std::collections::HashSet;

use serde::de::{Deserialize, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};
use serde::ser::{Error as _, Serialize, Serializer};
use serde_json::value::RawValue;

use crate::Fault;

/// The most bytes that the data of an entry may have.
pub const LARGEST_DATA: usize = 256 * 1024;

/// A JSON object, kept to the byte: `1.10` does not become `1.1`. No key stands twice in one object, so that no two
/// programs read two different things in it; `text`, where there is one, is a string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Data(String);

impl Data {
    /// Checks a JSON object.
    ///
    /// # Errors
    /// [`Fault::Data`]: not JSON, not an object, a key twice, `text` not a string, or more than [`LARGEST_DATA`].
    pub fn parse(json: &str) -> Result<Self, Fault> {
        let json = json.trim();
        if json.len() > LARGEST_DATA {
            return Err(refused(format!("it has more than {LARGEST_DATA} bytes")));
        }
        serde_json::from_str::<Checked>(json).map_err(|error| refused(error.to_string()))?;
        let data = Self(json.to_owned());
        match data.value() {
            serde_json::Value::Object(object)
                if object.get("text").is_none_or(serde_json::Value::is_string) =>
            {
                Ok(data)
            }
            serde_json::Value::Object(_) => Err(refused("`text` is not a string".to_owned())),
            _ => Err(refused("it is not an object".to_owned())),
        }
    }

    /// A text, and perhaps an object with more.
    ///
    /// # Errors
    /// As [`parse`](Self::parse); also if `more` has a `text` of its own.
    pub fn with_text(text: &str, more: Option<&str>) -> Result<Self, Fault> {
        let more = Self::parse(more.unwrap_or("{}"))?;
        if more.text().is_some() {
            return Err(refused(
                "it has a `text` of its own beside the one that is given".to_owned(),
            ));
        }
        let text = serde_json::Value::from(text);
        let rest = more.0.strip_prefix('{').map(str::trim_start).unwrap_or_default();
        let comma = if rest.starts_with('}') { "" } else { "," };
        Self::parse(&format!("{{\"text\":{text}{comma}{rest}"))
    }

    /// The JSON, as it was given.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The JSON, read.
    pub fn value(&self) -> serde_json::Value {
        // It was read once already when it was checked.
        serde_json::from_str(&self.0).unwrap_or_default()
    }

    /// What stands under `text`.
    pub fn text(&self) -> Option<String> {
        match self.value().get_mut("text").map(serde_json::Value::take) {
            Some(serde_json::Value::String(text)) => Some(text),
            _ => None,
        }
    }
}

fn refused(why: String) -> Fault {
    Fault::Data { why }
}

impl Serialize for Data {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        RawValue::from_string(self.0.clone())
            .map_err(S::Error::custom)?
            .serialize(serializer)
    }
}

/// Any JSON in which no object has a key twice.
struct Checked;

impl<'de> Deserialize<'de> for Checked {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Check)
    }
}

struct Check;

impl<'de> Visitor<'de> for Check {
    type Value = Checked;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_bool<E>(self, _: bool) -> Result<Checked, E> {
        Ok(Checked)
    }

    fn visit_i64<E>(self, _: i64) -> Result<Checked, E> {
        Ok(Checked)
    }

    fn visit_u64<E>(self, _: u64) -> Result<Checked, E> {
        Ok(Checked)
    }

    fn visit_f64<E>(self, _: f64) -> Result<Checked, E> {
        Ok(Checked)
    }

    fn visit_str<E>(self, _: &str) -> Result<Checked, E> {
        Ok(Checked)
    }

    fn visit_unit<E>(self) -> Result<Checked, E> {
        Ok(Checked)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Checked, A::Error> {
        while items.next_element::<Checked>()?.is_some() {}
        Ok(Checked)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut members: A) -> Result<Checked, A::Error> {
        let mut keys = HashSet::new();
        while let Some((key, Checked)) = members.next_entry::<String, Checked>()? {
            if keys.contains(&key) {
                return Err(A::Error::custom(format_args!(
                    "the key `{key}` is there twice in one object"
                )));
            }
            keys.insert(key);
        }
        Ok(Checked)
    }
}
