//! One walk of a value against the schema its type declares. It finds every fault of shape and range, drops
//! nulls (read as absent), and turns written amounts into objects where they are welcome.

use std::collections::BTreeMap;

use serde_json::{Map, Value};
use utoipa::openapi::{RefOr, Schema};

use super::{Amounts, below};
use crate::answer::amounts;
use crate::problem::Fault;
use crate::said::Assumption;

/// The schemas a request type declares.
#[derive(Clone, Debug)]
pub struct SchemaSet {
    root: Value,
    named: BTreeMap<String, Value>,
}

/// What a walk found.
pub struct Walked {
    /// The value without nulls, amounts as objects.
    pub value: Value,
    /// Every fault, in the order of the document.
    pub faults: Vec<Fault>,
    /// What reading expressions took for granted.
    pub assumptions: Vec<Assumption>,
}

const REFERENCE: &str = "#/components/schemas/";

impl SchemaSet {
    /// The set of a root schema and the schemas it refers to.
    pub fn new(root: &RefOr<Schema>, named: &[(String, RefOr<Schema>)]) -> Self {
        let plain = |schema: &RefOr<Schema>| serde_json::to_value(schema).unwrap_or(Value::Bool(true));
        SchemaSet {
            root: plain(root),
            named: named.iter().map(|(name, schema)| (name.clone(), plain(schema))).collect(),
        }
    }

    /// Walks a value.
    pub fn walk(&self, value: Value, amounts: Amounts) -> Walked {
        let mut walk = Walk { set: self, amounts, faults: Vec::new(), assumptions: Vec::new() };
        let value = walk.value(value, &self.root, "");
        Walked { value, faults: walk.faults, assumptions: walk.assumptions }
    }

    /// Follows a reference; gives the schema and, where it is a named one, its name.
    fn resolve<'a>(&'a self, schema: &'a Value) -> (Option<&'a str>, &'a Value) {
        let name = schema.get("$ref").and_then(Value::as_str).and_then(|r| r.strip_prefix(REFERENCE));
        match name.and_then(|name| self.named.get_key_value(name)) {
            Some((name, schema)) => (Some(name), schema),
            None => (None, schema),
        }
    }
}

struct Walk<'a> {
    set: &'a SchemaSet,
    amounts: Amounts,
    faults: Vec<Fault>,
    assumptions: Vec<Assumption>,
}

impl Walk<'_> {
    fn value(&mut self, value: Value, schema: &Value, pointer: &str) -> Value {
        let (name, schema) = self.set.resolve(schema);
        if let (Some("Measured"), Value::String(text), Amounts::Expressions) = (name, &value, self.amounts) {
            return self.expression(text, pointer);
        }
        let wanted = schema.get("type").and_then(Value::as_str).unwrap_or("any");
        match (wanted, value) {
            ("object", Value::Object(object)) => Value::Object(self.object(object, schema, pointer)),
            ("array", Value::Array(items)) => Value::Array(self.array(items, schema, pointer)),
            ("string", Value::String(text)) => self.text(text, schema, pointer),
            ("number", Value::Number(number)) => self.number(Value::Number(number), schema, pointer),
            ("integer", Value::Number(number)) if whole(&number).is_some() => {
                let number = whole(&number).map_or(Value::Number(number), Value::from);
                self.number(number, schema, pointer)
            }
            ("boolean", value @ Value::Bool(_)) | ("any", value) => value,
            (wanted, value) => {
                self.faults.push(wrong_type(pointer, wanted, name, &value));
                value
            }
        }
    }

    fn object(&mut self, object: Map<String, Value>, schema: &Value, pointer: &str) -> Map<String, Value> {
        let none = Map::new();
        let properties = schema.get("properties").and_then(Value::as_object).unwrap_or(&none);
        let others = schema.get("additionalProperties").filter(|s| s.is_object());
        let mut kept = Map::new();
        for (key, value) in object {
            if value.is_null() {
                continue;
            }
            let at = below(pointer, &key);
            match properties.get(&key).or(others) {
                Some(schema) => {
                    let value = self.value(value, schema, &at);
                    kept.insert(key, value);
                }
                None => self.faults.push(unknown_field(&at, &key, properties)),
            }
        }
        for field in schema.get("required").and_then(Value::as_array).into_iter().flatten() {
            if let Some(field) = field.as_str().filter(|field| !kept.contains_key(*field)) {
                self.faults.push(missing_field(&below(pointer, field), field));
            }
        }
        kept
    }

    fn array(&mut self, items: Vec<Value>, schema: &Value, pointer: &str) -> Vec<Value> {
        let count = items.len() as u64;
        let limit = |key: &str| schema.get(key).and_then(Value::as_u64);
        if let Some(least) = limit("minItems").filter(|least| count < *least) {
            self.faults.push(bounded(
                "too_few",
                pointer,
                format!("{count} entries, at least {least} are needed"),
                least,
            ));
        }
        if let Some(most) = limit("maxItems").filter(|most| count > *most) {
            self.faults.push(bounded(
                "too_many",
                pointer,
                format!("{count} entries, at most {most} are taken"),
                most,
            ));
        }
        let most = limit("maxItems").map_or(usize::MAX, |most| usize::try_from(most).unwrap_or(usize::MAX));
        let any = Value::Bool(true);
        let schema = schema.get("items").unwrap_or(&any);
        items
            .into_iter()
            .take(most)
            .enumerate()
            .map(|(i, item)| self.value(item, schema, &below(pointer, i)))
            .collect()
    }

    fn text(&mut self, text: String, schema: &Value, pointer: &str) -> Value {
        let length = text.chars().count() as u64;
        let limit = |key: &str| schema.get(key).and_then(Value::as_u64);
        if let Some(most) = limit("maxLength").filter(|most| length > *most) {
            let message = format!("{length} characters, at most {most} are taken");
            self.faults.push(bounded("text_too_long", pointer, message, most));
        }
        if let Some(least) = limit("minLength").filter(|least| length < *least) {
            let message = format!("{length} characters, at least {least} are needed");
            self.faults.push(bounded("text_too_short", pointer, message, least));
        }
        if let Some(listed) = schema.get("enum").and_then(Value::as_array) {
            let listed: Vec<_> = listed.iter().filter_map(Value::as_str).map(str::to_owned).collect();
            if !listed.contains(&text) {
                self.faults.push(unlisted(pointer, &text, listed));
            }
        }
        Value::String(text)
    }

    fn number(&mut self, number: Value, schema: &Value, pointer: &str) -> Value {
        let value = number.as_f64().unwrap_or(f64::NAN);
        let limit = |key: &str| schema.get(key).and_then(Value::as_f64);
        let (low, high) = (limit("minimum"), limit("maximum"));
        if low.is_some_and(|low| value < low) || high.is_some_and(|high| value > high) {
            self.faults.push(out_of_range(pointer, value, low, high));
            // the nearest that is accepted stands in, so that what else is wrong comes to light too
            let bound = value.clamp(low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY));
            return if number.is_f64() { Value::from(bound) } else { Value::from(bound as i64) };
        }
        number
    }

    fn expression(&mut self, text: &str, pointer: &str) -> Value {
        match amounts::read_expression(text, pointer) {
            Ok((measured, assumptions)) => {
                self.assumptions.extend(assumptions);
                serde_json::to_value(measured).unwrap_or(Value::Null)
            }
            Err(fault) => {
                self.faults.push(fault);
                Value::Null
            }
        }
    }
}

