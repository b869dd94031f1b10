//! JSON Schemas of results, made from the views themselves.

use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, Transform as _};
use schemars::{JsonSchema, Schema};
use serde_json::{Map, Value, json};

use super::figure::MAY_BE_NULL;

/// The schema of a view, with a title.
pub fn of<View: JsonSchema>(title: &str) -> Value {
    let mut schema = SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<View>();
    RecursiveTransform(reasons).transform(&mut schema);
    schema.insert("title".to_owned(), json!(title));
    schema.into()
}

/// The schema of a verb whose result has one of three shapes, by what was asked.
pub fn any_of<One: JsonSchema, Two: JsonSchema, Three: JsonSchema>(title: &str) -> Value {
    let inline = || SchemaSettings::draft2020_12().with(|settings| settings.inline_subschemas = true);
    let each = [
        inline().into_generator().into_root_schema_for::<One>(),
        inline().into_generator().into_root_schema_for::<Two>(),
        inline().into_generator().into_root_schema_for::<Three>(),
    ];
    let shapes: Vec<Value> = each
        .into_iter()
        .map(|mut schema| {
            RecursiveTransform(reasons).transform(&mut schema);
            schema.remove("$schema");
            schema.into()
        })
        .collect();
    json!({ "$schema": "https://json-schema.org/draft/2020-12/schema", "title": title, "anyOf": shapes })
}

/// Declares `<key>_why` beside every key that may be null with a reason.
fn reasons(schema: &mut Schema) {
    let Some(Value::Object(properties)) = schema.get_mut("properties") else {
        return;
    };
    let mut all = Map::with_capacity(properties.len());
    for (key, mut property) in core::mem::take(properties) {
        let marked = property
            .as_object_mut()
            .and_then(|property| property.shift_remove(MAY_BE_NULL));
        all.insert(key.clone(), property);
        if marked.is_some() {
            let why = format!("Why `{key}` is null; absent where it is not.");
            all.insert(
                format!("{key}_why"),
                json!({ "type": "string", "description": why }),
            );
        }
    }
    *properties = all;
}
