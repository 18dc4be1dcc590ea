//! A refusal: RFC 9457 problem document with every fault at once.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Why a request was refused: `application/problem+json` after RFC 9457.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Problem {
    /// URI reference that names the sort of problem.
    #[serde(rename = "type")]
    #[schema(format = "uri-reference")]
    pub kind: String,
    /// The sort of problem in a few words.
    pub title: String,
    /// HTTP status.
    pub status: u16,
    /// Stable code.
    pub code: String,
    /// What happened, in a sentence.
    pub detail: String,
    /// Every fault, in the order of the document.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub faults: Vec<Fault>,
}

/// One fault of a request.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Fault {
    /// JSON Pointer (RFC 6901) of the field; empty for the whole document.
    pub pointer: String,
    /// Stable code.
    pub code: String,
    /// What is wrong, in words.
    pub message: String,
    /// What would be accepted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<String>,
    /// How to mend it.
    pub mend: String,
}

impl Problem {
    /// A problem of a given sort. `code` is stable; `title` and `status` belong to it.
    pub fn new(code: &str, title: &str, status: u16, detail: impl Into<String>) -> Self {
        Problem {
            kind: format!("/problems/{code}"),
            title: title.to_owned(),
            status,
            code: code.to_owned(),
            detail: detail.into(),
            faults: Vec::new(),
        }
    }

    /// The text is no JSON.
    pub fn not_json(detail: impl Into<String>) -> Self {
        Self::new("not_json", "The body is not JSON", 400, detail)
    }

    /// The request breaks rules; every fault stands in the document.
    pub fn refused(faults: Vec<Fault>) -> Self {
        let detail = match faults.as_slice() {
            [one] => one.message.clone(),
            many => format!("{} faults; each is listed with its place and how to mend it", many.len()),
        };
        Problem {
            faults,
            ..Self::new("request_refused", "The request cannot be answered as it stands", 422, detail)
        }
    }

    /// No calculation has that name.
    pub fn no_calculation(name: &str, known: &[&str]) -> Self {
        let detail = format!("no calculation is called '{name}'; there are: {}", known.join(", "));
        Self::new("calculation_unknown", "No such calculation", 404, detail)
    }

    /// The engine's own failure; says nothing of its inside.
    pub fn own_failure() -> Self {
        Self::new("own_failure", "The service failed", 500, "the fault is ours, not the request's")
    }

    /// The document as JSON text.
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).expect("a problem is plain text and numbers")
    }
}

impl core::fmt::Display for Problem {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{}: {}", self.title, self.detail)?;
        for fault in &self.faults {
            let place = if fault.pointer.is_empty() { "(whole request)" } else { &fault.pointer };
            write!(f, "\n  {place}: {} [{}]\n    {}", fault.message, fault.code, fault.mend)?;
        }
        Ok(())
    }
}

impl core::error::Error for Problem {}
