//! Composition: what a laboratory reported, the conserved totals behind it, and what follows from totals alone.
//!
//! [`analysis`] → [`totals`] → [`mixing`], [`linear`] → [`density`], [`state`] → [`charge`], [`hardness`],
//! [`solids`] → [`reconciliation`]. Nothing here needs a pH but the last, where a conductivity is weighed.

pub mod assumption;

pub mod finding;

pub mod fault;

pub mod pure_water;

pub mod dissolved;

pub mod analysis;

pub mod totals;

pub mod reckoning;

mod remarks;

pub mod added;

pub mod mixing;

pub mod linear;

pub mod charge;

pub mod hardness;

pub mod solids;

pub mod density;

pub mod state;

pub mod closure;

pub mod reconciliation;
