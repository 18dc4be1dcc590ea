//! The OpenAPI document: checked in, the same as the router, complete, and without traps for generators.

use std::collections::BTreeSet;

use serde_json::Value;
use springwright_service::door::operation::{Verb, operations};

use crate::house::{House, path, quiet};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../openapi/springwright.json");

fn document() -> Value {
    serde_json::from_str(springwright_service::door::document::text()).unwrap()
}

/// Every operation of the document: path, method, operation.
fn described(document: &Value) -> Vec<(String, String, Value)> {
    let mut all = Vec::new();
    for (path, item) in document["paths"].as_object().unwrap() {
        for (method, operation) in item.as_object().unwrap() {
            all.push((path.clone(), method.clone(), operation.clone()));
        }
    }
    all
}

/// `SPRINGWRIGHT_BLESS=1` writes the file anew.
#[test]
fn the_file_checked_in_is_what_the_service_gives() {
    let house = House::start(quiet());
    let served = house.get("/openapi.json");
    if std::env::var_os("SPRINGWRIGHT_BLESS").is_some() {
        std::fs::write(FILE, served.text()).unwrap();
    }
    let file = std::fs::read_to_string(FILE).unwrap();
    assert!(
        file == served.text(),
        "openapi/springwright.json is stale: run this test with SPRINGWRIGHT_BLESS=1"
    );
}

#[test]
fn document_and_router_are_one() {
    let described: BTreeSet<(String, String)> =
        described(&document()).into_iter().map(|(path, method, _)| (path, method)).collect();
    let declared: BTreeSet<(String, String)> = operations()
        .iter()
        .map(|operation| {
            (operation.path.clone(), if operation.verb == Verb::Get { "get" } else { "post" }.to_owned())
        })
        .collect();
    assert_eq!(described, declared);
    let house = House::start(quiet());
    for (path, method) in described {
        let reply = if method == "get" { house.get(&path) } else { house.post(&path, "{}") };
        assert!(![404, 405].contains(&reply.status), "{method} {path} is described and not answered");
    }
}

#[test]
fn every_operation_is_told_in_full() {
    let document = document();
    // OAS 3.1.0, section 4.8.4: a license has a name; SPDX identifiers are allowed since 3.1.
    assert_eq!(document["info"]["license"]["identifier"], "MIT OR Apache-2.0");
    assert_eq!(document["openapi"], "3.1.0");
    let mut ids = BTreeSet::new();
    for (path, method, operation) in described(&document) {
        for field in ["operationId", "summary", "description", "tags", "security"] {
            assert!(operation.get(field).is_some(), "{method} {path} lacks {field}");
        }
        assert!(ids.insert(operation["operationId"].to_string()), "{path}: its operationId stands twice");
        for (status, response) in operation["responses"].as_object().unwrap() {
            assert!(response["description"].as_str().is_some_and(|text| !text.is_empty()), "{path} {status}");
            let problem = response["content"].get("application/problem+json").is_some();
            assert_eq!(problem, status.as_str() >= "400", "{path} {status}");
        }
        if method == "post" {
            let content = operation["requestBody"]["content"].as_object().unwrap();
            assert!(
                content.values().all(|content| content.get("example").is_some()),
                "{path} has no example"
            );
        }
    }
}

#[test]
fn no_schema_speaks_of_null_and_every_reference_resolves() {
    let document = document();
    let mut stack = vec![(String::new(), &document)];
    while let Some((place, value)) = stack.pop() {
        // Examples are data, not schemas.
        if place.ends_with("/example") {
            continue;
        }
        assert!(!value.is_null() && value != "null", "null at {place}");
        if let Some(reference) = value.get("$ref").and_then(Value::as_str) {
            let pointer = reference.strip_prefix('#').unwrap();
            assert!(document.pointer(pointer).is_some(), "{reference} at {place} leads nowhere");
        }
        match value {
            Value::Array(items) => {
                stack
                    .extend(items.iter().enumerate().map(|(index, item)| (format!("{place}/{index}"), item)));
            }
            Value::Object(fields) => {
                stack.extend(fields.iter().map(|(name, field)| (format!("{place}/{name}"), field)));
            }
            _ => {}
        }
    }
}

#[test]
fn every_example_is_answered() {
    let house = House::start(quiet());
    for (address, method, operation) in described(&document()) {
        if method != "post" {
            continue;
        }
        let content = operation["requestBody"]["content"].as_object().unwrap();
        let (media_type, content) = content.iter().next().unwrap();
        let body = match &content["example"] {
            Value::String(text) => text.clone(),
            example => example.to_string(),
        };
        let reply = house.post_as(&address, media_type, &body);
        assert_eq!(reply.status, 200, "{address}: {}", reply.text());
        assert!(!reply.text().contains("\"status\":\"refused\""), "{address}: {}", reply.text());
    }
    assert!(house.get(&path("nothing")).status == 404);
}

/// Nothing that a page of the documentation names lies outside the binary.
#[test]
fn the_pages_load_nothing_from_elsewhere() {
    let house = House::start(quiet());
    let page = house.get("/docs/");
    assert!(
        page.header("content-security-policy").is_some_and(|policy| policy.starts_with("default-src 'self'"))
    );
    let mut parts = 0;
    for piece in
        page.text().split(['"', '\'']).filter(|piece| piece.ends_with(".js") || piece.ends_with(".css"))
    {
        assert!(!piece.contains("//"), "{piece} lies elsewhere");
        let reply = house.get(&format!("/docs/{}", piece.trim_start_matches("./")));
        assert_eq!(reply.status, 200, "{piece}");
        parts += 1;
    }
    assert!(parts >= 3, "{}", page.text());
    let entry = house.get("/docs");
    assert_eq!((entry.status, entry.header("location")), (308, Some("docs/")));
}
