//! What can be wrong with a written formula.

use thiserror::Error;

use super::Formula;
use crate::fault::{Fault, Kind};

/// Why a formula was not read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FormulaError {
    /// The text is no formula.
    #[error("\"{text}\" is not a formula: {why}")]
    Malformed {
        /// The text as given.
        text: String,
        /// What is wrong, in plain words.
        why: &'static str,
    },
    /// The text has more than one reading.
    #[error("\"{text}\" can be read in more than one way: {}", readings.join(" or "))]
    Ambiguous {
        /// The text as given.
        text: String,
        /// The readings in canonical spelling; [`Fault::accepted`] lists those that can be written as they stand.
        readings: Vec<String>,
    },
    /// A symbol is no element, or an element without a standard atomic weight.
    #[error("\"{symbol}\" in \"{text}\" is not an element with a standard atomic weight")]
    ElementUnknown {
        /// The text as given.
        text: String,
        /// The symbol in question.
        symbol: String,
        /// Spellings that may be meant; case matters.
        hints: Vec<String>,
    },
    /// Water of crystallisation is named, but not how much.
    #[error("\"{text}\" does not say how many waters of crystallisation it holds")]
    WaterUnstated {
        /// The text as given.
        text: String,
    },
    /// A number stands before the whole formula.
    #[error("\"{text}\" starts with a number; a formula is written for one formula unit")]
    LeadingNumber {
        /// The text as given.
        text: String,
        /// The same per one formula unit.
        single: String,
    },
    /// A number in the formula is larger than any real one.
    #[error("the number {value} in \"{text}\" is outside {least} to {most}")]
    OutOfRange {
        /// The text as given.
        text: String,
        /// The number as written.
        value: f64,
        /// Least accepted.
        least: f64,
        /// Most accepted.
        most: f64,
    },
}

impl Fault for FormulaError {
    fn code(&self) -> &'static str {
        match self {
            FormulaError::Malformed { .. } => "formula_malformed",
            FormulaError::Ambiguous { .. } => "formula_ambiguous",
            FormulaError::ElementUnknown { .. } => "element_unknown",
            FormulaError::WaterUnstated { .. } => "formula_water_unstated",
            FormulaError::LeadingNumber { .. } => "formula_leading_number",
            FormulaError::OutOfRange { .. } => "formula_out_of_range",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            FormulaError::Malformed { .. } | FormulaError::LeadingNumber { .. } => Kind::Malformed,
            FormulaError::Ambiguous { .. } => Kind::Ambiguous,
            FormulaError::ElementUnknown { .. } => Kind::Unknown,
            FormulaError::WaterUnstated { .. } => Kind::Insufficient,
            FormulaError::OutOfRange { .. } => Kind::OutOfRange,
        }
    }

    fn accepted(&self) -> Vec<String> {
        match self {
            FormulaError::Ambiguous { readings, .. } => spelled_one_way(readings),
            FormulaError::ElementUnknown { hints, .. } => hints.clone(),
            FormulaError::LeadingNumber { single, .. } => vec![single.clone()],
            FormulaError::OutOfRange { least, most, .. } => vec![format!("{least} to {most}")],
            FormulaError::Malformed { .. } | FormulaError::WaterUnstated { .. } => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        match self {
            FormulaError::Malformed { .. } => {
                "Write element symbols with their numbers and the water after a dot, like MgSO4·7H2O.".into()
            }
            FormulaError::Ambiguous { readings, .. } => {
                format!("Write the one that is meant: {}.", spelled_one_way(readings).join(" or "))
            }
            FormulaError::ElementUnknown { hints, .. } if !hints.is_empty() => {
                format!("Capitals matter in symbols; perhaps {} is meant.", hints.join(" or "))
            }
            FormulaError::ElementUnknown { .. } => {
                "Write element symbols with capitals as in the periodic table, like NaHCO3.".into()
            }
            FormulaError::WaterUnstated { .. } => {
                "Write the number of waters from the label, like MgSO4·7H2O, or leave the water off for the dry salt."
                    .into()
            }
            FormulaError::LeadingNumber { single, .. } => format!("Write {single}."),
            FormulaError::OutOfRange { .. } => {
                "Check the number; a dot may be missing before the water, like CaCl2·2H2O.".into()
            }
        }
    }
}

/// The readings that are themselves read one way; a slip like `K20` is shown, but cannot be asked for.
fn spelled_one_way(readings: &[String]) -> Vec<String> {
    readings.iter().filter(|reading| Formula::read(reading).is_ok()).cloned().collect()
}
