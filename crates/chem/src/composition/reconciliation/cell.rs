//! A conductivity cell for amounts: ions as they are listed, all alkalinity as bicarbonate.

use super::conductance::Amounts;
use super::unknown::Unknown;
use crate::composition::dissolved;
use crate::equilibrium::constants::ZERO_CELSIUS;
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::species_table;
use crate::matter::component::Component;
use crate::properties::carriers::Carriers;
use crate::properties::conductivity::Conductance;

/// Which ion stands in for one that no table of conductivity knows, by charge: traces, in a drink.
const STAND_IN: [(f64, &str); 6] =
    [(1.0, "Na"), (2.0, "Mg"), (3.0, "Mg"), (-1.0, "NO3"), (-2.0, "SO4"), (-3.0, "SO4")];

/// The cell; what depends on temperature alone is kept from one reading to the next.
pub(super) struct Cell {
    /// Each species with the components that it carries and the equivalents that one mol of them makes of it.
    carried: Vec<Vec<(Component, f64)>>,
    molality: Vec<Lanes<1>>,
    conductance: Conductance<1>,
}

impl Cell {
    /// A cell for everything that may stand in a water.
    pub(super) fn of(unknowns: &[Unknown]) -> Cell {
        let mut species: Vec<usize> = Vec::new();
        let mut carried: Vec<Vec<(Component, f64)>> = Vec::new();
        for component in Component::ALL {
            let there = unknowns.iter().any(|one| one.brings.iter().any(|(own, _)| *own == component));
            let Some((index, ratio)) = carrier(component).filter(|_| there) else { continue };
            let at = species.iter().position(|own| *own == index).unwrap_or_else(|| {
                species.push(index);
                carried.push(Vec::new());
                species.len() - 1
            });
            carried[at].push((component, ratio));
        }
        let conductance = Conductance::new(Carriers::of(&species, true));
        Cell { molality: vec![Lanes::default(); species.len()], carried, conductance }
    }

    /// µS/cm of amounts in mmol/L at a temperature in °C.
    pub(super) fn reads(&mut self, celsius: f64, amounts: &Amounts) -> f64 {
        for (molality, carried) in self.molality.iter_mut().zip(&self.carried) {
            let sum = |(component, ratio): &(Component, f64)| ratio * amounts[component.index()].max(0.0);
            *molality = Lanes::all(carried.iter().map(sum).sum::<f64>() / 1000.0);
        }
        let kelvin = Lanes::all(celsius + ZERO_CELSIUS);
        self.conductance.conductivity(kelvin, &self.molality, Lanes::all(1.0)).0[0]
    }
}

/// The species that carries the current of a component, and how many of it one mol makes; none without charge.
fn carrier(component: Component) -> Option<(usize, f64)> {
    let charge = dissolved::form(component).charge;
    if charge == 0.0 {
        return None;
    }
    let table = species_table();
    let own = [component.id().to_owned(), format!("H{}", component.id())];
    let alike = |index: &usize| f64::from(table.species[*index].charge) == charge;
    if let Some(index) = own.iter().filter_map(|id| table.index(id)).find(alike) {
        return Some((index, 1.0));
    }
    let (_, id) = STAND_IN.iter().find(|(known, _)| *known == charge)?;
    let index = table.index(id)?;
    Some((index, charge / f64::from(table.species[index].charge)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every component that carries charge is carried, and by its own ion where the table of species has one.
    #[test]
    fn what_carries_charge_is_carried() {
        for component in Component::ALL {
            let charge = dissolved::form(component).charge;
            let found = carrier(component);
            assert_eq!(found.is_some(), charge != 0.0 && charge.abs() <= 3.0, "{}", component.id());
            if let Some((index, ratio)) = found {
                assert!((ratio * f64::from(species_table().species[index].charge) - charge).abs() < 1e-12);
            }
        }
        let id = |component: Component| species_table().species[carrier(component).unwrap().0].id;
        assert_eq!((id(Component::PO4), id(Component::CA), id(Component::HCO3)), ("HPO4", "Ca", "HCO3"));
    }
}
