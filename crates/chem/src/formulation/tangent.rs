//! The solved state near a water: how a property that a wish asks for moves with what is dissolved.
//!
//! A property is a function of the totals per kilogram of water. Its slopes come from the exact sensitivities of the
//! solved state; where the closed water is solved again at another temperature, or its carbon dioxide was settled before
//! it was closed, the slopes go through the carbonate that it then holds. A litre is held fixed, as in every row of a
//! frame, and settled by the search. What is absent but may be brought counts as a trace, without which nothing could be
//! told of it.

use super::counting::Rule;
use super::frame::{Frame, Litre, scaled};
use super::means::Order;
use super::property::{Property, Sight, sights};
use super::slopes::Slopes;
use crate::composition::added::Added;
use crate::composition::dissolved::is_carbonate;
use crate::composition::linear::LinearSum;
use crate::composition::state::Solution;
use crate::equilibrium::constants::LN_10;
use crate::equilibrium::is_known;
use crate::matter::component::Component;
use crate::numeric::Row;
use crate::properties::{Held, SolvedWater, StateError};
use libm::expm1;

/// What an absent component counts as, mol per kg of water.
const TRACE: f64 = 1e-7;

/// A property of the solved state near a water, in the unit of a wish.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tangent {
    /// Its value in that water.
    pub value: f64,
    /// Whether the state has that value: not where a part of a solid is absent, whose index then has none.
    pub present: bool,
    /// Its slopes with the totals per kg of water.
    pub slopes: LinearSum,
    /// What the slopes come to at the totals of that water.
    pub at: f64,
    /// Whether it is laid as a chord: exact at that water and, for what multiplies, at what is asked.
    pub chord: bool,
}

impl Frame<'_> {
    pub(super) fn is_property(&self, at: usize) -> bool {
        self.order.wishes[at].property().is_some()
    }

    pub(super) fn tangent(&self, at: usize) -> Option<&Tangent> {
        self.litre.tangents.get(at).and_then(Option::as_ref)
    }

    /// Whether a wish stands in this frame: any but a property without a tangent.
    pub(super) fn stands(&self, at: usize) -> bool {
        !self.is_property(at) || self.tangent(at).is_some()
    }

    /// The row of a property near its water.
    pub(super) fn property_row(&self, at: usize, asked: f64) -> Row {
        let Some(tangent) = self.tangent(at) else {
            return Row { constant: asked, ..scaled(self.per_litre(&LinearSum::tds()), 0.0) };
        };
        let lean = if tangent.chord { leaning(LN_10 * (asked - tangent.value)) } else { 1.0 };
        let mut row = scaled(self.per_litre(&tangent.slopes), lean / self.litre.water_kg);
        row.constant += tangent.value - lean * tangent.at;
        row
    }
}

/// By how much the tangent of a logarithm is leaned so that it meets what is asked where an amount that multiplies
/// does: z/(eᶻ − 1) for a distance z of natural logarithms.
fn leaning(z: f64) -> f64 {
    if z.abs() < 1e-6 { 1.0 - 0.5 * z } else { z / expm1(z.clamp(-60.0, 60.0)) }
}

/// A litre whose tangents of logarithms are leaned to what is asked, which tells of waters farther away, or are not.
pub(super) fn lean(order: &Order, mut litre: Litre, leaned: bool) -> Litre {
    for (tangent, wish) in litre.tangents.iter_mut().zip(&order.wishes) {
        if let (Some(tangent), Some((property, _))) = (tangent, wish.property()) {
            tangent.chord = leaned && property.is_logarithm();
        }
    }
    litre
}

/// A finished water as the wishes for properties see it.
#[derive(Clone, Debug)]
pub(super) struct Seen {
    /// The water in the state in which its carbon dioxide is held.
    pub solved: SolvedWater,
    /// The tangents there, by wish; none at wishes for anything else.
    pub tangents: Vec<Option<Tangent>>,
}

