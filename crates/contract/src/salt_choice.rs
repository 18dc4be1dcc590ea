//! A salt that may be weighed in, as it stands on the shelf.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A salt on the shelf: one of `salt` or `formula`, and what is known of this lot.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaltChoice {
    /// Id or name in the catalogue, hydrate included: `magnesium_sulfate_heptahydrate`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub salt: Option<String>,
    /// Formula with its water of crystallisation: `CaCl2·2H2O`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub formula: Option<String>,
    /// g of the stated formula in 100 g weighed; 100 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1.0, maximum = 130.0)]
    pub assay_percent: Option<f64>,
    /// A label that is carried through to the weighing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub lot: Option<String>,
    /// Price of one kilogram as sold, in the currency of the request.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub price_per_kg: Option<f64>,
    /// What is left of it, in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub stock_g: Option<f64>,
    /// Least mass to weigh in, in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub at_least_g: Option<f64>,
    /// Greatest mass to weigh in, in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub at_most_g: Option<f64>,
}
