//! What an eye will see of a solid in a water: the verdict, the limits behind it, and when.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What becomes of a solid in a water, the mildest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The water could take up more of it.
    Undersaturated,
    /// Nothing will be seen of it.
    Clear,
    /// Powder of it lies in the water and is not yet in solution.
    Dissolving,
    /// The water stands for a while; on seeds, on walls, warm or open it turns.
    Metastable,
    /// A cloud within hours at the latest.
    Clouds,
}

impl Verdict {
    /// The word that stands for it in requests, answers and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Undersaturated => "undersaturated",
            Verdict::Clear => "clear",
            Verdict::Dissolving => "dissolving",
            Verdict::Metastable => "metastable",
            Verdict::Clouds => "clouds",
        }
    }
}

/// Limits of one's own for a solid that haze is judged by.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HazeLimit {
    /// The solid.
    #[schema(max_length = 100)]
    pub solid: String,
    /// Index from which a water is metastable. For solids of many ions it is the divided index, `si_compared`.
    #[schema(minimum = -20.0, maximum = 20.0)]
    pub metastable_si: f64,
    /// Index from which it clouds.
    #[schema(minimum = -20.0, maximum = 20.0)]
    pub clouds_si: f64,
}

/// The verdict on one solid.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HazeVerdict {
    /// The solid.
    pub solid: String,
    /// Its formula, water of crystallisation included.
    pub formula: String,
    /// The verdict.
    pub verdict: Verdict,
    /// Why, in words with numbers.
    pub why: String,
    /// log10 of the ion activity product over the solubility product: 0 is just saturated.
    pub si: f64,
    /// The index as it is compared with the limits: divided for solids of many ions.
    pub si_compared: f64,
    /// Distance of that index from the next limit above it; below zero it is so far beyond the last one.
    pub margin: f64,
    /// What the water lets fall of this solid alone, in mg per litre; absent where the index leaves no question.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub precipitable_mg_per_l: Option<f64>,
    /// What of its powder is left when the water is saturated, in mg per litre; absent where no powder lies in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub undissolved_mg_per_l: Option<f64>,
    /// Whether a cloud cannot be excluded although the verdict is milder: between an older and a newer limit.
    pub cloud_possible: bool,
    /// Index from which a water is metastable.
    pub metastable_si: f64,
    /// Index from which a cloud cannot be excluded.
    pub possible_si: f64,
    /// Index from which it clouds.
    pub clouds_si: f64,
    /// How sure these limits are: `checked`, `computed`, `from_memory`, or `set_in_request`.
    pub confidence: String,
    /// Where these limits come from; absent where the request set them.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub source: Option<String>,
    /// What stands behind these limits, in words.
    pub note: String,
    /// How long it takes; absent where no rate is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub time: Option<TimeHint>,
}

/// How long a cloud takes: an order of magnitude.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TimeHint {
    /// The time, in words.
    pub text: String,
    /// What it was seen on.
    pub basis: String,
    /// How sure it is: `checked`, `computed` or `from_memory`.
    pub confidence: String,
    /// Where it comes from.
    pub source: String,
}
