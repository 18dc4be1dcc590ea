//! `compatibility`: which salts may stand together, at the strengths and in the state in which they will be used.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::haze::{HazeLimit, TimeHint};
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;

/// Asks what comes of every salt alone, of every pair and of all together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CompatibilityRequest {
    /// The salts on the shelf, each at the strength at which it would be used.
    #[schema(min_items = 2, max_items = 40)]
    pub salts: Vec<ShelfSalt>,
    /// The water that they meet in; pure water unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub water: Option<SourceWater>,
    /// pH that acid or base outside this list sets, with the carbonate that salts and water bring; without it the salts
    /// make their own.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 14.0)]
    pub ph: Option<f64>,
    /// What holds the carbon dioxide: `closed` (what salts and water bring stays) unless given, `open_to_air`,
    /// `partial_pressure` or `keg`. Not beside `ph`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// Temperature in °C; that of the water unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// Limits of one's own to judge haze by.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub haze_limits: Option<Vec<HazeLimit>>,
    /// Mass of a solid below which nothing is seen, in mg/L; the tabulated one unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1000.0)]
    pub visible_mg_per_l: Option<f64>,
    /// Tell what to use instead where two salts cloud; yes unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub suggestions: Option<bool>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// A salt on the shelf: one of `salt` or `formula`, and one of `mg_per_l` or `g_per_l`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ShelfSalt {
    /// Id or name in the catalogue, hydrate included: `calcium_chloride_dihydrate`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub salt: Option<String>,
    /// Formula with its water of crystallisation: `CaCl2·2H2O`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub formula: Option<String>,
    /// mg of the stated formula in a litre of the mix; where `assay_percent` is stated, mg weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1e-6, maximum = 1e6)]
    pub mg_per_l: Option<f64>,
    /// The same in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1e-9, maximum = 1000.0)]
    pub g_per_l: Option<f64>,
    /// g of the stated formula in 100 g weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1.0, maximum = 130.0)]
    pub assay_percent: Option<f64>,
}

/// Which salts may stand together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CompatibilityAnswer {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// The salts, in the order of the request.
    pub salts: Vec<ShelfSaltRead>,
    /// Each salt by itself, in that order.
    pub alone: Vec<Together>,
    /// Every pair: the second salt rises through the list, and for each the first.
    pub pairs: Vec<Pair>,
    /// All salts together.
    pub together: Together,
    /// What to use instead where two salts cloud that do not cloud by themselves.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub substitutes: Vec<Substitute>,
    /// The matrix in plain text: names down, numbers across, a sign in each cell, and what the signs mean.
    pub text_table: String,
    /// The matrix as a picture that stands alone: an SVG document without scripts, fonts or images from elsewhere.
    pub svg: String,
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

/// A salt as it was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ShelfSaltRead {
    /// Its number in the list, from 1.
    pub number: u32,
    /// Id in the catalogue.
    pub salt: String,
    /// Its name.
    pub name: String,
    /// Its formula, water of crystallisation included.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub formula: Option<String>,
    /// mg of the formula in a litre of the mix.
    pub mg_per_l: f64,
    /// The same in mmol.
    pub mmol_per_l: f64,
}

/// When a cloud comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CloudOutcome {
    /// It does not.
    Never,
    /// The mix stands for a while; on seeds, on walls, warm or open it turns.
    InTime,
    /// Within hours at the latest.
    AtOnce,
    /// The model cannot judge it; `why` tells the reason.
    NotJudged,
}

/// What comes of one salt by itself, or of all together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Together {
    /// When a cloud comes.
    pub outcome: CloudOutcome,
    /// The solid that decides; absent where none can form.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub solid: Option<String>,
    /// Its saturation index.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub si: Option<f64>,
    /// What falls of it, in mg/L; absent where the index leaves no question.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mg_per_l: Option<f64>,
    /// Distance of its index from the next limit above it, as in `precipitation`; below zero beyond the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub margin: Option<f64>,
    /// How long it takes; absent where no rate is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub time: Option<TimeHint>,
    /// Why, in words with numbers.
    pub why: String,
}

/// What comes of two salts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Pair {
    /// Number of the first salt in the list, from 1.
    pub first: u32,
    /// Number of the second.
    pub second: u32,
    /// When a cloud comes.
    pub outcome: CloudOutcome,
    /// Whether one of the two does the same by itself.
    pub by_itself: bool,
    /// The solid that decides; absent where none can form.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub solid: Option<String>,
    /// Its saturation index.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub si: Option<f64>,
    /// What falls of it, in mg/L; absent where the index leaves no question.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mg_per_l: Option<f64>,
    /// Distance of its index from the next limit above it; below zero beyond the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub margin: Option<f64>,
    /// How long it takes; absent where no rate is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub time: Option<TimeHint>,
    /// Why, in words with numbers.
    pub why: String,
}

/// A salt to use instead of one of a pair that clouds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Substitute {
    /// Number of the first salt of the pair.
    pub first: u32,
    /// Number of the second.
    pub second: u32,
    /// Number of the one that leaves.
    pub instead_of: u32,
    /// Id of the salt to use in its place.
    pub salt: String,
    /// Its name.
    pub name: String,
    /// The component that is kept at its strength.
    pub keeps: String,
    /// mg of the new salt in a litre of the mix.
    pub mg_per_l: f64,
    /// What comes of it with the other salt: milder than the pair.
    pub outcome: CloudOutcome,
}
