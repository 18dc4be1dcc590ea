//! Why a water has no solved state.

use crate::composition::fault::CompositionError;
use crate::equilibrium::EquilibriumError;
use crate::fault::{Fault, Kind};
use thiserror::Error;

/// Why a water has no solved state.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum StateError {
    /// Nobody stated the alkalinity.
    #[error("the alkalinity of the water is not known")]
    Alkalinity,
    /// Nothing tells how much carbonate is dissolved.
    #[error("nothing tells how much carbonate the water holds")]
    Carbonate,
    /// The equilibrium refused it.
    #[error(transparent)]
    Equilibrium(#[from] EquilibriumError),
    /// The totals refused it.
    #[error(transparent)]
    Composition(#[from] CompositionError),
}

impl Fault for StateError {
    fn code(&self) -> &'static str {
        match self {
            StateError::Alkalinity => "alkalinity_unknown",
            StateError::Carbonate => "carbonate_unknown",
            StateError::Equilibrium(own) => own.code(),
            StateError::Composition(own) => own.code(),
        }
    }

    fn kind(&self) -> Kind {
        match self {
            StateError::Alkalinity | StateError::Carbonate => Kind::Insufficient,
            StateError::Equilibrium(own) => own.kind(),
            StateError::Composition(own) => own.kind(),
        }
    }

    fn mend(&self) -> String {
        match self {
            StateError::Alkalinity => "state its alkalinity, or HCO3".into(),
            StateError::Carbonate => {
                "state its pH, its dissolved CO2 or carbonate, or how its carbon dioxide is held (co2)".into()
            }
            StateError::Equilibrium(own) => own.mend(),
            StateError::Composition(own) => own.mend(),
        }
    }
}
