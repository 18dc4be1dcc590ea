//! Equilibrium: constants, activity, the solver, the carbonate system.
//!
//! [`constants`], [`water`] → `temperature`, `species`, `parameters` (the tables) → [`Model`] (a temperature) →
//! `activity`, [`scale`] → [`System`] (the species of one kind of water) → `solver`, `carbonate` → [`Speciation`] →
//! [`validity`], [`sensitivity`] → [`gas`], [`carbonation`], [`titration`].
//!
//! A state depends on the totals and on nothing else: the order of species is that of the tables, the search starts from
//! the totals alone, and it ends where a further step moves no logarithm by more than 1e-13.

pub mod constants;
pub mod water;

mod parameters;
pub(crate) mod species;
pub(crate) mod temperature;

pub(crate) mod elementary;
pub(crate) mod lanes;

pub(crate) mod values;

mod model;

mod activity;
mod curvature;
mod interactions;
pub mod scale;
mod shape;
mod unlike;

pub(crate) mod scheme;
mod system;

pub(crate) mod answer;
mod carbonate;
mod first;
pub(crate) mod linear;
mod newton;
pub(crate) mod plan;
pub(crate) mod reading;
mod solver;
mod start;
pub(crate) mod together;

mod speciation;

mod fault;
mod ions;
pub mod validity;

pub mod sensitivity;

pub mod carbonation;
pub mod gas;
pub mod titration;

pub use fault::EquilibriumError;
pub use ions::is_known;
pub use model::Model;
pub use scheme::Scheme;
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
#[cfg(test)]
mod titration_tests;
