//! What an answer rests on, as digests.

use std::sync::LazyLock;

use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::provenance::Provenance;

/// Version of the engine.
pub fn engine() -> &'static str {
    env!("CARGO_PKG_VERSION")
}

/// SHA-256 over the compiled-in data tables, names and contents, in their fixed order; in hex.
pub fn data_set() -> &'static str {
    static DIGEST: LazyLock<String> = LazyLock::new(|| {
        let mut hash = Sha256::new();
        for (name, text) in springwright_chem::data_set::tables() {
            for part in [name.as_bytes(), text.as_bytes()] {
                hash.update((part.len() as u64).to_be_bytes());
                hash.update(part);
            }
        }
        hex(&hash.finalize())
    });
    &DIGEST
}

/// The provenance of an answer to a request.
pub(super) fn provenance(model: &str, request: &Value) -> Provenance {
    Provenance {
        engine: engine().to_owned(),
        data_set: data_set().to_owned(),
        model: model.to_owned(),
        ph_convention: None,
        request_digest: request_digest(request),
    }
}

/// SHA-256 of the canonical form (RFC 8785) of a request, in hex.
fn request_digest(request: &Value) -> String {
    hex(&request_key(request))
}

/// The same as bytes.
pub(super) fn request_key(request: &Value) -> [u8; 32] {
    let canonical = serde_json_canonicalizer::to_vec(request).unwrap_or_default();
    Sha256::digest(canonical).into()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_digest_of_a_request_does_not_depend_on_its_order_or_spelling() {
        // RFC 8785 section 3.2.3: members sorted; 3.2.2.3: numbers as ECMAScript writes them.
        let a: Value = serde_json::from_str(r#"{"b": 1.0, "a": 4e1}"#).unwrap();
        let b: Value = serde_json::from_str(r#"{"a":40,"b":1}"#).unwrap();
        assert_eq!(request_digest(&a), request_digest(&b));
        // The canonical text itself, written by hand.
        assert_eq!(serde_json_canonicalizer::to_string(&a).unwrap(), r#"{"a":40,"b":1}"#);
    }
}
