//! A water, wherever it is answered. What was not computed is absent.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::haze::Verdict;
use crate::uncertainty::WaterUncertainty;

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
    /// pH on the convention that the provenance names; absent where nothing tells how much carbonate is dissolved.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph: Option<f64>,
    /// pH once the water has given off CO2 until it is in balance with air at sea level; only where it holds more.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph_in_air: Option<f64>,
    /// What is dissolved, by component. In a solved water `HCO3` and `CO3` are what carbonate stands as, complexes
    /// counted in.
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
    /// All dissolved carbonate, in mmol/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dic_mmol_per_l: Option<f64>,
    /// Free carbon dioxide, in mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_mg_per_l: Option<f64>,
    /// Partial pressure of carbon dioxide with which the water is in balance, in bar.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pco2_bar: Option<f64>,
    /// Pressure over that of the air in the headspace of its bottle, in bar.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gauge_bar: Option<f64>,
    /// Ionic strength of the species, in mol per kg of water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ionic_strength_mol_per_kg: Option<f64>,
    /// Osmolality, in mmol of particles per kg of water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub osmolality_mosmol_per_kg: Option<f64>,
    /// Electrolytic conductivity; absent where the water is too strong for the equation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub conductivity_us_per_cm: Option<Conductivity>,
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
    /// How far the water stands from the solids that it is nearest to: those with an index from -1, and calcite. The
    /// calculation `saturation` answers all of them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub saturation: Vec<SaturationIndex>,
    /// What does not close, as a share of the whole.
    pub residuals: Residuals,
    /// Standard uncertainties under the keys of this water; where the request asks with `uncertainty`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub uncertainty: Option<WaterUncertainty>,
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
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
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
    /// Greatest |ln Q − ln K| of any species of a solved water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub equilibrium: Option<f64>,
}

/// Electrolytic conductivity, in µS/cm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Conductivity {
    /// Of the same closed water solved at 25 °C; no temperature factor stands behind it.
    pub at_25c: f64,
    /// At the temperature of the water.
    pub at_temperature: f64,
}

/// How far a water stands from a solid.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaturationIndex {
    /// The solid.
    pub solid: String,
    /// log10 of the ion activity product over the solubility product: 0 is just saturated.
    pub si: f64,
    /// What an eye will see of it, by the tabulated limits; absent for solids that haze is not judged by.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub verdict: Option<Verdict>,
}
