//! Figures of a result: rounded, finite, or null with the reason beside them.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Map, Value};

/// Significant digits of a figure.
const DIGITS: usize = 10;

/// Key of the one-entry object that stands for a missing figure until [`with_reasons`] has seen it. No sheet and no
/// option can hold it.
const MARK: &str = "\0why";

/// Key that tells [`super::schema`] that a property may be null with a reason.
pub(super) const MAY_BE_NULL: &str = "x-null-with-reason";

/// A number of a result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Num(f64);

impl From<f64> for Num {
    fn from(value: f64) -> Self {
        Self(value)
    }
}

impl Num {
    /// Rounded to ten significant digits; `None` unless finite.
    fn rounded(self) -> Option<f64> {
        if !self.0.is_finite() {
            return None;
        }
        let rounded = format!("{:.*e}", DIGITS - 1, self.0).parse().unwrap_or(self.0);
        // A zero without a sign.
        Some(rounded + 0.0)
    }
}

impl Serialize for Num {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.rounded() {
            Some(value) => serializer.serialize_f64(value),
            None => reason(serializer, "no finite figure comes out"),
        }
    }
}

impl JsonSchema for Num {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Number".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "number" })
    }
}

/// Something, or why it is not there.
#[derive(Clone, Debug, PartialEq)]
pub enum OrWhy<T> {
    /// There it is.
    Is(T),
    /// Why it is not there: a phrase.
    Why(Cow<'static, str>),
}

impl<T> OrWhy<T> {
    /// What is there, or else the reason.
    pub fn or(there: Option<impl Into<T>>, why: impl Into<Cow<'static, str>>) -> Self {
        match there {
            Some(there) => Self::Is(there.into()),
            None => Self::Why(why.into()),
        }
    }
}

impl<T: Serialize> Serialize for OrWhy<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Is(there) => there.serialize(serializer),
            Self::Why(why) => reason(serializer, why),
        }
    }
}

impl<T: JsonSchema> JsonSchema for OrWhy<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        format!("{}_or_null", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let there = generator.subschema_for::<T>();
        let mut schema = match there.get("type") {
            Some(Value::String(one)) if there.as_object().is_some_and(|keys| keys.len() == 1) => {
                json_schema!({ "type": [one, "null"] })
            }
            _ => json_schema!({ "anyOf": [there, { "type": "null" }] }),
        };
        schema.insert(MAY_BE_NULL.to_owned(), Value::Bool(true));
        schema
    }
}

fn reason<S: Serializer>(serializer: S, why: &str) -> Result<S::Ok, S::Error> {
    let mut map = serializer.serialize_map(Some(1))?;
    map.serialize_entry(MARK, why)?;
    map.end()
}

/// Puts `null` where something is missing, and `<key>_why` behind it.
pub(super) fn with_reasons(value: Value) -> Value {
    match value {
        Value::Object(entries) => {
            let mut all = Map::with_capacity(entries.len());
            for (key, value) in entries {
                match reason_in(&value) {
                    Some(why) => {
                        let why = why.to_owned();
                        let why_key = format!("{key}_why");
                        all.insert(key, Value::Null);
                        all.insert(why_key, Value::String(why));
                    }
                    None => {
                        all.insert(key, with_reasons(value));
                    }
                }
            }
            Value::Object(all)
        }
        // A list has no keys to put a reason beside.
        Value::Array(members) => members
            .into_iter()
            .map(|member| {
                if reason_in(&member).is_some() {
                    Value::Null
                } else {
                    with_reasons(member)
                }
            })
            .collect(),
        other => other,
    }
}

fn reason_in(value: &Value) -> Option<&str> {
    value.as_object()?.get(MARK)?.as_str()
}
