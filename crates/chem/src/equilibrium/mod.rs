//! Equilibrium: constants, activity, the solver, the carbonate system.

mod activity;
mod answer;
mod carbonate;
pub mod carbonation;
pub mod constants;
mod fault;
pub mod gas;
mod linear;
mod model;
mod parameters;
pub mod scale;
pub mod sensitivity;
mod shape;
mod solver;
mod speciation;
pub(crate) mod species;
mod start;
mod system;
pub(crate) mod temperature;
pub mod titration;
mod unlike;
pub mod validity;
pub mod water;

pub use fault::EquilibriumError;
pub use model::Model;
pub use sensitivity::{Input, Sensitivities};
pub use speciation::{Residuals, Speciation};
pub use species::{Class, Species, SpeciesTable, table as species_table};
pub use system::{Given, Known, System};

#[cfg(test)]
mod activity_tests;
#[cfg(test)]
mod organics_tests;
#[cfg(test)]
mod sensitivity_tests;
#[cfg(test)]
mod solver_tests;
#[cfg(test)]
mod standards_tests;
