//! Whether wishes for properties of the solved state, and states of the carbon dioxide, can be judged at all.

use super::fault::{FormulationError, Place};
use super::means::Order;
use super::property::{Condition, Property};
use crate::composition::dissolved::is_carbonate;
use crate::composition::fault::CompositionError;
use crate::composition::totals::{Standing, Totals};
use crate::equilibrium::validity::WATERS_C;
use crate::equilibrium::{EquilibriumError, Model, is_known};
use crate::matter::component::Component;
use crate::properties::conductivity::HOTTEST;
use crate::properties::{Held, StateError};

/// What hinders an order whose water must be solved: carbonate that nobody stated, ions without constants,
/// temperatures beyond the model.
pub(super) fn faults(order: &Order) -> Vec<(Place, FormulationError)> {
    let asks = order.wishes.iter().any(|wish| wish.property().is_some());
    if !asks && order.co2 == Held::Closed {
        return Vec::new();
    }
    let mut faults = of_waters(order);
    if !asks {
        return faults;
    }
    faults.extend(of_salts(order));
    faults.extend(of_temperatures(order));
    faults
}

/// What hinders an order whose finished water must be solved although no wish for a property asks for it.
pub fn unsolvable(order: &Order) -> Vec<(Place, FormulationError)> {
    of_waters(order).into_iter().chain(of_salts(order)).collect()
}

/// Carbonate that nobody stated.
fn of_waters(order: &Order) -> Vec<(Place, FormulationError)> {
    let mut faults = Vec::new();
    let closed = matches!(order.co2, Held::Closed | Held::Bottle(_));
    for (at, source) in order.sources.iter().enumerate() {
        let totals = source.water.totals();
        let error = match totals.standing(Component::HCO3) {
            Standing::Stated if closed && totals.dic().is_none() => StateError::Carbonate,
            Standing::Stated => continue,
            _ => StateError::Alkalinity,
        };
        faults.push((Place::Source(at), error.into()));
    }
    faults
}

/// Salts with an ion without constants.
fn of_salts(order: &Order) -> Vec<(Place, FormulationError)> {
    let mut faults = Vec::new();
    for (at, choice) in order.shelf.iter().enumerate() {
        let brings = |component: &Component| choice.added.per_mole().amount(*component) > 0.0;
        let strange =
            |component: &Component| !is_carbonate(*component) && !is_known(*component) && brings(component);
        if let Some(component) = Component::ALL.into_iter().find(strange) {
            let error = EquilibriumError::Component { component: component.id() };
            faults.push((Place::Choice(at), StateError::from(error).into()));
        }
    }
    faults
}

/// Temperatures of wishes beyond the model.
fn of_temperatures(order: &Order) -> Vec<(Place, FormulationError)> {
    let mut faults = Vec::new();
    for (at, wish) in order.wishes.iter().enumerate() {
        let Some((property, Condition { temperature_c: Some(celsius), .. })) = wish.property() else {
            continue;
        };
        let (low, high) = (WATERS_C.0, HOTTEST);
        let error = match Model::at_celsius(celsius) {
            Err(error) => error,
            Ok(_) if property == Property::Conductivity && celsius > high => {
                EquilibriumError::Temperature { celsius, low, high }
            }
            Ok(_) => continue,
        };
        faults.push((Place::Wish(at), StateError::from(error).into()));
    }
    faults
}

/// What the index of a solid needs and totals do not state.
pub(super) fn unknown(property: Property, totals: &Totals) -> Vec<CompositionError> {
    let Property::SaturationIndex(solid) = property else { return Vec::new() };
    let parts = solid.brings().components.iter().map(|(component, _)| *component);
    let silent = parts.filter(|component| totals.standing(*component) != Standing::Stated);
    silent.map(|component| CompositionError::Insufficient { component, needed_for: "a wish" }).collect()
}
