//! How well an answer is known: what a request asks about it, and what a water answers.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::water::{Conductivity, Hardness};

/// Asks that the uncertainties of the inputs are carried into the answer. Inputs with an uncertainty are the amounts
/// of an analysis that state one, a pH with `ph_uncertainty`, and an amount stated only as less than a limit, which
/// may lie anywhere from nothing to it (a uniform distribution). Of the model the constants of the solids and, above
/// an ionic strength of 0.1 mol/kg, the choice of the pH scale are counted; its other constants are not.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Uncertainty {
    /// How they are carried.
    pub method: UncertaintyMethod,
    /// Number of draws of `monte_carlo`; 10000 unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 100, maximum = 100_000)]
    pub draws: Option<u32>,
    /// Picks another stream of draws of `monte_carlo`; 1 unless given. The same request with the same seed gives the
    /// same answer everywhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 9_007_199_254_740_991_u64)]
    pub seed: Option<u64>,
    /// Inputs that err together; all others are taken as independent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 1000)]
    pub correlations: Option<Vec<Correlation>>,
}

/// How uncertainties are carried.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum UncertaintyMethod {
    /// By the law of propagation on derivatives at the stated values (JCGM 100).
    #[default]
    Linear,
    /// By draws from the whole distribution of every input (JCGM 101).
    MonteCarlo,
}

/// Two inputs that err together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Correlation {
    /// JSON Pointers of the two inputs in this request, such as `/water/analysis/Ca`.
    #[schema(min_items = 2, max_items = 2)]
    pub between: Vec<String>,
    /// Correlation coefficient.
    #[schema(minimum = -1.0, maximum = 1.0)]
    pub coefficient: f64,
}

/// Standard uncertainties (k = 1) of a water, under the keys of the water. What has none is absent.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WaterUncertainty {
    /// How they were carried.
    pub method: UncertaintyMethod,
    /// Number of draws, where draws were made.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub draws: Option<u32>,
    /// The stream of the draws.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seed: Option<u64>,
    /// Of the pH. Above an ionic strength of 0.1 mol/kg the choice of the pH scale is combined into it: 0.05 at
    /// 1 mol/kg, 0.1 at 3.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph: Option<f64>,
    /// Of the pH in balance with air; the choice of the scale as in `ph`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph_in_air: Option<f64>,
    /// Of what is dissolved, by component.
    pub ions: BTreeMap<String, IonUncertainty>,
    /// Of the sum of what is dissolved, in mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tds_mg_per_l: Option<f64>,
    /// Of the residue after drying at 180 °C, in mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_180c_mg_per_l: Option<f64>,
    /// Of the hardness, in mg/L as CaCO3.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hardness_mg_per_l_caco3: Option<Hardness>,
    /// Of the alkalinity, in meq/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub alkalinity_meq_per_l: Option<f64>,
    /// The same expressed as HCO3, in mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub alkalinity_mg_per_l_hco3: Option<f64>,
    /// Of all dissolved carbonate, in mmol/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dic_mmol_per_l: Option<f64>,
    /// Of the free carbon dioxide, in mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_mg_per_l: Option<f64>,
    /// Of its partial pressure, in bar.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pco2_bar: Option<f64>,
    /// Of the pressure in the headspace, in bar.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gauge_bar: Option<f64>,
    /// Of the ionic strength, in mol/kg.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ionic_strength_mol_per_kg: Option<f64>,
    /// Of the osmolality, in mmol of particles per kg of water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub osmolality_mosmol_per_kg: Option<f64>,
    /// Of the conductivity, in µS/cm, as far as it comes from the composition.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub conductivity_us_per_cm: Option<Conductivity>,
    /// Of the density, in kg/L, as far as it comes from the composition.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub density_kg_per_l: Option<f64>,
    /// Of the charge balance, in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub charge_balance_percent: Option<f64>,
    /// The same by the other convention, in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub charge_balance_half_sum_percent: Option<f64>,
    /// Of the saturation indices, in the order of the water.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub saturation: Vec<SaturationIndexUncertainty>,
    /// How much each input contributes to the pH and to each saturation index: per result, the greatest first. By the
    /// law of propagation, whatever the method.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub contributions: Vec<Contribution>,
}

/// Standard uncertainties of a component of a water.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IonUncertainty {
    /// In mg/L.
    pub mg_per_l: f64,
    /// In mmol/L.
    pub mmol_per_l: f64,
    /// In meq/L; absent for what carries no charge of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub meq_per_l: Option<f64>,
}

/// Standard uncertainty of a saturation index.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaturationIndexUncertainty {
    /// The solid.
    pub solid: String,
    /// Of the index: both parts below, combined in quadrature.
    pub si: f64,
    /// The part that the inputs bring.
    pub of_inputs: f64,
    /// The part that the solubility constant of the solid brings.
    pub of_constant: f64,
}

/// What one input contributes to the uncertainty of one result.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Contribution {
    /// The result.
    pub of: ContributionOf,
    /// The solid, where the result is an index.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub solid: Option<String>,
    /// JSON Pointer of the input in the request; or `solubility_constant` or `ph_scale`.
    pub input: String,
    /// Standard uncertainty of the input, in its own unit.
    pub standard_uncertainty: f64,
    /// By how much the result moves for one unit of the input.
    pub sensitivity: f64,
    /// Share in the variance of the result, in percent; they add up to 100. Correlated inputs share what they have
    /// in common, so that one may be negative.
    pub share_percent: f64,
}

/// The results whose uncertainty is taken apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ContributionOf {
    /// pH.
    Ph,
    /// Saturation index of a solid.
    Si,
}
