//! What a water stands in, and what presses on it.

use super::LifePathError;
use crate::equilibrium::Model;
use crate::equilibrium::constants::ZERO_CELSIUS;
use crate::equilibrium::water::vapour_pressure;

/// What a water stands in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Vessel {
    /// Open to the air.
    Open,
    /// Shut and full: what is dissolved stays.
    Full,
    /// Shut under a headspace.
    Bottle(Bottle),
}

/// A shut bottle and the air in it, as they are at a temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bottle {
    /// Litres of the bottle for each kg of water in it.
    pub(super) litres_per_kg: f64,
    /// Litres of gas for each kg of water.
    pub(super) room: f64,
    /// Temperature, °C.
    pub(super) celsius: f64,
    /// Pressure of the air, bar.
    pub(super) air_bar: f64,
}

impl Bottle {
    /// The bottle at another temperature, at which a kg of water takes so many litres: the water swells into the headspace
    /// and its air is pressed together.
    pub(super) fn at(self, celsius: f64, water: f64) -> Result<Bottle, LifePathError> {
        if self.room == 0.0 || celsius == self.celsius {
            return Ok(Bottle { celsius, ..self });
        }
        let room = self.litres_per_kg - water;
        if room <= 0.0 {
            let percent = 100.0 * (1.0 - (self.litres_per_kg - self.room) / water);
            return Err(LifePathError::HeadspaceFilled { stage: 0, celsius, least_percent: percent });
        }
        let kelvin = |celsius: f64| celsius + ZERO_CELSIUS;
        let air_bar = self.air_bar * (self.room / room) * (kelvin(celsius) / kelvin(self.celsius));
        Ok(Bottle { room, celsius, air_bar, ..self })
    }
}

impl Vessel {
    /// Pressure in it over that of the air outside, bar; none where it is open.
    pub(super) fn gauge_bar(&self, model: &Model, pco2_bar: f64, outside_bar: f64) -> Option<f64> {
        let gas = pco2_bar + vapour_pressure(model.kelvin()) / 1e5;
        match self {
            Vessel::Open => None,
            Vessel::Bottle(bottle) if bottle.room > 0.0 => Some(gas + bottle.air_bar - outside_bar),
            Vessel::Full | Vessel::Bottle(_) => Some(gas - outside_bar),
        }
    }
}
