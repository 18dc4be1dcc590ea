//! How much of a salt may be weighed: the balance, the stock, the order, and what the water dissolves.

use super::fault::{FormulationError, Place};
use super::frame::Frame;
use super::means::Order;
use crate::composition::pure_water;
use crate::numeric::Column;

/// Which ceiling on the mass of a salt is the lowest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ceiling {
    /// What the balance takes.
    Balance,
    /// What is left of it.
    Stock,
    /// What the order allows.
    Order,
    /// What the water dissolves at its temperature.
    Solubility,
}

/// Greatest mass of a salt in g, and what sets it, on a balance.
pub(super) fn most_g(order: &Order, at: usize, balance: usize) -> (f64, Ceiling) {
    let choice = &order.shelf[at];
    let stated = [
        (Some(order.balances[balance].most_g), Ceiling::Balance),
        (choice.stock_g, Ceiling::Stock),
        (choice.most_g, Ceiling::Order),
        (dissolves_g(order, at), Ceiling::Solubility),
    ];
    let lowest = stated.into_iter().filter_map(|(mass, ceiling)| Some((mass?, ceiling)));
    lowest.fold((f64::INFINITY, Ceiling::Balance), |best, next| if next.0 < best.0 { next } else { best })
}

/// What the finished volume dissolves of a salt alone, g as weighed; `None` where it is not known or not limited.
pub(super) fn dissolves_g(order: &Order, at: usize) -> Option<f64> {
    let choice = &order.shelf[at];
    let solubility = choice.salt.solubility(order.temperature_c)?;
    // Dissolving a salt displaces some water; what pure water would hold is the upper end.
    let water_kg = order.volume_l * pure_water::kell_1975(order.temperature_c) / 1000.0;
    Some(solubility.mol_per_kg_water * water_kg / choice.moles_per_g())
}

/// Salts that must not stand on this shelf, and least masses that cannot dissolve.
pub(super) fn faults(order: &Order) -> Vec<(Place, FormulationError)> {
    let mut faults = Vec::new();
    for (at, choice) in order.shelf.iter().enumerate() {
        let (place, name) = (Place::Choice(at), choice.salt.name);
        faults.extend(choice.goes_into_plain_water().err().map(|error| (place, error)));
        let most_g = dissolves_g(order, at).unwrap_or(f64::INFINITY);
        if let Some(asked_g) = choice.least_g.filter(|least| *least > most_g) {
            let (volume_l, temperature_c) = (order.volume_l, order.temperature_c);
            let error = FormulationError::BeyondSolubility { name, asked_g, most_g, volume_l, temperature_c };
            faults.push((place, error));
        }
    }
    faults
}

impl Frame<'_> {
    /// The columns of the search: what each salt may weigh on its balance.
    pub fn columns(&self) -> Vec<Column> {
        let column = |at: usize| {
            let (choice, balance) = (&self.order.shelf[at], &self.order.balances[self.balance_of[at]]);
            let (most, _) = most_g(self.order, at, self.balance_of[at]);
            Column {
                least_steps: balance.steps_covering(balance.least_g).max(1),
                most_steps: balance.steps_within(most),
                cost_per_step: choice.price_per_kg.unwrap_or(0.0) * balance.step_g / 1000.0,
                mass_per_step: balance.step_g,
                counted: true,
            }
        };
        (0..self.order.shelf.len()).map(column).collect()
    }

    /// The columns as they would be without balances: any mass up to the other ceilings, in thousandths of a step.
    pub fn ungridded(&self) -> Vec<Column> {
        let mut columns = self.columns();
        for (at, column) in columns.iter_mut().enumerate() {
            let coarsest = self.order.balances.iter().map(|b| b.most_g).fold(0.0, f64::max);
            let (choice, balance) = (&self.order.shelf[at], &self.order.balances[self.balance_of[at]]);
            let others = [choice.stock_g, choice.most_g, dissolves_g(self.order, at)];
            let most = others.into_iter().flatten().fold(coarsest, f64::min);
            column.least_steps = 0;
            column.most_steps = balance.steps_within(most);
        }
        columns
    }
}
