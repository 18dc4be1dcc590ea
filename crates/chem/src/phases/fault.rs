//! What can be wrong with a question about solids.

use super::solids::solids;
use crate::composition::fault::CompositionError;
use crate::equilibrium::EquilibriumError;
use crate::fault::{Fault, Kind};
use thiserror::Error;

/// Why a question about solids was not answered.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PhaseError {
    /// The model has no solid of this name.
    #[error("{id} is no solid that the model knows")]
    UnknownSolid {
        /// What was asked.
        id: String,
    },
    /// An amount is negative, infinite or not a number.
    #[error("the amount of {what} must be a number that is not negative; it is {value}")]
    Amount {
        /// Which amount.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// The water itself could not be solved.
    #[error(transparent)]
    Equilibrium(#[from] EquilibriumError),
    /// The totals of a mix could not be made.
    #[error(transparent)]
    Composition(#[from] CompositionError),
    /// Nobody stated how much carbonate the water holds.
    #[error("nobody stated how much dissolved carbonate the water holds")]
    Carbonate,
    /// The counted search ended with a solid away from its balance.
    #[error("the search for the solids ended after {rounds} rounds, {residual:.1e} log units from balance")]
    NotConverged {
        /// Rounds taken.
        rounds: usize,
        /// Largest distance of a solid from its balance, log10 units.
        residual: f64,
    },
}

impl Fault for PhaseError {
    fn code(&self) -> &'static str {
        match self {
            PhaseError::UnknownSolid { .. } => "unknown_solid",
            PhaseError::Amount { .. } => "amount_out_of_range",
            PhaseError::Equilibrium(error) => error.code(),
            PhaseError::Composition(error) => error.code(),
            PhaseError::Carbonate => "insufficient",
            PhaseError::NotConverged { .. } => "not_converged",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            PhaseError::UnknownSolid { .. } => Kind::Unknown,
            PhaseError::Amount { .. } => Kind::OutOfRange,
            PhaseError::Equilibrium(error) => error.kind(),
            PhaseError::Composition(error) => error.kind(),
            PhaseError::Carbonate => Kind::Insufficient,
            PhaseError::NotConverged { .. } => Kind::NotConverged,
        }
    }

    fn accepted(&self) -> Vec<String> {
        match self {
            PhaseError::UnknownSolid { .. } => solids().iter().map(|solid| solid.id.to_owned()).collect(),
            PhaseError::Equilibrium(error) => error.accepted(),
            PhaseError::Composition(error) => error.accepted(),
            _ => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        match self {
            PhaseError::UnknownSolid { .. } => "Name one of the solids listed, or leave it out.".into(),
            PhaseError::Amount { what, .. } => format!("State {what} as a number from zero up."),
            PhaseError::Equilibrium(error) => error.mend(),
            PhaseError::Composition(error) => error.mend(),
            PhaseError::Carbonate => "State the pH, the dissolved carbonate or the CO2 of the water.".into(),
            PhaseError::NotConverged { .. } => {
                "Allow fewer solids, or check the amounts for a figure far out of range.".into()
            }
        }
    }
}
