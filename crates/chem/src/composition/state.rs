//! A finished volume of water at a temperature: one state from which mg/L, mg/kg and mol per kg of water follow.

use super::density::Density;
use super::fault::CompositionError;
use super::linear::LinearSum;
use super::totals::Totals;
use crate::matter::component::Component;

/// Totals at a temperature, with the density that ties litres to kilograms. Every answer per litre or per kilogram
/// is taken from this one state.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    totals: Totals,
    temperature_c: f64,
    density: Density,
}

impl Solution {
    /// The water with these totals at a temperature in °C.
    ///
    /// # Errors
    /// [`CompositionError::OutsideModel`] outside the range of the density.
    pub fn new(totals: Totals, temperature_c: f64) -> Result<Solution, CompositionError> {
        let density = Density::of(&totals, temperature_c)?;
        Ok(Solution { totals, temperature_c, density })
    }

    /// The totals.
    pub fn totals(&self) -> &Totals {
        &self.totals
    }

    /// Temperature, °C.
    pub fn temperature_c(&self) -> f64 {
        self.temperature_c
    }

    /// Density, kg/L.
    pub fn density_kg_per_l(&self) -> f64 {
        self.density.kg_per_l
    }

    /// Kilograms of water in a litre.
    pub fn water_kg_per_l(&self) -> f64 {
        self.density.water_kg_per_l
    }

    /// Amount of a component in mol per kg of water ([`Totals::amount`]).
    pub fn mol_per_kg_water(&self, component: Component) -> f64 {
        self.totals.amount(component)
    }

    /// Amount of a component in mmol per litre; `HCO3` is the carbonate alkalinity.
    pub fn mmol_per_l(&self, component: Component) -> f64 {
        1000.0 * self.totals.amount(component) * self.density.water_kg_per_l
    }

    /// Charge of a component in meq per litre, signed, as the form it stands in; 0 for what carries none.
    pub fn meq_per_l(&self, component: Component) -> f64 {
        super::dissolved::form(component).charge * self.mmol_per_l(component)
    }

    /// Mass of a component in mg per litre, by the formula it is counted in.
    pub fn mg_per_l(&self, component: Component) -> f64 {
        component.molar_mass() * self.mmol_per_l(component)
    }

    /// Mass of a component in mg per kg of the water with all that is in it.
    pub fn mg_per_kg(&self, component: Component) -> f64 {
        1e6 * component.molar_mass() * self.totals.amount(component) / (1000.0 + self.totals.solute_mass())
    }

    /// A linear sum per litre: mol, eq or g in a litre.
    pub fn per_l(&self, sum: &LinearSum) -> f64 {
        self.density.water_kg_per_l * sum.of(&self.totals)
    }
}
