//! What can be wrong with a propagation.

use crate::fault::{Fault, Kind};

/// Why uncertainties cannot be carried.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum PropagationError {
    /// A correlation with an input that is not there.
    #[error("correlation {entry} names an input that is not there")]
    NoSuchInput {
        /// Its place in the list.
        entry: usize,
    },
    /// A correlation of an input with itself.
    #[error("a quantity is correlated with itself")]
    WithItself {
        /// Its place in the list.
        entry: usize,
    },
    /// A pair that stands twice.
    #[error("a correlation is stated twice for the same pair")]
    StatedTwice {
        /// Its place in the list.
        entry: usize,
    },
    /// A coefficient outside its range.
    #[error("a correlation coefficient of {coefficient} lies outside -1 to 1")]
    Coefficient {
        /// Its place in the list.
        entry: usize,
        /// The coefficient.
        coefficient: f64,
    },
    /// Coefficients that no quantities can have together.
    #[error("the correlation coefficients contradict each other: no quantities can have all of them")]
    Contradictory,
    /// A number of draws out of range.
    #[error("{draws} draws; between {least} and {most} are taken")]
    Draws {
        /// Draws asked for.
        draws: usize,
        /// Least number.
        least: usize,
        /// Greatest number.
        most: usize,
    },
    /// Too many draws had no result.
    #[error("{failed} of {tried} draws had no result; more than one in a hundred may not be left out")]
    Unsolved {
        /// Draws without a result.
        failed: usize,
        /// Draws tried until it was given up.
        tried: usize,
    },
}

impl PropagationError {
    /// The place in the list of correlations that is at fault, where one is.
    pub fn entry(&self) -> Option<usize> {
        match *self {
            Self::NoSuchInput { entry }
            | Self::WithItself { entry }
            | Self::StatedTwice { entry }
            | Self::Coefficient { entry, .. } => Some(entry),
            Self::Contradictory | Self::Draws { .. } | Self::Unsolved { .. } => None,
        }
    }
}

impl Fault for PropagationError {
    fn code(&self) -> &'static str {
        match self {
            Self::NoSuchInput { .. } => "correlation_unknown",
            Self::WithItself { .. } => "correlation_with_itself",
            Self::StatedTwice { .. } => "correlation_stated_twice",
            Self::Coefficient { .. } => "correlation_out_of_range",
            Self::Contradictory => "correlations_contradict",
            Self::Draws { .. } => "draws_out_of_range",
            Self::Unsolved { .. } => "draws_not_solved",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::NoSuchInput { .. } => Kind::Unknown,
            Self::WithItself { .. } | Self::StatedTwice { .. } | Self::Contradictory => Kind::Inconsistent,
            Self::Coefficient { .. } | Self::Draws { .. } => Kind::OutOfRange,
            Self::Unsolved { .. } => Kind::NotConverged,
        }
    }

    fn mend(&self) -> String {
        match self {
            Self::NoSuchInput { .. } => "Name two inputs that have an uncertainty.".into(),
            Self::WithItself { .. } => "Name two different inputs.".into(),
            Self::StatedTwice { .. } => "State each pair once.".into(),
            Self::Coefficient { .. } => "Give a coefficient between -1 and 1.".into(),
            Self::Contradictory => {
                "Take coefficients that were estimated together from the same measurements, or bring them nearer to 0."
                    .into()
            }
            Self::Draws { least, most, .. } => format!("Ask for {least} to {most} draws."),
            Self::Unsolved { .. } => {
                "Check the largest uncertainties: they reach values that no such thing can have. The linear method \
                 looks only near the stated values."
                    .into()
            }
        }
    }
}
