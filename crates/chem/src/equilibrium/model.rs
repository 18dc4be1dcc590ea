//! The model at one temperature: every constant and interaction parameter evaluated once.

use super::activity::Interactions;
use super::constants::ZERO_CELSIUS;
use super::fault::EquilibriumError;
use super::parameters::{Binary, parameters};
use super::speciation::Speciation;
use super::species::table;
use super::system::{Given, System};
use super::validity::{self, WATERS_C};
use super::water;
use crate::quantity::bounds::Celsius;
use std::sync::Arc;

/// Model R at one temperature. Cheap to share, never changed; make one per temperature and keep it.
#[derive(Clone, Debug)]
pub struct Model {
    kelvin: f64,
    slope: f64,
    values: Arc<Values>,
}

/// Every tabulated value at the temperature.
#[derive(Debug)]
struct Values {
    ln_k: Vec<f64>,
    binaries: Vec<Vec<Binary>>,
    mixing: Vec<f64>,
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
        let parameters = parameters();
        Model {
            kelvin,
            slope: water::debye_huckel_slope(kelvin),
            values: Arc::new(Values {
                ln_k: table().species.iter().map(|species| species.ln_k(kelvin)).collect(),
                binaries: parameters.binaries(kelvin),
                mixing: parameters.mixing.iter().map(|row| row.course.at(kelvin)).collect(),
            }),
        }
    }

    /// Debye–Hückel slope for the osmotic coefficient, (kg/mol)^½.
    pub(crate) fn slope(&self) -> f64 {
        self.slope
    }

    /// Temperature, °C.
    pub fn celsius(&self) -> f64 {
        self.kelvin - ZERO_CELSIUS
    }

    /// Temperature, K.
    pub fn kelvin(&self) -> f64 {
        self.kelvin
    }

    /// ln of the formation constant of a species from masters, by its index in the species table.
    pub(crate) fn ln_k(&self, species: usize) -> f64 {
        self.values.ln_k[species]
    }

    /// The interactions among chosen species, in the order given.
    pub(crate) fn interactions(&self, chosen: &[usize]) -> Interactions {
        let all = &table().species;
        let charge = chosen.iter().map(|at| f64::from(all[*at].charge)).collect();
        let mut place = vec![None; all.len()];
        chosen.iter().enumerate().for_each(|(here, at)| place[*at] = Some(here));
        let mut interactions = Interactions::new(charge, self.slope);
        for (c, cation) in chosen.iter().enumerate().filter(|(_, at)| all[**at].charge > 0) {
            for (a, anion) in chosen.iter().enumerate().filter(|(_, at)| all[**at].charge < 0) {
                let binary = &self.values.binaries[*cation][*anion];
                if *binary != Binary::default() {
                    interactions.add_pair(c, a, binary);
                }
            }
        }
        for (row, value) in parameters().mixing.iter().zip(&self.values.mixing) {
            match row.species.as_slice() {
                [a, b] => {
                    if let (Some(a), Some(b)) = (place[*a], place[*b]) {
                        interactions.add_two(a, b, *value);
                    }
                }
                [a, b, c] => {
                    if let (Some(a), Some(b), Some(c)) = (place[*a], place[*b], place[*c]) {
                        interactions.add_three(a, b, c, *value);
                    }
                }
                _ => {}
            }
        }
        interactions
    }
}
