//! The model at one temperature.

use super::constants::ZERO_CELSIUS;
use super::fault::EquilibriumError;
use super::speciation::Speciation;
use super::system::{Given, System};
use super::validity::{self, WATERS_C};
use crate::quantity::bounds::Celsius;
use std::sync::Arc;

/// Model R at one temperature. Costs nothing to make or to copy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Model {
    kelvin: f64,
}

impl Model {
    /// The model at a temperature.
    ///
    /// # Errors
    /// A temperature outside 0 to 95 °C.
    ///
    /// ```
    /// use springwright_chem::equilibrium::{Given, Known, Model};
    /// use springwright_chem::matter::component::Component;
    /// use springwright_chem::quantity::bounds::Celsius;
    /// let model = Model::at(Celsius::new(25.0)?)?;
    /// // 4 mmol/kg CaCl2 and 8 mmol/kg NaHCO3 in a closed bottle
    /// let drink = Given::new(Known::Alkalinity(0.008), Known::Dic(0.008))
    ///     .with(Component::CA, 0.004)
    ///     .with(Component::NA, 0.008)
    ///     .with(Component::CL, 0.008);
    /// let state = model.speciate(&drink)?;
    /// assert!((state.ph - 7.97).abs() < 0.01);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn at(temperature: Celsius) -> Result<Model, EquilibriumError> {
        let celsius = temperature.get();
        let (low, high) = WATERS_C;
        if !(low..=high).contains(&celsius) {
            return Err(EquilibriumError::Temperature { celsius, low, high });
        }
        Ok(Model::at_kelvin(celsius + ZERO_CELSIUS))
    }

    /// As [`Model::at`], from a number that need not be a temperature at all.
    ///
    /// # Errors
    /// A temperature outside 0 to 95 °C.
    pub fn at_celsius(celsius: f64) -> Result<Model, EquilibriumError> {
        let (low, high) = WATERS_C;
        Model::at(Celsius::new(celsius).map_err(|_| EquilibriumError::Temperature { celsius, low, high })?)
    }

    /// Solves one water and checks it against the reach of the model. For many waters of the same components make a
    /// [`System`] once and let it solve.
    ///
    /// # Errors
    /// A component the model lacks, amounts out of range, carbonate quantities that no water has together, a water
    /// beyond the reach of the model, a search that did not settle.
    pub fn speciate(&self, given: &Given) -> Result<Speciation, EquilibriumError> {
        given.check()?;
        let state = Arc::new(System::of(self, &given.totals)?).solve(given)?;
        validity::check(&state)?;
        Ok(state)
    }

    /// The model at a temperature in kelvin, without a check of its range.
    pub(crate) fn at_kelvin(kelvin: f64) -> Model {
        Model { kelvin }
    }

    /// Temperature, °C.
    pub fn celsius(&self) -> f64 {
        self.kelvin - ZERO_CELSIUS
    }

    /// Temperature, K.
    pub fn kelvin(&self) -> f64 {
        self.kelvin
    }
}
