//! How much of a solid dissolves in a water until it is saturated.

use super::saturation;
use super::solids::Solid;
use crate::equilibrium::constants::WATER_MOLAR_MASS;
use crate::equilibrium::{EquilibriumError, Given, Known, Model, Speciation, System};
use std::sync::Arc;

/// Most trial amounts.
const MOST_TRIALS: usize = 200;
/// Ratio of one trial amount to the next on the way up; small, because the index of a salt with much crystal water
/// has a maximum, and only the first crossing is the solubility.
const STRIDE: f64 = 1.35;
/// Largest amount tried, mol per kg of the water at the start.
const MOST: f64 = 20.0;

/// A water saturated with a solid.
#[derive(Clone, Debug)]
pub struct Saturated {
    /// Amount dissolved, mol per kg of the water at the start.
    pub dissolved: f64,
    /// The saturated water; its molalities count the crystal water as solvent.
    pub state: Speciation,
}

/// The water after `amount` mol of the solid per kg of water went in. Alkalinity and carbonate follow where they are
/// given as amounts; a given pH or CO2 pressure is held.
pub fn with_dissolved(given: &Given, solid: &Solid, amount: f64) -> Given {
    let brings = solid.brings();
    let kilograms = 1.0 + amount * brings.water * WATER_MOLAR_MASS;
    let mut after = given.clone();
    brings.components.iter().for_each(|(component, n)| after.totals[component.index()] += n * amount);
    after.totals.iter_mut().for_each(|total| *total /= kilograms);
    after.carbonate = given.carbonate.map(|known| match known {
        Known::Alkalinity(value) => Known::Alkalinity((value + brings.alkalinity * amount) / kilograms),
        Known::Dic(value) => Known::Dic((value + brings.carbonate * amount) / kilograms),
        held => held,
    });
    after
}

/// Dissolves a solid in a water until it is saturated; zero where it already is. None when it does not reach
/// saturation before the search ends. The saturated water of a very soluble salt may lie beyond the reach of the
/// model: check it with [`validity::check`](crate::equilibrium::validity::check).
///
/// # Errors
/// As [`Model::speciate`] for the water at the start.
pub fn saturate(
    model: &Model,
    given: &Given,
    solid: &'static Solid,
) -> Result<Option<Saturated>, EquilibriumError> {
    let mut system = None;
    let mut at = |amount: f64| -> Result<(f64, Saturated), EquilibriumError> {
        let after = with_dissolved(given, solid, amount);
        let system = system.get_or_insert(Arc::new(System::of(model, &after.totals)?));
        let state = system.solve(&after)?;
        let index = saturation::of(&state, solid).map_or(f64::NEG_INFINITY, |s| s.index);
        Ok((index, Saturated { dissolved: amount, state }))
    };
    let first = model.speciate(given)?;
    if saturation::of(&first, solid).is_some_and(|s| s.index >= 0.0) {
        return Ok(Some(Saturated { dissolved: 0.0, state: first }));
    }
    let (mut low, mut high) = (0.0, 1e-7);
    loop {
        match at(high) {
            Ok((index, _)) if index >= 0.0 => break,
            Ok(_) if high < MOST => (low, high) = (high, high * STRIDE),
            Err(error) if low == 0.0 => return Err(error),
            _ => return Ok(None),
        }
    }
    let mut found = at(high)?;
    for _ in 0..MOST_TRIALS {
        let middle = 0.5 * (low + high);
        let trial = at(middle)?;
        if trial.0 >= 0.0 {
            high = middle;
            found = trial;
        } else {
            low = middle;
        }
        if high - low <= 1e-12 * high {
            break;
        }
    }
    Ok(Some(found.1))
}
