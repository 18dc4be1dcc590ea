//! `conversion`: one amount in another unit or basis.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::measured::Measured;
use crate::provenance::Provenance;
use crate::said::Assumption;

/// Asks for one amount in another unit or basis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConversionRequest {
    /// What it is an amount of: a component (`Ca`, `NO3`, `citrate`), `hardness`, `alkalinity`, `tds`, or the
    /// formula of a salt with its water. Not needed where the unit alone decides (°F to °C, gallons to litres).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub of: Option<String>,
    /// The amount as stated.
    pub measured: Measured,
    /// The unit wanted.
    #[schema(max_length = 64)]
    pub unit: String,
    /// The basis wanted, where it is not the thing itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 64)]
    pub basis: Option<String>,
    /// Density of the water in kg/L, needed between litres and kilograms.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.9, maximum = 2.0)]
    pub density_kg_per_l: Option<f64>,
    /// kg of solvent water in a litre, needed for amounts per kg of solvent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.3, maximum = 1.0)]
    pub water_kg_per_l: Option<f64>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// One amount in another unit or basis, and the same amount in the other bases of the trade.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConversionAnswer {
    /// The amount as asked, its uncertainty carried along.
    pub measured: Measured,
    /// The same amount in the other units and bases in which people state it.
    pub equivalents: Vec<Measured>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What the answer rests on.
    pub provenance: Provenance,
}
