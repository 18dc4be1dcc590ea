//! The faults of this chapter.

use crate::fault::{Fault, Kind};
use crate::matter::component::Component;

/// Why a composition was refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CompositionError {
    /// A component that a wish or a sum needs was not stated.
    #[error("{} was not stated, and {needed_for} needs it", name(*component))]
    Insufficient {
        /// What is missing; `HCO3` stands for alkalinity.
        component: Component,
        /// What needs it, in words.
        needed_for: &'static str,
    },
    /// Alkalinity and HCO3 (with CO3) were both stated and differ by more than 2 %.
    #[error(
        "alkalinity is stated twice and not alike: {alkalinity_meq:.4} meq/L as alkalinity, {ions_meq:.4} meq/L as \
         HCO3 and CO3"
    )]
    AlkalinityStatedTwice {
        /// From `alkalinity`, meq/L.
        alkalinity_meq: f64,
        /// From HCO3 and CO3, meq/L.
        ions_meq: f64,
    },
    /// Two statements of one amount differ by more than 2 %.
    #[error(
        "{what} is stated twice and not alike: {together_meq:.4} meq/L together, {parts_meq:.4} meq/L by its parts"
    )]
    StatedTwice {
        /// What: `sodium and potassium`, `hardness`.
        what: &'static str,
        /// The statement for all together, meq/L.
        together_meq: f64,
        /// The sum of its parts, meq/L.
        parts_meq: f64,
    },
    /// A part was stated larger than the sum that holds it.
    #[error("{} alone is more than {what} together", name(*component))]
    PartExceedsSum {
        /// The part.
        component: Component,
        /// The sum.
        what: &'static str,
    },
    /// A rule for a missing component, though it was stated.
    #[error("a rule for missing {} is given, but it was stated", name(*component))]
    RuleForStated {
        /// The component.
        component: Component,
    },
    /// More than one component shall close the charge.
    #[error("only one component can be found by charge; {} are asked", list(components))]
    ByChargeTwice {
        /// All that are asked.
        components: Vec<Component>,
    },
    /// Closing the charge would need a negative amount.
    #[error("to close the charge, {} would have to be below zero ({:.4} mmol/kg)", name(*component), mol_per_kg * 1000.0)]
    NegativeByCharge {
        /// The component.
        component: Component,
        /// The amount it would have, mol per kg of water.
        mol_per_kg: f64,
    },
    /// The charge cannot be closed on this component.
    #[error("the charge cannot be closed on {}: its charge depends on pH, or it has none", name(*component))]
    CannotBalanceOn {
        /// The component.
        component: Component,
    },
    /// A number lies outside what can be.
    #[error("{about} is {value}; it must lie between {lo} and {hi}")]
    OutOfRange {
        /// Dotted path inside the water, or the words for it.
        about: &'static str,
        /// The value.
        value: f64,
        /// Least.
        lo: f64,
        /// Greatest.
        hi: f64,
    },
    /// The data of the density do not reach that far.
    #[error("the density is known from {lo} to {hi} {unit} only; {what} is {value:.3} {unit}")]
    OutsideModel {
        /// Which quantity.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Least.
        lo: f64,
        /// Greatest.
        hi: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// Waters were mixed, but there is none.
    #[error("there is no water to mix: {what}")]
    NoWater {
        /// What is wrong with the amounts.
        what: &'static str,
    },
    /// The counted search for the density ended early.
    #[error("density and amounts of the analysis did not settle in {steps} steps")]
    NotConverged {
        /// Steps made.
        steps: usize,
    },
}

fn name(component: Component) -> String {
    if component == Component::HCO3 {
        "alkalinity (or HCO3)".to_owned()
    } else {
        format!("{} ({})", component.name(), component.id())
    }
}

fn list(components: &[Component]) -> String {
    components.iter().map(|component| component.id()).collect::<Vec<_>>().join(", ")
}

impl Fault for CompositionError {
    fn code(&self) -> &'static str {
        match self {
            CompositionError::Insufficient { .. } => "insufficient",
            CompositionError::AlkalinityStatedTwice { .. } => "alkalinity_stated_twice",
            CompositionError::StatedTwice { .. } => "stated_twice",
            CompositionError::PartExceedsSum { .. } => "part_exceeds_sum",
            CompositionError::RuleForStated { .. } => "rule_for_stated",
            CompositionError::ByChargeTwice { .. } => "by_charge_twice",
            CompositionError::NegativeByCharge { .. } => "negative_by_charge",
            CompositionError::CannotBalanceOn { .. } => "cannot_balance_on",
            CompositionError::OutOfRange { .. } => "out_of_range",
            CompositionError::OutsideModel { .. } => "outside_model",
            CompositionError::NoWater { .. } => "no_water",
            CompositionError::NotConverged { .. } => "not_converged",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            CompositionError::Insufficient { .. } => Kind::Insufficient,
            CompositionError::AlkalinityStatedTwice { .. }
            | CompositionError::StatedTwice { .. }
            | CompositionError::PartExceedsSum { .. }
            | CompositionError::RuleForStated { .. }
            | CompositionError::NegativeByCharge { .. } => Kind::Inconsistent,
            CompositionError::ByChargeTwice { .. } | CompositionError::CannotBalanceOn { .. } => {
                Kind::Ambiguous
            }
            CompositionError::OutOfRange { .. } | CompositionError::NoWater { .. } => Kind::OutOfRange,
            CompositionError::OutsideModel { .. } => Kind::OutsideModel,
            CompositionError::NotConverged { .. } => Kind::NotConverged,
        }
    }

    fn accepted(&self) -> Vec<String> {
        match self {
            CompositionError::Insufficient { component, .. } => ["zero", "by_charge"]
                .map(|rule| format!("missing: {{\"{}\": \"{rule}\"}}", component.id()))
                .to_vec(),
            CompositionError::ByChargeTwice { components } => {
                components.iter().map(|component| component.id().to_owned()).collect()
            }
            CompositionError::OutOfRange { lo, hi, .. } => vec![format!("{lo} to {hi}")],
            CompositionError::OutsideModel { lo, hi, unit, .. } => vec![format!("{lo} to {hi} {unit}")],
            _ => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        match self {
            CompositionError::Insufficient { component, .. } => {
                format!("State {}, or say under `missing` what to take it for.", name(*component))
            }
            CompositionError::AlkalinityStatedTwice { .. } => {
                "State it once, or look for the wrong unit or basis of one of them.".to_owned()
            }
            CompositionError::StatedTwice { .. } | CompositionError::PartExceedsSum { .. } => {
                "Leave out the sum or correct the parts; look at the units first.".to_owned()
            }
            CompositionError::RuleForStated { .. } => {
                "Leave the rule out, or leave the amount out.".to_owned()
            }
            CompositionError::ByChargeTwice { .. } => "Keep one of them and state the others.".to_owned(),
            CompositionError::NegativeByCharge { .. } => {
                "Choose a component of the other sign, or look for a wrong amount in the sheet.".to_owned()
            }
            CompositionError::CannotBalanceOn { .. } => "Choose a strong ion or HCO3.".to_owned(),
            CompositionError::OutOfRange { .. } | CompositionError::OutsideModel { .. } => {
                "Give a value within the range.".to_owned()
            }
            CompositionError::NoWater { .. } => {
                "Give at least one water with an amount above zero.".to_owned()
            }
            CompositionError::NotConverged { .. } => {
                "Look for amounts near saturation or a wrong unit.".to_owned()
            }
        }
    }
}
