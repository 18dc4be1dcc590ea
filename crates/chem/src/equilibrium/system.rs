//! The species that can form from the components of one kind of water, at one temperature; and what is given.

use super::activity::Interactions;
use super::fault::EquilibriumError;
use super::model::Model;
use super::species::table;
use crate::composition::dissolved::is_carbonate;
use crate::composition::totals::Totals;
use crate::matter::component::{Component, Role};

/// One quantity of the carbonate system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    /// Alkalinity in its charge form, eq/kg water: strong cations less strong anions. May be negative (acid).
    Alkalinity(f64),
    /// All dissolved carbonate, mol/kg water.
    Dic(f64),
    /// pH on the scale of [`crate::equilibrium::scale`].
    Ph(f64),
    /// Partial pressure of CO2 that the water stands in equilibrium with, bar.
    Pco2(f64),
    /// Dissolved CO2, mol/kg water (with carbonic acid).
    Co2(f64),
}

impl Known {
    pub(crate) fn name(self) -> &'static str {
        match self {
            Known::Alkalinity(_) => "alkalinity",
            Known::Dic(_) => "dissolved carbonate",
            Known::Ph(_) => "pH",
            Known::Pco2(_) => "CO2 pressure",
            Known::Co2(_) => "dissolved CO2",
        }
    }

    pub(crate) fn value(self) -> f64 {
        match self {
            Known::Alkalinity(v) | Known::Dic(v) | Known::Ph(v) | Known::Pco2(v) | Known::Co2(v) => v,
        }
    }
}

/// What is known of a water before it is solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// mol per kg of water of each component, by [`Component::index`]; the carbonate entries are not read.
    pub totals: [f64; Component::COUNT],
    /// Two different quantities of the carbonate system.
    pub carbonate: [Known; 2],
}

impl Given {
    /// Nothing dissolved, with two carbonate quantities.
    pub fn new(first: Known, second: Known) -> Given {
        Given { totals: [0.0; Component::COUNT], carbonate: [first, second] }
    }

    /// The conserved amounts of a water, with its alkalinity and one other quantity of the carbonate system.
    pub fn of(totals: &Totals, carbonate: Known) -> Given {
        let mut given = Given::new(Known::Alkalinity(totals.alkalinity()), carbonate);
        let strong_and_weak = Component::ALL.into_iter().filter(|c| !is_carbonate(*c));
        strong_and_weak.for_each(|c| given.totals[c.index()] = totals.amount(c));
        given
    }

    /// A closed water: its alkalinity and what carbonate it holds, where that is known.
    pub fn closed(totals: &Totals) -> Option<Given> {
        totals.dic().map(|dic| Given::of(totals, Known::Dic(dic)))
    }

    /// The same with an amount of a component, mol per kg of water.
    #[must_use]
    pub fn with(mut self, component: Component, molality: f64) -> Given {
        self.totals[component.index()] = molality;
        self
    }

    /// Checks that every amount is a number and not negative, and that the two carbonate quantities differ.
    pub(crate) fn check(&self) -> Result<(), EquilibriumError> {
        let wrong = |value: f64| !value.is_finite() || value < 0.0;
        for component in Component::ALL {
            let value = self.totals[component.index()];
            if wrong(value) {
                return Err(EquilibriumError::Amount { what: component.id(), value });
            }
        }
        for known in self.carbonate {
            let signed = matches!(known, Known::Alkalinity(_) | Known::Ph(_));
            let value = known.value();
            if if signed { !value.is_finite() } else { wrong(value) } {
                return Err(EquilibriumError::Amount { what: known.name(), value });
            }
        }
        let [first, second] = self.carbonate;
        let gas = |known| matches!(known, Known::Pco2(_) | Known::Co2(_));
        if first.name() == second.name() || (gas(first) && gas(second)) {
            return Err(EquilibriumError::StatedTwice { first: first.name(), second: second.name() });
        }
        Ok(())
    }
}

