//! What an answer rests on, so that it can be made again.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What an answer rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Provenance {
    /// Version of the engine.
    pub engine: String,
    /// SHA-256 of the compiled-in data tables, in hex.
    pub data_set: String,
    /// Name of the model the numbers come from.
    pub model: String,
    /// The convention of the pH scale, where the answer holds a solved water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph_convention: Option<String>,
    /// SHA-256 of the request in canonical form (RFC 8785), in hex.
    pub request_digest: String,
}
