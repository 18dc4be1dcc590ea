//! Equilibrium: constants, activity, the solver, the carbonate system.

mod activity;
pub mod constants;
mod model;
mod parameters;
mod shape;
mod species;
pub(crate) mod table;
pub(crate) mod temperature;
mod unlike;
pub mod water;

pub use model::Model;
pub use species::{Class, Species, SpeciesTable, table as species_table};

#[cfg(test)]
mod activity_tests;
