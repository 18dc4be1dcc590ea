//! `mixture`: waters poured together.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::uncertainty::Uncertainty;
use crate::water::Water;

/// Asks for the water that results when waters are poured together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MixtureRequest {
    /// What is poured, in any order.
    #[schema(min_items = 1, max_items = 100)]
    pub parts: Vec<MixturePart>,
    /// Temperature of the finished water in °C; 20 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// How its carbon dioxide is held; `closed` unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// Carry the uncertainties of the inputs into the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub uncertainty: Option<Uncertainty>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// One water that is poured: `volume_l` at its own temperature, or `mass_kg`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MixturePart {
    /// The water.
    pub water: SourceWater,
    /// Litres of it, at its own temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub volume_l: Option<f64>,
    /// Kilograms of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e9)]
    pub mass_kg: Option<f64>,
}

/// The water that results.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MixtureAnswer {
    /// The water that results.
    pub water: Water,
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
