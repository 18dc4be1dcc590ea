//! `saturation`: how far a water stands from the solids that it could make.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::haze::Verdict;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::uncertainty::Uncertainty;
use crate::water::Water;

/// Asks how far a water stands from the solids that it could make.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaturationRequest {
    /// The water.
    pub water: SourceWater,
    /// Temperature to which the water is brought, in °C; its own unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// How its carbon dioxide is held; `closed` unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// The solids that are asked for; every one that the water could make unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, min_items = 1, max_items = 60)]
    pub solids: Option<Vec<String>>,
    /// Further temperatures in °C at which the same water, closed, is judged too.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 100)]
    pub temperatures_c: Option<Vec<f64>>,
    /// Carry the uncertainties of the inputs into the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub uncertainty: Option<Uncertainty>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// How far a water stands from the solids that it could make.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaturationAnswer {
    /// The water.
    pub water: Water,
    /// Each solid at the temperature of the water.
    pub saturation: Vec<SolidSaturation>,
    /// The same at the further temperatures, in the order of the request.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub at_temperatures: Vec<SaturationAt>,
    /// What was not judged.
    pub not_judged: Vec<NotJudged>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// Cautions for whoever drinks it.
    pub cautions: Vec<Caution>,
    /// What the answer rests on.
    pub provenance: Provenance,
}

/// The solids at one temperature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaturationAt {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// pH there.
    pub ph: f64,
    /// Standard uncertainty of that pH; where `uncertainty` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ph_uncertainty: Option<f64>,
    /// Each solid.
    pub saturation: Vec<SolidSaturation>,
}

/// One solid beside a water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SolidSaturation {
    /// The solid.
    pub solid: String,
    /// Its formula, water of crystallisation included.
    pub formula: String,
    /// log10 of the ion activity product over the solubility product: 0 is just saturated, below the solid would
    /// dissolve.
    pub si: f64,
    /// The index over the number of ions of a formula unit, to compare solids of few and of many ions.
    pub si_per_ion: f64,
    /// What an eye will see of it, by the tabulated limits; absent for solids that haze is not judged by.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub verdict: Option<Verdict>,
    /// log10 of the solubility product there.
    pub log_k: f64,
    /// Standard uncertainty of that constant.
    pub log_k_uncertainty: f64,
    /// Standard uncertainty of the index, that of the constant combined in; where `uncertainty` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub si_uncertainty: Option<f64>,
    /// Whether the temperature lies within the measurements of the constant.
    pub measured: bool,
    /// Where the constant comes from.
    pub source: String,
}
