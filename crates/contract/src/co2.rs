//! What is said of the carbon dioxide in a water.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The state of the carbon dioxide.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Co2 {
    /// What holds it.
    pub state: Co2State,
    /// Partial pressure in bar, for `partial_pressure`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 8.0)]
    pub pco2_bar: Option<f64>,
    /// Volumes of gas (0 °C, 1 atm) in a volume of water, for `volumes`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 10.0)]
    pub volumes: Option<f64>,
    /// g of carbon dioxide in a litre, for `dissolved`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 20.0)]
    pub grams_per_l: Option<f64>,
    /// Gauge pressure in bar, for `keg`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 8.0)]
    pub gauge_bar: Option<f64>,
    /// Temperature of the keg in °C, for `keg`; that of the water unless given. The water is closed there and then
    /// brought to its own temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// Height above the sea in m, for `open_to_air` and `keg`; 0 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 5000.0)]
    pub altitude_m: Option<f64>,
    /// Headspace in percent of the bottle, for `bottle`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 90.0)]
    pub headspace_percent: Option<f64>,
}

/// What holds the carbon dioxide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Co2State {
    /// What is dissolved stays.
    Closed,
    /// In balance with air.
    OpenToAir,
    /// In balance with a gas of `pco2_bar`.
    PartialPressure,
    /// `volumes` are dissolved.
    Volumes,
    /// `grams_per_l` are dissolved.
    Dissolved,
    /// In balance with a keg at `gauge_bar`.
    Keg,
    /// Closed into its bottle as it is; then part of the carbon dioxide goes up into the headspace.
    Bottle,
}
