//! A measured or wanted amount with its unit, basis and uncertainty.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// An amount as somebody stated it: a number, its unit, and the basis it is expressed in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// The number. Never negative but for an index, which may be.
    #[schema(minimum = -1e9, maximum = 1e9)]
    pub value: f64,
    /// Unit, such as `mg/L`, `mmol/L`, `meq/L`, `mg/kg`, `dH`, `gr/gal_us`, `uS/cm`, `pH`, `1`. Never assumed.
    #[schema(max_length = 64)]
    pub unit: String,
    /// What the number is expressed as where that is not the thing itself: `CaCO3`, `N`, `S`, `CaO`, …
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 64)]
    pub basis: Option<String>,
    /// Uncertainty in the same unit and basis; standard (k = 1) unless `coverage_factor` is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub uncertainty: Option<f64>,
    /// Coverage factor k of `uncertainty`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1.0, maximum = 10.0)]
    pub coverage_factor: Option<f64>,
    /// `<`: the value is a detection limit and the true amount lies below it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub comparator: Option<Comparator>,
}

/// How the true amount stands to the stated value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub enum Comparator {
    /// Below the stated value.
    #[serde(rename = "<")]
    Below,
}
