//! The shapes of the documents that the doors publish: no schema may be null.

use crate::{demand_none, demand_one, tree};
use serde_json::Value;

/// Every place of a document where a schema admits null, as a JSON Pointer.
fn admits_null(value: &Value, pointer: &str, into: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            let is_null = |value: &Value| value == "null";
            let typed = fields
                .get("type")
                .is_some_and(|of| is_null(of) || of.as_array().is_some_and(|all| all.iter().any(is_null)));
            let marked = fields.get("nullable") == Some(&Value::Bool(true));
            if typed || marked {
                into.push(pointer.to_owned());
            }
            for (name, inner) in fields {
                let name = name.replace('~', "~0").replace('/', "~1");
                admits_null(inner, &format!("{pointer}/{name}"), into);
            }
        }
        Value::Array(items) => {
            for (at, inner) in items.iter().enumerate() {
                admits_null(inner, &format!("{pointer}/{at}"), into);
            }
        }
        _ => {}
    }
}

fn faults(path: &str, text: &str) -> Vec<String> {
    let document: Value = match serde_json::from_str(text) {
        Ok(document) => document,
        Err(fault) => return vec![format!("{path}: {fault}")],
    };
    let mut found = Vec::new();
    admits_null(&document, "", &mut found);
    found.into_iter().map(|pointer| format!("{path}#{pointer} admits null")).collect()
}

#[test]
fn no_schema_admits_null() {
    let documents = tree::files(|path| path.starts_with("openapi/") && path.ends_with(".json"));
    assert!(documents.iter().any(|file| file.text.contains("\"openapi\"")), "openapi/ holds no document");
    demand_none(documents.iter().flat_map(|file| faults(&file.path, &file.text)).collect());
}

#[test]
fn planted_nulls_are_found() {
    let of = |text: &str| faults("d.json", text);
    assert_eq!(of(r#"{"a": {"type": ["number", "string"], "nullable": false}}"#), Vec::<String>::new());
    demand_one(&of(r#"{"a": {"x/y": {"type": ["number", "null"]}}}"#), "d.json#/a/x~1y");
    demand_one(&of(r#"{"oneOf": [{"type": "null"}, {"type": "object"}]}"#), "#/oneOf/0");
    demand_one(&of(r#"{"a": {"type": "number", "nullable": true}}"#), "#/a");
    demand_one(&of("{"), "d.json");
}
