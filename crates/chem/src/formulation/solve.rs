//! Answers an order.

use super::ceiling;
use super::counting::Rule;
use super::fault::{FormulationError, Place};
use super::judged;
use super::loosening;
use super::means::{Balance, Order, Source};
use super::outcome::{Outcome, made};
use super::reason;
use super::settle::settle;
use super::wish::Quantity;
use crate::composition::fault::CompositionError;
use crate::composition::linear::LinearSum;
use crate::composition::totals::Totals;

/// Finds the blend that comes nearest to the wishes, in whole steps of the balances, or says which demands collide
/// and what would free them.
///
/// # Errors
/// Every fault of the order at once, each with its place; [`FormulationError::SearchEnded`] where the counted work
/// ended before anything was found.
pub fn blend(order: &Order) -> Result<Outcome, Vec<(Place, FormulationError)>> {
    let rules = rules(order)?;
    let whole = |error: FormulationError| vec![(Place::Whole, error)];
    match settle(order, &rules).map_err(whole)? {
        Some(settled) => {
            let mut blend = made(order, &rules, &settled);
            reason::explain(order, &rules, &settled, &mut blend).map_err(whole)?;
            Ok(Outcome::Made(Box::new(blend)))
        }
        None => loosening::impossible(order, rules).map(Outcome::Impossible).map_err(whole),
    }
}

/// The wishes ready for counting, or every fault of the order.
fn rules(order: &Order) -> Result<Vec<Rule>, Vec<(Place, FormulationError)>> {
    let mut faults = ceiling::faults(order);
    faults.extend(judged::faults(order));
    let mut rules = Vec::new();
    for (at, wish) in order.wishes.iter().enumerate() {
        match Rule::of(wish) {
            Ok(rule) => {
                faults.extend(unknown(order, &wish.quantity, &rule));
                rules.push(rule);
            }
            Err(own) => faults.extend(own.into_iter().map(|error| (Place::Wish(at), error))),
        }
    }
    faults.extend(empty(&order.balances));
    faults.extend(shares(order));
    if faults.is_empty() { Ok(rules) } else { Err(faults) }
}

/// What a wish needs and a water does not state.
fn unknown(order: &Order, quantity: &Quantity, rule: &Rule) -> Vec<(Place, FormulationError)> {
    let of_source = |(at, source): (usize, &Source)| {
        let own = unstated(quantity, rule, source.water.totals()).into_iter();
        own.map(|error| (Place::Source(at), FormulationError::Composition(error))).collect::<Vec<_>>()
    };
    order.sources.iter().enumerate().flat_map(of_source).collect()
}

/// What a wish needs and totals do not state.
pub(super) fn unstated(quantity: &Quantity, rule: &Rule, totals: &Totals) -> Vec<CompositionError> {
    let sums: Vec<LinearSum> = match quantity {
        Quantity::Cost => Vec::new(),
        Quantity::Property { property, .. } => return judged::unknown(*property, totals),
        Quantity::Ratio { numerator, denominator, .. } => {
            [numerator, denominator].map(|component| super::wish::sum_of(*component)).to_vec()
        }
        _ => vec![rule.sum.clone()],
    };
    sums.iter().flat_map(|sum| sum.known(totals, "a wish").err().unwrap_or_default()).collect()
}

/// Balances that weigh nothing.
pub(super) fn empty(balances: &[Balance]) -> Vec<(Place, FormulationError)> {
    let mut faults = Vec::new();
    for (at, balance) in balances.iter().enumerate() {
        let (least_g, most_g) = (balance.least_g.max(balance.step_g), balance.most_g);
        if balance.steps_within(most_g) < balance.steps_covering(least_g) {
            faults.push((Place::Balance(at), FormulationError::BalanceEmpty { least_g, most_g }));
        }
    }
    faults
}

/// Shares that cannot add up.
fn shares(order: &Order) -> Option<(Place, FormulationError)> {
    let least: f64 = order.sources.iter().map(|source| source.least_percent.unwrap_or(0.0)).sum();
    let most: f64 = order.sources.iter().map(|source| source.most_percent.unwrap_or(100.0)).sum();
    (least > 100.0 || most < 100.0)
        .then_some((Place::Whole, FormulationError::SharesImpossible { least, most }))
}
