//! `carbonation`: how much carbon dioxide brings a water to a wanted state, and under which pressure it stays there.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::water::Water;

/// Asks how a water is carbonated. Its alkalinity must be known, and its pH or carbonate for the CO2 to add.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CarbonationRequest {
    /// The still water.
    pub water: SourceWater,
    /// The wanted state: `volumes`, `dissolved`, `keg`, `partial_pressure`, `open_to_air`, `bottle`, or `closed` for what
    /// the water already holds.
    pub co2: Co2,
    /// Temperature at which it is carbonated and stands, in °C; that of the water unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// Litres of the still water, at that temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1e-6, maximum = 1e9)]
    pub volume_l: Option<f64>,
    /// Height above the sea in m at which gauges are read and bottles opened; that of `co2`, or 0 (an assumption), unless
    /// given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 5000.0)]
    pub altitude_m: Option<f64>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// How a water is carbonated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CarbonationAnswer {
    /// The still water, closed, at the temperature of the request.
    pub before: Water,
    /// The water in the wanted state.
    pub after: Water,
    /// g of CO2 to add to a litre of the still water; below zero it is given off. Absent where nothing tells how much
    /// carbonate the still water holds. What a bottle's headspace takes up is not counted here.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_to_add_g_per_l: Option<f64>,
    /// The same for `volume_l`, in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_to_add_g: Option<f64>,
    /// Free CO2 of the water in volumes: litres of the gas at 0 °C and 1 atm in a litre of water.
    pub volumes: f64,
    /// Free CO2 of the water, in g per litre.
    pub grams_per_l: f64,
    /// Gauge pressure in bar at which CO2 over the water leaves it as it is, at the temperature and altitude of the
    /// request; for a bottle, the pressure under its cap. Absent where the water holds less than CO2 at the pressure of the
    /// air would give it, and beyond the reach of the gas law.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gauge_bar: Option<f64>,
    /// The same closed water at other temperatures.
    pub pressures: Vec<PressureAt>,
    /// The water once it has stood open, where it now holds more CO2 than air leaves it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub opened: Option<Opened>,
    /// The gas under the cap of a bottle; absent beyond the reach of the gas law.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub headspace: Option<Headspace>,
    /// Solids that the water is near to, before, carbonated and after standing open.
    pub saturation: Vec<SaturationChange>,
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

/// The pressure of the same closed water at one temperature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PressureAt {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// Partial pressure of CO2 with which the water is in balance, in bar.
    pub pco2_bar: f64,
    /// Gauge pressure in bar; absent where CO2 alone would press less than the air.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gauge_bar: Option<f64>,
}

/// A carbonated water once it has stood open until it is in balance with air.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Opened {
    /// pH then.
    pub ph: f64,
    /// g of CO2 that a litre gives off.
    pub co2_given_off_g_per_l: f64,
    /// The same for `volume_l`, in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_given_off_g: Option<f64>,
}

/// The gas under the cap of a bottle that was closed full of carbonated water and air.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Headspace {
    /// Headspace in percent of the bottle.
    pub percent: f64,
    /// Gauge pressure in bar: CO2 and vapour over the one atmosphere of air that was closed in.
    pub gauge_bar: f64,
    /// g of CO2 that it takes from a litre of the water.
    pub co2_g_per_l: f64,
    /// The same as a share of all carbonate that was in the water, in percent.
    pub share_percent: f64,
    /// The same for `volume_l`, in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2_g: Option<f64>,
}

/// How far the water stands from a solid on its way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaturationChange {
    /// The solid.
    pub solid: String,
    /// Saturation index of the still water; 0 is just saturated.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub before: Option<f64>,
    /// The index of the carbonated water.
    pub after: f64,
    /// The index once it has stood open.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub opened: Option<f64>,
}