/// Every species that can form from a set of components, with its constants and interactions at the temperature
/// of the model. Depends only on which components are present, so a table of like waters shares one.
#[derive(Clone, Debug)]
pub struct System {
    pub(crate) model: Model,
    /// Index of each species in the species table; H is the first.
    pub(crate) species: Vec<usize>,
    /// Place of every species of the table among them.
    pub(crate) places: Vec<Option<usize>>,
    /// The masters, as indices into the masters of the table; H is the first.
    pub(crate) masters: Vec<usize>,
    /// Coefficient of each master (row) in each species (column).
    pub(crate) made_of: Vec<Vec<f64>>,
    /// The same by species: place of a master and its coefficient.
    pub(crate) parts: Vec<Vec<(usize, f64)>>,
    pub(crate) ln_k: Vec<f64>,
    pub(crate) water: Vec<f64>,
    pub(crate) charge: Vec<f64>,
    pub(crate) interactions: Interactions,
    /// The place of chloride and of CO2 among the species.
    pub(crate) chloride: usize,
    pub(crate) co2: usize,
}

/// Place of the masters that every system has.
pub(crate) const HYDROGEN: usize = 0;
/// Place of carbonate among the masters of a system.
pub(crate) const CARBON: usize = 1;

impl System {
    /// The system of the components that are above zero in `totals`; carbonate and a trace of chloride are always
    /// in it.
    ///
    /// # Errors
    /// A component that the model has no constants for.
    pub fn of(model: &Model, totals: &[f64; Component::COUNT]) -> Result<System, EquilibriumError> {
        let all = table();
        let named = |id: &str| all.master(id);
        let carbon = named("HCO3").expect("the species table carries the carbonate system");
        let chloride = named("Cl").expect("the species table carries chloride");
        let mut masters = vec![0, carbon];
        for component in Component::ALL {
            if is_carbonate(component) || (totals[component.index()] == 0.0 && component != Component::CL) {
                continue;
            }
            let master =
                named(component.id()).ok_or(EquilibriumError::Component { component: component.id() })?;
            masters.push(master);
        }
        Ok(System::among(model, masters, chloride))
    }

    fn among(model: &Model, masters: Vec<usize>, chloride: usize) -> System {
        let all = &table().species;
        let has = |at: &usize| all[*at].made_of.iter().all(|(master, _)| masters.contains(master));
        let species: Vec<usize> = (0..all.len()).filter(has).collect();
        let mut among = vec![0; table().masters.len()];
        masters.iter().enumerate().for_each(|(here, master)| among[*master] = here);
        let parts_of = |at: &usize| all[*at].made_of.iter().map(|(m, n)| (among[*m], *n)).collect();
        let parts: Vec<Vec<(usize, f64)>> = species.iter().map(parts_of).collect();
        let mut made_of = vec![vec![0.0; species.len()]; masters.len()];
        for (place, parts) in parts.iter().enumerate() {
            parts.iter().for_each(|(master, n)| made_of[*master][place] = *n);
        }
        let mut places = vec![None; all.len()];
        species.iter().enumerate().for_each(|(here, at)| places[*at] = Some(here));
        let place = |at: usize| species.iter().position(|s| *s == at).unwrap_or(0);
        System {
            parts,
            made_of,
            places,
            ln_k: species.iter().map(|at| model.ln_k(*at)).collect(),
            water: species.iter().map(|at| all[*at].water).collect(),
            charge: species.iter().map(|at| f64::from(all[*at].charge)).collect(),
            interactions: model.interactions(&species),
            chloride: place(chloride),
            co2: place(masters[CARBON]),
            model: model.clone(),
            species,
            masters,
        }
    }

    /// The component of a master of this system; none for H.
    pub(crate) fn component(&self, master: usize) -> Option<Component> {
        Component::read(table().masters[self.masters[master]])
    }

    /// The conserved amounts in the order of the masters, with the hydrogen amount left at zero, and the charge
    /// that the weak acids would carry as masters, eq/kg.
    pub(crate) fn amounts(&self, totals: &[f64; Component::COUNT]) -> (Vec<f64>, f64) {
        let mut weak = 0.0;
        let amount = |master: usize| {
            let component = self.component(master).filter(|_| master != CARBON);
            let amount = component.map_or(0.0, |component| totals[component.index()]);
            if component.is_some_and(|component| component.role() == Role::WeakAcid) {
                weak += amount * f64::from(table().species[self.masters[master]].charge);
            }
            amount
        };
        let amounts = (0..self.masters.len()).map(amount).collect();
        (amounts, weak)
    }
}
