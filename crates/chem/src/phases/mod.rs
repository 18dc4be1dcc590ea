//! Phases: the solids that a water can be saturated with, how far it is from each, and how much of one dissolves.
//!
//! [`solids`] → [`saturation`] → [`dissolution`].

pub mod solids;

pub mod saturation;

pub mod dissolution;

#[cfg(test)]
mod solubility_tests;
