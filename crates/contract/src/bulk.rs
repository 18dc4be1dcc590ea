//! Many requests of one calculation at once: NDJSON in, NDJSON out, in order.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::problem::Problem;

/// One line that comes in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BulkRow {
    /// Name of the row, carried through.
    #[schema(max_length = 200)]
    pub id: String,
    /// The request, as the single calculation takes it.
    pub request: serde_json::Value,
}

/// One line that goes out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BulkAnswer {
    /// Name of the row.
    pub id: String,
    /// What became of it.
    pub status: RowStatus,
    /// The answer, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub answer: Option<serde_json::Value>,
    /// The problem, where it was refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub problem: Option<Problem>,
}

/// What became of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RowStatus {
    /// Answered.
    Answered,
    /// Refused; the problem says why.
    Refused,
    /// A counted search ended before its answer was proved good.
    NotConverged,
}
