//! Why a sheet was not reconciled.

use crate::composition::fault::CompositionError;
use crate::fault::{Fault, Kind};
use crate::matter::component::Component;
use crate::quantity::QuantityError;

/// Why a sheet was not reconciled.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ReconciliationError {
    /// An ion was not stated, and the sheet has too few checks to tell it.
    #[error(
        "{} was not stated, and the sheet has too few checks to find it: {unknown} ions are open, {checks} checks stand \
         against them",
        name(*component)
    )]
    Insufficient {
        /// The ion; `HCO3` stands for alkalinity.
        component: Component,
        /// How many needed ions are open.
        unknown: usize,
        /// How many independent checks the sheet offers: charge, conductivity, solids, sums stated beside their parts.
        checks: usize,
    },
    /// Nothing on the sheet can be held against anything else.
    #[error("nothing on the sheet can be held against anything else")]
    NothingToCheck,
    /// A row that cannot be read as what it speaks of.
    #[error("{row}: {fault}")]
    Row {
        /// Its place among the rows.
        at: usize,
        /// Its id.
        row: &'static str,
        /// What is wrong with it.
        fault: QuantityError,
    },
    /// Two rows speak of one thing.
    #[error("{row} stands on the sheet twice")]
    Twice {
        /// Its place among the rows.
        at: usize,
        /// Its id.
        row: &'static str,
    },
    /// The water itself was refused.
    #[error(transparent)]
    Composition(#[from] CompositionError),
    /// The counted search ended early.
    #[error("the most likely water was not found in the counted steps")]
    NotConverged,
}

fn name(component: Component) -> String {
    if component == Component::HCO3 {
        "alkalinity (or HCO3)".to_owned()
    } else {
        format!("{} ({})", component.name(), component.id())
    }
}

impl Fault for ReconciliationError {
    fn code(&self) -> &'static str {
        match self {
            ReconciliationError::Insufficient { .. } | ReconciliationError::NothingToCheck => "insufficient",
            ReconciliationError::Row { fault, .. } => fault.code(),
            ReconciliationError::Twice { .. } => "stated_twice",
            ReconciliationError::Composition(own) => own.code(),
            ReconciliationError::NotConverged => "not_converged",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            ReconciliationError::Insufficient { .. } | ReconciliationError::NothingToCheck => {
                Kind::Insufficient
            }
            ReconciliationError::Row { fault, .. } => fault.kind(),
            ReconciliationError::Twice { .. } => Kind::Inconsistent,
            ReconciliationError::Composition(own) => own.kind(),
            ReconciliationError::NotConverged => Kind::NotConverged,
        }
    }

    fn accepted(&self) -> Vec<String> {
        match self {
            ReconciliationError::Insufficient { component, .. } => {
                vec![format!("missing: {{\"{}\": \"zero\"}}", component.id())]
            }
            ReconciliationError::Row { fault, .. } => fault.accepted(),
            ReconciliationError::Composition(own) => own.accepted(),
            _ => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        match self {
            ReconciliationError::Insufficient { component, .. } => format!(
                "State {}, or say under `missing` that it is absent, or give the conductivity or the dissolved solids.",
                name(*component)
            ),
            ReconciliationError::NothingToCheck => {
                "Give the ions of the water, its conductivity or its dissolved solids.".to_owned()
            }
            ReconciliationError::Row { fault, .. } => fault.mend(),
            ReconciliationError::Twice { .. } => "Keep one of them.".to_owned(),
            ReconciliationError::Composition(own) => own.mend(),
            ReconciliationError::NotConverged => {
                "Look for a wrong unit or a number far out of range.".to_owned()
            }
        }
    }
}
