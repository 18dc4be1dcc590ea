//! `precipitation`: what a water lets fall, what it takes up, and what an eye will see of it.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::haze::{HazeLimit, HazeVerdict, Verdict};
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::water::Water;

/// Asks what a water lets fall and what it takes up until no solid has a reason to move. Its carbonate must be known, as
/// in `speciation`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PrecipitationRequest {
    /// The water before.
    pub water: SourceWater,
    /// Temperature to which the water is brought, in °C; its own unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// What holds its carbon dioxide: `closed` (water and solids keep all carbonate) unless given, or a gas that stays as it
    /// is while solids form and dissolve.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// The solids that may form. Unless given, every one that forms within the life of a drink; those that only tell
    /// the stable end (dolomite, magnesite, quartz, chalcedony, hydroxyapatite) form where they are named.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub solids: Option<Vec<String>>,
    /// Solids that may not form.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub blocked: Option<Vec<String>>,
    /// Solids that lie in the water at the start; they may dissolve and may grow.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub powders: Option<Vec<Powder>>,
    /// Limits of one's own to judge haze by.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub haze_limits: Option<Vec<HazeLimit>>,
    /// Mass of a solid below which nothing is seen, in mg/L; the tabulated one unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1000.0)]
    pub visible_mg_per_l: Option<f64>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// A solid that lies in the water at the start: one of `mg_per_l` or `mmol_per_l`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Powder {
    /// The solid.
    #[schema(max_length = 100)]
    pub solid: String,
    /// mg of it, water of crystallisation included, per litre of the water before.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e6)]
    pub mg_per_l: Option<f64>,
    /// mmol of its formula per litre of the water before.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e4)]
    pub mmol_per_l: Option<f64>,
    /// Diameter of its grains in µm, for gypsum and calcite, whose rates are published; then the time to dissolve is told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.1, maximum = 10000.0)]
    pub grain_um: Option<f64>,
}

/// A water in balance with its solids.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PrecipitationAnswer {
    /// The water before, without what lies in it.
    pub before: Water,
    /// The water that is left when no solid has a reason to move.
    pub after: Water,
    /// Every solid that took part and whose ions are all here.
    pub solids: Vec<SettledSolid>,
    /// Carbon dioxide that the gas took up, in g per litre of the water before, against that water under the same gas; below
    /// zero what it gave. Absent where the water is closed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_to_gas_g_per_l: Option<f64>,
    /// Calcium carbonate that falls until the closed water is just saturated with calcite, in mg/L; below zero what it
    /// takes up. Powders are not counted in.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub calcite_potential_closed_mg_per_l: Option<f64>,
    /// The same for the water open to air at sea level.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub calcite_potential_in_air_mg_per_l: Option<f64>,
    /// The verdict on the water before: that of its worst solid.
    pub verdict: Verdict,
    /// The solid with the harshest verdict, and among those alike the nearest to its next limit; absent where none is
    /// judged.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub worst_solid: Option<String>,
    /// What an eye will see in the water before, by each solid that haze is judged by and whose ions are all here.
    pub haze: Vec<HazeVerdict>,
    /// Mass of a solid below which nothing is seen, in mg/L.
    pub visible_mg_per_l: f64,
    /// How long powders take to dissolve; of those whose grain was stated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dissolving: Vec<DissolvingPowder>,
    /// How far the worst solid is from its balance, in log10 units: |SI| of what is there, SI above zero of what is not.
    pub complementarity: f64,
    /// The largest share of a component, of alkalinity or of carbonate by which start and end differ.
    pub ledger: f64,
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

/// One solid at the end. Amounts are per litre of the water before.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SettledSolid {
    /// The solid.
    pub solid: String,
    /// Its formula, water of crystallisation included.
    pub formula: String,
    /// What lay in the water at the start, in mg.
    pub at_start_mg_per_l: f64,
    /// What lies in it at the end, in mg.
    pub at_end_mg_per_l: f64,
    /// What has formed, below zero what has dissolved, in mg.
    pub formed_mg_per_l: f64,
    /// The same in mmol.
    pub formed_mmol_per_l: f64,
    /// Saturation index at the end: 0 for what is there.
    pub si: f64,
    /// Whether the temperature lies within the measurements of its constant.
    pub measured: bool,
}

/// How long a powder takes to dissolve in the stirred water, from the published rate of its surface.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DissolvingPowder {
    /// The solid.
    pub solid: String,
    /// Diameter of its grains, in µm.
    pub grain_um: f64,
    /// Minutes until 90 % of it are in solution; absent where the water is saturated before.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes_to_90_percent: Option<f64>,
    /// The same in words.
    pub text: String,
    /// Where the rate comes from.
    pub source: String,
}
