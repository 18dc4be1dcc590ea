//! A balance: what it can weigh.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A balance. A weighing is a whole number of its steps, not less than its least and not more than its most.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Balance {
    /// Readability in g.
    #[schema(minimum = 1e-6, maximum = 1e6)]
    pub step_g: f64,
    /// Least mass that is weighed on it, in g; one step unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub least_g: Option<f64>,
    /// Greatest mass it takes, in g.
    #[schema(minimum = 1e-6, maximum = 1e9)]
    pub most_g: f64,
}
