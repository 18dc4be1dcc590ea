//! Properties of a solved water: conductivity and osmolality.

pub mod viscosity;

pub mod conductivity;

pub mod osmolality;

#[cfg(test)]
mod conductivity_tests;