/// A JSON number that is whole, however it was written (`4`, `4.0`).
fn whole(number: &serde_json::Number) -> Option<i64> {
    number.as_i64().or_else(|| {
        let value = number.as_f64()?;
        (value.fract() == 0.0 && value.abs() < 9e15).then_some(value as i64)
    })
}

fn wrong_type(pointer: &str, wanted: &str, name: Option<&str>, value: &Value) -> Fault {
    let found = match value {
        Value::Null => "nothing",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "a list",
        Value::Object(_) => "an object",
    };
    let wanted = match wanted {
        "object" => "an object",
        "array" => "a list",
        "string" => "a text",
        "number" => "a number",
        "integer" => "a whole number",
        _ => "true or false",
    };
    let accepted = match name {
        Some("Measured") => vec![r#"{"value": 60, "unit": "mg/L"}"#.to_owned()],
        _ => vec![wanted.to_owned()],
    };
    let mend = match name {
        Some("Measured") => {
            "an amount needs its unit: state value and unit, and the basis where there is one".to_owned()
        }
        _ => format!("write {wanted} here"),
    };
    Fault {
        pointer: pointer.to_owned(),
        code: "type_wrong".to_owned(),
        message: format!("{found} stands where {wanted} is needed"),
        accepted,
        mend,
    }
}

fn unknown_field(pointer: &str, key: &str, properties: &Map<String, Value>) -> Fault {
    let accepted: Vec<String> = properties.keys().cloned().collect();
    let mend = match crate::answer::nearest(key, accepted.iter().map(String::as_str)) {
        Some(near) => format!("did you mean '{near}'?"),
        None => "take it out, or use one of the accepted fields".to_owned(),
    };
    let message = format!("'{key}' is no field of this object");
    Fault { pointer: pointer.to_owned(), code: "field_unknown".to_owned(), message, accepted, mend }
}

fn missing_field(pointer: &str, field: &str) -> Fault {
    Fault {
        pointer: pointer.to_owned(),
        code: "field_missing".to_owned(),
        message: format!("'{field}' is needed"),
        accepted: Vec::new(),
        mend: format!("state '{field}'"),
    }
}

fn bounded(code: &str, pointer: &str, message: String, bound: u64) -> Fault {
    let mend = format!("keep to the bound of {bound}");
    Fault { pointer: pointer.to_owned(), code: code.to_owned(), message, accepted: Vec::new(), mend }
}

fn unlisted(pointer: &str, text: &str, accepted: Vec<String>) -> Fault {
    let mend = match crate::answer::nearest(text, accepted.iter().map(String::as_str)) {
        Some(near) => format!("did you mean '{near}'?"),
        None => format!("use one of: {}", accepted.join(", ")),
    };
    let message = format!("'{text}' is not one of the accepted words");
    Fault { pointer: pointer.to_owned(), code: "value_unlisted".to_owned(), message, accepted, mend }
}

fn out_of_range(pointer: &str, value: f64, low: Option<f64>, high: Option<f64>) -> Fault {
    let range = match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (Some(low), None) => format!("{low} or more"),
        (None, Some(high)) => format!("{high} or less"),
        (None, None) => "any number".to_owned(),
    };
    Fault {
        pointer: pointer.to_owned(),
        code: "out_of_range".to_owned(),
        message: format!("{value} lies outside {range}"),
        accepted: vec![range],
        mend: "check the number and its unit".to_owned(),
    }
}
