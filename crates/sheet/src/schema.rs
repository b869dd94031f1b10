//! The JSON Schema of a sheet, for editors and other programs.

use engine::car::{Form, Key, Need};
use quantity::{Dimension, units_of};
use serde_json::{Map, Value, json};

use crate::example;
use crate::layout::{self, Node};
use crate::value::{LONGEST_NAME, LONGEST_TEXT, MOST_MEMBERS, may_be_guessed, most_entries};
use crate::{FORMAT, OLDEST_FORMAT};

/// A number with something that may be a unit behind it, or a range of two.
const WITH_UNIT: &str = r#"^\s*([+\-−]?[0-9.,½¼¾⅛⅜⅝⅞][^\n]*[A-Za-z°%"″']|[Bb][Ee][Tt][Ww][Ee][Ee][Nn]\s.*[0-9½¼¾⅛⅜⅝⅞].*\s[Aa][Nn][Dd]\s.*[0-9½¼¾⅛⅜⅝⅞].*)"#;
/// A number, or a range of two.
const BARE: &str = r#"^\s*([+\-−]?[0-9.,½¼¾⅛⅜⅝⅞][^\n]*|[Bb][Ee][Tt][Ww][Ee][Ee][Nn]\s.*[0-9½¼¾⅛⅜⅝⅞].*\s[Aa][Nn][Dd]\s.*[0-9½¼¾⅛⅜⅝⅞].*)$"#;

/// The word for what is not known, whatever its letters.
const GUESS: &str = r"^\s*[Gg][Uu][Ee][Ss][Ss]\s*$";

/// A tyre's label: width, height, rim, and what may stand behind it.
const TYRE: &str = r"^\s*[0-9]{3}/[0-9]{2,3}\s*(ZR|R|-)\s*[0-9]{2}(\s*[0-9]{2,3}\s*[A-Z][0-9]?\s*(XL)?)?\s*$";

/// The JSON Schema (2020-12) of a sheet, days being texts as JSON has no days. What it lets pass may still be refused:
/// it knows no units, no ranges of what carries a unit, and not which keys an arrangement needs.
#[must_use]
pub fn json_schema() -> Value {
    let mut schema = table(layout::sheet());
    let definitions: Map<String, Value> = Dimension::ALL
        .iter()
        .map(|&dimension| (name_of(dimension), definition(dimension)))
        .chain([("guess".to_owned(), json!({ "type": "string", "pattern": GUESS }))])
        .collect();
    let head = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A car's sheet",
        "description": "Brakes, handbrake and all that they depend on, in one rally car.",
        "$defs": definitions,
    });
    if let (Some(schema), Value::Object(head)) = (schema.as_object_mut(), head) {
        let rest = core::mem::take(schema);
        schema.extend(head);
        schema.extend(rest);
    }
    schema
}

/// A quantity of one kind as a text.
fn definition(dimension: Dimension) -> Value {
    let units: Vec<&str> = units_of(dimension)
        .iter()
        .map(|unit| unit.symbol())
        .filter(|symbol| !symbol.is_empty())
        .collect();
    let pattern = if dimension == Dimension::Ratio {
        BARE
    } else {
        WITH_UNIT
    };
    json!({
        "type": "string",
        "pattern": pattern,
        "description": format!("{} in {}, with or without a tolerance.", dimension.with_article(), units.join(", ")),
        "examples": [dimension.example()],
    })
}

/// `volume_per_pressure`.
fn name_of(dimension: Dimension) -> String {
    let words = dimension.with_article();
    words
        .split_once(' ')
        .map_or(words, |(_, name)| name)
        .replace(' ', "_")
}

fn table(node: &'static Node) -> Value {
    let properties: Map<String, Value> = node
        .children
        .iter()
        .map(|child| (child.name.to_owned(), entry(child)))
        .collect();
    let required: Vec<&str> = node
        .children
        .iter()
        .filter(|child| is_required(child))
        .map(|child| child.name)
        .collect();
    json!({ "type": "object", "properties": properties, "required": required, "additionalProperties": false })
}

fn entry(node: &'static Node) -> Value {
    if node.repeats {
        let most = most_entries(node.path.trim_end_matches("[]"));
        return json!({ "type": "array", "items": table(node), "maxItems": most });
    }
    match (node.leaf, node.is_table()) {
        (Some(leaf), false) => value(leaf.key()),
        (Some(leaf), true) => json!({ "anyOf": [value(leaf.key()), table(node)] }),
        (None, _) => table(node),
    }
}

