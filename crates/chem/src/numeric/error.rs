//! What can be wrong with a problem before any search.

use super::problem::{MOST_SIZE, MOST_STEPS};
use crate::fault::{Fault, Kind};

/// A problem that cannot be searched because it is not well stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProblemError {
    /// Too many columns and shares, or too many rows.
    #[error("{lines} columns and shares with {rows} rows; at most {most} of each can be searched")]
    TooLarge {
        /// Columns and shares together.
        lines: usize,
        /// Wished and hard rows together.
        rows: usize,
        /// Most of each.
        most: usize,
    },
    /// A column with steps, cost or mass out of range.
    #[error("column {index} has steps, cost or mass out of range")]
    BadColumn {
        /// Its place in the list.
        index: usize,
    },
    /// A share with bounds the wrong way round, not finite, or a negative cost.
    #[error("share {index} has bounds or a cost out of range")]
    BadShare {
        /// Its place in the list.
        index: usize,
    },
    /// A row with more or fewer coefficients than there are columns or shares.
    #[error("{what} {index} does not have one coefficient for each column and share")]
    BadLength {
        /// "wish" or "hard row".
        what: &'static str,
        /// Its place in the list.
        index: usize,
    },
    /// A row with a number that is not finite or too large.
    #[error("{what} {index} has a number that is not finite or too large")]
    BadNumber {
        /// "wish" or "hard row".
        what: &'static str,
        /// Its place in the list.
        index: usize,
    },
    /// A hard row whose bounds are the wrong way round, not finite or too large.
    #[error("hard row {index} has bounds that are the wrong way round, not finite or too large")]
    BadBounds {
        /// Its place in the list.
        index: usize,
    },
    /// There is no hard row of that number.
    #[error("there is no hard row {index}")]
    NoSuchRow {
        /// The number asked for.
        index: usize,
    },
}

impl Fault for ProblemError {
    fn code(&self) -> &'static str {
        match self {
            Self::TooLarge { .. } => "problem_too_large",
            Self::BadColumn { .. } => "problem_column",
            Self::BadShare { .. } => "problem_share",
            Self::BadLength { .. } => "problem_row_length",
            Self::BadNumber { .. } => "problem_row_number",
            Self::BadBounds { .. } => "problem_row_bounds",
            Self::NoSuchRow { .. } => "problem_no_such_row",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::BadLength { .. } => Kind::Inconsistent,
            Self::NoSuchRow { .. } => Kind::Unknown,
            _ => Kind::OutOfRange,
        }
    }

    fn mend(&self) -> String {
        match self {
            Self::TooLarge { most, .. } => {
                format!("Offer fewer choices or state fewer wishes, at most {most} of each.")
            }
            Self::BadColumn { .. } => {
                format!("Steps lie between 0 and {MOST_STEPS}, cost and mass between 0 and {MOST_SIZE:e}.")
            }
            Self::BadShare { .. } => {
                "Give finite bounds, the lower one first, and a cost of 0 or more.".into()
            }
            Self::BadLength { .. } => "Give one coefficient for each column and each share.".into(),
            Self::BadNumber { .. } => format!("Give finite numbers no larger than {MOST_SIZE:e}."),
            Self::BadBounds { .. } => "Give finite bounds, the lower one first.".into(),
            Self::NoSuchRow { .. } => "Name one of the hard rows of the problem.".into(),
        }
    }
}
