//! The finished water that steps of salts and kilograms of water make, and its litre.
//!
//! A litre of it holds what its carbon dioxide lets it hold: a carbonated litre is up to 0.6 % larger. So where the
//! carbon dioxide is held from outside, the water is solved before its litre is known.

use super::counting::Rule;
use super::fault::FormulationError;
use super::frame::{Frame, Litre};
use super::means::Order;
use super::wish::{Quantity, Wish, sum_of};
use crate::composition::fault::CompositionError;
use crate::composition::mixing::mix;
use crate::composition::state::Solution;
use crate::composition::totals::Totals;
use crate::properties::{Held, SolvedWater};

/// Most rounds until a litre agrees with what is dissolved in it.
const MOST_ROUNDS: usize = 30;

/// What is poured and weighed, in the litre that it makes itself.
#[derive(Clone, Debug)]
pub(super) struct Poured {
    /// The litre, without tangents.
    pub litre: Litre,
    /// kg of water from each source.
    pub water_kg: Vec<f64>,
    /// What waters and salts make together, before gas comes or goes.
    pub mixed: Solution,
}

/// The water that real steps and shares make in the litre of which `litre` is a guess; none where litre and water do
/// not come to agree.
///
/// # Errors
/// A water that the density or, where its carbon dioxide is held, the equilibrium refuses.
pub(super) fn poured(
    order: &Order,
    rules: &[Rule],
    balance_of: &[usize],
    (steps, shares): (&[f64], &[f64]),
    litre: &Litre,
) -> Result<Option<Poured>, FormulationError> {
    let mut litre = Litre { tangents: vec![None; order.wishes.len()], ..litre.clone() };
    for _ in 0..MOST_ROUNDS {
        let frame = Frame::new(order, &litre, rules, balance_of);
        let water_kg = frame.water_of_sources(steps, shares);
        let mixed = mixed(&frame, steps, &water_kg)?;
        let finished = finished(order, &mixed)?;
        let next = litre_of(order, &finished);
        if agrees(&litre, &next) {
            return Ok(Some(Poured { litre, water_kg, mixed }));
        }
        litre = next;
    }
    Ok(None)
}

/// What steps of salts and kilograms of water make together.
pub(super) fn mixed(
    frame: &Frame<'_>,
    steps: &[f64],
    water_kg: &[f64],
) -> Result<Solution, CompositionError> {
    let order = frame.order;
    let parts: Vec<_> = water_kg.iter().zip(&order.sources).map(|(kg, s)| (*kg, s.water.totals())).collect();
    let poured: f64 = water_kg.iter().sum();
    let mole = |at: usize| steps[at] * frame.moles_per_step(at) / poured;
    let moles: Vec<f64> = (0..order.shelf.len()).map(mole).collect();
    let added: Vec<_> =
        moles.iter().zip(&order.shelf).map(|(moles, choice)| (*moles, &choice.added)).collect();
    Solution::new(mix(&parts)?.with_added(&added)?, order.temperature_c)
}

/// The same water as its carbon dioxide is held.
pub(super) fn finished(order: &Order, mixed: &Solution) -> Result<Solution, FormulationError> {
    match order.co2 {
        Held::Closed => Ok(mixed.clone()),
        held => Ok(SolvedWater::of(mixed, held)?.solution),
    }
}

/// The litre of pure water at the temperature of an order.
pub(super) fn litre_of_pure(order: &Order) -> Result<Litre, CompositionError> {
    Ok(litre_of(order, &Solution::new(Totals::pure(), order.temperature_c)?))
}

/// The litre of a finished water.
pub(super) fn litre_of(order: &Order, finished: &Solution) -> Litre {
    let denominator = |wish: &Wish| match &wish.quantity {
        Quantity::Ratio { denominator, counted_by, .. } => {
            let sum = sum_of(*denominator).times(counted_by.per_mole(*denominator));
            // A water without the lower part has no ratio; the row is then counted per unit.
            finished.per_l(&sum).max(1.0)
        }
        _ => 1.0,
    };
    Litre {
        water_kg: finished.water_kg_per_l(),
        density_kg: finished.density_kg_per_l(),
        denominators: order.wishes.iter().map(denominator).collect(),
        tangents: vec![None; order.wishes.len()],
    }
}

/// Whether two litres are the same as far as any demand can tell.
pub(super) fn agrees(one: &Litre, other: &Litre) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-12 * b.abs();
    near(one.water_kg, other.water_kg)
        && near(one.density_kg, other.density_kg)
        && one.denominators.iter().zip(&other.denominators).all(|(a, b)| near(*a, *b))
}
