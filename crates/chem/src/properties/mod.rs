//! Properties of a solved water: conductivity and osmolality, and the whole of what is answered of one.

pub mod viscosity;

pub(crate) mod carriers;
pub mod conductivity;

pub mod osmolality;

pub mod ph_scale;

mod fault;
pub mod solved_water;

pub mod settled_water;

pub mod life_path;

pub mod waters;

pub use fault::StateError;
pub use settled_water::SettledWater;
pub use solved_water::{Conductivity, Headspace, Held, SolvedWater};

#[cfg(test)]
mod conductivity_tests;
#[cfg(test)]
mod life_path_tests;
