//! `blend`: from a wanted water to grams on the scale.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::balance::Balance;
use crate::co2::Co2;
use crate::haze::Verdict;
use crate::measured::Measured;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::salt_choice::SaltChoice;
use crate::source_water::SourceWater;
use crate::water::Water;
use crate::wish::Wish;

/// Asks which salts, in which grams, on top of which waters, come nearest to the wishes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BlendRequest {
    /// Litres of finished water at `temperature_c`.
    #[schema(minimum = 1e-3, maximum = 1e9)]
    pub volume_l: f64,
    /// Temperature of the finished water in °C; 20 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// The waters at hand. There is always at least one; pure water must be said.
    #[schema(min_items = 1, max_items = 20)]
    pub waters: Vec<SourceWater>,
    /// The salts on the shelf.
    #[schema(max_items = 120)]
    pub salts: Vec<SaltChoice>,
    /// The wishes.
    #[schema(min_items = 1, max_items = 60)]
    pub target: Vec<Wish>,
    /// The state of the carbon dioxide; `closed` unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// The balances at hand. The finest one that takes a mass weighs it.
    #[schema(min_items = 1, max_items = 10)]
    pub balances: Vec<Balance>,
    /// Greatest number of salts that are weighed in.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 120)]
    pub most_salts: Option<u32>,
    /// What is minimised over the `near` wishes; `relative_deviation` unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub objective: Option<Objective>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// What is minimised: the sum over the `near` wishes of weight · |got − asked| / max(|asked|, floor), or the same
/// terms squared. Floors: 1 mg/L in the basis of the wish (or 1 mg/kg, or a
/// tenth of a degree of hardness), 0.02 mmol/L, 0.02 meq/L, 10 µS/cm, 1 mOsm/kg, 0.1 for pH, indices, ratios, cost and
/// volumes of CO2.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Objective {
    /// The sum of weighted relative deviations.
    RelativeDeviation,
    /// The sum of their squares, weight outside the square.
    LeastSquares,
}

/// How a blend ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BlendStatus {
    /// Every wish is met.
    Solved,
    /// The nearest water that these salts, waters and balances make; some wish is not met.
    Nearest,
    /// The wishes that must be held contradict each other, or these salts and waters. Demands on the solved state (pH and
    /// the like) take no part in this: where they cannot be held, the answer is `nearest`.
    Impossible,
}

/// The blend: what to pour, what to weigh, and the water that results.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BlendAnswer {
    /// How it ended.
    pub status: BlendStatus,
    /// What to pour, in the order of the request.
    pub pourings: Vec<Pouring>,
    /// What to weigh, in the order of the request.
    pub weighings: Vec<Weighing>,
    /// The water that results; absent where it is `impossible`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub water: Option<Water>,
    /// Each wish: asked, got, met, and why not.
    pub reached: Vec<Reached>,
    /// What was minimised.
    pub objective: Objective,
    /// Its value at the answer, by priority.
    pub objective_values: Vec<f64>,
    /// Proved distance of the objective to the best there is, by priority, as far as one is proved. With wishes for pH,
    /// `si`, `conductivity`, `co2` or `osmolality` all that is proved is the best by the other wishes alone: the distance
    /// is to that one, and later priorities without a proof have no entry (finding `not_proved`).
    pub gap: Vec<f64>,
    /// Cost of the salts and waters that state a price.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<f64>,
    /// JSON Pointers of the smallest set of wishes and limits that collide; only where it is `impossible`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub conflict: Vec<String>,
    /// Smallest changes that would make it possible, each solved; only where it is `impossible`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub relaxations: Vec<Relaxation>,
    /// What was not judged.
    pub not_judged: Vec<NotJudged>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// Cautions for whoever drinks or handles it.
    pub cautions: Vec<Caution>,
    /// What the answer rests on.
    pub provenance: Provenance,
}

/// One water to pour.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Pouring {
    /// What people call it.
    pub water: String,
    /// Litres, at the temperature of that water.
    pub volume_l: f64,
    /// Kilograms.
    pub mass_kg: f64,
    /// Share in the water poured, in percent by mass.
    pub share_percent: f64,
    /// Temperature at which `volume_l` is measured, in °C.
    pub temperature_c: f64,
    /// Label carried through.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lot: Option<String>,
}

/// One salt to weigh.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Weighing {
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
    /// Whole steps of the balance: the number that is the truth.
    pub steps: i64,
    /// Step of that balance in g.
    pub step_g: f64,
    /// Mass in g: `steps` times `step_g`.
    pub mass_g: f64,
    /// Half a step as a share of the mass, in percent.
    pub rounding_percent: f64,
    /// Assay that was used, in percent.
    pub assay_percent: f64,
    /// Index of the entry in the request.
    pub index: u32,
}

/// One wish and what became of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Reached {
    /// JSON Pointer of the wish.
    pub pointer: String,
    /// What the wish is about.
    pub of: String,
    /// What was asked, in words.
    pub asked: String,
    /// What is got, in the unit and basis of the wish; absent where it is `impossible`, for the index of a solid of which a
    /// part is absent, and for `haze`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub got: Option<Measured>,
    /// What an eye will see, for `haze`; absent where it is `impossible`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub verdict: Option<Verdict>,
    /// The solid with that verdict, and among those alike the nearest to its next limit; absent where none is judged.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub worst_solid: Option<String>,
    /// Whether it is met: a `near` wish within its tolerance, any other as held.
    pub met: bool,
    /// Why it is not met: what ties it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub why: Vec<Reason>,
}

/// One reason why a wish is not met, with its way out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Reason {
    /// Stable code: `no_source`, `tied`, `held_back`, `grid`, `already_over`, `most_salts`, `share_limit`,
    /// `mass_limit`, `weight`, `not_reached` (no blend was found that holds a demand on the solved state).
    pub code: String,
    /// The reason in words.
    pub text: String,
    /// JSON Pointers of the wishes, salts or waters that tie it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tied_by: Vec<String>,
    /// What would free it, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub way_out: Option<String>,
    /// Catalogue ids of salts that would free it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub freeing_salts: Vec<String>,
}

/// A smallest change that makes an impossible request possible, solved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Relaxation {
    /// JSON Pointer of what is changed.
    pub pointer: String,
    /// The change in words.
    pub text: String,
    /// The bound that works, in the unit and basis of the wish.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bound: Option<Measured>,
    /// What to pour then.
    pub pourings: Vec<Pouring>,
    /// What to weigh then.
    pub weighings: Vec<Weighing>,
    /// The water that results then.
    pub water: Water,
}
