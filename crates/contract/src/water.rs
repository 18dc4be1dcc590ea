//! A water, wherever it is answered. What was not computed is absent.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A water as answered. Fields that were not computed are absent.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Water {
    /// Temperature that volumes and litres refer to, in °C.
    pub temperature_c: f64,
    /// Volume in litres.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub volume_l: Option<f64>,
    /// Mass in kg.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mass_kg: Option<f64>,
    /// pH.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph: Option<f64>,
    /// What is dissolved, by component.
    pub ions: BTreeMap<String, Ion>,
    /// Sum of what is dissolved, in mg/L, alkalinity counted as hydrogencarbonate.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tds_mg_per_l: Option<f64>,
    /// Residue after drying at 180 °C, in mg/L, as computed from the ions.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_180c_mg_per_l: Option<f64>,
    /// Hardness, in mg/L as CaCO3.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hardness_mg_per_l_caco3: Option<Hardness>,
    /// Alkalinity by titration, in meq/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub alkalinity_meq_per_l: Option<f64>,
    /// The same alkalinity expressed as HCO3, in mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub alkalinity_mg_per_l_hco3: Option<f64>,
    /// Density in kg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub density_kg_per_l: Option<f64>,
    /// 100 (cations − anions)/(cations + anions), in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub charge_balance_percent: Option<f64>,
    /// (cations − anions) over half their sum, in percent: the other convention, twice the number.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub charge_balance_half_sum_percent: Option<f64>,
    /// Components that some sheet did not state: unknown there, not zero. One that stands in `ions` too is at least
    /// that much.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub not_stated: Vec<String>,
    /// What does not close, as a share of the whole.
    pub residuals: Residuals,
}

/// One component of a water.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Ion {
    /// mg in a litre.
    pub mg_per_l: f64,
    /// mmol in a litre.
    pub mmol_per_l: f64,
    /// Signed charge number of the form in which it is counted; 0 for what carries none.
    pub charge: i32,
    /// meq in a litre; absent for what carries no charge of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub meq_per_l: Option<f64>,
}

/// Hardness, in mg/L as CaCO3.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Hardness {
    /// All of calcium and magnesium.
    pub total: f64,
    /// The part that alkalinity covers; absent where alkalinity is unknown.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub carbonate: Option<f64>,
    /// The rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub noncarbonate: Option<f64>,
}

/// What does not close, as a share of the whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Residuals {
    /// Greatest relative gap between what went in and what is answered, over all components.
    pub mass: f64,
    /// The same for charge, against the gap that the sheets themselves carry.
    pub charge: f64,
}
