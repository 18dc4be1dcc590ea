//! What the carbonate of a solved water stands as, and which components the model knows.

use super::scheme::{CARBON, HYDROGEN};
use super::speciation::Speciation;
use super::species::table;
use crate::composition::dissolved::is_carbonate;
use crate::matter::component::Component;

/// Whether the model has constants for a component.
pub fn is_known(component: Component) -> bool {
    is_carbonate(component) || table().master(component.id()).is_some()
}

impl Speciation {
    /// Carbonate that has lost one hydrogen and carbonate that has lost two, each with the complexes it is bound in,
    /// mol per kg of water. With CO2 they are all dissolved carbonate.
    pub fn bicarbonate_and_carbonate(&self) -> (f64, f64) {
        let scheme = &self.system.scheme;
        let (mut one, mut two) = (0.0, 0.0);
        for (place, molality) in self.molality.iter().enumerate() {
            let carbon = scheme.made_of[CARBON][place];
            if carbon == 0.0 || place == scheme.co2 {
                continue;
            }
            // a hydroxide of a metal cannot be told from a carbonate here: no such complex stands in the table
            if scheme.made_of[HYDROGEN][place] > -1.5 * carbon {
                one += carbon * molality;
            } else {
                two += carbon * molality;
            }
        }
        (one, two)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::equilibrium::{Given, Known, Model};
    use crate::quantity::bounds::Celsius;

    /// Identity: CO2, bicarbonate and carbonate are all dissolved carbonate; and the free ions are the most of both.
    #[test]
    fn carbonate_is_divided_whole() {
        let model = Model::at(Celsius::new(25.0).unwrap()).unwrap();
        let mut given = Given::new(Known::Ph(9.0), Known::Dic(5e-3));
        for id in ["Ca", "Mg", "Na", "Fe", "Sr", "Cl"] {
            given = given.with(Component::read(id).unwrap(), 1e-4);
        }
        let state = model.speciate(&given).unwrap();
        let (one, two) = state.bicarbonate_and_carbonate();
        assert!((state.co2() + one + two - state.dic).abs() < 1e-17);
        assert!(one > state.molality("HCO3") && one < 1.05 * state.molality("HCO3"));
        assert!(two > state.molality("CO3") && two < 1.6 * state.molality("CO3"));
        assert!(is_known(Component::HCO3) && !is_known(Component::read("Al").unwrap()));
    }
}
