//! Phases: the solids that a water can be saturated with, how far it is from each, how much of one dissolves, what
//! falls and what is taken up, and what of it an eye sees.
//!
//! [`solids`] → [`saturation`] → [`dissolution`], [`precipitation`] → [`potential`], [`haze_limits`] → [`haze`],
//! [`dissolving`] → [`compatibility`] → [`substitutes`].

pub mod fault;
pub mod solids;

pub mod saturation;

pub mod dissolution;

mod complementarity;
mod formation;
mod frozen;
pub mod precipitation;
mod search;

pub mod potential;

pub mod dissolving;
pub mod haze;
pub mod haze_limits;

pub mod compatibility;
pub mod substitutes;

pub use fault::PhaseError;

#[cfg(test)]
mod practice_tests;
#[cfg(test)]
mod precipitation_tests;
#[cfg(test)]
mod solubility_tests;