/// A key that its table needs, or a table that a sheet needs because of such a key.
fn is_required(node: &Node) -> bool {
    match node.leaf {
        Some(leaf) if !node.is_table() => matches!(leaf.key().need, Need::Always | Need::InItsTable),
        _ => !node.repeats && holds_what_is_always_needed(node),
    }
}

fn holds_what_is_always_needed(node: &Node) -> bool {
    node.leaf.is_some_and(|leaf| leaf.key().need == Need::Always)
        || node.children.iter().any(holds_what_is_always_needed)
}

fn value(key: &'static Key) -> Value {
    let mut schema = form(key);
    if let Some(schema) = schema.as_object_mut() {
        schema.insert("description".to_owned(), Value::String(crate::about::about(key)));
    }
    schema
}

fn form(key: &'static Key) -> Value {
    let example = example::value(key);
    let bare = example.trim_matches('"');
    match key.form {
        Form::Quantity(Dimension::Turns) => {
            json!({ "anyOf": [quantity(Dimension::Turns), { "type": "number" }] })
        }
        Form::Quantity(Dimension::Ratio) => {
            let mut number = json!({ "type": "number" });
            if let (Some((low, high)), Some(number)) = (key.hard.and_then(bare_range), number.as_object_mut())
            {
                number.insert("minimum".to_owned(), low);
                number.insert("maximum".to_owned(), high);
            }
            json!({ "anyOf": [number, guessable(key, quantity(Dimension::Ratio))] })
        }
        Form::Quantity(dimension) => {
            let mut schema = guessable(key, quantity(dimension));
            if let Some(schema) = schema.as_object_mut() {
                schema.insert("examples".to_owned(), json!([bare]));
            }
            schema
        }
        Form::RollingRadius => {
            json!({ "anyOf": [guessable(key, quantity(Dimension::Length)), { "type": "string", "pattern": TYRE }] })
        }
        Form::Quantities(dimension) => {
            json!({ "type": "array", "items": quantity(dimension), "minItems": 1, "maxItems": MOST_MEMBERS })
        }
        Form::Row(columns) => row(columns, columns.len()),
        Form::Rows { columns, needed } => {
            json!({ "type": "array", "items": row(columns, needed), "minItems": 1, "maxItems": MOST_MEMBERS })
        }
        Form::Setting => {
            json!({ "anyOf": [quantity(Dimension::Turns), { "type": "integer", "minimum": 0 }, { "$ref": "#/$defs/guess" }] })
        }
        Form::Count if key.path == "format" => {
            json!({ "enum": (OLDEST_FORMAT..=FORMAT).collect::<Vec<_>>() })
        }
        Form::Count => {
            let (low, high) = key
                .hard
                .and_then(bare_range)
                .unwrap_or((json!(0), json!(u32::MAX)));
            json!({ "type": "integer", "minimum": low, "maximum": high })
        }
        Form::Flag => json!({ "type": "boolean" }),
        Form::Word(words) => json!({ "enum": words }),
        Form::Text => {
            let most = if key.name() == "name" {
                LONGEST_NAME
            } else {
                LONGEST_TEXT
            };
            text(most)
        }
        Form::Texts => json!({ "type": "array", "items": text(LONGEST_TEXT), "maxItems": MOST_MEMBERS }),
        Form::Date => {
            json!({ "type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" })
        }
    }
}

fn text(most: usize) -> Value {
    json!({ "type": "string", "minLength": 1, "maxLength": most })
}

fn quantity(dimension: Dimension) -> Value {
    json!({ "$ref": format!("#/$defs/{}", name_of(dimension)) })
}

fn guessable(key: &Key, schema: Value) -> Value {
    if may_be_guessed(key) {
        json!({ "anyOf": [schema, { "$ref": "#/$defs/guess" }] })
    } else {
        schema
    }
}

fn row(columns: &[Dimension], needed: usize) -> Value {
    let members: Vec<Value> = columns
        .iter()
        .map(|&column| match column {
            Dimension::Ratio => {
                json!({ "anyOf": [{ "type": "number" }, quantity(Dimension::Ratio)] })
            }
            _ => quantity(column),
        })
        .collect();
    json!({ "type": "array", "prefixItems": members, "items": false, "minItems": needed })
}

fn bare_range((low, high): (&str, &str)) -> Option<(Value, Value)> {
    let number = |text: &str| {
        serde_json::from_str::<serde_json::Number>(text)
            .ok()
            .map(Value::Number)
    };
    Some((number(low)?, number(high)?))
}
