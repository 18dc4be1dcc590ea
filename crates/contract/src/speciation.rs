//! `speciation`: what stands in a water, species by species.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::uncertainty::Uncertainty;
use crate::water::Water;

/// Asks for the equilibrium of a water. Two quantities of the carbonate system must be known: of alkalinity, pH, `dic`
/// and `co2` in the water, and what `co2` says of how its carbon dioxide is held.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SpeciationRequest {
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
    /// Carry the uncertainties of the inputs into the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub uncertainty: Option<Uncertainty>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// The equilibrium of a water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SpeciationAnswer {
    /// The water.
    pub water: Water,
    /// Every species that stands in it.
    pub species: Vec<DissolvedSpecies>,
    /// Activity of water.
    pub water_activity: f64,
    /// Osmotic coefficient.
    pub osmotic_coefficient: f64,
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

/// One species of a solved water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DissolvedSpecies {
    /// Its name: a formula without charge, such as `HCO3` or `MgCO3`.
    pub species: String,
    /// Signed charge number.
    pub charge: i32,
    /// mmol per kg of water.
    pub mmol_per_kg: f64,
    /// mmol in a litre.
    pub mmol_per_l: f64,
    /// Activity coefficient on the molal scale. That of one ion is a convention of the model: only products that
    /// carry no charge can be measured.
    pub activity_coefficient: f64,
}
