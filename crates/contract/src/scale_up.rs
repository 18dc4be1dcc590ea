//! `scale-up`: a recipe from a glass to a tank, with whole bags.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::weighing::{WeighingPlanAnswer, WeighingRequest};

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
    /// Volumes near the wanted one at which a salt comes out in whole bags, the nearest first.
    pub whole_bags: Vec<WholeBags>,
    /// The large recipe on the balances, as `weighing` answers it.
    pub plan: WeighingPlanAnswer,
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
