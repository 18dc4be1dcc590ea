//! Why the life of a water cannot be followed.

use crate::equilibrium::EquilibriumError;
use crate::fault::{Fault, Kind};
use crate::properties::fault::StateError;
use thiserror::Error;

/// Why the life of a water cannot be followed. Stages count from 0.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum LifePathError {
    /// A vessel that is not shut cannot be opened.
    #[error("the vessel is not shut, so it cannot be opened")]
    NotShut {
        /// The stage.
        stage: usize,
    },
    /// A bottle that is still shut cannot be carbonated or bottled.
    #[error("the water stands in a bottle that is still shut")]
    StillShut {
        /// The stage.
        stage: usize,
    },
    /// The warm water takes all of the headspace.
    #[error("at {celsius} °C the water swells until the headspace is gone: the bottle bursts")]
    HeadspaceFilled {
        /// The stage.
        stage: usize,
        /// Its temperature, °C.
        celsius: f64,
        /// Headspace at which it just would not, percent of the bottle.
        least_percent: f64,
    },
    /// The water boils before it is so hot.
    #[error("{altitude_m} m above the sea water boils below {celsius} °C")]
    Boils {
        /// The stage.
        stage: usize,
        /// Its temperature, °C.
        celsius: f64,
        /// Height above the sea, m.
        altitude_m: f64,
    },
    /// The water cannot be solved.
    #[error("{why}")]
    State {
        /// The stage; none where it is the mixed water itself.
        stage: Option<usize>,
        /// Why.
        why: StateError,
    },
}

impl LifePathError {
    /// What is wrong with the water as it was mixed.
    pub(super) fn whole(why: StateError) -> LifePathError {
        LifePathError::State { stage: None, why }
    }

    /// The same at a stage.
    pub(super) fn at(self, at: usize) -> LifePathError {
        match self {
            LifePathError::NotShut { .. } => LifePathError::NotShut { stage: at },
            LifePathError::StillShut { .. } => LifePathError::StillShut { stage: at },
            LifePathError::HeadspaceFilled { celsius, least_percent, .. } => {
                LifePathError::HeadspaceFilled { stage: at, celsius, least_percent }
            }
            LifePathError::Boils { celsius, altitude_m, .. } => {
                LifePathError::Boils { stage: at, celsius, altitude_m }
            }
            LifePathError::State { why, .. } => LifePathError::State { stage: Some(at), why },
        }
    }

    /// The stage; none where it is the mixed water itself.
    pub fn stage(&self) -> Option<usize> {
        match self {
            LifePathError::NotShut { stage }
            | LifePathError::StillShut { stage }
            | LifePathError::HeadspaceFilled { stage, .. }
            | LifePathError::Boils { stage, .. } => Some(*stage),
            LifePathError::State { stage, .. } => *stage,
        }
    }
}

impl From<StateError> for LifePathError {
    fn from(why: StateError) -> LifePathError {
        LifePathError::whole(why)
    }
}

impl From<EquilibriumError> for LifePathError {
    fn from(why: EquilibriumError) -> LifePathError {
        LifePathError::whole(why.into())
    }
}

impl Fault for LifePathError {
    fn code(&self) -> &'static str {
        match self {
            LifePathError::NotShut { .. } => "vessel_not_shut",
            LifePathError::StillShut { .. } => "bottle_still_shut",
            LifePathError::HeadspaceFilled { .. } => "headspace_filled",
            LifePathError::Boils { .. } => "water_boils",
            LifePathError::State { why, .. } => why.code(),
        }
    }

    fn kind(&self) -> Kind {
        match self {
            LifePathError::State { why, .. } => why.kind(),
            _ => Kind::OutOfRange,
        }
    }

    fn accepted(&self) -> Vec<String> {
        match self {
            LifePathError::State { why, .. } => why.accepted(),
            _ => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        match self {
            LifePathError::NotShut { .. } => "carbonate or bottle it before, or let it go flat".into(),
            LifePathError::StillShut { .. } => "open it, or let it go flat, before".into(),
            LifePathError::HeadspaceFilled { least_percent, .. } => {
                format!("leave more than {least_percent:.1} % of the bottle empty, or keep it cooler")
            }
            LifePathError::Boils { .. } => "state a temperature below its boiling".into(),
            LifePathError::State { why, .. } => why.mend(),
        }
    }
}
