//! `titration`: how much of an acid, a base or a salt brings a water to a pH.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::water::Water;

/// Asks what brings a water to a pH. Its alkalinity must be known, and in a closed vessel its pH or carbonate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TitrationRequest {
    /// The water before.
    pub water: SourceWater,
    /// The wanted pH.
    #[schema(minimum = 0.0, maximum = 14.0)]
    pub to_ph: f64,
    /// Temperature of the water in °C; its own unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// Litres of the water before, at that temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1e-6, maximum = 1e9)]
    pub volume_l: Option<f64>,
    /// What is added. Without it strong acid (hydrochloric acid) or strong base (sodium hydroxide), in equivalents.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub titrant: Option<Titrant>,
    /// What becomes of the carbon dioxide on the way: `closed` (all of it stays) unless given, `open_to_air` or
    /// `partial_pressure`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub vessel: Option<Co2>,
    /// Points of a curve of pH against what is added, from nothing to the end in even steps. Under a gas the first point is
    /// that of the water in balance with it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 2, maximum = 200)]
    pub curve_points: Option<u32>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// What is added: an acid, a base or a salt by one of `salt` or `formula`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Titrant {
    /// Id or name in the catalogue, hydrate included: `citric_acid_monohydrate`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub salt: Option<String>,
    /// Formula with its water of crystallisation: `C6H8O7·H2O`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub formula: Option<String>,
    /// g of the stated formula in 100 g weighed; 100 unless given (an assumption). What is sold as a solution needs it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1.0, maximum = 130.0)]
    pub assay_percent: Option<f64>,
    /// A label that is carried through to the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub lot: Option<String>,
}

/// What brings a water to a pH.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TitrationAnswer {
    /// Whether the wanted pH is reached. Where it is not, what is added, and the water after, are those of the nearest pH.
    pub reached: bool,
    /// The wanted pH.
    pub to_ph: f64,
    /// The pH that is reached.
    pub ph: f64,
    /// Why it is not the wanted one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub why_not: Option<WhyNot>,
    /// The equivalents of this titration: strong acid that brings the water to the wanted pH, in meq per litre of the water
    /// before; below zero strong base. Where no article was named and that pH is not reached, to the nearest; where one
    /// was named and even strong acid or base does not reach it, absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub acid_meq_per_l: Option<f64>,
    /// The same for `volume_l`, in meq.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub acid_meq: Option<f64>,
    /// What is added of the article that was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub addition: Option<Addition>,
    /// The water before, closed.
    pub before: Water,
    /// The water after.
    pub after: Water,
    /// Carbon dioxide that bicarbonate and carbonate set free, in mg per litre of the water before; below zero it was
    /// bound. Absent where nothing tells how much carbonate the water before holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_set_free_mg_per_l: Option<f64>,
    /// Carbon dioxide that leaves an open vessel, in mg per litre of the water before; below zero it comes in.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_given_off_mg_per_l: Option<f64>,
    /// Buffer capacity of the water before, in mmol of strong base per litre and unit of pH.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub buffer_before_mmol_per_l: Option<f64>,
    /// Buffer capacity of the water after.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub buffer_after_mmol_per_l: Option<f64>,
    /// Where the wanted pH is an end point of an alkalinity titration (3.5 to 5.5): what that titration finds.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub end_point: Option<EndPoint>,
    /// The curve that was asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub curve: Vec<CurvePoint>,
    /// What was not judged.
    pub not_judged: Vec<NotJudged>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// Cautions for whoever handles or drinks it.
    pub cautions: Vec<Caution>,
    /// What the answer rests on.
    pub provenance: Provenance,
}

/// Why a pH is not reached.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WhyNot {
    /// `moves_away`, `levels_off` (the least that comes within 0.01 of the nearest pH is told), `most_added` or
    /// `model_ends`.
    pub code: String,
    /// The same in words with numbers.
    pub text: String,
}

/// What is added of an article. Masses are as computed, not in steps of a balance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Addition {
    /// Id in the catalogue.
    pub salt: String,
    /// Its name.
    pub name: String,
    /// Its formula, water of crystallisation included.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub formula: Option<String>,
    /// g of the formula in 100 g weighed.
    pub assay_percent: f64,
    /// The label that was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lot: Option<String>,
    /// mmol of the formula per litre of the water before.
    pub mmol_per_l: f64,
    /// g to weigh per litre of the water before.
    pub g_per_l: f64,
    /// g to weigh for `volume_l`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mass_g: Option<f64>,
}

/// Alkalinity as a titration with strong acid finds it, and the identity with the charge form: `charge_form_meq_per_l` =
/// `titrated_meq_per_l` + `left_meq_per_l`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EndPoint {
    /// Strong acid to the end point, in meq per litre of the water before.
    pub titrated_meq_per_l: f64,
    /// Strong cations less strong anions: what mixes and is conserved.
    pub charge_form_meq_per_l: f64,
    /// What weak acids and the carbonate that is left still hold at the end point, less the free acid.
    pub left_meq_per_l: f64,
}

/// One point of a curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CurvePoint {
    /// mmol added per litre of the water before: of the article, or of strong acid or base.
    pub mmol_per_l: f64,
    /// g weighed per litre of the water before, where an article was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub g_per_l: Option<f64>,
    /// pH there.
    pub ph: f64,
}