/// Solves what waters and salts make together, and lays the tangents of the properties that wishes ask for.
///
/// # Errors
/// A water that cannot be solved.
pub(super) fn see(order: &Order, rules: &[Rule], mixed: &Solution, chord: bool) -> Result<Seen, StateError> {
    let solved = SolvedWater::of(mixed, order.co2)?;
    let seen = seen_at(order, &solved)?;
    let traced = with_traces(order, mixed)?;
    let (near, near_sights) = match &traced {
        Some(traced) => {
            let water = SolvedWater::of(traced, order.co2)?;
            let sights = seen_at(order, &water)?;
            (Slopes::of(order, traced, &water)?, sights)
        }
        None => (Slopes::of(order, mixed, &solved)?, seen.clone()),
    };
    let sensitivities = near.of_sights(&near_sights)?;
    let (density, water_kg) = (solved.solution.density_kg_per_l(), solved.solution.water_kg_per_l());
    let moved = mixed.totals();
    let mut tangents = Vec::new();
    for (wish, rule) in order.wishes.iter().zip(rules) {
        let Some((property, condition)) = wish.property() else {
            tangents.push(None);
            continue;
        };
        let view = property.view(condition, order.temperature_c);
        let Some(place) = seen.iter().position(|sight| sight.view == view) else { continue };
        let sight = &near_sights[place];
        let factor = rule.factor(density, water_kg);
        let slopes = near.at(sight, &sensitivities[place], property)?.times(factor);
        let at = slopes.of(moved);
        let own = property.of(&seen[place].state, seen[place].water_kg_per_l)?;
        let value = match own {
            Some(own) => own * factor,
            // A part of the solid is absent: its index counts along the tangent from a trace of it.
            None => {
                let traced = traced.as_ref().unwrap_or(mixed);
                let there = property.of(&sight.state, sight.water_kg_per_l)?.unwrap_or(f64::NEG_INFINITY);
                there * factor + at - slopes.of(traced.totals())
            }
        };
        let chord = chord && property.is_logarithm();
        tangents.push(Some(Tangent { value, present: own.is_some(), slopes, at, chord }));
    }
    Ok(Seen { solved, tangents })
}

/// The states that the wishes of an order need of a water.
fn seen_at(order: &Order, water: &SolvedWater) -> Result<Vec<Sight>, StateError> {
    let asked = order.wishes.iter().filter_map(|wish| wish.property());
    sights(water, asked.map(|(property, condition)| property.view(condition, order.temperature_c)))
}

/// The water with a trace of whatever the order could bring or the index of a solid needs and it lacks; none where it
/// lacks nothing.
fn with_traces(order: &Order, mixed: &Solution) -> Result<Option<Solution>, StateError> {
    let totals = mixed.totals();
    let asked: Vec<Component> = parts_of_solids(order);
    let brought = |component: Component| {
        let by_salt = order.shelf.iter().any(|choice| choice.added.per_mole().amount(component) > 0.0);
        by_salt
            || asked.contains(&component)
            || order.sources.iter().any(|source| source.water.totals().amount(component) > 0.0)
    };
    let lacks = |component: &Component| {
        !is_carbonate(*component)
            && is_known(*component)
            && totals.amount(*component) == 0.0
            && brought(*component)
    };
    let traces: Vec<(Component, f64)> =
        Component::ALL.into_iter().filter(lacks).map(|component| (component, 1.0)).collect();
    let keeps_carbonate = matches!(order.co2, Held::Closed | Held::Bottle(_));
    let carbonate = if keeps_carbonate && totals.dic() == Some(0.0) { 1.0 } else { 0.0 };
    if traces.is_empty() && carbonate == 0.0 {
        return Ok(None);
    }
    let grams: f64 = traces.iter().map(|(component, _)| component.molar_mass()).sum();
    let trace = Added::new(grams, &traces, carbonate);
    let traced = totals.with_added(&[(TRACE, &trace)])?.with_alkalinity(totals.alkalinity());
    Ok(Some(Solution::new(traced, mixed.temperature_c())?))
}

/// The components of the solids whose indices are asked for.
fn parts_of_solids(order: &Order) -> Vec<Component> {
    let mut parts = Vec::new();
    for (property, _) in order.wishes.iter().filter_map(|wish| wish.property()) {
        if let Property::SaturationIndex(solid) = property {
            parts.extend(solid.brings().components.iter().map(|(component, _)| *component));
        }
    }
    parts
}
