//! A table of waters: which columns it has, and what is asked of every row. The rows themselves come as columns of
//! numbers beside it, so only a door that can hand over columns offers it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::source_water::MissingRule;

/// Asks for the solved state of every row of a table of waters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TableRequest {
    /// The columns by name, each with its unit and basis: `{"Ca": "mg/L", "NO3": "mg/L as N", "alkalinity": "meq/L",
    /// "ph": "pH", "temperature_c": "°C"}`. Names are those of an analysis, `ph` and `temperature_c`.
    pub columns: BTreeMap<String, String>,
    /// Temperature of the waters as analysed, in °C, where it is no column; 20 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// Temperature to which every water is brought, in °C; its own unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub brought_to_c: Option<f64>,
    /// How the carbon dioxide of every water is held; `closed` unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// What to do where an ion that is needed has no column.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub missing: Option<BTreeMap<String, MissingRule>>,
    /// pH at which the titrations of the alkalinity ended; 4.5 unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 3.5, maximum = 5.5)]
    pub end_point_ph: Option<f64>,
    /// The solids whose saturation index is answered; none unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub solids: Option<Vec<String>>,
    /// The columns that are answered beside those of the solids; all of them unless given. What is not asked for costs no time,
    /// the conductivity at 25 °C most, for which every water is solved again.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 20)]
    pub answers: Option<Vec<String>>,
}
