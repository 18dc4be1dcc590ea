//! Which salts that are not on the shelf would let an unmet wish be met.

use super::counting::Rule;
use super::fault::FormulationError;
use super::frame::Frame;
use super::means::{Choice, Order};
use super::settle::{Settled, relax};
use super::wish::Quantity;
use crate::matter::catalogue::{self, Form, FormulaIs, Salt, UseClass};
use crate::matter::component::Component;

/// At most so many salts are named for a wish.
const MOST_NAMED: usize = 4;

/// For each of the wishes at `unmet`, salts of the catalogue with any one of which it would be met and the first
/// objective would be no worse, the greatest gain first.
pub(super) fn salts(
    order: &Order,
    rules: &[Rule],
    settled: &Settled,
    unmet: &[usize],
) -> Result<Vec<Vec<&'static Salt>>, FormulationError> {
    let mut freeing: Vec<Vec<(f64, &'static Salt)>> = vec![Vec::new(); unmet.len()];
    if unmet.is_empty() {
        return Ok(Vec::new());
    }
    let wished = wished(order);
    let without = objective_without(order, rules, settled)?;
    let mut wider = order.clone();
    let mut balance_of = settled.balance_of.clone();
    balance_of.push(settled.balance_of.first().copied().unwrap_or(0));
    for choice in candidates(order, &wished) {
        let salt = choice.salt;
        wider.shelf.truncate(order.shelf.len());
        wider.shelf.push(choice);
        let frame = Frame::new(&wider, &settled.litre, rules, &balance_of);
        let Some(best) = relax(&frame)? else { continue };
        if best.objective > without - 1e-6 {
            continue;
        }
        for (at, named) in unmet.iter().zip(&mut freeing) {
            let asked = rules[*at].near.unwrap_or(0.0);
            if frame.within(*at, asked, &best.steps, &best.shares) {
                named.push((best.objective, salt));
            }
        }
    }
    let best_few = |mut named: Vec<(f64, &'static Salt)>| {
        named.sort_by(|a, b| a.0.total_cmp(&b.0));
        named.into_iter().take(MOST_NAMED).map(|(_, salt)| salt).collect()
    };
    Ok(freeing.into_iter().map(best_few).collect())
}

/// The first objective as the shelf allows it, without balances.
fn objective_without(order: &Order, rules: &[Rule], settled: &Settled) -> Result<f64, FormulationError> {
    let frame = Frame::new(order, &settled.litre, rules, &settled.balance_of);
    Ok(relax(&frame)?.map_or(f64::INFINITY, |relaxed| relaxed.objective))
}

/// The components that any wish is about.
fn wished(order: &Order) -> Vec<Component> {
    let mut wished = Vec::new();
    for wish in &order.wishes {
        match &wish.quantity {
            Quantity::Component(component) => wished.push(*component),
            Quantity::Sum(parts) => wished.extend(parts),
            Quantity::Ratio { numerator, denominator, .. } => wished.extend([*numerator, *denominator]),
            Quantity::Hardness => wished.extend([Component::CA, Component::MG]),
            Quantity::Alkalinity => wished.push(Component::HCO3),
            Quantity::Tds | Quantity::Residue180c | Quantity::Cost | Quantity::Property { .. } => {}
        }
    }
    wished
}

/// Food salts that dissolve by themselves, give something wished, and are not on the shelf in any hydrate.
fn candidates(order: &Order, wished: &[Component]) -> Vec<Choice> {
    let mut taken: Vec<&catalogue::Dissolution> =
        order.shelf.iter().filter_map(|choice| choice.salt.dissolution().ok()).collect();
    let mut candidates = Vec::new();
    for salt in catalogue::salts() {
        let usable = salt.form == Form::Solid
            && salt.formula_is == FormulaIs::Exact
            && salt.use_class == UseClass::Food
            && !salt.needs.is_some_and(|need| need.bars_plain_water());
        let Some(gives) = salt.dissolution().ok().filter(|_| usable) else { continue };
        let wanted = gives.components.iter().any(|(component, _)| wished.contains(component))
            || (gives.carbonate > 0.0 && wished.contains(&Component::HCO3));
        let same = |other: &catalogue::Dissolution| {
            other.components == gives.components && other.carbonate == gives.carbonate
        };
        if !wanted || taken.iter().any(|other| same(other)) {
            continue;
        }
        if let Ok(choice) = Choice::new(salt, 100.0) {
            taken.push(gives);
            candidates.push(choice);
        }
    }
    candidates
}
