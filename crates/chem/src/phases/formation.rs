//! What every solid takes out of a water when it forms, worked out once for all.

use super::solids::{Brings, Solid, solids};
use crate::equilibrium::species_table;
use crate::matter::formula::Formula;
use std::sync::LazyLock;

/// A solid with what it holds, ready for a search.
#[derive(Clone, Debug)]
pub(crate) struct Formation {
    pub(crate) solid: &'static Solid,
    /// Per mol of solid.
    pub(crate) brings: &'static Brings,
    /// The masters in a formula unit: index into the masters of the species table and coefficient.
    pub(crate) masters: Vec<(usize, f64)>,
    /// g/mol, crystal water included.
    pub(crate) molar_mass: f64,
}

/// Every solid, in the order of the table.
pub(crate) fn formations() -> &'static [Formation] {
    static FORMATIONS: LazyLock<Vec<Formation>> = LazyLock::new(|| solids().iter().map(formation).collect());
    &FORMATIONS
}

/// The place of a solid in the table.
pub(crate) fn place(solid: &'static Solid) -> usize {
    solids().iter().position(|known| core::ptr::eq(known, solid)).unwrap_or(0)
}

fn formation(solid: &'static Solid) -> Formation {
    let table = species_table();
    let mut amounts = vec![0.0; table.masters.len()];
    for (species, times) in &solid.products {
        table.species[*species].made_of.iter().for_each(|(master, n)| amounts[*master] += times * n);
    }
    let masters = amounts.into_iter().enumerate().filter(|(_, n)| *n != 0.0).collect();
    let molar_mass = Formula::read(solid.formula).map_or(f64::NAN, |formula| formula.molar_mass());
    Formation { solid, brings: solid.brings(), masters, molar_mass }
}
