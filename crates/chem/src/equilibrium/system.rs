//! One kind of water at one temperature; and what is given of a water.

use super::fault::EquilibriumError;
use super::lanes::Lanes;
use super::model::Model;
use super::scheme::Scheme;
use super::values::Values;
use crate::composition::dissolved::is_carbonate;
use crate::composition::totals::Totals;
use crate::matter::component::Component;
use std::sync::Arc;

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

/// A [`Scheme`] at one temperature, with its constants and interactions. A table of like waters shares one.
#[derive(Clone, Debug)]
pub struct System {
    pub(crate) model: Model,
    pub(crate) scheme: Arc<Scheme>,
    pub(crate) values: Values<1>,
}

impl System {
    /// The system of the components that are above zero in `totals`; carbonate and a trace of chloride are always
    /// in it.
    ///
    /// # Errors
    /// A component that the model has no constants for.
    pub fn of(model: &Model, totals: &[f64; Component::COUNT]) -> Result<System, EquilibriumError> {
        Ok(System::at(model, &Arc::new(Scheme::of(totals)?)))
    }

    /// A scheme at the temperature of a model: cheap, where many waters of the same components have each their own
    /// temperature.
    pub fn at(model: &Model, scheme: &Arc<Scheme>) -> System {
        let mut values = scheme.courses.values();
        scheme.courses.move_to(Lanes([model.kelvin()]), &mut values);
        System { model: *model, scheme: scheme.clone(), values }
    }

    /// Debye–Hückel slope for the osmotic coefficient, (kg/mol)^½.
    pub(crate) fn slope(&self) -> f64 {
        self.values.slope.0[0]
    }

    /// ln of the formation constant of a species of the system from masters.
    pub(crate) fn ln_k(&self, place: usize) -> f64 {
        self.values.of[place].0[0]
    }
}
