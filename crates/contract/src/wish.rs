//! A wish on the finished water.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::haze::Verdict;
use crate::measured::Measured;

/// One wish. `near` is as close as possible; `at_least`, `at_most` and `exact` are held, or the answer says why
/// they cannot be.
///
/// Wishes for `ph`, `si`, `conductivity`, `co2` (free CO2) and `osmolality` are judged in the solved state of the
/// finished water, whose carbon dioxide is held as the request says. They are searched in the tangents of that state and
/// every answer is solved in full, so that what is reached is what `speciation` of the same water answers; that no better
/// blend exists elsewhere is not proved. Where no blend is found that holds such a demand, the answer is the nearest.
///
/// A wish for `haze` is held as well: what an eye will see of the finished water, warmed or cooled to `temperature_c` and stood
/// in air where `open` says so, is no harsher than `verdict`. It is judged as in `precipitation`, by index and by mass.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Wish {
    /// What the wish is about: an ion or organic by its id, `tds`, `residue_180c`, `hardness`, `alkalinity`, `ph`,
    /// `si`, `conductivity`, `co2`, `osmolality`, `haze`, `ratio`, `sum` or `cost`.
    #[schema(min_length = 1, max_length = 40)]
    pub of: String,
    /// As near as possible to this.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub near: Option<Measured>,
    /// Not less than this.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub at_least: Option<Measured>,
    /// Not more than this.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub at_most: Option<Measured>,
    /// This, within half of what one balance step of the best salt moves it. (Every salt moves a pH a little: of a
    /// property of the solved state those salts count that move it at least a tenth as much as the strongest.)
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub exact: Option<Measured>,
    /// When a `near` wish counts as met, in percent; 5 unless given (an assumption). Not for `ph` and `si`: they are
    /// logarithms, of which a percentage says nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 100.0)]
    pub tolerance_percent: Option<f64>,
    /// When a `near` wish for `ph` or `si` counts as met, in its own unit; 0.1 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 14.0)]
    pub tolerance: Option<f64>,
    /// How much a `near` wish counts beside the others of its priority; 1 unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1e-6, maximum = 1e6)]
    pub weight: Option<f64>,
    /// 1 comes before 2, and so on, whatever the weights; 1 unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 20)]
    pub priority: Option<u32>,
    /// Upper part of a `ratio`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 40)]
    pub numerator: Option<String>,
    /// Lower part of a `ratio`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 40)]
    pub denominator: Option<String>,
    /// How the parts of a `ratio` are counted: `mass` (mg/L), `amount` (mmol/L) or `charge` (meq/L). A ratio
    /// without it is counted by mass (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub counted_by: Option<CountedBy>,
    /// Parts of a `sum`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 40)]
    pub parts: Option<Vec<String>>,
    /// Solid of an `si` wish, such as `calcite`; of a `haze` wish that is about one solid alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 60)]
    pub solid: Option<String>,
    /// Temperature of a `ph`, `si`, `conductivity` or `haze` wish in °C, for which the finished water is solved again, closed
    /// unless `open`; that of the blend unless given, 25 for `conductivity`. Conductivity ends at 60 °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 95.0)]
    pub temperature_c: Option<f64>,
    /// Whether a `ph`, `si`, `conductivity` or `haze` wish is about the water once it stands in balance with air, at sea level.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub open: Option<bool>,
    /// Harshest verdict that a `haze` wish accepts: `clear` unless given, or `metastable`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub verdict: Option<Verdict>,
}

/// How the parts of a ratio are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CountedBy {
    /// mg/L over mg/L.
    Mass,
    /// mmol/L over mmol/L.
    Amount,
    /// meq/L over meq/L.
    Charge,
}
