//! `scale-up`: a recipe from a glass to a tank, with whole bags.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::water::Water;
use crate::weighing::{RecipeWeighing, WeighedWish, WeighingRequest};

/// Asks for a recipe in another volume: the waters to pour, bags and weighings, and at which volumes near it bags come out whole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ScaleUpRequest {
    /// Litres of finished water that are wanted, before gas comes or goes.
    #[schema(minimum = 1e-3, maximum = 1e9)]
    pub volume_l: f64,
    /// The recipe as it was tried, with the balances that weigh the large one.
    pub recipe: WeighingRequest,
}

/// A recipe in another volume.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ScaleUpAnswer {
    /// How many times the recipe as it was tried.
    pub times: f64,
    /// The waters to pour.
    pub pourings: Vec<ScaledPouring>,
    /// What to put on the balance beside the bags, in the order of the recipe.
    pub weighings: Vec<RecipeWeighing>,
    /// Volumes near the wanted one at which a salt comes out in whole bags, the nearest first.
    pub whole_bags: Vec<WholeBags>,
    /// Each wish in the water that this makes.
    pub wishes: Vec<WeighedWish>,
    /// How likely all wishes are met at once, in percent, as in `weighing`; absent without wishes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub probability_percent: Option<f64>,
    /// The water that this makes.
    pub water: Water,
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

/// A water to pour into the large batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ScaledPouring {
    /// What people call it.
    pub water: String,
    /// Litres at its own temperature.
    pub volume_l: f64,
    /// kg.
    pub mass_kg: f64,
    /// Its own temperature in °C.
    pub temperature_c: f64,
}

/// A volume at which a salt comes out in whole bags.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WholeBags {
    /// Index of the salt in the recipe.
    pub index: u32,
    /// Its name.
    pub name: String,
    /// Bags of it.
    pub bags: i64,
    /// Litres of finished water.
    pub volume_l: f64,
}
