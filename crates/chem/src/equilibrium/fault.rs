//! What can be wrong with a question to the equilibrium.

use crate::fault::{Fault, Kind};
use thiserror::Error;

/// Why a water was not solved.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum EquilibriumError {
    /// The temperature lies outside the model.
    #[error("{celsius} °C lies outside the model, which holds from {low} to {high} °C for this water")]
    Temperature {
        /// What was asked, °C.
        celsius: f64,
        /// Lowest, °C.
        low: f64,
        /// Highest, °C.
        high: f64,
    },
    /// A component is dissolved that the model has no constants for.
    #[error("the model has no constants for {component}")]
    Component {
        /// The id of the component.
        component: &'static str,
    },
    /// The water is stronger than the model reaches.
    #[error(
        "an ionic strength of {ionic_strength:.2} mol/kg is beyond the model, which ends at {most} for {what}"
    )]
    TooStrong {
        /// Ionic strength reached, mol/kg.
        ionic_strength: f64,
        /// Highest ionic strength, mol/kg.
        most: f64,
        /// Which kind of water that limit belongs to.
        what: &'static str,
    },
    /// An amount is negative or not a number.
    #[error("the amount of {what} must be a number that is not negative; it is {value}")]
    Amount {
        /// Which amount.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// The two carbonate quantities say the same thing.
    #[error("{first} and {second} state the same thing; the carbonate system needs two different quantities")]
    StatedTwice {
        /// First quantity.
        first: &'static str,
        /// Second quantity.
        second: &'static str,
    },
    /// No water has the two carbonate quantities together.
    #[error("no water has {first} and {second} together: {why}")]
    NoSuchWater {
        /// First quantity.
        first: &'static str,
        /// Second quantity.
        second: &'static str,
        /// The reason.
        why: &'static str,
    },
    /// The counted search ended without an answer good enough to give.
    #[error("the search ended after {iterations} steps with a residual of {residual:.1e}")]
    NotConverged {
        /// Steps taken.
        iterations: usize,
        /// Largest relative residual left.
        residual: f64,
    },
}

impl Fault for EquilibriumError {
    fn code(&self) -> &'static str {
        match self {
            EquilibriumError::Temperature { .. } => "temperature_outside_model",
            EquilibriumError::Component { .. } => "outside_model",
            EquilibriumError::TooStrong { .. } => "too_strong_for_model",
            EquilibriumError::Amount { .. } => "amount_out_of_range",
            EquilibriumError::StatedTwice { .. } => "carbonate_stated_twice",
            EquilibriumError::NoSuchWater { .. } => "no_such_water",
            EquilibriumError::NotConverged { .. } => "not_converged",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            EquilibriumError::Amount { .. } => Kind::OutOfRange,
            EquilibriumError::StatedTwice { .. } => Kind::Insufficient,
            EquilibriumError::NoSuchWater { .. } => Kind::Inconsistent,
            EquilibriumError::NotConverged { .. } => Kind::NotConverged,
            _ => Kind::OutsideModel,
        }
    }

    fn mend(&self) -> String {
        match self {
            EquilibriumError::Temperature { low, high, .. } => {
                format!("Ask for a temperature from {low} to {high} °C.")
            }
            EquilibriumError::Component { component } => {
                format!("Leave {component} out, or judge this water by its totals alone.")
            }
            EquilibriumError::TooStrong { .. } => {
                "Dilute the water, or split it into several bottles.".into()
            }
            EquilibriumError::Amount { what, .. } => format!("State {what} as a number from zero up."),
            EquilibriumError::StatedTwice { .. } => {
                "State alkalinity, dissolved carbonate or pH as well.".into()
            }
            EquilibriumError::NoSuchWater { .. } => "Check both figures; one of them cannot be right.".into(),
            EquilibriumError::NotConverged { .. } => {
                "Check the analysis for a figure far out of range.".into()
            }
        }
    }
}
