//! How a body becomes a request: read as a value with duplicates seen, walked once against the schema that the
//! types declare, so that all faults of shape and range come together; then the types are built.

mod text;
mod walk;

use serde::de::DeserializeOwned;
use serde_json::Value;
use utoipa::{PartialSchema, ToSchema};

use crate::problem::{Fault, Problem};
use crate::said::Assumption;

pub use walk::SchemaSet;

/// Whether a measured amount may also stand as an expression, such as `"190 ± 4 mg/L as CaCO3"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amounts {
    /// Only as an object: what the HTTP door takes.
    Objects,
    /// Also as an expression: what a notebook or a shell takes.
    Expressions,
}

/// A request as read, with the canonical value behind it and the assumptions that reading made.
#[derive(Clone, Debug)]
pub struct Read<T> {
    /// The request.
    pub request: T,
    /// The value it was built from: absent fields absent, expressions as objects.
    pub value: Value,
    /// What the reading took for granted.
    pub assumptions: Vec<Assumption>,
    /// Faults for which the nearest accepted value stands in `request`: it may be judged further, never answered.
    pub faults: Vec<Fault>,
}

/// The schemas that a request type declares, ready for the walk.
pub fn schemas_of<T: ToSchema + PartialSchema>() -> SchemaSet {
    let mut named = Vec::new();
    T::schemas(&mut named);
    SchemaSet::new(&T::schema(), &named)
}

/// Reads a body as a request of type `T`, whose schemas are `schemas`.
///
/// # Errors
/// A problem that names every fault of the text, the shape and the ranges at once, where no request can be built; where
/// one can, its faults stand in it.
pub fn read<T: DeserializeOwned>(
    body: &[u8],
    schemas: &SchemaSet,
    amounts: Amounts,
) -> Result<Read<T>, Problem> {
    let parsed = text::parse(body)?;
    let mut walked = schemas.walk(parsed.value, amounts);
    walked.faults.extend(parsed.twice);
    let request = T::deserialize(&walked.value).map_err(|error| {
        let faults = if walked.faults.is_empty() { vec![misbuilt(&error)] } else { walked.faults.clone() };
        Problem::refused(faults)
    })?;
    Ok(Read { request, value: walked.value, assumptions: walked.assumptions, faults: walked.faults })
}

/// A value that passed the walk and still builds no type; the schema and the type then disagree, and the caller is
/// told what serde saw.
fn misbuilt(error: &serde_json::Error) -> Fault {
    Fault {
        pointer: String::new(),
        code: "type_wrong".to_owned(),
        message: error.to_string(),
        accepted: Vec::new(),
        mend: "compare the request with the schema of this operation".to_owned(),
    }
}

/// A JSON Pointer (RFC 6901) with one more step.
pub fn below(pointer: &str, step: impl core::fmt::Display) -> String {
    format!("{pointer}/{}", step.to_string().replace('~', "~0").replace('/', "~1"))
}
