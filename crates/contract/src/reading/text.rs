//! JSON text to a value, seeing what a map would hide: a field that stands twice.

use core::fmt;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};

use super::below;
use crate::problem::{Fault, Problem};

/// A parsed body and a fault for each field that stands twice.
pub struct Parsed {
    pub value: Value,
    pub twice: Vec<Fault>,
}

/// Parses a body.
///
/// # Errors
/// `not_json` with line and column where the text is no JSON, or no UTF-8.
pub fn parse(body: &[u8]) -> Result<Parsed, Problem> {
    let mut twice = Vec::new();
    let mut json = serde_json::Deserializer::from_slice(body);
    let value = Node { pointer: String::new(), twice: &mut twice }
        .deserialize(&mut json)
        .and_then(|value| json.end().map(|()| value))
        .map_err(|error| Problem::not_json(error.to_string()))?;
    Ok(Parsed { value, twice })
}

struct Node<'a> {
    pointer: String,
    twice: &'a mut Vec<Fault>,
}

impl<'de> DeserializeSeed<'de> for Node<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Node<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_bool<E>(self, v: bool) -> Result<Value, E> {
        Ok(Value::Bool(v))
    }

    fn visit_i64<E>(self, v: i64) -> Result<Value, E> {
        Ok(Value::Number(v.into()))
    }

    fn visit_u64<E>(self, v: u64) -> Result<Value, E> {
        Ok(Value::Number(v.into()))
    }

    fn visit_f64<E>(self, v: f64) -> Result<Value, E> {
        Ok(Number::from_f64(v).map_or(Value::Null, Value::Number))
    }

    fn visit_str<E>(self, v: &str) -> Result<Value, E> {
        Ok(Value::String(v.to_owned()))
    }

    fn visit_string<E>(self, v: String) -> Result<Value, E> {
        Ok(Value::String(v))
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Value, A::Error> {
        let mut items = Vec::new();
        loop {
            let pointer = below(&self.pointer, items.len());
            match seq.next_element_seed(Node { pointer, twice: &mut *self.twice })? {
                Some(item) => items.push(item),
                None => return Ok(Value::Array(items)),
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
        let mut object = Map::new();
        while let Some(key) = map.next_key::<String>()? {
            let pointer = below(&self.pointer, &key);
            let repeated = object.contains_key(&key);
            if repeated {
                self.twice.push(stands_twice(&pointer, &key));
            }
            let value = map.next_value_seed(Node { pointer, twice: &mut *self.twice })?;
            if !repeated {
                object.insert(key, value);
            }
        }
        Ok(Value::Object(object))
    }
}

fn stands_twice(pointer: &str, key: &str) -> Fault {
    Fault {
        pointer: pointer.to_owned(),
        code: "field_twice".to_owned(),
        message: format!("'{key}' stands more than once in the same object"),
        accepted: Vec::new(),
        mend: "state it once".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sees_a_field_that_stands_twice_at_any_depth() {
        let parsed = parse(br#"{"a":{"b":1,"b":2},"c":[{"d":1,"d":1}],"a":3}"#).unwrap();
        let pointers: Vec<_> = parsed.twice.iter().map(|f| f.pointer.as_str()).collect();
        assert_eq!(pointers, ["/a/b", "/c/0/d", "/a"]);
    }

    #[test]
    fn says_where_the_text_stops_being_json() {
        let problem = parse(b"{\"a\": 1,}").err().unwrap();
        assert_eq!((problem.code.as_str(), problem.status), ("not_json", 400));
        assert!(problem.detail.contains("line 1 column"), "{}", problem.detail);
        assert!(parse(b"{} {}").is_err());
        assert!(parse(b"\xff").is_err());
        assert!(parse(&[b'['; 100_000]).is_err(), "a deep nest is refused, not followed");
    }

    #[test]
    fn a_number_beyond_any_double_is_refused() {
        assert!(parse(b"1e999").is_err());
    }
}
