//! A water that goes in: from the tap, from a purifier, or made of salts.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::measured::Measured;

/// What a laboratory reported, by component: ions by formula (`Ca`, `SO4`, `SiO2`), organics by name
/// (`citrate`), and `alkalinity`, `hardness`, `Na+K`, `co2` (free carbon dioxide) or `dic` (all dissolved carbonate).
/// `HCO3` is alkalinity expressed as hydrogencarbonate.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(transparent)]
pub struct Analysis(pub BTreeMap<String, Measured>);

/// A water that goes in. Either an `analysis` stands here or `pure` is said.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SourceWater {
    /// What people call it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub name: Option<String>,
    /// Water without solutes. It must be said; nothing is ever taken as pure in silence.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pure: Option<bool>,
    /// What a laboratory reported.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub analysis: Option<Analysis>,
    /// pH as measured, at `temperature_c`. With the alkalinity it tells how much carbonate the water holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 14.0)]
    pub ph: Option<f64>,
    /// Standard uncertainty of that pH.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 2.0)]
    pub ph_uncertainty: Option<f64>,
    /// Temperature of the water as analysed and poured, in °C; 20 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// pH at which the titration of the alkalinity ended; 4.5 unless given (an assumption where it matters).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 3.5, maximum = 5.5)]
    pub end_point_ph: Option<f64>,
    /// What to do where an ion that is needed was not reported. Without a word here it is the fault
    /// `insufficient`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub missing: Option<BTreeMap<String, MissingRule>>,
    /// The ion that takes up the charge gap of the sheet. Nothing is adjusted unless this is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 40)]
    pub balance_on: Option<String>,
    /// Salts already dissolved in this water, per litre of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 100)]
    pub added: Option<Vec<AddedSalt>>,
    /// Least share of this water in a blend, in percent of the water poured (by mass).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 100.0)]
    pub at_least_percent: Option<f64>,
    /// Greatest share of this water in a blend, in percent of the water poured (by mass).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 100.0)]
    pub at_most_percent: Option<f64>,
    /// Price of 1000 litres, in the currency of the request.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub price_per_1000_l: Option<f64>,
    /// A label that is carried through to the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub lot: Option<String>,
}

/// What is done where an ion that is needed was not reported.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum MissingRule {
    /// Take it as absent.
    Zero,
    /// Take it as what closes the charge balance.
    ByCharge,
}

/// A salt dissolved in a water: one of `salt` or `formula`, and one of `mg_per_l` or `mg_per_kg`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AddedSalt {
    /// Id or name in the catalogue, hydrate included.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub salt: Option<String>,
    /// Formula with its water of crystallisation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub formula: Option<String>,
    /// mg of the stated formula per litre of the finished water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e6)]
    pub mg_per_l: Option<f64>,
    /// mg of the stated formula per kg of solvent water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e6)]
    pub mg_per_kg: Option<f64>,
}
