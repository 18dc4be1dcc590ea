//! `weighing`: a recipe on the balances at hand.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::balance::Balance;
use crate::co2::Co2;
use crate::measured::Measured;
use crate::mixture::MixturePart;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::water::Water;
use crate::wish::Wish;

/// Asks what of a recipe to put on the balances: whole steps, how far each mass may be off, and how likely the water is then
/// what is wished.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WeighingRequest {
    /// The waters that are poured together; the salts go into them.
    #[schema(min_items = 1, max_items = 100)]
    pub parts: Vec<MixturePart>,
    /// Standard uncertainty of what is poured, in percent; none unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 20.0)]
    pub poured_uncertainty_percent: Option<f64>,
    /// Temperature of the finished water in °C; 20 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// How the carbon dioxide of the finished water is held; `closed` unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// The salts of the recipe with their masses, not rounded yet.
    #[schema(min_items = 1, max_items = 60)]
    pub recipe: Vec<RecipeSalt>,
    /// The balances at hand. The finest one that takes a mass weighs it.
    #[schema(min_items = 1, max_items = 10)]
    pub balances: Vec<Balance>,
    /// What the finished water is to be; without it the masses are brought as near to the recipe as whole steps go. Not `cost`
    /// and not `haze`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub target: Option<Vec<Wish>>,
    /// Number of draws behind the probabilities; 10000 unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 100, maximum = 100_000)]
    pub draws: Option<u32>,
    /// Picks another stream of draws; 1 unless given. The same request with the same seed gives the same answer everywhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 9_007_199_254_740_991_u64)]
    pub seed: Option<u64>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// A salt of a recipe: one of `salt` or `formula`, and its mass.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecipeSalt {
    /// Id or name in the catalogue, hydrate included: `magnesium_sulfate_heptahydrate`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub salt: Option<String>,
    /// Formula with its water of crystallisation: `CaCl2·2H2O`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub formula: Option<String>,
    /// Mass by the recipe, as weighed, in g.
    #[schema(minimum = 0.0, maximum = 1e9)]
    pub mass_g: f64,
    /// g of the stated formula in 100 g weighed; 100 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1.0, maximum = 130.0)]
    pub assay_percent: Option<f64>,
    /// Standard uncertainty of that assay, in percent of what is weighed; none unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 20.0)]
    pub assay_uncertainty_percent: Option<f64>,
    /// Net mass of a bag of it, in g: whole bags go in as they are, and the rest is weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.001, maximum = 1e9)]
    pub bag_g: Option<f64>,
    /// A label that is carried through to the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub lot: Option<String>,
}

/// A recipe on the balances.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WeighingPlanAnswer {
    /// What to put on the balance, in the order of the recipe.
    pub weighings: Vec<RecipeWeighing>,
    /// Each wish in the water that this makes.
    pub wishes: Vec<WeighedWish>,
    /// How likely all wishes are met at once, in percent. Reading (a step over √12), assay and what is poured are drawn as normal
    /// distributions along the slopes of each wish. Absent without wishes.
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

/// One line of the recipe on its balance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecipeWeighing {
    /// Id in the catalogue.
    pub salt: String,
    /// Name for people, hydrate included.
    pub name: String,
    /// Canonical formula with its water; absent where the article has no single one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub formula: Option<String>,
    /// Label carried through.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lot: Option<String>,
    /// Mass by the recipe, in g.
    pub recipe_g: f64,
    /// Whole bags beside what is weighed; absent where no bag is stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bags: Option<i64>,
    /// Whole steps of the balance: the number that is the truth.
    pub steps: i64,
    /// Step of that balance in g.
    pub step_g: f64,
    /// Index of the balance in the request.
    pub balance: u32,
    /// Mass in g: `steps` times `step_g`, and the bags.
    pub mass_g: f64,
    /// In how many portions, where the balance does not take it at once.
    pub portions: i64,
    /// Half a step as a share of the mass, in percent.
    pub rounding_percent: f64,
    /// Standard uncertainty of what goes in of the salt, in g: reading and assay.
    pub uncertainty_g: f64,
    /// Least mass of this line alone with which every wish that is met stays so, in g; absent where it may be left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub least_g: Option<f64>,
    /// Greatest such mass, in g; absent where twice the mass does no harm.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub most_g: Option<f64>,
    /// JSON Pointers of the wishes that end it below.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ended_below_by: Vec<String>,
    /// JSON Pointers of the wishes that end it above.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ended_above_by: Vec<String>,
    /// A stock solution instead, where the mass is too small for its balance; absent elsewhere, and where no flask helps.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stock: Option<StockSolution>,
}

/// A stock solution, and the dose of it that brings the mass of the recipe.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StockSolution {
    /// Salt for it, in whole steps of the same balance.
    pub steps: i64,
    /// The same in g.
    pub mass_g: f64,
    /// Water up to this volume of the stock, in mL.
    pub flask_ml: f64,
    /// Dose into the finished water, in mL.
    pub dose_ml: f64,
    /// The same in words.
    pub text: String,
}

/// A wish in the water that is weighed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WeighedWish {
    /// JSON Pointer of the wish.
    pub pointer: String,
    /// What the wish is about.
    pub of: String,
    /// What was asked, in words.
    pub asked: String,
    /// What is got, in the unit and basis of the wish; absent for the index of a solid of which a part is absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub got: Option<Measured>,
    /// What the recipe would give without rounding; absent as `got`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub by_recipe: Option<Measured>,
    /// Whether it is met.
    pub met: bool,
    /// How likely it is met, in percent.
    pub probability_percent: f64,
}
