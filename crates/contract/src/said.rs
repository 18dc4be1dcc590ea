//! What an answer says beside its numbers: assumptions, findings, cautions.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Something that was taken for granted because the request did not say it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Assumption {
    /// Stable code.
    pub code: String,
    /// JSON Pointer of what it is about in the request.
    pub pointer: String,
    /// What was assumed, in words.
    pub text: String,
    /// What it does to the answer, in words with numbers.
    pub effect: String,
}

/// Something that the reader should know of an input or a result.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Finding {
    /// Stable code.
    pub code: String,
    /// JSON Pointer of what it is about in the request, or empty for the whole.
    pub pointer: String,
    /// What was found, in words with numbers.
    pub text: String,
    /// Where the rule behind it stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub source: Option<String>,
}

/// A caution for whoever drinks or handles it. Never medical advice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Caution {
    /// Stable code.
    pub code: String,
    /// The caution, in words with numbers.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}

/// Something that a reader might look for and that this answer does not judge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NotJudged {
    /// What was not judged.
    pub what: String,
    /// Why, in words.
    pub why: String,
}
