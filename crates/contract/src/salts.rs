//! The catalogue of salts as reference data.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};

/// What to list of the catalogue. All filters must hold.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct SaltsQuery {
    /// Part of an id, name, synonym, old name or formula.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    #[param(nullable = false, max_length = 200)]
    pub search: Option<String>,
    /// Component that it must give, such as `Ca`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 40)]
    #[param(nullable = false, max_length = 40)]
    pub gives: Option<String>,
    /// Only what food law knows for general use.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    #[param(nullable = false)]
    pub food: Option<bool>,
    /// At most so many rows; 50 unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 500)]
    #[param(nullable = false, minimum = 1, maximum = 500)]
    pub limit: Option<u32>,
    /// Where the last page ended: its `next_cursor`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    #[param(nullable = false, max_length = 200)]
    pub cursor: Option<String>,
}

/// A page of the catalogue.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaltsPage {
    /// The rows, by id.
    pub salts: Vec<Salt>,
    /// Where the next page begins; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_cursor: Option<String>,
}

/// A salt, acid, base or gas of the catalogue.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Salt {
    /// Systematic id with the hydrate word.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// Canonical formula with its water; absent for a solution.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub formula: Option<String>,
    /// g/mol of the stated formula, water included.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub molar_mass_g_per_mol: Option<f64>,
    /// mg of each component in one gram of the stated formula.
    pub mg_per_g: BTreeMap<String, f64>,
    /// CAS number.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cas: Option<String>,
    /// Codex number of a food additive.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ins: Option<String>,
    /// Number in the Union list of food additives.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub eu_e: Option<String>,
    /// Standing in United States food law, as noted.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub us_status: Option<String>,
    /// `yes`, `not_food` or `poison_in_old_recipes`.
    pub food_use: String,
    /// Why it may not be weighed into a drink; absent for what may.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub refusal: Option<String>,
    /// What else people call it.
    pub synonyms: Vec<String>,
    /// What old books call it.
    pub historical_names: Vec<String>,
    /// Points of its solubility table, which all its hydrates share.
    pub solubility: Vec<SolubilityPoint>,
    /// Assay of the trade, in percent of `assay_of`; the least that is sold.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub assay_at_least_percent: Option<f64>,
    /// The most that is sold; hydrates that have lost water pass 100.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub assay_at_most_percent: Option<f64>,
    /// What the assay counts, where it is not the stated formula.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub assay_of: Option<String>,
    /// Loose bulk density of the lightest lots, in g/mL. A level spoon holds its volume times the density of its lot.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bulk_density_at_least_g_per_ml: Option<f64>,
    /// Loose bulk density of the heaviest lots, in g/mL.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bulk_density_at_most_g_per_ml: Option<f64>,
    /// What it needs to dissolve into a drink: `co2_or_acid`, `acid`, `time` or `never`; absent where plain water does.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub needs: Option<String>,
    /// What to keep it away from.
    pub incompatibilities: String,
    /// How it takes up or loses water.
    pub moisture: String,
    /// How sure the row as a whole is: `high`, `medium` or `low`.
    pub confidence: String,
    /// Where its values come from.
    pub sources: Vec<String>,
}

/// One point of a solubility table.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SolubilityPoint {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// g of the formula in `of` that 100 g of water hold at saturation.
    pub g_per_100_g_water: f64,
    /// The formula that is counted.
    pub of: String,
}
